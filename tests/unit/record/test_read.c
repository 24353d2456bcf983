/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading: what is whole is told from what was cut, changed, moved or made by somebody else. */
#include "near.h"

#include "file_fault.h"
#include "record/id_set.h"
#include "strand_fixture.h"

static const char worked_file[] = "tests/data/record/strand.jsonl";

/* ---- helpers --------------------------------------------------------------------------------- */

static struct key_known instructor;
static struct key_ring ring_of_instructor(void)
{
	struct sign_pair pair = pair_of(test_2);
	memcpy(instructor.open, pair.open, SIGN_PUBLIC);
	instructor.name = "instructor";
	return (struct key_ring){&instructor, 1};
}

static enum bad check(
	const char *text, size_t len, const struct strand_check *how, struct strand_sum *sum)
{
	struct source s = {"x.jsonl", text, len};
	return strand_read(&s, how, NULL, NULL, sum, NULL);
}

/* Lines put together in memory, each signed with the key given, following from the one before. */
struct draft {
	char text[16 * 1024];
	size_t len;
	uint64_t n;
	struct hash head;
	struct strand_line
		next; /* what the next line will say; its n, prev and id are set by draft_add */
};

static void draft_start(struct draft *d)
{
	static char body[200];
	struct sign_pair pair = pair_of(test_1);
	char hex[65];
	memset(d, 0, sizeof *d);
	hex_write(pair.open, SIGN_PUBLIC, hex);
	snprintf(body, sizeof body, "{\"machine_pk\":\"%s\"}", hex);
	d->next = (struct strand_line){.at_ms = fixed_now,
		.strand = "s-1",
		.who = "l-1",
		.kind = "open",
		.body = body,
		.body_len = strlen(body)};
}

static void draft_add(struct draft *d, const char *seed)
{
	struct sign_pair pair = pair_of(seed);
	size_t len = 0;
	struct strand_line line = d->next;
	line.n = d->n;
	line.prev = d->head;
	snprintf(line.id, sizeof line.id, "6f1c2a58-3b7e-4d0a-9c41-%012x", (unsigned)d->n);
	if (*d->next.id)
		memcpy(line.id, d->next.id, sizeof line.id);
	code_is(chain_line_write(&line, &pair, d->text + d->len, sizeof d->text - d->len, &len),
		FINE);
	d->len += len;
	d->n++;
	d->head = line.hash;
	snprintf(d->next.kind, sizeof d->next.kind, "answer");
}

static size_t lf_count(const char *text, size_t len)
{
	size_t n = 0;
	for (size_t i = 0; i < len; i++)
		n += text[i] == '\n';
	return n;
}

/* ---- what holds ------------------------------------------------------------------------------ */

static enum bad count_line(void *context, const struct strand_line *line)
{
	uint64_t *n = context;
	assert_int_equal(line->n, *n);
	++*n;
	return FINE;
}

static void the_worked_strand_holds(void **state)
{
	static const char *const files[] = {worked_file, "tests/data/record/strand-erased.jsonl"};
	struct key_ring ring = ring_of_instructor();
	struct strand_check how = {.known = &ring};
	(void)state;
	for (size_t i = 0; i < 2; i++) {
		struct source s = load(files[i]);
		struct strand_sum sum;
		uint64_t n = 0;
		char head[HASH_HEX + 1];
		code_is(strand_read(&s, &how, count_line, &n, &sum, NULL), FINE);
		assert_int_equal(n, 3);
		assert_int_equal(sum.lines, 3);
		assert_int_equal(sum.erased, i);
		assert_int_equal(sum.good_len, s.len);
		assert_string_equal(sum.strand, "s-4f2d9c0a7be1");
		assert_string_equal(sum.machine, "21fe31dfa154a261");
		assert_false(sum.machine_known);
		hash_hex(&sum.head, head);
		assert_string_equal(
			head, "b2265788994b6d0b785837ded5da9057262fd0e4cfbb5cdfed930d99010a940d");
		unload(&s);
	}
}

