/* SPDX-License-Identifier: GPL-3.0-or-later */
/* JSON out: RFC 8259 for what is written, RFC 8785 for its canonical form. */
#include "near.h"

#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "tree/json.h"

static struct text text;
static struct json_out out;

static void says(const char *why, enum bad code, const char *want)
{
	enum bad got = json_end(&out);
	if (got != code)
		fail_msg("%s: want %s, got %s", why, bad_word(code), bad_word(got));
	if (!code && strcmp(text.at, want) != 0)
		fail_msg("%s: want %s, got %s", why, want, text.at);
	text_clear(&text);
}

static void commas_and_colons_are_set(void **state)
{
	(void)state;
	json_begin(&out, &text, false);
	json_open_object(&out);
	json_name(&out, "sites");
	json_open_list(&out);
	json_whole(&out, 45);
	json_text(&out, "x");
	json_open_list(&out);
	json_close_list(&out);
	json_close_list(&out);
	json_name(&out, "ok");
	json_truth(&out, true);
	json_name(&out, "none");
	json_null(&out);
	json_name(&out, "empty");
	json_open_object(&out);
	json_close_object(&out);
	json_close_object(&out);
	says("compact", FINE, "{\"sites\":[45,\"x\",[]],\"ok\":true,\"none\":null,\"empty\":{}}");
}

static void indented_form_is_for_people(void **state)
{
	(void)state;
	json_begin(&out, &text, true);
	json_open_object(&out);
	json_name(&out, "a");
	json_open_list(&out);
	json_whole(&out, 1);
	json_whole(&out, 2);
	json_close_list(&out);
	json_name(&out, "b");
	json_open_object(&out);
	json_close_object(&out);
	json_close_object(&out);
	says("indented", FINE, "{\n  \"a\": [\n    1,\n    2\n  ],\n  \"b\": {}\n}");
}

static void a_lone_value_is_a_text_of_json(void **state)
{
	(void)state;
	json_begin(&out, &text, true);
	json_truth(&out, false);
	says("RFC 8259, 2: a text is any value", FINE, "false");
}

static const struct {
	const char *why, *from, *plain, *canonical;
} texts[] = {
	{"nothing", "", "\"\"", "\"\""},
	{"RFC 8259, 7: quote and backslash", "a\"b\\c", "\"a\\\"b\\\\c\"", "\"a\\\"b\\\\c\""},
	{"RFC 8785, 3.2.2.2: short forms", "\b\t\n\f\r", "\"\\b\\t\\n\\f\\r\"",
		"\"\\b\\t\\n\\f\\r\""},
	{"RFC 8785, 3.2.2.2: small letters in \\u", "\x01\x0B\x1F", "\"\\u0001\\u000b\\u001f\"",
		"\"\\u0001\\u000b\\u001f\""},
	{"a stroke stays", "</a>", "\"</a>\"", "\"</a>\""},
	{"letters stay",
		"gr\xC3\xB6\xC3\x9F"
		"e",
		"\"gr\xC3\xB6\xC3\x9F"
		"e\"",
		"\"gr\xC3\xB6\xC3\x9F"
		"e\""},
	{"no normalization", "A\xCC\x8A", "\"A\xCC\x8A\"", "\"A\xCC\x8A\""},
	{"DEL and C1 do not reach a terminal", "\x7F\xC2\x9B", "\"\\u007f\\u009b\"",
		"\"\x7F\xC2\x9B\""},
	{"nor does what turns a line around", "\xE2\x80\xAE", "\"\\u202e\"", "\"\xE2\x80\xAE\""},
	{"beyond U+FFFF as a pair", "\xF3\xA0\x80\xA0", "\"\\udb40\\udc20\"",
		"\"\xF3\xA0\x80\xA0\""},
};

