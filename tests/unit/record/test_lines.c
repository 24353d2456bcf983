/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include "file_fault.h"
#include "strand_fixture.h"

static struct strand_line line_of(const char *kind, const char *body)
{
	struct strand_line line = {.body = body, .body_len = strlen(body)};
	snprintf(line.kind, sizeof line.kind, "%s", kind);
	return line;
}

static void kinds_have_words(void **state)
{
	(void)state;
	assert_int_equal(line_kind("open"), LINE_OPEN);
	assert_int_equal(line_kind("recovered"), LINE_RECOVERED);
	assert_int_equal(line_kind("seal"), LINE_SEAL);
	assert_int_equal(line_kind("other"), LINE_OTHER);
	assert_int_equal(line_kind("something new"), LINE_OTHER);
	assert_string_equal(line_kind_word(LINE_ANSWER), "answer");
	assert_string_equal(line_kind_word(LINE_OTHER), "other");
}

static void an_answer_is_written_in_canonical_order(void **state)
{
	static const char want[] =
		"{\"ask\":2,\"attempt\":3,\"expected\":\"12.350\",\"hints\":1,\"item\":\"spread\","
		"\"outcome\":\"slip\",\"read_as\":\"12.35 mm\",\"slip\":\"by-centres\","
		"\"tolerance\":\"0.071\",\"took_ms\":4500,\"turn\":2,\"typed\":\"12,\\\"35\","
		"\"unit\":\"mm\"}";
	struct line_answer a = {.item = "spread",
		.attempt = 3,
		.ask = 2,
		.turn = 2,
		.hints = 1,
		.took_ms = 4500,
		.typed = "12,\"35",
		.read_as = "12.35 mm",
		.outcome = "slip",
		.slip = "by-centres",
		.expected = "12.350",
		.tolerance = "0.071",
		.unit = "mm"};
	char out[1000] = "";
	size_t len = 0;
	(void)state;
	code_is(line_answer_write(&a, out, sizeof out, &len), FINE);
	assert_int_equal(len, sizeof want - 1);
	assert_string_equal(out, want);
	for (size_t room = 0; room < len; room++)
		code_is(line_answer_write(&a, out, room, &len), BAD_SIZE);
}

/* Each struct comes back as it was written, texts with every kind of character included. */
static void bodies_come_back(void **state)
{
	struct arena a = {0};
	char out[2000];
	size_t len;
	(void)state;
	struct line_open open = {.mode = "drill",
		.program = "p \"1\"",
		.course = "\xc3\xa4\n\x01",
		.content = hash_bytes("x", 1),
		.sitting = "s"};
	memset(open.machine, 7, sizeof open.machine);
	struct line_open open_back;
	code_is(line_open_write(&open, out, sizeof out - 1, &len), FINE);
	out[len] = '\0';
	struct strand_line line = line_of("open", out);
	code_is(line_open_read(&line, &a, &open_back), FINE);
	assert_string_equal(open_back.mode, open.mode);
	assert_string_equal(open_back.program, open.program);
	assert_string_equal(open_back.course, open.course);
	assert_string_equal(open_back.sitting, open.sitting);
	assert_true(hash_is_equal(&open_back.content, &open.content));
	assert_memory_equal(open_back.machine, open.machine, sizeof open.machine);

	struct line_draw draw = {.item = "i", .attempt = 9007199254740991, .content = open.content};
	memset(draw.key, 0xab, sizeof draw.key);
	struct line_draw draw_back;
	code_is(line_draw_write(&draw, out, sizeof out - 1, &len), FINE);
	out[len] = '\0';
	line = line_of("draw", out);
	code_is(line_draw_read(&line, &a, &draw_back), FINE);
	assert_string_equal(draw_back.item, "i");
	assert_int_equal(draw_back.attempt, draw.attempt);
	assert_memory_equal(draw_back.key, draw.key, sizeof draw.key);

	struct line_close close = {.answers = 12, .right = 7, .reason = NULL}, close_back;
	code_is(line_close_write(&close, out, sizeof out - 1, &len), FINE);
	out[len] = '\0';
	line = line_of("close", out);
	code_is(line_close_read(&line, &a, &close_back), FINE);
	assert_int_equal(close_back.answers, 12);
	assert_int_equal(close_back.right, 7);
	assert_string_equal(close_back.reason, "");

	struct line_answer answer = an_answer(1), answer_back;
	code_is(line_answer_write(&answer, out, sizeof out - 1, &len), FINE);
	out[len] = '\0';
	line = line_of("answer", out);
	code_is(line_answer_read(&line, &a, &answer_back), FINE);
	assert_string_equal(answer_back.typed, answer.typed);
	assert_string_equal(answer_back.outcome, answer.outcome);
	assert_string_equal(answer_back.slip, answer.slip);
	assert_string_equal(answer_back.unit, answer.unit);
	assert_int_equal(answer_back.took_ms, answer.took_ms);
	assert_int_equal(answer_back.ask, answer.ask);
	arena_release(&a);
}

/* Members that came later: written only when there is something to say, read as nothing when they
 * are not there. */