static void a_line_by_an_unknown_key_does_not_count(void **state)
{
	struct source s = load(worked_file);
	struct strand_sum sum;
	(void)state;
	code_is(check(s.text, s.len, NULL, &sum), BAD_UNKNOWN);
	assert_int_equal(sum.lines, 2);
	assert_int_equal(sum.fault_line, 3);
	unload(&s);
}

static void an_empty_strand_is_whole(void **state)
{
	struct strand_sum sum;
	(void)state;
	code_is(check("", 0, NULL, &sum), FINE);
	assert_int_equal(sum.lines, 0);
}

static enum bad stop_at_2(void *context, const struct strand_line *line)
{
	(void)context;
	return line->n == 1 ? BAD_STOPPED : FINE;
}

static void a_reader_may_stop(void **state)
{
	struct source s = load(worked_file);
	struct strand_sum sum;
	(void)state;
	code_is(strand_read(&s, NULL, stop_at_2, NULL, &sum, NULL), BAD_STOPPED);
	assert_int_equal(sum.lines, 2);
	code_is(sum.fault, FINE);
	unload(&s);
}

/* ---- cut ------------------------------------------------------------------------------------- */

/* Exactly the whole lines before the cut count; a cut at a line's end is not seen. */
static void cut_at_every_byte(const struct source *s, const struct strand_check *how)
{
	for (size_t len = 0; len <= s->len; len++) {
		struct strand_sum sum;
		size_t whole = lf_count(s->text, len);
		bool at_end = len == 0 || s->text[len - 1] == '\n';
		enum bad code = check(s->text, len, how, &sum);
		if (code != (at_end ? FINE : BAD_TORN) || sum.lines != whole ||
			sum.good_len + sum.torn_len != len || (sum.torn_len == 0) != at_end)
			fail_msg("cut at %zu: %s, %u lines of %zu, torn %zu", len, bad_word(code),
				(unsigned)sum.lines, whole, sum.torn_len);
	}
}

static void a_cut_strand_counts_its_whole_lines_only(void **state)
{
	struct key_ring ring = ring_of_instructor();
	struct strand_check how = {.known = &ring};
	struct sign_pair pair = pair_of(test_1);
	(void)state;
	struct source s = load(worked_file);
	cut_at_every_byte(&s, &how);
	unload(&s);
	s = load(strand_make(&pair, "l-1", 5));
	how = (struct strand_check){.hashes_only = true};
	cut_at_every_byte(&s, &how);
	unload(&s);
}

/* ---- flipped --------------------------------------------------------------------------------- */

static void flip_every_bit(
	const struct source *s, size_t from, size_t end, const struct strand_check *how)
{
	char *copy = mem_get(s->len + 1);
	memcpy(copy, s->text, s->len + 1);
	for (size_t i = from * 8; i < end * 8; i++) {
		struct strand_sum sum;
		copy[i / 8] ^= (char)(1 << i % 8);
		enum bad code = check(copy, s->len, how, &sum);
		/* nothing from the line with the flip on may count */
		size_t before = lf_count(s->text, i / 8);
		if (code == FINE || sum.lines > before)
			fail_msg("byte %zu bit %zu: %s, %u lines of %zu", i / 8, i % 8,
				bad_word(code), (unsigned)sum.lines, before);
		copy[i / 8] ^= (char)(1 << i % 8);
	}
	mem_drop(copy);
}

static void no_flipped_bit_verifies(void **state)
{
	struct key_ring ring = ring_of_instructor();
	struct strand_check how = {.known = &ring};
	struct source s = load(worked_file);
	(void)state;
	flip_every_bit(&s, 0, s.len, &how);
	unload(&s);
}

/* In an erased line nothing fits the hash any more, but the signature does, and the next line names
 * it. */