static void texts_are_escaped(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
		json_begin(&out, &text, false);
		json_text(&out, texts[i].from);
		says(texts[i].why, FINE, texts[i].plain);
		json_begin_canonical(&out, &text);
		json_text(&out, texts[i].from);
		says(texts[i].why, FINE, texts[i].canonical);
	}
}

static void bytes_that_are_not_utf_8_are_not_written(void **state)
{
	static const char *const faulty[] = {"\xFF", "a\xC3", "\xED\xA0\x80", "\xC0\x80"};
	(void)state;
	for (size_t i = 0; i < 4; i++) {
		json_begin(&out, &text, false);
		json_text(&out, faulty[i]);
		says("value", BAD_ENCODING, "");
		json_begin(&out, &text, false);
		json_open_object(&out);
		json_name(&out, faulty[i]);
		json_null(&out);
		json_close_object(&out);
		says("name", BAD_ENCODING, "");
	}
	json_begin(&out, &text, false);
	json_text_bytes(&out, "a\0b", 3);
	says("a zero is a character", FINE, "\"a\\u0000b\"");
}

static void integers_keep_to_what_every_reader_keeps(void **state)
{
	(void)state;
	json_begin(&out, &text, false);
	json_open_list(&out);
	json_whole(&out, 0);
	json_whole(&out, JSON_WHOLE_MAX);
	json_whole(&out, -JSON_WHOLE_MAX);
	json_close_list(&out);
	says("RFC 7493, 2.2", FINE, "[0,9007199254740991,-9007199254740991]");
	json_begin(&out, &text, false);
	json_whole(&out, JSON_WHOLE_MAX + 1);
	says("one more", BAD_RANGE, "");
	json_begin(&out, &text, false);
	json_whole(&out, INT64_MIN);
	says("the least", BAD_RANGE, "");
}

static void numbers_are_short_and_read_back(void **state)
{
	static const struct {
		double value;
		const char *want;
	} cases[] = {
		{0, "0"},
		{-0.0, "0"},
		{1, "1"},
		{0.1, "0.1"},
		{0.1 + 0.2, "0.30000000000000004"},
		{-3.5, "-3.5"},
		{1e21, "1e+21"},
		{5e-324, "4.94065645841247e-324"},
		{1.7976931348623157e308, "1.7976931348623157e+308"},
		{9007199254740993.0, "9007199254740992"},
		{NAN, "null"},
		{INFINITY, "null"},
		{-INFINITY, "null"},
	};
	(void)state;
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		json_begin(&out, &text, false);
		json_number(&out, cases[i].value);
		says(cases[i].want, FINE, cases[i].want);
	}
	uint64_t bits = 88172645463325252u; /* G. Marsaglia, "Xorshift RNGs", JSS 8(14), 2003 */
	for (int i = 0; i < 100000; i++) {
		double value, back;
		bits ^= bits << 13;
		bits ^= bits >> 7;
		bits ^= bits << 17;
		memcpy(&value, &bits, sizeof value);
		if (!isfinite(value))
			continue;
		json_begin(&out, &text, false);
		json_number(&out, value);
		back = strtod(text.at, NULL);
		if (memcmp(&back, &value, sizeof back) != 0 && value != 0)
			fail_msg("%a came back as %a from %s", value, back, text.at);
		text_clear(&text);
	}
}

static void names_of_canonical_objects_rise(void **state)
{
	(void)state;
	json_begin_canonical(&out, &text);
	json_open_object(&out);
	json_name(&out, "");
	json_open_object(&out);
	json_name(&out, "z");
	json_whole(&out, 1);
	json_close_object(&out);
	json_name(&out, "A");
	json_whole(&out, 2);
	json_name(&out, "a");
	json_whole(&out, 3);
	json_name(&out, "a1");
	json_whole(&out, 4);
	json_name(&out, "b");
	json_whole(&out, 5);
	json_close_object(&out);
	says("rising", FINE, "{\"\":{\"z\":1},\"A\":2,\"a\":3,\"a1\":4,\"b\":5}");
}

