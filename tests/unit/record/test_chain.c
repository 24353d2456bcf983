/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include "file_fault.h"
#include "strand_fixture.h"

/* tests/data/record/strand.jsonl: written with libsodium, verified independently with OpenSSL; see
 * SOURCES there. Hashes and key ids as recorded when it was made. */
static const char worked_file[] = "tests/data/record/strand.jsonl";
static const char *const worked_hash[] = {
	"3574eed6146a3f66f4b19009ff5ea69dcdc9dbd7d22fd81ea0f1f1e5836e37df",
	"695f76e03783f8a4a75f8bc4cb44c400c3a4bd8b13a4d37621ac86aa873b8174",
	"b2265788994b6d0b785837ded5da9057262fd0e4cfbb5cdfed930d99010a940d",
};
static const char machine_id[] = "21fe31dfa154a261", instructor_id[] = "39f713d0a644253f";

static void a_key_is_named_by_the_hash_of_its_public_half(void **state)
{
	struct sign_pair one = pair_of(test_1), two = pair_of(test_2);
	char id[KEY_ID + 1];
	(void)state;
	key_id(one.open, id);
	assert_string_equal(id, machine_id);
	key_id(two.open, id);
	assert_string_equal(id, instructor_id);
}

static void read_line(const struct source *s, uint32_t n, struct chain_slice *slice,
	struct strand_line *line, const char **text, size_t *len)
{
	size_t where;
	const char *words;
	*text = source_line(s, n + 1, len);
	code_is(chain_slice(*text, *len, slice), FINE);
	code_is(chain_hash(slice, &line->hash), FINE);
	code_is(chain_payload(slice, line, &where, &words), FINE);
}

static void the_worked_lines_hold(void **state)
{
	struct source s = load(worked_file);
	struct sign_pair pair[] = {pair_of(test_1), pair_of(test_1), pair_of(test_2)};
	(void)state;
	for (uint32_t i = 0; i < 3; i++) {
		struct chain_slice slice;
		struct strand_line line = {0};
		const char *text;
		size_t len;
		char hex[HASH_HEX + 1];
		read_line(&s, i, &slice, &line, &text, &len);
		hash_hex(&line.hash, hex);
		assert_string_equal(hex, worked_hash[i]);
		code_is(chain_signature(&slice, &line.hash, pair[i].open), FINE);
		code_is(chain_signature(&slice, &line.hash, pair[2 - i].open),
			i == 1 ? FINE : BAD_SEAL);
		assert_int_equal(line.n, i);
		assert_string_equal(line.strand, "s-4f2d9c0a7be1");
		assert_string_equal(line.who, "l-7Q2K9M4X");
		assert_string_equal(line.key, i == 2 ? instructor_id : machine_id);
		assert_string_equal(line.kind, i == 0 ? "open" : i == 1 ? "answer" : "seal");
	}
	unload(&s);
}

/* The writer gives the worked lines back, byte for byte: order of members, hashes, signatures. */
static void the_worked_lines_are_written_again(void **state)
{
	struct source s = load(worked_file);
	struct sign_pair pair[] = {pair_of(test_1), pair_of(test_1), pair_of(test_2)};
	(void)state;
	for (uint32_t i = 0; i < 3; i++) {
		struct chain_slice slice;
		struct strand_line line = {0};
		const char *text;
		char out[CHAIN_LINE_MOST];
		size_t len, made = 0;
		read_line(&s, i, &slice, &line, &text, &len);
		line.key[0] = '\0';
		line.hash = (struct hash){{0}};
		code_is(chain_line_write(&line, &pair[i], out, sizeof out, &made), FINE);
		assert_int_equal(made, len + 1);
		assert_memory_equal(out, text, made);
	}
	unload(&s);
}

static void an_erased_line_keeps_hash_and_signature(void **state)
{
	struct source s = load("tests/data/record/strand-erased.jsonl");
	struct sign_pair machine = pair_of(test_1);
	struct chain_slice slice;
	struct strand_line line = {0};
	const char *text;
	char hex[HASH_HEX + 1];
	size_t len;
	(void)state;
	read_line(&s, 1, &slice, &line, &text, &len);
	assert_true(line.erased);
	assert_null(line.body);
	hash_hex(&line.hash, hex);
	assert_string_equal(hex, worked_hash[1]);
	code_is(chain_signature(&slice, &line.hash, machine.open), FINE);
	unload(&s);
}

/* ---- forms ----------------------------------------------------------------------------------- */