static void no_flipped_bit_of_an_erased_line_verifies(void **state)
{
	struct key_ring ring = ring_of_instructor();
	struct strand_check how = {.known = &ring};
	struct source s = load("tests/data/record/strand-erased.jsonl");
	size_t first = strcspn(s.text, "\n") + 1, second = strcspn(s.text + first, "\n") + 1;
	(void)state;
	flip_every_bit(&s, first, first + second, &how);
	unload(&s);
}

/* Without the signatures every flip outside of them is still seen. */
static void hashes_alone_show_what_was_changed(void **state)
{
	struct key_ring ring = ring_of_instructor();
	struct strand_check how = {.known = &ring, .hashes_only = true};
	struct source s = load(worked_file);
	char *copy = mem_get(s.len + 1);
	struct strand_sum sum;
	size_t line_end = 0;
	(void)state;
	memcpy(copy, s.text, s.len + 1);
	for (size_t i = 0; i < s.len; i++) {
		if (i >= line_end)
			line_end = i + strcspn(s.text + i, "\n") + 1;
		bool in_signature = i + 89 >= line_end && i + 3 < line_end;
		copy[i] ^= 1;
		enum bad code = check(copy, s.len, &how, &sum);
		if (!in_signature && code == FINE)
			fail_msg("byte %zu changed, and the hashes say nothing", i);
		copy[i] ^= 1;
	}
	code_is(check(copy, s.len, &how, &sum), FINE);
	assert_true(sum.hashes_only);
	mem_drop(copy);
	unload(&s);
}

/* ---- moved, mixed, forged -------------------------------------------------------------------- */

struct lines {
	const char *at[8];
	size_t len[8];
};

static struct lines split(const struct draft *d)
{
	struct lines l = {{0}, {0}};
	const char *at = d->text;
	for (size_t i = 0; i < d->n; i++) {
		l.at[i] = at;
		l.len[i] = (size_t)(strchr(at, '\n') + 1 - at);
		at += l.len[i];
	}
	return l;
}

static void lines_out_of_order_are_noticed(void **state)
{
	static const struct {
		const char *order; /* lines by number; A to D are those of another strand's draft */
		enum bad code;
		unsigned good;
	} rows[] = {
		{"0123", FINE, 4},
		{"012", FINE, 3}, /* cut at a line's end: not to be seen */
		{"013", BAD_CHAIN, 2},
		{"0132", BAD_CHAIN, 2},
		{"0213", BAD_CHAIN, 1},
		{"0112", BAD_CHAIN, 2},
		{"00", BAD_CHAIN, 1},
		{"123", BAD_UNKNOWN, 0},
		{"1", BAD_UNKNOWN, 0},
		{"0B", BAD_CHAIN, 1},
		{"01C3", BAD_CHAIN, 2},
		{"ABCD", FINE, 4},
		{"A1", BAD_CHAIN, 1},
	};
	static struct draft d, other;
	(void)state;
	draft_start(&d);
	draft_start(&other);
	other.next.at_ms++;
	for (int i = 0; i < 4; i++) {
		draft_add(&d, test_1);
		draft_add(&other, test_1);
	}
	struct lines own = split(&d), strange = split(&other);
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		char text[8000];
		size_t len = 0;
		struct strand_sum sum;
		for (const char *c = rows[i].order; *c; c++) {
			const struct lines *from = *c >= 'A' ? &strange : &own;
			int k = *c >= 'A' ? *c - 'A' : *c - '0';
			memcpy(text + len, from->at[k], from->len[k]);
			len += from->len[k];
		}
		enum bad code = check(text, len, NULL, &sum);
		if (code != rows[i].code || sum.lines != rows[i].good)
			fail_msg("%s: want %s after %u, got %s after %u", rows[i].order,
				bad_word(rows[i].code), rows[i].good, bad_word(code),
				(unsigned)sum.lines);
	}
}

