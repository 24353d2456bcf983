/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include <stdbool.h>
#include <string.h>

#include "record/canon.h"

static void canonical_objects_are_taken(void **state)
{
	static const char *const rows[] = {
		"{}",
		"{\"a\":0}",
		"{\"a\":-1,\"b\":9007199254740991,\"c\":-9007199254740991}",
		"{\"\":\"empty\",\"1\":{\"f\":{\"F\":5,\"f\":\"hi\"}},\"10\":{},\"a\":[]}",
		"{\"a\":[1,\"x\",true,false,{},[[]]]}",
		/* RFC 8785, 3.2.2.2: the escapes that remain, and those that do not */
		"{\"a\":\"\\\"\\\\\\b\\f\\n\\r\\t\\u0001\\u000f\\u001f/\x7f\"}",
		"{\"a\":\"\xe2\x82\xac\xf0\x9f\x98\x82\"}",
		/* json-canonicalization (the reference test data of RFC 8785), unicode.json: not
		 * normalized */
		"{\"Unnormalized Unicode\":\"A\xcc\x8a\"}",
		"{\"a\":1,\"aa\":2,\"b\":3}",
	};
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		const char *words = "";
		size_t where = 0;
		enum bad code = canon_check(rows[i], strlen(rows[i]), 0, &where, &words);
		if (code)
			fail_msg("%s: refused at %zu: %s", rows[i], where, words);
	}
}

static void everything_else_is_refused_at_its_place(void **state)
{
	static const struct {
		const char *text;
		enum bad code;
		size_t where;
	} rows[] = {
		{"", BAD_TYPE, 0},
		{"1", BAD_TYPE, 0},
		{"[]", BAD_TYPE, 0},
		{"{", BAD_SYNTAX, 1},
		{"{}}", BAD_SYNTAX, 2},
		{"{} ", BAD_SYNTAX, 2},
		{" {}", BAD_TYPE, 0},
		{"{\"a\": 1}", BAD_SYNTAX, 5},
		{"{\"a\":1 }", BAD_SYNTAX, 6},
		{"{\"a\":1,}", BAD_SYNTAX, 7},
		{"{\"a\"}", BAD_SYNTAX, 4},
		{"{\"a\":}", BAD_SYNTAX, 5},
		{"{\"a\":[1,]}", BAD_SYNTAX, 8},
		{"{\"a\":null}", BAD_SYNTAX, 5},
		{"{\"a\":True}", BAD_SYNTAX, 5},
		{"{\"a\":tru}", BAD_SYNTAX, 5},
		{"{\"a\":1.5}", BAD_TYPE, 6},
		{"{\"a\":1e3}", BAD_TYPE, 6},
		{"{\"a\":01}", BAD_SYNTAX, 5},
		{"{\"a\":-0}", BAD_SYNTAX, 5},
		{"{\"a\":-}", BAD_SYNTAX, 5},
		{"{\"a\":+1}", BAD_SYNTAX, 5},
		{"{\"a\":9007199254740992}", BAD_RANGE, 5},
		{"{\"a\":10000000000000000}", BAD_RANGE, 5},
		{"{\"b\":1,\"a\":2}", BAD_ORDER, 8},
		{"{\"aa\":1,\"a\":2}", BAD_ORDER, 9},
		{"{\"a\":1,\"a\":2}", BAD_REPEATED, 8},
		{"{\"\xc3\xa4\":1}", BAD_SYNTAX, 2},
		{"{\"\\n\":1}", BAD_SYNTAX, 2},
		{"{\"a\":\"\\/\"}", BAD_SYNTAX, 7},
		{"{\"a\":\"\\u0041\"}", BAD_SYNTAX, 7},
		{"{\"a\":\"\\u000a\"}", BAD_SYNTAX, 7},
		{"{\"a\":\"\\u000F\"}", BAD_SYNTAX, 7},
		{"{\"a\":\"\\u0000\"}", BAD_SYNTAX, 7},
		{"{\"a\":\"\\u00\"}", BAD_SYNTAX, 7},
		{"{\"a\":\"\t\"}", BAD_SYNTAX, 6},
		{"{\"a\":\"x", BAD_SYNTAX, 7},
		{"{\"a\":\"x\\", BAD_SYNTAX, 8},
		{"{\"a\":\"\xc3\"}", BAD_ENCODING, 6},
		{"{\"a\":\"\xed\xa0\x80\"}", BAD_ENCODING, 6},
	};
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		const char *words = "";
		size_t where = 0;
		enum bad code = canon_check(rows[i].text, strlen(rows[i].text), 0, &where, &words);
		if (code != rows[i].code || where != rows[i].where)
			fail_msg("%s: want %s at %zu, got %s at %zu", rows[i].text,
				bad_word(rows[i].code), rows[i].where, bad_word(code), where);
	}
}

static enum bad nested(int levels)
{
	char text[400] = "";
	size_t n = 0;
	for (int i = 0; i < levels; i++)
		n += (size_t)snprintf(text + n, sizeof text - n, "{\"a\":");
	n += (size_t)snprintf(text + n, sizeof text - n, "1");
	for (int i = 0; i < levels; i++)
		n += (size_t)snprintf(text + n, sizeof text - n, "}");
	return canon_check(text, n, 0, NULL, NULL);
}

