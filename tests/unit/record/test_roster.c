/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include "file_fault.h"
#include "strand_fixture.h"

#include <barwright/record/roster.h>

static struct sign_pair school; /* RFC 8032, 7.1, TEST 1 */
static struct arena mem;
static struct text why, out;
static struct key_known school_known = {.name = "the school"};
static const struct key_ring accepted = {&school_known, 1}, nobody;

static int begin(void **state)
{
	school = pair_of(test_1);
	memcpy(school_known.open, school.open, SIGN_PUBLIC);
	text_init(&why);
	text_init(&out);
	return work_begin(state);
}

static int end(void **state)
{
	arena_release(&mem);
	text_release(&why);
	text_release(&out);
	return work_end(state);
}

static struct key_known key(const char *seed, const char *from, const char *until, const char *name)
{
	struct key_known k = {.name = name};
	struct sign_pair pair = pair_of(seed);
	int64_t other;
	memcpy(k.open, pair.open, SIGN_PUBLIC);
	code_is(roster_day(from, 10, &k.from_ms, &other), FINE);
	code_is(roster_day(until, 10, &other, &k.until_ms), FINE);
	return k;
}

static void write_one(void)
{
	struct key_known a = key(test_2, "2026-09-01", "2027-08-31", "D. Ruiz");
	struct key_known m = key(test_1, "2026-09-01", "2026-12-24", "Lab 3");
	text_clear(&out);
	code_is(roster_write(&(struct key_ring){&a, 1}, &(struct key_ring){&m, 1}, "The School",
			&school, &out),
		FINE);
}

static void put(const char *bytes, size_t len)
{
	code_is(file_replace(work_path("roster.txt"), bytes, len, false), FINE);
}

static enum bad read_it(const struct key_ring *ring, struct roster *r)
{
	text_clear(&why);
	return roster_read(work_path("roster.txt"), ring, &mem, r, &why);
}

/* That the signature fits by another implementation: tests/text/seal. */
static void a_roster_has_the_form_it_says(void **state)
{
	(void)state;
	write_one();
	static const char want[] =
		"barwright-roster 1\n"
		"school d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a The "
		"School\n"
		"assessor 3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c "
		"2026-09-01 2027-08-31 D. Ruiz\n"
		"machine d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a "
		"2026-09-01 2026-12-24 Lab 3\n"
		"signed ";
	assert_memory_equal(out.at, want, sizeof want - 1);
	assert_int_equal(out.len, sizeof want - 1 + 87);
}

static void it_comes_back_with_its_days(void **state)
{
	struct roster r;
	int64_t ms;
	(void)state;
	write_one();
	put(out.at, out.len);
	code_is(read_it(&accepted, &r), FINE);
	assert_string_equal(r.by, "the school");
	assert_int_equal(r.assessors.n, 1);
	assert_int_equal(r.machines.n, 1);
	assert_string_equal(r.machines.at[0].name, "Lab 3");
	static const struct {
		const char *at;
		bool in;
	} rows[] = {{"2026-08-31T23:59:59.999Z", false}, {"2026-09-01T00:00:00.000Z", true},
		{"2026-12-24T23:59:59.999Z", true}, {"2026-12-25T00:00:00.000Z", false}};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		code_is(time_read(rows[i].at, 24, &ms), FINE);
		if (key_is_in_time(&r.machines.at[0], ms) != rows[i].in)
			fail_msg("%s: want %d", rows[i].at, rows[i].in);
	}
	assert_true(key_is_in_time(&school_known, ms)); /* no days are named: whenever */
	code_is(read_it(&nobody, &r), BAD_UNKNOWN);
	assert_non_null(strstr(why.at, "not accepted here"));
}

static void every_flip_and_every_cut_is_noticed(void **state)
{
	struct roster r = {.by = "untouched"};
	(void)state;
	write_one();
	char *bytes = arena_copy(&mem, out.at, out.len);
	for (size_t i = 0; i < out.len; i++) {
		put(bytes, i);
		assert_int_not_equal(read_it(&accepted, &r), FINE);
		for (int bit = 0; bit < 8; bit++) {
			bytes[i] ^= (char)(1 << bit);
			put(bytes, out.len);
			if (read_it(&accepted, &r) == FINE)
				fail_msg("bit %d of byte %zu", bit, i);
			bytes[i] ^= (char)(1 << bit);
		}
	}
	assert_string_equal(r.by, "untouched");
}

static void what_cannot_stand_there_is_not_signed(void **state)
{
	struct key_known k = key(test_2, "2026-09-01", "2027-08-31", "D. Ruiz");
	const struct key_ring one = {&k, 1};
	(void)state;
	k.name = "a\nmachine";
	code_is(roster_write(&one, &nobody, "S", &school, &out), BAD_ENCODING);
	k.name = "";
	code_is(roster_write(&one, &nobody, "S", &school, &out), BAD_SIZE);
	k.name = "x";
	k.until_ms = 0;
	code_is(roster_write(&one, &nobody, "S", &school, &out), BAD_RANGE);
	static const char *const day[] = {
		"2026-02-29", "2026-13-01", "2026-00-10", "26-09-01xx", "2026-9-001"};
	for (size_t i = 0; i < sizeof day / sizeof *day; i++)
		assert_int_not_equal(roster_day(day[i], 10, &k.from_ms, &k.until_ms), FINE);
}

static void running_out_of_memory_is_an_ordinary_answer(void **state)
{
	bool failed = true;
	(void)state;
	write_one();
	put(out.at, out.len);
	for (unsigned long n = 1; failed; n++) {
		struct roster r;
		mem_fail_at(n, 0);
		enum bad code = roster_read(work_path("roster.txt"), &accepted, &mem, &r, NULL);
		failed = mem_failed();
		mem_fail_at(0, 0);
		code_is(code, failed ? BAD_MEMORY : FINE);
	}
}

int main(void)
{
#define T(name) cmocka_unit_test_setup_teardown(name, begin, end)
	const struct CMUnitTest tests[] = {
		T(a_roster_has_the_form_it_says),
		T(it_comes_back_with_its_days),
		T(every_flip_and_every_cut_is_noticed),
		T(what_cannot_stand_there_is_not_signed),
		T(running_out_of_memory_is_an_ordinary_answer),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
