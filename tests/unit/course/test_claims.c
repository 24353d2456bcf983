/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include <barwright/base/random.h>
#include <string.h>

#include "course/claims.h"

enum { CODES = 3000 };

/* Against a plain list: many codes, some drawn twice, of two kinds. */
static void claims_agree_with_a_list(void **state)
{
	(void)state;
	struct arena a = {0};
	struct claims s = {0};
	struct stream draw;
	stream_open(&draw, &(struct draw_key){.course = "claims", .attempt = 1});
	static struct {
		enum claim_kind kind;
		uint32_t number, line;
	} list[CODES];
	size_t n = 0;
	for (uint32_t line = 1; line <= CODES; line++) {
		enum claim_kind kind = stream_below(&draw, 2) ? CLAIM_LESSON : CLAIM_PROBLEM;
		uint32_t number = stream_below(&draw, CODES / 2);
		char *code = arena_format(&a, "code-%u", (unsigned)number);
		struct place place = {.line = line}, first = {0};
		size_t at = 0;
		while (at < n && (list[at].kind != kind || list[at].number != number))
			at++;
		enum bad got = claims_add(&a, &s, kind, code, place, &first);
		code_is(got, at < n ? BAD_REPEATED : FINE);
		if (at < n)
			assert_int_equal(first.line, list[at].line);
		else
			list[n].kind = kind, list[n].number = number, list[n++].line = line;
	}
	assert_int_equal(s.n, n);
	assert_true(4 * s.n <= 3 * s.room);
	for (size_t i = 0; i < n; i++) {
		char code[20];
		snprintf(code, sizeof code, "code-%u", (unsigned)list[i].number);
		assert_int_equal(claims_find(&s, list[i].kind, code)->place.line, list[i].line);
		assert_null(claims_find(&s, CLAIM_STATION, code));
	}
	arena_release(&a);
}

static void an_empty_table_has_nothing(void **state)
{
	(void)state;
	struct claims s = {0};
	assert_null(claims_find(&s, CLAIM_FILE, ""));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(claims_agree_with_a_list),
		cmocka_unit_test(an_empty_table_has_nothing),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
