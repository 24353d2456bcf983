/* SPDX-License-Identifier: GPL-3.0-or-later */
/* JSON in. Beside each case stands the clause of RFC 8259 (or RFC 7493, I-JSON) that decides it;
 * "ours" marks what this reader refuses beyond them. */
#include "near.h"

#include "out_of_memory.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "tree/json.h"

static struct arena arena;

/* In memory of its own length, so that a byte too far is seen. */
static enum bad reads_bytes(const char *s, size_t len, struct json **out, struct json_fault *fault)
{
	char *bytes = malloc(len ? len : 1);
	assert_non_null(bytes);
	memcpy(bytes, s, len);
	enum bad code = json_read(&arena, bytes, len, out, fault);
	free(bytes);
	return code;
}

static enum bad reads(const char *s, struct json **out)
{
	return reads_bytes(s, strlen(s), out, NULL);
}

/* ---- what is read ---------------------------------------------------------------------------- */

static const struct {
	const char *why, *text, *canonical; /* its form by RFC 8785, to see what was read */
} good[] = {
	{"2: any value is a text", "true", "true"},
	{"2: and so is a number", "-1", "-1"},
	{"2: blanks around the six signs", " \t\r\n[ 1 , 2 ] \n", "[1,2]"},
	{"2: blanks in an object", "{ \"a\" : 1 , \"b\" : { } }", "{\"a\":1,\"b\":{}}"},
	{"3: three literal names", "[null,true,false]", "[null,true,false]"},
	{"4: a name may be empty", "{\"\":0}", "{\"\":0}"},
	{"4: names differ by capitals", "{\"a\":1,\"A\":2}", "{\"A\":2,\"a\":1}"},
	{"5: values of a list need not be alike", "[1,\"\",{},[]]", "[1,\"\",{},[]]"},
	{"6: zero", "0", "0"},
	{"6: minus zero", "-0", "0"},
	{"6: a fraction of nothing", "1.0", "1"},
	{"6: an exponent", "[1E2,1e+2,100e-2]", "[100,100,1]"},
	{"6: zeros after the point", "10.00", "10"},
	{"6: zeros in an exponent", "1e0002", "100"},
	{"7493 2.2: the largest", "9007199254740991", "9007199254740991"},
	{"7493 2.2: the least", "-9007199254740991", "-9007199254740991"},
	{"7: the short escapes", "\"\\\"\\\\\\/\\b\\f\\n\\r\\t\"", "\"\\\"\\\\/\\b\\f\\n\\r\\t\""},
	{"7: its example, the reverse solidus", "\"\\u005C\"", "\"\\\\\""},
	{"7: its example, the G clef", "\"\\uD834\\uDD1E\"", "\"\xF0\x9D\x84\x9E\""},
	{"7: capitals or not", "\"\\u00e9\\u00E9\"", "\"\xC3\xA9\xC3\xA9\""},
	{"7: DEL need not be escaped", "\"\x7F\"", "\"\x7F\""},
	{"7: nor U+2028", "\"\xE2\x80\xA8\"", "\"\xE2\x80\xA8\""},
	{"8.1: UTF-8", "\"gr\xC3\xBC\xC3\x9F\"", "\"gr\xC3\xBC\xC3\x9F\""},
	{"8.1: of four bytes", "\"\xF0\x9F\x98\x80\"", "\"\xF0\x9F\x98\x80\""},
	{"8.2: a noncharacter is a character", "\"\\uFFFF\"", "\"\xEF\xBF\xBF\""},
	{"8.3: its example, escapes compare equal", "{\"a\\\\b\":1}", "{\"a\\\\b\":1}"},
	{"13: its first example",
		"{\n \"Image\": {\n \"Width\": 800,\n \"Height\": 600,\n \"Title\": \"View from "
		"15th "
		"Floor\",\n \"Thumbnail\": {\n \"Url\": "
		"\"http://www.example.com/image/481989943\",\n"
		" \"Height\": 125,\n \"Width\": 100\n },\n \"Animated\" : false,\n \"IDs\": [116, "
		"943, 234, 38793]\n }\n}\n",
		"{\"Image\":{\"Animated\":false,\"Height\":600,\"IDs\":[116,943,234,38793],"
		"\"Thumbnail\":{\"Height\":125,\"Url\":\"http://www.example.com/image/481989943\","
		"\"Width\":100},\"Title\":\"View from 15th Floor\",\"Width\":800}}"},
};

