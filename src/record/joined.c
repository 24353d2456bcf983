/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "record/joined.h"

#include <stdlib.h>
#include <string.h>

static const char words[] = "same as ";
enum { WORDS = sizeof words - 1 };

bool joined_row(struct slice name, struct slice *other)
{
	char code[LEARNER_CODE + 1] = "";
	if (name.len != WORDS + LEARNER_CODE || memcmp(name.at, words, WORDS) != 0)
		return false;
	memcpy(code, name.at + WORDS, LEARNER_CODE);
	if (!learner_is_code(code))
		return false;
	*other = (struct slice){name.at + WORDS, LEARNER_CODE};
	return true;
}

static int by_code(const void *a, const void *b)
{
	const struct joined_code *x = a, *y = b;
	return strcmp(x->code, y->code);
}

static size_t place(const struct joined *j, const char *code)
{
	size_t low = 0, high = j->n;
	while (low < high) {
		size_t middle = low + (high - low) / 2;
		if (strcmp(j->at[middle].code, code) < 0)
			low = middle + 1;
		else
			high = middle;
	}
	return low < j->n && strcmp(j->at[low].code, code) == 0 ? low : j->n;
}

static size_t top(struct joined *j, size_t i)
{
	while (j->at[i].up != i)
		i = j->at[i].up = j->at[j->at[i].up].up;
	return i;
}

/* The first in order stands for both, so that it does not matter who was joined with whom first. */
static void unite(struct joined *j, const char *one, const char *two)
{
	size_t a = top(j, place(j, one)), b = top(j, place(j, two));
	if (a < b)
		j->at[b].up = a;
	else
		j->at[a].up = b;
}

static void sort_once(struct joined *j)
{
	size_t kept = 0;
	qsort(j->at, j->n, sizeof *j->at, by_code);
	for (size_t i = 0; i < j->n; i++)
		if (!kept || strcmp(j->at[kept - 1].code, j->at[i].code) != 0)
			j->at[kept++] = j->at[i];
	j->n = kept;
	for (size_t i = 0; i < j->n; i++)
		j->at[i].up = i;
}

static void put_code(struct joined_code *to, const char *code)
{
	memcpy(to->code, code, LEARNER_CODE);
	to->code[LEARNER_CODE] = '\0';
}

static void unite_all(
	struct joined *j, const struct name_list *l, const char *const *code, size_t n)
{
	struct name_row row;
	struct slice other;
	for (size_t at = 0; name_list_next(l, &at, &row);) {
		struct joined_code one, two;
		if (!joined_row(row.name, &other))
			continue;
		put_code(&one, row.key.at);
		put_code(&two, other.at);
		unite(j, one.code, two.code);
	}
	for (size_t i = 1; i < n; i++)
		unite(j, code[0], code[i]);
	for (size_t i = 0; i < j->n; i++)
		j->at[i].up = top(j, i);
}

enum bad joined_read(const struct name_list *l, const char *const *code, size_t n, struct arena *a,
	struct joined *out)
{
	struct joined j = {0};
	struct name_row row;
	struct slice other;
	size_t room = n;
	for (size_t at = 0; name_list_next(l, &at, &row);)
		room += joined_row(row.name, &other) ? 2 : 0;
	j.at = arena_many(a, room + 1, struct joined_code);
	if (!j.at)
		return BAD_MEMORY;
	for (size_t at = 0; name_list_next(l, &at, &row);) {
		if (!joined_row(row.name, &other))
			continue;
		put_code(&j.at[j.n++], row.key.at);
		put_code(&j.at[j.n++], other.at);
	}
	for (size_t i = 0; i < n; i++)
		put_code(&j.at[j.n++], code[i]);
	sort_once(&j);
	unite_all(&j, l, code, n);
	*out = j;
	return FINE;
}

const char *joined_person(const struct joined *j, const char *code)
{
	size_t i = place(j, code);
	return i < j->n ? j->at[j->at[i].up].code : NULL;
}

void joined_write(const struct joined *j, const char *without, struct text *out)
{
	size_t skipped = without ? place(j, without) : j->n, second = j->n;
	for (size_t i = 0; i < j->n; i++) {
		size_t up = j->at[i].up;
		if (i == skipped)
			continue;
		if (up == skipped) { /* the next one of that person stands for it now */
			second = second == j->n ? i : second;
			up = second;
		}
		if (up != i)
			text_addf(out, "%s\t%s%s\n", j->at[i].code, words, j->at[up].code);
	}
}