static struct strand_line sample(void)
{
	return (struct strand_line){.at_ms = fixed_now,
		.boot_ms = 5,
		.strand = "s-1",
		.who = "l-1",
		.kind = "note",
		.id = "6f1c2a58-3b7e-4d0a-9c41-000000000001",
		.body = "{}",
		.body_len = 2};
}

static enum bad write_it(struct strand_line *line)
{
	static char out[CHAIN_LINE_MOST];
	struct sign_pair pair = pair_of(test_1);
	size_t len;
	return chain_line_write(line, &pair, out, sizeof out, &len);
}

static void texts_without_their_form_are_not_written(void **state)
{
	static const struct {
		const char *strand, *who, *kind, *id, *body;
	} rows[] = {
		{.strand = ""},
		{.strand = "a/b"},
		{.strand = ".."},
		{.strand = "-x"},
		{.who = "l 1"},
		{.who = "\xc3\xa4"},
		{.kind = ""},
		{.kind = "Answer"},
		{.kind = "a1"},
		{.id = "6f1c2a58-3b7e-1d0a-9c41-000000000001"},
		{.id = "6f1c2a58-3b7e-4d0a-cc41-000000000001"},
		{.id = "6F1c2a58-3b7e-4d0a-9c41-000000000001"},
		{.id = "6f1c2a583b7e4d0a9c41000000000001"},
		{.body = "[]"},
		{.body = "{\"a\":1.5}"},
		{.body = "{\"a\":null}"},
		{.body = "{}\n"},
		{.body = "{},\"v\":2,\"w\":{}"},
		{.body = ""},
	};
	struct strand_line line = sample();
	(void)state;
	code_is(write_it(&line), FINE);
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		line = sample();
#define SET(field) \
	if (rows[i].field) \
	snprintf(line.field, sizeof line.field, "%s", rows[i].field)
		SET(strand);
		SET(who);
		SET(kind);
		SET(id);
#undef SET
		if (rows[i].body) {
			line.body = rows[i].body;
			line.body_len = strlen(line.body);
		}
		if (write_it(&line) != BAD_SYNTAX)
			fail_msg("row %zu was written", i);
	}
	line = sample();
	line.n = UINT64_C(1) << 53;
	code_is(write_it(&line), BAD_RANGE);
}

static void a_line_that_does_not_fit_is_not_written(void **state)
{
	static char body[CHAIN_BODY_MOST + 1];
	struct sign_pair pair = pair_of(test_1);
	struct strand_line line = sample();
	static char out[CHAIN_LINE_MOST];
	size_t len = 0, full;
	(void)state;
	memset(body, 'x', sizeof body);
	memcpy(body, "{\"a\":\"", 6);
	memcpy(body + CHAIN_BODY_MOST - 2, "\"}", 2);
	line.body = body;
	line.body_len = CHAIN_BODY_MOST;
	code_is(chain_line_write(&line, &pair, out, sizeof out, &full), FINE);
	assert_in_range(full, CHAIN_BODY_MOST, CHAIN_LINE_MOST);
	code_is(chain_line_write(&line, &pair, out, full, &len), FINE);
	code_is(chain_line_write(&line, &pair, out, full - 1, &len), BAD_SIZE);
	line.body_len++;
	code_is(chain_line_write(&line, &pair, out, sizeof out, &len), BAD_SIZE);
	assert_int_equal(len, full);
}

/* A body may be as deep as the reader allows and not deeper. */
static void what_is_written_can_be_read(void **state)
{
	char body[400], out[2000];
	struct sign_pair pair = pair_of(test_1);
	(void)state;
	for (int levels = 1; levels < 40; levels++) {
		struct strand_line line = sample(), back = {0};
		struct chain_slice slice;
		size_t n = 0, len = 0, where;
		const char *words = "";
		for (int i = 0; i < levels; i++)
			n += (size_t)snprintf(body + n, sizeof body - n, "{\"a\":");
		n += (size_t)snprintf(body + n, sizeof body - n, "1");
		for (int i = 0; i < levels; i++)
			body[n++] = '}';
		line.body = body;
		line.body_len = n;
		enum bad code = chain_line_write(&line, &pair, out, sizeof out, &len);
		code_is(code, levels < 31 ? FINE : BAD_SIZE);
		if (code)
			continue;
		code_is(chain_slice(out, len - 1, &slice), FINE);
		enum bad read = chain_payload(&slice, &back, &where, &words);
		if (read)
			fail_msg("%d levels were written and not read: %s", levels, words);
	}
}