static void what_the_standard_allows_is_read(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof good / sizeof *good; i++) {
		struct json *j = NULL;
		struct text got;
		text_init(&got);
		enum bad code = reads(good[i].text, &j);
		if (code)
			fail_msg("%s: %s: %s", good[i].why, good[i].text, bad_word(code));
		code_is(json_canonical(j, &got), FINE);
		if (strcmp(got.at, good[i].canonical) != 0)
			fail_msg("%s: %s: want %s, got %s", good[i].why, good[i].text,
				good[i].canonical, got.at);
		text_release(&got);
	}
	arena_release(&arena);
}

/* ---- what is not ----------------------------------------------------------------------------- */

#define S(text) text, sizeof(text) - 1

static const struct {
	const char *why, *text;
	size_t len;
	enum bad code;
	size_t offset;
} faulty[] = {
	{"2: nothing is no value", S(""), BAD_SYNTAX, 0},
	{"2: nor are blanks", S(" \n"), BAD_SYNTAX, 2},
	{"2: one value", S("1 2"), BAD_SYNTAX, 2},
	{"2: one value", S("{\"a\":1}xyz"), BAD_SYNTAX, 7},
	{"2: one value", S("[],"), BAD_SYNTAX, 2},
	{"2: a zero behind it", S("1\0"), BAD_SYNTAX, 1},
	{"2: a form feed is no blank", S("[\f1]"), BAD_SYNTAX, 1},
	{"2: a vertical tab is no blank", S("[\v1]"), BAD_SYNTAX, 1},
	{"2: a no-break space is no blank",
		S("[\xC2\xA0"
		  "1]"),
		BAD_SYNTAX, 1},
	{"2: no comments", S("[1/**/]"), BAD_SYNTAX, 2},
	{"2: no comments", S("[1]#x"), BAD_SYNTAX, 3},
	{"3: small letters", S("True"), BAD_SYNTAX, 0},
	{"3: the whole word", S("[nul]"), BAD_SYNTAX, 1},
	{"3: the whole word", S("tru"), BAD_SYNTAX, 0},
	{"3: and no more", S("truex"), BAD_SYNTAX, 4},
	{"3: no other word", S("[NaN]"), BAD_SYNTAX, 1},
	{"3: no other word", S("[undefined]"), BAD_SYNTAX, 1},
	{"4: a name is a text", S("{a:1}"), BAD_SYNTAX, 1},
	{"4: a name is a text", S("{1:1}"), BAD_SYNTAX, 1},
	{"4: in double quotes", S("{'a':1}"), BAD_SYNTAX, 1},
	{"4: a colon", S("{\"a\" 1}"), BAD_SYNTAX, 5},
	{"4: one colon", S("{\"a\"::1}"), BAD_SYNTAX, 5},
	{"4: a value", S("{\"a\":}"), BAD_SYNTAX, 5},
	{"4: no comma at the end", S("{\"a\":1,}"), BAD_SYNTAX, 7},
	{"4: no comma at the start", S("{,\"a\":1}"), BAD_SYNTAX, 1},
	{"4: a comma between", S("{\"a\":1 \"b\":2}"), BAD_SYNTAX, 7},
	{"4: closed", S("{\"a\":1"), BAD_SYNTAX, 6},
	{"4: closed by its own sign", S("{\"a\":1]"), BAD_SYNTAX, 6},
	{"4: names SHOULD be unique; 7493 2.3: MUST", S("{\"a\":1,\"a\":1}"), BAD_REPEATED, 7},
	{"8.3: equal after unescaping", S("{\"a\":1,\"\\u0061\":2}"), BAD_REPEATED, 7},
	{"4: in any depth", S("[{\"b\":{\"a\":1,\"c\":2,\"a\":3}}]"), BAD_REPEATED, 19},
	{"5: no comma at the end", S("[1,]"), BAD_SYNTAX, 3},
	{"5: no comma at the start", S("[,1]"), BAD_SYNTAX, 1},
	{"5: one comma", S("[1,,2]"), BAD_SYNTAX, 3},
	{"5: a comma between", S("[1 2]"), BAD_SYNTAX, 3},
	{"5: closed", S("[1"), BAD_SYNTAX, 2},
	{"5: closed by its own sign", S("[1}"), BAD_SYNTAX, 2},
	{"5: opened", S("]"), BAD_SYNTAX, 0},
	{"6: no leading zero", S("012"), BAD_SYNTAX, 0},
	{"6: no leading zero", S("[-01]"), BAD_SYNTAX, 2},
	{"6: no plus", S("+1"), BAD_SYNTAX, 0},
	{"6: digits behind the minus", S("[-]"), BAD_SYNTAX, 2},
	{"6: digits before the point", S("[.5]"), BAD_SYNTAX, 1},
	{"6: digits before the point", S("[-.5]"), BAD_SYNTAX, 2},
	{"6: digits behind the point", S("[1.]"), BAD_SYNTAX, 3},
	{"6: digits behind the point", S("[1.e2]"), BAD_SYNTAX, 3},
	{"6: digits in the exponent", S("[1e]"), BAD_SYNTAX, 3},
	{"6: digits in the exponent", S("[1e+]"), BAD_SYNTAX, 4},
	{"6: a whole exponent", S("[1e1.5]"), BAD_SYNTAX, 4},
	{"6: decimal", S("[0x1F]"), BAD_SYNTAX, 2},
	{"6: no blanks inside", S("[1 .5]"), BAD_SYNTAX, 3},
	{"6: ASCII digits", S("[\xEF\xBC\x91]"), BAD_SYNTAX, 1},
	{"6: no infinity", S("[-Infinity]"), BAD_SYNTAX, 2},
	{"7493 2.2, ours", S("9007199254740992"), BAD_RANGE, 0},
	{"7493 2.2, ours", S("[-9007199254740992]"), BAD_RANGE, 2},
	{"7493 2.2, ours", S("[100000000000000000000]"), BAD_RANGE, 1},
	{"6: beyond a double, ours", S("[1e400]"), BAD_RANGE, 1},
	{"6: a very long number, ours",
		S("0.1234567890123456789012345678901234567890123456789012345678901"), BAD_SIZE, 0},
	{"7: quotes are doubled signs", S("'a'"), BAD_SYNTAX, 0},
	{"7: closed", S("\"a"), BAD_SYNTAX, 2},
	{"7: closed after a backslash", S("\"a\\"), BAD_SYNTAX, 3},
	{"7: closed after an escaped quote", S("\"\\\""), BAD_SYNTAX, 3},
	{"7: controls are escaped: tab", S("\"\t\""), BAD_SYNTAX, 1},
	{"7: controls are escaped: line end", S("\"a\nb\""), BAD_SYNTAX, 2},
	{"7: controls are escaped: zero", S("\"a\0b\""), BAD_SYNTAX, 2},
	{"7: controls are escaped: U+001F", S("\"\x1F\""), BAD_SYNTAX, 1},
	{"7: no other escapes", S("\"\\x41\""), BAD_SYNTAX, 1},
	{"7: no other escapes", S("\"\\'\""), BAD_SYNTAX, 1},
	{"7: no other escapes", S("\"\\\0\""), BAD_SYNTAX, 1},
	{"7: small u", S("\"\\U0041\""), BAD_SYNTAX, 1},
	{"7: four digits", S("\"\\u004\""), BAD_SYNTAX, 6},
	{"7: four digits", S("\"\\u00g1\""), BAD_SYNTAX, 5},
	{"7: four digits", S("\"\\u"), BAD_SYNTAX, 3},
	{"8.1: no byte order mark", S("\xEF\xBB\xBF[]"), BAD_SYNTAX, 0},
	{"8.1: not UTF-16", S("\xFF\xFE[\0]\0"), BAD_SYNTAX, 0},
	{"8.1: a byte alone", S("\"\xFF\""), BAD_ENCODING, 1},
	{"8.1: cut short", S("\"\xE2\x82\""), BAD_ENCODING, 1},
	{"8.1: overlong", S("\"\xC0\xAF\""), BAD_ENCODING, 1},
	{"8.1: a surrogate in UTF-8", S("\"\xED\xA0\x80\""), BAD_ENCODING, 1},
	{"8.1: beyond U+10FFFF", S("\"\xF4\x90\x80\x80\""), BAD_ENCODING, 1},
	{"8.1: in a name too", S("{\"\xFF\":1}"), BAD_ENCODING, 2},
	{"8.2: its example, half a pair", S("\"\\uDEAD\""), BAD_ENCODING, 1},
	{"8.2: the first half alone", S("\"\\uD834\""), BAD_ENCODING, 1},
	{"8.2: the first half twice", S("\"\\uD834\\uD834\""), BAD_ENCODING, 1},
	{"8.2: the first half before a letter", S("\"\\uD834x\""), BAD_ENCODING, 1},
	{"8.2: the first half before a line end", S("\"\\uD834\\n\""), BAD_ENCODING, 1},
	{"8.2: the halves exchanged", S("\"\\uDD1E\\uD834\""), BAD_ENCODING, 1},
	{"7: U+0000, ours", S("\"a\\u0000b\""), BAD_ENCODING, 2},
};