static void falling_names(void)
{
	json_name(&out, "b");
	json_null(&out);
	json_name(&out, "a");
}

static void equal_names(void)
{
	json_name(&out, "a");
	json_null(&out);
	json_name(&out, "a");
}

static void accented_name(void)
{
	json_name(&out, "\xC3\xA9");
}

static void value_without_name(void)
{
	json_null(&out);
}

static void name_without_value(void)
{
	json_name(&out, "a");
	json_close_object(&out);
}

static void list_closed_as_object(void)
{
	json_name(&out, "a");
	json_open_list(&out);
	json_close_object(&out);
}

static void something_left_open(void)
{
	json_end(&out);
}

static void fraction(void)
{
	json_name(&out, "a");
	json_number(&out, 0.5);
}

/* Runs it inside a canonical object, in a process of its own whose complaint is not shown. */
static bool stops(void (*mistake)(void))
{
	int status;
	pid_t child = fork();
	if (child == 0) {
		if (!freopen("/dev/null", "w", stderr))
			_exit(0);
		signal(SIGABRT, SIG_DFL);
		json_begin_canonical(&out, &text);
		json_open_object(&out);
		mistake();
		_exit(0);
	}
	return child > 0 && waitpid(child, &status, 0) == child && WIFSIGNALED(status) &&
	       WTERMSIG(status) == SIGABRT;
}

static void mistakes_of_the_caller_stop_the_program(void **state)
{
	static const struct {
		const char *why;
		void (*mistake)(void);
	} cases[] = {
		{"falling names", falling_names},
		{"equal names", equal_names},
		{"a name that is not ASCII", accented_name},
		{"a value without a name", value_without_name},
		{"a name without a value", name_without_value},
		{"a list closed as an object", list_closed_as_object},
		{"something left open", something_left_open},
		{"a fraction", fraction},
	};
	(void)state;
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
		if (!stops(cases[i].mistake))
			fail_msg("%s did not stop it", cases[i].why);
}

static void what_the_text_held_stays(void **state)
{
	(void)state;
	text_add(&text, "kept ");
	json_begin_canonical(&out, &text);
	json_open_object(&out);
	json_name(&out, "a");
	json_null(&out);
	json_name(&out, "b");
	json_null(&out);
	json_close_object(&out);
	says("kept", FINE, "kept {\"a\":null,\"b\":null}");
}

static void running_out_of_memory_is_told_at_the_end(void **state)
{
	(void)state;
	text_release(&text);
	mem_fail_at(1, 1);
	json_begin_canonical(&out, &text);
	json_open_object(&out);
	json_name(&out, "b");
	json_text(&out, "a longer text than the first piece of memory could have held, so that it "
			"would have to grow");
	json_name(&out, "c");
	json_whole(&out, 1);
	json_close_object(&out);
	mem_fail_at(0, 0);
	code_is(json_end(&out), BAD_MEMORY);
	text_release(&text);
}

static int begin(void **state)
{
	(void)state;
	text_init(&text);
	return 0;
}

static int end(void **state)
{
	(void)state;
	text_release(&text);
	return 0;
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(commas_and_colons_are_set),
		cmocka_unit_test(indented_form_is_for_people),
		cmocka_unit_test(a_lone_value_is_a_text_of_json),
		cmocka_unit_test(texts_are_escaped),
		cmocka_unit_test(bytes_that_are_not_utf_8_are_not_written),
		cmocka_unit_test(integers_keep_to_what_every_reader_keeps),
		cmocka_unit_test(numbers_are_short_and_read_back),
		cmocka_unit_test(names_of_canonical_objects_rise),
		cmocka_unit_test(mistakes_of_the_caller_stop_the_program),
		cmocka_unit_test(what_the_text_held_stays),
		cmocka_unit_test(running_out_of_memory_is_told_at_the_end),
	};
	return cmocka_run_group_tests_name("tree/json_write", tests, begin, end);
}