/* By somebody who has the machine's key and does not care for the rules. */
static void well_signed_lines_must_keep_the_rules_too(void **state)
{
	static struct draft d;
	struct strand_sum sum;
	(void)state;
	enum { OTHER_STRAND, OTHER_WHO, SAME_ID, OTHER_KEY, ROWS };
	static const enum bad want[ROWS] = {BAD_CHAIN, BAD_CHAIN, BAD_REPEATED, BAD_UNKNOWN};
	for (int i = 0; i < ROWS; i++) {
		draft_start(&d);
		draft_add(&d, test_1);
		draft_add(&d, test_1);
		if (i == OTHER_STRAND)
			snprintf(d.next.strand, sizeof d.next.strand, "s-2");
		if (i == OTHER_WHO)
			snprintf(d.next.who, sizeof d.next.who, "l-2");
		if (i == SAME_ID)
			snprintf(d.next.id, sizeof d.next.id, "6f1c2a58-3b7e-4d0a-9c41-%012x", 1u);
		draft_add(&d, i == OTHER_KEY ? test_2 : test_1);
		code_is(check(d.text, d.len, NULL, &sum), want[i]);
		assert_int_equal(sum.lines, 2);
	}
}

static void the_first_line_names_its_key_or_the_reader_knows_it(void **state)
{
	static struct draft d;
	struct strand_sum sum;
	struct key_ring ring = ring_of_instructor();
	struct strand_check how = {.known = &ring};
	(void)state;
	draft_start(&d); /* names the key of TEST 1 */
	draft_add(&d, test_2);
	code_is(check(d.text, d.len, NULL, &sum), BAD_UNKNOWN);
	code_is(check(d.text, d.len, &how, &sum), FINE);
	assert_true(sum.machine_known);
	draft_start(&d);
	snprintf(d.next.kind, sizeof d.next.kind, "answer"); /* names it in a line that may not */
	draft_add(&d, test_1);
	code_is(check(d.text, d.len, NULL, &sum), BAD_UNKNOWN);
}

/* A later `open` introduces a key only under one that is known already. */
static void keys_are_handed_on_by_known_keys_only(void **state)
{
	static struct draft d;
	struct strand_sum sum;
	struct sign_pair two = pair_of(test_2);
	char body[200], hex[65];
	(void)state;
	hex_write(two.open, SIGN_PUBLIC, hex);
	snprintf(body, sizeof body, "{\"machine_pk\":\"%s\"}", hex);
	for (int by_new = 0; by_new < 2; by_new++) {
		draft_start(&d);
		draft_add(&d, test_1);
		d.next.body = body;
		d.next.body_len = strlen(body);
		snprintf(d.next.kind, sizeof d.next.kind, "open");
		draft_add(&d, by_new ? test_2 : test_1);
		draft_add(&d, test_2);
		code_is(check(d.text, d.len, NULL, &sum), by_new ? BAD_UNKNOWN : FINE);
		assert_int_equal(sum.lines, by_new ? 1 : 3);
	}
}

/* It names one known key and is signed with another one, which signed the line before. */
static void a_line_is_signed_by_the_key_it_names(void **state)
{
	static struct draft d;
	struct strand_sum sum;
	struct key_ring ring = ring_of_instructor();
	struct strand_check how = {.known = &ring};
	struct sign_pair one = pair_of(test_1), mixed = pair_of(test_2);
	struct strand_line line;
	size_t len = 0;
	(void)state;
	draft_start(&d);
	draft_add(&d, test_1);
	memcpy(mixed.secret, one.secret, sizeof mixed.secret);
	line = d.next;
	line.n = 1;
	line.prev = d.head;
	snprintf(line.id, sizeof line.id, "6f1c2a58-3b7e-4d0a-9c41-00000000000f");
	code_is(chain_line_write(&line, &mixed, d.text + d.len, sizeof d.text - d.len, &len), FINE);
	code_is(check(d.text, d.len + len, &how, &sum), BAD_SEAL);
	assert_int_equal(sum.lines, 1);
}

