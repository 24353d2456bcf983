/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include <string.h>

#include <barwright/record/graded.h>

#include "record/canon.h"

static struct strand_line line_of(const char *kind, const char *body, size_t len)
{
	struct strand_line line = {.body = body, .body_len = len};
	snprintf(line.kind, sizeof line.kind, "%s", kind);
	return line;
}

static const char *const odd[] = {"plain", "with \"quotes\" and \\", "", "K3.1,]", "\xC3\xA4 \n"};
#define ODD \
	{ \
		odd, sizeof odd / sizeof *odd \
	}

static void a_form_is_written_as_it_always_will_be(void **state)
{
	static const char *const items[] = {"centre-spread", "tilted"};
	static const char want[] =
		"{\"assessment\":\"theory\",\"attempt\":2,\"content\":"
		"\"0100000000000000000000000000000000000000000000000000000000000000\","
		"\"extra_ms\":60000,\"items\":[\"centre-spread\",\"tilted\"],"
		"\"limit_ms\":3660000,\"title\":\"On paper\"}";
	struct line_form f = {.assessment = "theory",
		.title = "On paper",
		.content = {{1}},
		.attempt = 2,
		.limit_ms = 3660000,
		.extra_ms = 60000,
		.items = {items, 2}};
	char out[600] = "";
	size_t len = 0, where;
	const char *words = "";
	(void)state;
	code_is(line_form_write(&f, out, sizeof out, &len), FINE);
	assert_int_equal(len, sizeof want - 1);
	assert_string_equal(out, want);
	code_is(canon_check(out, len, 1, &where, &words), FINE);
	for (size_t room = 0; room < len; room++)
		code_is(line_form_write(&f, out, room, &len), BAD_SIZE);
}

static void same_texts(const struct texts *got, const struct texts *want)
{
	assert_int_equal(got->n, want->n);
	for (size_t i = 0; i < want->n; i++)
		assert_string_equal(got->at[i], want->at[i]);
}

static void a_result_comes_back_with_its_lists(void **state)
{
	struct line_result r = {.of = "theory",
		.title = "On \"paper\"",
		.content = {{7, [31] = 9}},
		.piece = "",
		.by = "A. Ortiz, B. Lund",
		.verdict = "not-passed",
		.percent = "66.67",
		.needed = "70.00",
		.attempt = 1,
		.used_ms = 1234567,
		.breaks = 2,
		.part = ODD,
		.part_competency = ODD,
		.part_percent = ODD,
		.part_needed = ODD,
		.part_verdict = ODD,
		.reasons = {NULL, 0}};
	struct line_result got = {.attempt = 99};
	struct arena a = {0};
	char out[3000] = "";
	size_t len = 0, where;
	const char *words;
	(void)state;
	code_is(line_result_write(&r, out, sizeof out, &len), FINE);
	code_is(canon_check(out, len, 1, &where, &words), FINE);
	struct strand_line line = line_of("result", out, len);
	code_is(line_result_read(&line, &a, &got), FINE);
	same_texts(&got.part, &r.part);
	same_texts(&got.part_verdict, &r.part_verdict);
	same_texts(&got.reasons, &r.reasons);
	assert_string_equal(got.title, r.title);
	assert_string_equal(got.by, r.by);
	assert_int_equal(got.used_ms, r.used_ms);
	assert_int_equal(got.breaks, 2);
	assert_memory_equal(&got.content, &r.content, sizeof r.content);
	/* lists of different lengths do not go together */
	r.part_needed.n--;
	code_is(line_result_write(&r, out, sizeof out, &len), FINE);
	line = line_of("result", out, len);
	code_is(line_result_read(&line, &a, &got), BAD_MISSING);
	assert_int_equal(got.breaks, 2);
	arena_release(&a);
}

