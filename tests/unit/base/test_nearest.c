/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include <string.h>

#include <barwright/base/nearest.h>

/* The four single errors that Damerau (1964) found to make up 80 % of misspellings, and what they
 * add up to. kitten/sitting = 3 and Saturday/Sunday = 3 are the textbook examples of
 * Levenshtein's distance; CA/ABC = 3 is where the distance without second edits of one place
 * differs from the unrestricted one (2). */
static const struct {
	const char *why, *a, *b;
	unsigned limit, edits;
} distances[] = {
	{"the same", "stock", "stock", 2, 0},
	{"one wrong", "stock", "stack", 2, 1},
	{"one missing", "stock", "stok", 2, 1},
	{"one too many", "stock", "stocck", 2, 1},
	{"two swapped", "stock", "sotck", 2, 1},
	{"capitals count as small", "Stock", "sTOCK", 2, 0},
	{"three wrong", "stock", "stuff", 3, 3},
	{"kitten", "kitten", "sitting", 5, 3},
	{"Saturday", "Saturday", "Sunday", 5, 3},
	{"a place is edited once", "CA", "ABC", 5, 3},
	{"stops at the limit", "kitten", "sitting", 2, 3},
	{"nothing to a word", "", "abc", 3, 3},
	{"nothing to nothing", "", "", 0, 0},
};

static void edits_are_counted(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof distances / sizeof *distances; i++) {
		const char *a = distances[i].a, *b = distances[i].b;
		unsigned limit = distances[i].limit;
		near(distances[i].why, nearest_edits(a, strlen(a), b, strlen(b), limit),
			distances[i].edits, 0);
		near(distances[i].why, nearest_edits(b, strlen(b), a, strlen(a), limit),
			distances[i].edits, 0);
	}
}

static void overlong_words_are_near_to_nothing(void **state)
{
	(void)state;
	char a[NEAREST_BYTES + 1];
	memset(a, 'a', sizeof a);
	near("longest", nearest_edits(a, NEAREST_BYTES, a, NEAREST_BYTES, 2), 0, 0);
	near("longer", nearest_edits(a, NEAREST_BYTES + 1, a, NEAREST_BYTES + 1, 2), 3, 0);
}

static const struct {
	const char *why, *wanted, *known[4], *word;
} searches[] = {
	{"one letter missing", "stok", {"stock", "width", "stack"}, "stock"},
	{"nearer beats earlier", "stockk", {"stack", "stock"}, "stock"},
	{"the first of two equals", "stoack", {"stock", "stack"}, "stock"},
	{"capitals only", "Jaw", {"law", "jaw"}, "jaw"},
	{"two edits in a long word", "diametre", {"diameter", "perimeter"}, "diameter"},
	{"a short word bears one", "tlit", {"tilt"}, "tilt"},
	{"but not two", "tlot", {"tilt"}, NULL},
	{"one letter bears none", "q", {"x", "y"}, NULL},
	{"one letter in capitals", "X", {"y", "x"}, "x"},
	{"one letter typed twice", "gg", {"ug", "mg", "g"}, "g"},
	{"but not two letters", "gx", {"g"}, NULL},
	{"a letter typed twice", "stokk", {"stock", "stok"}, "stok"},
	{"the letter that was typed twice decides", "mmg", {"mm", "ug", "mg"}, "mg"},
	{"the first letter of two as near", "kp", {"p", "MP", "kN"}, "kN"},
	{"nothing is near", "modulus", {"stock", "width"}, NULL},
	{"no word at all", "", {"x", ""}, NULL},
};

static void nearest_word_is_found(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof searches / sizeof *searches; i++) {
		struct nearest n = {searches[i].wanted, strlen(searches[i].wanted), NULL, 0, 0, 0};
		for (size_t k = 0; k < 4 && searches[i].known[k]; k++)
			nearest_offer(&n, searches[i].known[k], strlen(searches[i].known[k]));
		const char *got = n.word ? n.word : "(none)";
		const char *want = searches[i].word ? searches[i].word : "(none)";
		if (strcmp(got, want) != 0)
			fail_msg("%s: for '%s' want %s, got %s", searches[i].why,
				searches[i].wanted, want, got);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(edits_are_counted),
		cmocka_unit_test(overlong_words_are_near_to_nothing),
		cmocka_unit_test(nearest_word_is_found),
	};
	return cmocka_run_group_tests_name("base/nearest", tests, NULL, NULL);
}