static void many_sittings_name_one_key(void **state)
{
	static struct draft d;
	struct strand_sum sum;
	(void)state;
	draft_start(&d);
	for (int i = 0; i < 20; i++) {
		draft_add(&d, test_1);
		snprintf(d.next.kind, sizeof d.next.kind, "open");
	}
	code_is(check(d.text, d.len, NULL, &sum), FINE);
	assert_int_equal(sum.lines, 20);
}

static void longer_lines_are_refused(void **state)
{
	char *text = mem_get(CHAIN_LINE_MOST + 1);
	struct strand_sum sum;
	(void)state;
	memset(text, 'x', CHAIN_LINE_MOST + 1);
	text[CHAIN_LINE_MOST - 1] = '\n';
	code_is(check(text, CHAIN_LINE_MOST, NULL, &sum), BAD_SYNTAX);
	text[CHAIN_LINE_MOST - 1] = 'x';
	text[CHAIN_LINE_MOST] = '\n';
	code_is(check(text, CHAIN_LINE_MOST + 1, NULL, &sum), BAD_SIZE);
	mem_drop(text);
}

static void ids_are_unique_among_strands_when_asked(void **state)
{
	static struct draft d;
	struct strand_sum sum;
	(void)state;
	draft_start(&d);
	draft_add(&d, test_1);
	for (int shared = 0; shared < 2; shared++) {
		struct id_set ids = {0};
		struct strand_check how = {.ids = shared ? &ids : NULL};
		code_is(check(d.text, d.len, &how, &sum), FINE);
		code_is(check(d.text, d.len, &how, &sum), shared ? BAD_REPEATED : FINE);
		id_set_release(&ids);
	}
}

static void a_clock_set_back_is_counted(void **state)
{
	static struct draft d;
	struct strand_sum sum;
	(void)state;
	draft_start(&d);
	for (int i = 0; i < 5; i++) {
		draft_add(&d, test_1);
		d.next.at_ms += i == 2 ? -1 : 1000;
	}
	code_is(check(d.text, d.len, NULL, &sum), FINE);
	assert_int_equal(sum.set_back, 1);
	assert_int_equal(sum.first_ms, fixed_now);
	assert_int_equal(sum.last_ms, fixed_now + 2999);
}

/* ---- what it says ---------------------------------------------------------------------------- */

static void told(const char *text, size_t len, const char *want)
{
	struct source s = {"s.jsonl", text, len};
	struct arena a = {0};
	struct diags d = {.arena = &a};
	struct strand_sum sum;
	struct text out;
	text_init(&out);
	strand_read(&s, NULL, NULL, NULL, &sum, &d);
	diags_print(&d, &out);
	if (!strstr(out.at, want))
		fail_msg("want \"%s\" in:\n%s", want, out.at);
	assert_int_equal(d.nerror + d.nwarning, 1);
	text_release(&out);
	arena_release(&a);
}

static void faults_have_a_place_words_and_a_hint(void **state)
{
	static struct draft d;
	char text[8000];
	(void)state;
	draft_start(&d);
	for (int i = 0; i < 3; i++)
		draft_add(&d, test_1);
	struct lines l = split(&d);
	/* a payload byte of line 2: the hash, which begins 155 before the line's end, does not fit */
	memcpy(text, d.text, d.len);
	char *year = strstr(text + l.len[0], "2026");
	year[3] = '5';
	char want[100];
	snprintf(want, sizeof want,
		"s.jsonl:2:%zu: error: this line was changed after it was written", l.len[1] - 155);
	told(text, d.len, want);
	told(text, d.len, "[broken-chain]");
	told(text, d.len, "hint: the 1 line before it holds and counts");
	/* a signature */
	memcpy(text, d.text, d.len);
	text[l.len[0] - 10] = text[l.len[0] - 10] == 'A' ? 'B' : 'A';
	snprintf(want, sizeof want, "s.jsonl:1:%zu: error: the signature does not fit",
		l.len[0] - 88);
	told(text, d.len, want);
	told(text, d.len, "nothing of this strand counts");
	/* line 2 taken out */
	memcpy(text, d.text, l.len[0]);
	memcpy(text + l.len[0], l.at[2], l.len[2]);
	told(text, l.len[0] + l.len[2], "line 1 should stand here and this is line 2");
	/* torn */
	told(d.text, d.len - 1, "s.jsonl:3:1: warning: the last line is not complete");
}