static void every_kind_comes_back(void **state)
{
	struct arena a = {0};
	char out[2000];
	size_t len;
	struct strand_line l;
	(void)state;
#define BACK(kind, x) \
	struct line_##kind kind##_got; \
	code_is(line_##kind##_write(&(x), out, sizeof out, &len), FINE); \
	l = line_of(#kind, out, len); \
	code_is(line_##kind##_read(&l, &a, &kind##_got), FINE)

	struct line_place place = {3, 90000};
	BACK(place, place);
	assert_true(place_got.at == 3 && place_got.used_ms == 90000);
	struct line_mark mark = {4, 1};
	BACK(mark, mark);
	assert_true(mark_got.at == 4 && mark_got.is_on == 1);
	struct line_clock clock = {3600000, "back"};
	BACK(clock, clock);
	assert_int_equal(clock_got.by_ms, 3600000);
	assert_string_equal(clock_got.way, "back");
	struct line_rating rating = {
		"bench", {{1}}, "p1", "A. Ortiz", "heights", 2, 3, 4, "0.08 0,1", "mm", "fine"};
	BACK(rating, rating);
	assert_string_equal(rating_got.rubric, "bench");
	assert_string_equal(rating_got.piece, "p1");
	assert_string_equal(rating_got.rater, "A. Ortiz");
	assert_string_equal(rating_got.station, "heights");
	assert_string_equal(rating_got.readings, "0.08 0,1");
	assert_string_equal(rating_got.unit, "mm");
	assert_string_equal(rating_got.comment, "fine");
	assert_true(rating_got.criterion == 2 && rating_got.level == 3 && rating_got.proved == 4);
	struct line_critical critical = {"bench", {{2}}, "p1", "A", "holes", "wall", "seen"};
	BACK(critical, critical);
	assert_string_equal(critical_got.error, "wall");
	assert_string_equal(critical_got.words, "seen");
	struct line_photo photo = {"bench", {{2}}, "p1", "A", "holes", "x.jpg", {{9}}, 77};
	BACK(photo, photo);
	assert_string_equal(photo_got.name, "x.jpg");
	assert_int_equal(photo_got.sha256.byte[0], 9);
	assert_int_equal(photo_got.size, 77);
	struct line_agreed agreed = {"bench", {{2}}, "p1", "C", "holes", 1, 2, "seen again"};
	BACK(agreed, agreed);
	assert_string_equal(agreed_got.reason, "seen again");
	assert_int_equal(agreed_got.level, 2);
	l = line_of("photo", out, len);
	code_is(line_agreed_read(&l, &a, &agreed_got), BAD_TYPE);
	l = line_of("agreed", "{}", 2);
	code_is(line_agreed_read(&l, &a, &agreed_got), BAD_MISSING);
	arena_release(&a);
}

static void what_is_no_list_of_texts_is_missing(void **state)
{
	static const char *const lists[] = {
		"\"a\"", "[1]", "[\"a\",1]", "[[\"a\"]]", "{}", "[\"a\",[]]", "7"};
	(void)state;
	for (size_t i = 0; i < sizeof lists / sizeof *lists; i++) {
		struct arena a = {0};
		struct line_form f;
		char body[600];
		snprintf(body, sizeof body,
			"{\"assessment\":\"x\",\"attempt\":1,\"content\":\"%064d\",\"extra_ms\":0,"
			"\"items\":%s,\"limit_ms\":1,\"title\":\"t\"}",
			0, lists[i]);
		struct strand_line l = line_of("form", body, strlen(body));
		print_message("%s\n", lists[i]);
		code_is(line_form_read(&l, &a, &f), BAD_MISSING);
		arena_release(&a);
	}
}

static void reading_survives_every_missing_piece_of_memory(void **state)
{
	struct line_form f = {"theory", "t", {{1}}, 1, 2, 3, ODD}, got;
	char out[600];
	size_t len;
	(void)state;
	code_is(line_form_write(&f, out, sizeof out, &len), FINE);
	struct strand_line l = line_of("form", out, len);
	for (unsigned long n = 1;; n++) {
		struct arena a = {0};
		mem_fail_at(n, 0);
		enum bad code = line_form_read(&l, &a, &got);
		bool failed = mem_failed();
		mem_fail_at(0, 0);
		arena_release(&a);
		code_is(code, failed ? BAD_MEMORY : FINE);
		if (!failed)
			break;
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_form_is_written_as_it_always_will_be),
		cmocka_unit_test(a_result_comes_back_with_its_lists),
		cmocka_unit_test(every_kind_comes_back),
		cmocka_unit_test(what_is_no_list_of_texts_is_missing),
		cmocka_unit_test(reading_survives_every_missing_piece_of_memory),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