static void what_it_does_not_allow_is_refused_at_its_byte(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof faulty / sizeof *faulty; i++) {
		struct json *j = NULL;
		struct json_fault fault = {99, NULL};
		enum bad code = reads_bytes(faulty[i].text, faulty[i].len, &j, &fault);
		if (code != faulty[i].code || fault.offset != faulty[i].offset)
			fail_msg("%s: %s: want %s at %zu, got %s at %zu (%s)", faulty[i].why,
				faulty[i].text, bad_word(faulty[i].code), faulty[i].offset,
				bad_word(code), fault.offset, fault.why ? fault.why : "no reason");
		assert_null(j);
		assert_non_null(fault.why);
	}
	arena_release(&arena);
}

static void every_prefix_of_a_text_is_refused(void **state)
{
	static const char whole[] =
		"{\"a\\n\":[1.5e3,true,null,\"\\ud834\\udd1e\xC3\xBC\"],\"b\":{}}";
	(void)state;
	for (size_t len = 0; len < sizeof whole - 1; len++) {
		struct json *j = NULL;
		struct json_fault fault;
		assert_true(reads_bytes(whole, len, &j, &fault) != FINE);
		assert_true(fault.offset <= len);
	}
	arena_release(&arena);
}

/* ---- size ------------------------------------------------------------------------------------ */