static void later_members_come_back_and_may_be_missing(void **state)
{
	struct arena a = {0};
	char out[2000];
	size_t len = 0;
	struct line_answer led = {.item = "x", .outcome = "right", .led = 2, .step = 1}, answer;
	struct line_draw drawn = {.item = "x",
				 .has_features = true,
				 .readings = 4,
				 .digits = 15,
				 .steps = 3,
				 .tries = 7,
				 .largest = "17.5",
				 .skew = "0.25",
				 .gap = "4.0"},
			 draw;
	static const char want[] = "{\"attempt\":0,\"content\":\"";
	(void)state;
	code_is(line_answer_write(&led, out, sizeof out - 1, &len), FINE);
	out[len] = 0;
	struct strand_line line = line_of("answer", out);
	code_is(line_answer_read(&line, &a, &answer), FINE);
	assert_int_equal(answer.led, 2);
	assert_int_equal(answer.step, 1);
	code_is(line_draw_write(&drawn, out, sizeof out - 1, &len), FINE);
	out[len] = 0;
	assert_memory_equal(out, want, sizeof want - 1);
	assert_non_null(strstr(out, "\"gap\":\"4.0\",\"item\":\"x\",\"largest\":\"17.5\","
				    "\"readings\":4,\"skew\":\"0.25\",\"steps\":3,"
				    "\"tries\":7}"));
	line = line_of("draw", out);
	code_is(line_draw_read(&line, &a, &draw), FINE);
	assert_true(draw.has_features);
	assert_int_equal(draw.digits, 15);
	assert_string_equal(draw.largest, "17.5");
	drawn.has_features = false;
	code_is(line_draw_write(&drawn, out, sizeof out - 1, &len), FINE);
	out[len] = 0;
	line = line_of("draw", out);
	code_is(line_draw_read(&line, &a, &draw), FINE);
	assert_false(draw.has_features);
	arena_release(&a);
}

static void what_may_not_be_written_is_refused(void **state)
{
	static const char *const outcomes[] = {
		NULL, "", "Right", "a b", "r1", "thirty-three-letters-are-too-many"};
	char out[1000];
	size_t len = 99;
	(void)state;
	for (size_t i = 0; i < sizeof outcomes / sizeof *outcomes; i++) {
		struct line_answer a = an_answer(0);
		a.outcome = outcomes[i];
		code_is(line_answer_write(&a, out, sizeof out, &len), BAD_SYNTAX);
	}
	struct line_answer a = an_answer(0);
	a.typed = "\xff";
	code_is(line_answer_write(&a, out, sizeof out, &len), BAD_ENCODING);
	a = an_answer(0);
	a.took_ms = UINT64_C(1) << 53;
	code_is(line_answer_write(&a, out, sizeof out, &len), BAD_RANGE);
	assert_int_equal(len, 99);
}

static void bodies_are_read_strictly_and_newer_members_left_alone(void **state)
{
	static const struct {
		const char *kind, *body;
		enum bad code;
	} rows[] = {
		{"close", "{\"answers\":1,\"reason\":\"done\",\"right\":1}", FINE},
		{"close", "{\"answers\":1,\"later\":{},\"reason\":\"done\",\"right\":1}", FINE},
		{"close", "{\"answers\":1,\"right\":1}", BAD_MISSING},
		{"close", "{\"answers\":-1,\"reason\":\"done\",\"right\":1}", BAD_MISSING},
		{"close", "{\"answers\":\"1\",\"reason\":\"done\",\"right\":1}", BAD_MISSING},
		{"close", "{\"answers\":1,\"reason\":7,\"right\":1}", BAD_MISSING},
		{"open", "{\"answers\":1,\"reason\":\"done\",\"right\":1}", BAD_TYPE},
	};
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct arena a = {0};
		struct line_close close = {.reason = "untouched"};
		struct strand_line line = line_of(rows[i].kind, rows[i].body);
		enum bad code = line_close_read(&line, &a, &close);
		if (code != rows[i].code)
			fail_msg("%s: want %s, got %s", rows[i].body, bad_word(rows[i].code),
				bad_word(code));
		if (code)
			assert_string_equal(close.reason, "untouched");
		arena_release(&a);
	}
	struct strand_line erased = {.erased = true, .kind = "close"};
	struct line_close close;
	code_is(line_close_read(&erased, NULL, &close), BAD_TYPE);
}

static void running_out_of_memory_is_an_ordinary_answer(void **state)
{
	char out[1000];
	size_t len;
	struct line_answer answer = an_answer(1), back;
	(void)state;
	code_is(line_answer_write(&answer, out, sizeof out - 1, &len), FINE);
	out[len] = '\0';
	struct strand_line line = line_of("answer", out);
	struct arena a = {0};
	mem_fail_at(1, 1);
	enum bad code = line_answer_read(&line, &a, &back);
	mem_fail_at(0, 0);
	code_is(code, BAD_MEMORY);
	arena_release(&a);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(kinds_have_words),
		cmocka_unit_test(an_answer_is_written_in_canonical_order),
		cmocka_unit_test(bodies_come_back),
		cmocka_unit_test(later_members_come_back_and_may_be_missing),
		cmocka_unit_test(what_may_not_be_written_is_refused),
		cmocka_unit_test(bodies_are_read_strictly_and_newer_members_left_alone),
		cmocka_unit_test(running_out_of_memory_is_an_ordinary_answer),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