static void a_line_of_another_version_says_so(void **state)
{
	char payload[] = "{\"later\":\"thing\",\"v\":2}", line[400];
	struct sign_pair pair = pair_of(test_1);
	struct hash_state hs;
	char hex[65], text86[87];
	unsigned char signature[SIGN_BYTES];
	struct strand_sum sum;
	(void)state;
	hash_start(&hs);
	hash_add(&hs, "", 1);
	hash_add(&hs, payload, strlen(payload));
	struct hash h = hash_end(&hs);
	hash_hex(&h, hex);
	sign_make(&pair, &h, sizeof h, signature);
	base64url_write(signature, SIGN_BYTES, text86, sizeof text86);
	int len = snprintf(line, sizeof line, "[%s,\"%s\",\"%s\"]\n", payload, hex, text86);
	code_is(check(line, (size_t)len, NULL, &sum), BAD_VERSION);
	told(line, (size_t)len, "written in another version of the format");
}

static void the_words_say_what_a_chain_cannot_show(void **state)
{
	(void)state;
	assert_non_null(strstr(strand_cut_words(), "cut off at the end of a line looks whole"));
	assert_non_null(strstr(strand_cut_words(), "seal"));
}

/* ---- memory ---------------------------------------------------------------------------------- */

static void running_out_of_memory_is_an_ordinary_answer(void **state)
{
	struct source s = load(worked_file);
	(void)state;
	for (unsigned long n = 1;; n++) {
		struct arena a = {0};
		struct source *mine;
		struct strand_sum sum = {.lines = 99};
		struct key_ring ring = ring_of_instructor();
		struct strand_check how = {.known = &ring};
		assert_true(n < 50);
		mem_fail_at(n, 1);
		enum bad code = strand_load(worked_file, &a, &mine);
		if (!code)
			code = strand_read(mine, &how, NULL, NULL, &sum, NULL);
		int failed = mem_failed();
		mem_fail_at(0, 0);
		arena_release(&a);
		code_is(code, failed ? BAD_MEMORY : FINE);
		assert_int_equal(sum.lines, failed ? 99 : 3);
		if (!failed)
			break;
	}
	unload(&s);
}

#define T(name) cmocka_unit_test(name)
#define W(name) cmocka_unit_test_setup_teardown(name, work_begin, work_end)
int main(void)
{
	const struct CMUnitTest tests[] = {
		T(the_worked_strand_holds),
		T(a_line_by_an_unknown_key_does_not_count),
		T(an_empty_strand_is_whole),
		T(a_reader_may_stop),
		W(a_cut_strand_counts_its_whole_lines_only),
		T(no_flipped_bit_verifies),
		T(no_flipped_bit_of_an_erased_line_verifies),
		T(hashes_alone_show_what_was_changed),
		T(lines_out_of_order_are_noticed),
		T(well_signed_lines_must_keep_the_rules_too),
		T(the_first_line_names_its_key_or_the_reader_knows_it),
		T(keys_are_handed_on_by_known_keys_only),
		T(a_line_is_signed_by_the_key_it_names),
		T(many_sittings_name_one_key),
		T(longer_lines_are_refused),
		T(ids_are_unique_among_strands_when_asked),
		T(a_clock_set_back_is_counted),
		T(faults_have_a_place_words_and_a_hint),
		T(a_line_of_another_version_says_so),
		T(the_words_say_what_a_chain_cannot_show),
		T(running_out_of_memory_is_an_ordinary_answer),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