static char *brackets(size_t deep)
{
	char *made = malloc(2 * deep + 1);
	assert_non_null(made);
	memset(made, '[', deep);
	memset(made + deep, ']', deep);
	made[2 * deep] = '\0';
	return made;
}

static void depth_32_is_read_and_33_is_not(void **state)
{
	(void)state;
	struct json *j = NULL;
	struct json_fault fault;
	char *text = brackets(JSON_DEPTH);
	code_is(reads(text, &j), FINE);
	free(text);
	text = brackets(JSON_DEPTH + 1);
	code_is(json_read(&arena, text, strlen(text), &j, &fault), BAD_SIZE);
	near("at the bracket too many", (double)fault.offset, JSON_DEPTH, 0);
	free(text);
	arena_release(&arena);
}

static void large_texts_take_linear_time(void **state)
{
	(void)state;
	struct json *j = NULL;
	struct json_fault fault;
	clock_t start = clock();
	char *text = brackets(JSON_BYTES / 2);
	code_is(json_read(&arena, text, JSON_BYTES, &j, &fault), BAD_SIZE);
	free(text);
	struct text names;
	text_init(&names);
	text_add(&names, "{\"n0\":0");
	for (int i = 1; i < 60000; i++)
		text_addf(&names, ",\"n%d\":%d", i, i);
	text_add(&names, ",\"n5\":0,\"n7\":0}");
	code_is(json_read(&arena, names.at, names.len, &j, &fault), BAD_REPEATED);
	near("at the second n5", (double)fault.offset, (double)names.len - 14, 0);
	text_release(&names);
	near("seconds", (double)(clock() - start) / CLOCKS_PER_SEC, 0, 1);
	text = malloc(JSON_BYTES + 2);
	assert_non_null(text);
	memset(text, ' ', JSON_BYTES + 1);
	text[0] = '1';
	code_is(json_read(&arena, text, JSON_BYTES, &j, &fault), FINE);
	code_is(json_read(&arena, text, JSON_BYTES + 1, &j, &fault), BAD_SIZE);
	free(text);
	arena_release(&arena);
}