static void depth_has_a_limit(void **state)
{
	(void)state;
	code_is(nested(CANON_DEPTH - 1), FINE);
	code_is(nested(CANON_DEPTH), BAD_SIZE);
	code_is(canon_check("{}", 2, CANON_DEPTH - 1, NULL, NULL), FINE);
	code_is(canon_check("{}", 2, CANON_DEPTH, NULL, NULL), BAD_SIZE);
}

/* A NUL byte ends no text here. */
static void zero_bytes_are_refused(void **state)
{
	(void)state;
	code_is(canon_check("{\"a\":\"x\0y\"}", 11, 0, NULL, NULL), BAD_SYNTAX);
	code_is(canon_check("{\"a\":\0}", 7, 0, NULL, NULL), BAD_SYNTAX);
	code_is(canon_check("{}\0", 3, 0, NULL, NULL), BAD_SYNTAX);
}

static void members_are_found(void **state)
{
	static const char text[] =
		"{\"a\":{\"b\":[1,{\"c\":\"}\\\"]\"}]},\"d\":-3,\"e\":\"x\",\"f\":true}";
	struct slice all = {text, sizeof text - 1}, value, inner, plain;
	uint64_t n = 7;
	(void)state;
	code_is(canon_check(text, sizeof text - 1, 0, NULL, NULL), FINE);
	assert_true(canon_member(all, "a", &value));
	assert_true(canon_member(value, "b", &inner));
	assert_true(slice_is(inner, "[1,{\"c\":\"}\\\"]\"}]"));
	assert_true(canon_member(all, "d", &value));
	code_is(canon_count(value, &n), BAD_RANGE);
	assert_true(canon_member(all, "e", &value));
	code_is(canon_count(value, &n), BAD_TYPE);
	assert_true(canon_plain(value, &plain));
	assert_true(slice_is(plain, "x"));
	assert_true(canon_member(all, "f", &value));
	assert_true(slice_is(value, "true"));
	assert_false(canon_plain(value, &plain));
	assert_false(canon_member(all, "b", &value));
	assert_false(canon_member((struct slice){"{}", 2}, "a", &value));
	assert_int_equal(n, 7);
}

/* RFC 8785, 3.2.2.2, the string of its sample; and the way back. */
static void texts_are_escaped_as_the_rfc_prints_them(void **state)
{
	static const struct {
		const char *text, *quoted;
	} rows[] = {
		{"\xe2\x82\xac$\x0f\nA'B\"\\\\\"/",
			"\"\xe2\x82\xac$\\u000f\\nA'B\\\"\\\\\\\\\\\"/\""},
		{"", "\"\""},
		{"plain", "\"plain\""},
		{"\b\f\n\r\t\x01\x1f\x7f", "\"\\b\\f\\n\\r\\t\\u0001\\u001f\x7f\""},
	};
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		char room[100];
		struct arena a = {0};
		const char *back;
		struct pen p = {room, 0, sizeof room - 1, FINE};
		pen_text(&p, rows[i].text);
		code_is(p.bad, FINE);
		room[p.len] = '\0';
		assert_string_equal(room, rows[i].quoted);
		code_is(canon_text((struct slice){room, p.len}, &a, &back), FINE);
		assert_string_equal(back, rows[i].text);
		arena_release(&a);
	}
}

static void what_the_pen_writes_is_canonical(void **state)
{
	char room[200];
	struct pen p = {room, 0, sizeof room, FINE};
	(void)state;
	pen_raw(&p, "{");
	pen_member(&p, "a");
	pen_text(&p, "{");
	pen_member(&p, "b");
	pen_count(&p, 9007199254740991u);
	pen_member(&p, "c");
	pen_hex(&p, (const unsigned char *)"\x00\xff", 2);
	pen_raw(&p, "}");
	code_is(p.bad, FINE);
	static const char want[] = "{\"a\":\"{\",\"b\":9007199254740991,\"c\":\"00ff\"}";
	assert_int_equal(p.len, sizeof want - 1);
	assert_memory_equal(room, want, p.len);
	code_is(canon_check(room, p.len, 0, NULL, NULL), FINE);
}

static void the_pen_refuses_and_stays_in_its_room(void **state)
{
	char room[8] = "1234567";
	struct pen p = {room, 0, 4, FINE};
	(void)state;
	pen_raw(&p, "abc");
	pen_raw(&p, "de");
	pen_raw(&p, "f");
	code_is(p.bad, BAD_SIZE);
	assert_string_equal(room, "abc4567");
	p = (struct pen){room, 0, 8, FINE};
	pen_text(&p, "\xff");
	code_is(p.bad, BAD_ENCODING);
	p = (struct pen){room, 0, 8, FINE};
	pen_count(&p, 9007199254740992u);
	code_is(p.bad, BAD_RANGE);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(canonical_objects_are_taken),
		cmocka_unit_test(everything_else_is_refused_at_its_place),
		cmocka_unit_test(depth_has_a_limit),
		cmocka_unit_test(zero_bytes_are_refused),
		cmocka_unit_test(members_are_found),
		cmocka_unit_test(texts_are_escaped_as_the_rfc_prints_them),
		cmocka_unit_test(what_the_pen_writes_is_canonical),
		cmocka_unit_test(the_pen_refuses_and_stays_in_its_room),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