static void payloads_of_another_form_are_refused(void **state)
{
	/* a payload as the writer makes it, one piece exchanged for another */
	static const char whole[] =
		"{\"at\":\"2026-11-25T09:30:15.000Z\",\"body\":{},\"boot\":5,"
		"\"id\":\"6f1c2a58-3b7e-4d0a-9c41-000000000001\",\"key\":\"21fe31dfa154a261\","
		"\"kind\":\"note\",\"n\":0,"
		"\"prev\":\"0000000000000000000000000000000000000000000000000000000000000000\","
		"\"salt\":\"00000000000000000000000000000001\",\"strand\":\"s-1\",\"v\":1,"
		"\"who\":\"l-1\"}";
	static const struct {
		const char *old, *new;
		enum bad code;
	} rows[] = {
		{"\"v\":1", "\"v\":1", FINE},
		{"\"v\":1", "\"v\":2", BAD_VERSION},
		{"\"v\":1", "\"v\":0", BAD_VERSION},
		{"\"v\":1", "\"v\":\"1\"", BAD_TYPE},
		{"\"v\":1,", "", BAD_MISSING},
		{"\"body\":{}", "\"body\":[]", BAD_TYPE},
		{"\"body\":{}", "\"body\":1", BAD_TYPE},
		{"\"body\":{},", "", BAD_MISSING},
		{"\"boot\":5", "\"boot\":-5", BAD_TYPE},
		{"\"boot\":5", "\"boot\":\"5\"", BAD_TYPE},
		{"2026-11-25T", "2026-11-31T", BAD_TYPE},
		{"15.000Z", "15.000", BAD_TYPE},
		{"\"21fe", "\"21FE", BAD_TYPE},
		{"\"21fe", "\"1fe", BAD_TYPE},
		{"\"prev\":\"00", "\"prev\":\"0", BAD_TYPE},
		{"\"salt\":\"00", "\"salt\":\"0A", BAD_TYPE},
		{"\"kind\":\"note\"", "\"kind\":\"no te\"", BAD_TYPE},
		{"\"who\":\"l-1\"", "\"who\":\"l-1\",\"x\":1", BAD_UNKNOWN},
		{"\"who\":\"l-1\"", "\"who\":\"\"", BAD_TYPE},
		{"{\"at\"", "{\"a\":1,\"at\"", BAD_MISSING},
		{"\"n\":0", "\"n\":0 ", BAD_SYNTAX},
	};
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		char text[1000];
		const char *at = strstr(whole, rows[i].old), *words = "";
		struct strand_line line = {0};
		size_t where = 9999;
		snprintf(text, sizeof text, "%.*s%s%s", (int)(at - whole), whole, rows[i].new,
			at + strlen(rows[i].old));
		struct chain_slice slice = {text, strlen(text), NULL, NULL};
		enum bad code = chain_payload(&slice, &line, &where, &words);
		if (code != rows[i].code)
			fail_msg("%s: want %s, got %s (%s)", rows[i].new, bad_word(rows[i].code),
				bad_word(code), words);
		if (code && (where > strlen(text) || !*words))
			fail_msg("%s: no place or no words", rows[i].new);
	}
}

static void frames_are_cut_by_position_alone(void **state)
{
	struct source s = load(worked_file);
	struct chain_slice slice;
	size_t len;
	const char *line = source_line(&s, 1, &len);
	char copy[2000];
	(void)state;
	memcpy(copy, line, len);
	static const int fixed[] = {0, -157, -156, -91, -90, -89, -2, -1};
	for (size_t i = 0; i < sizeof fixed / sizeof *fixed; i++) {
		size_t at = fixed[i] < 0 ? len - (size_t)-fixed[i] : 0;
		char was = copy[at];
		copy[at] = 'x';
		code_is(chain_slice(copy, len, &slice), BAD_SYNTAX);
		copy[at] = was;
	}
	code_is(chain_slice(copy, len, &slice), FINE);
	for (size_t short_len = 0; short_len < 160; short_len++)
		code_is(chain_slice(copy, short_len, &slice), BAD_SYNTAX);
	unload(&s);
}

#define T(name) cmocka_unit_test(name)
int main(void)
{
	const struct CMUnitTest tests[] = {
		T(a_key_is_named_by_the_hash_of_its_public_half),
		T(the_worked_lines_hold),
		T(the_worked_lines_are_written_again),
		T(an_erased_line_keeps_hash_and_signature),
		T(texts_without_their_form_are_not_written),
		T(a_line_that_does_not_fit_is_not_written),
		T(what_is_written_can_be_read),
		T(payloads_of_another_form_are_refused),
		T(frames_are_cut_by_position_alone),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