/* ---- what is given --------------------------------------------------------------------------- */

static void values_are_given_with_their_places(void **state)
{
	(void)state;
	struct json *j = NULL;
	code_is(reads(" {\"n\":-7, \"t\":\"x\\ty\", \"ok\":true, \"l\":[1.5,null]}", &j), FINE);
	const char *text = NULL;
	int64_t n = 0;
	double number = 0;
	bool truth = false;
	assert_int_equal(j->kind, JSON_OBJECT);
	assert_int_equal(j->count, 4);
	assert_int_equal(j->offset, 1);
	code_is(json_whole_of(json_find(j, "n"), -7, 7, &n), FINE);
	near("n", (double)n, -7, 0);
	code_is(json_text_of(json_find(j, "t"), &text), FINE);
	assert_string_equal(text, "x\ty");
	assert_int_equal(json_find(j, "t")->len, 3);
	assert_int_equal(json_find(j, "t")->name_offset, 10);
	assert_int_equal(json_find(j, "t")->offset, 14);
	code_is(json_truth_of(json_find(j, "ok"), &truth), FINE);
	assert_true(truth);
	const struct json *list = json_find(j, "l");
	code_is(json_number_of(list->first, &number), FINE);
	near("l[0]", number, 1.5, 0);
	assert_int_equal(list->first->next->kind, JSON_NULL);
	assert_null(list->first->name);
	code_is(json_number_of(json_find(j, "n"), &number), FINE);
	near("a whole is a number", number, -7, 0);
	arena_release(&arena);
}

static void other_kinds_are_refused(void **state)
{
	(void)state;
	struct json *j = NULL;
	code_is(reads("{\"n\":5,\"f\":5.0,\"t\":\"5\"}", &j), FINE);
	const char *text = "kept";
	int64_t n = 42;
	bool truth;
	double number;
	code_is(json_whole_of(json_find(j, "n"), 6, 9, &n), BAD_RANGE);
	code_is(json_whole_of(json_find(j, "f"), 0, 9, &n), BAD_TYPE);
	code_is(json_whole_of(json_find(j, "t"), 0, 9, &n), BAD_TYPE);
	code_is(json_whole_of(json_find(j, "N"), 0, 9, &n), BAD_MISSING);
	code_is(json_text_of(json_find(j, "n"), &text), BAD_TYPE);
	code_is(json_truth_of(json_find(j, "n"), &truth), BAD_TYPE);
	code_is(json_number_of(json_find(j, "t"), &number), BAD_TYPE);
	code_is(json_number_of(NULL, &number), BAD_MISSING);
	assert_null(json_find(NULL, "n"));
	assert_null(json_find(json_find(j, "n"), "n"));
	near("untouched", (double)n, 42, 0);
	assert_string_equal(text, "kept");
	arena_release(&arena);
}

/* ---- RFC 8785 -------------------------------------------------------------------------------- */

static size_t slurp(const char *folder, const char *name, char *into, size_t room)
{
	char path[128];
	snprintf(path, sizeof path, "tests/data/jcs/%s/%s", folder, name);
	FILE *f = fopen(path, "rb");
	if (!f)
		fail_msg("%s cannot be opened", path);
	size_t len = fread(into, 1, room, f);
	fclose(f);
	return len;
}

/* The documents of the RFC's author; values.json holds fractions, which are not attempted. */
static void published_documents_come_out_in_their_canonical_form(void **state)
{
	static const struct {
		const char *name;
		enum bad code;
	} cases[] = {
		{"arrays.json", FINE},
		{"french.json", FINE},
		{"structures.json", FINE},
		{"unicode.json", FINE},
		{"weird.json", FINE},
		{"values.json", BAD_RANGE},
	};
	(void)state;
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		char in[4096], want[4096];
		size_t len = slurp("input", cases[i].name, in, sizeof in);
		size_t want_len = slurp("output", cases[i].name, want, sizeof want);
		struct json *j = NULL;
		struct text got;
		text_init(&got);
		code_is(json_read(&arena, in, len, &j, NULL), FINE);
		code_is(json_canonical(j, &got), cases[i].code);
		if (!cases[i].code && (got.len != want_len || memcmp(got.at, want, want_len) != 0))
			fail_msg("%s: want %.*s, got %s", cases[i].name, (int)want_len, want,
				got.at);
		text_release(&got);
	}
	arena_release(&arena);
}

/* ---- memory ---------------------------------------------------------------------------------- */

static enum bad read_and_write(void *to)
{
	/* an object of many names, so that its sorted list is asked for as well */
	static const char names[] =
		"{\"a\":[1,2,{\"x\":\"y\"}],\"b\":1,\"c\":2,\"d\":3,\"e\":4,\"f\":5,\"g\":6,"
		"\"h\":7,\"i\":8,\"j\":9,\"k\":\"text\",\"l\":11,\"m\":12,\"n\":null,\"o\":true}";
	struct arena own = {0};
	struct json *j = NULL;
	struct text got;
	struct json_fault fault = {99, NULL};
	(void)to;
	text_init(&got);
	enum bad code = json_read(&own, names, strlen(names), &j, &fault);
	if (!code)
		code = json_canonical(j, &got);
	else
		assert_null(j);
	near("no fault told", (double)fault.offset, 99, 0);
	text_release(&got);
	arena_release(&own);
	return code;
}

static void running_out_of_memory_is_an_answer(void **state)
{
	(void)state;
	runs_out_of_memory("reading and writing", read_and_write, NULL);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(what_the_standard_allows_is_read),
		cmocka_unit_test(what_it_does_not_allow_is_refused_at_its_byte),
		cmocka_unit_test(every_prefix_of_a_text_is_refused),
		cmocka_unit_test(depth_32_is_read_and_33_is_not),
		cmocka_unit_test(large_texts_take_linear_time),
		cmocka_unit_test(values_are_given_with_their_places),
		cmocka_unit_test(other_kinds_are_refused),
		cmocka_unit_test(published_documents_come_out_in_their_canonical_form),
		cmocka_unit_test(running_out_of_memory_is_an_answer),
	};
	return cmocka_run_group_tests_name("tree/json_read", tests, NULL, NULL);
}
