/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/base/nearest.h>

#include <stdbool.h>
#include <string.h>

#include <barwright/base/text.h>

static bool is_same(char a, char b)
{
	return text_is_same(&a, &b, 1);
}

static unsigned least(unsigned a, unsigned b)
{
	return a < b ? a : b;
}

/* Row i of the table of distances between the first i letters of a and the first j of b. */
static unsigned row_fill(const char *a, size_t i, const char *b, size_t blen,
	const unsigned *two_up, const unsigned *up, unsigned *row)
{
	unsigned best = row[0] = (unsigned)i;
	for (size_t j = 1; j <= blen; j++) {
		bool same = is_same(a[i - 1], b[j - 1]);
		unsigned edits = least(least(up[j], row[j - 1]) + 1, up[j - 1] + !same);
		if (i > 1 && j > 1 && is_same(a[i - 1], b[j - 2]) && is_same(a[i - 2], b[j - 1]))
			edits = least(edits, two_up[j - 2] + 1);
		row[j] = edits;
		best = least(best, edits);
	}
	return best;
}

unsigned nearest_edits(const char *a, size_t alen, const char *b, size_t blen, unsigned limit)
{
	unsigned rows[3][NEAREST_BYTES + 1] = {{0}};
	size_t differ = alen > blen ? alen - blen : blen - alen;
	if (alen > NEAREST_BYTES || blen > NEAREST_BYTES || differ > limit)
		return limit + 1;
	for (size_t j = 0; j <= blen; j++)
		rows[0][j] = (unsigned)j;
	for (size_t i = 1; i <= alen; i++)
		if (row_fill(a, i, b, blen, rows[(i + 1) % 3], rows[(i + 2) % 3], rows[i % 3]) >
			limit)
			return limit + 1;
	return least(rows[alen % 3][blen], limit + 1);
}

/* The word with one of its letters typed twice. */
static bool is_doubled(const struct nearest *n, const char *word, size_t len)
{
	size_t i = 0;
	if (n->len != len + 1)
		return false;
	while (i < len && is_same(n->wanted[i], word[i]))
		i++;
	return i && is_same(n->wanted[i], word[i - 1]) &&
	       text_is_same(n->wanted + i + 1, word + i, len - i);
}

/* What speaks for a word among others as near. */
static unsigned favour(const struct nearest *n, const char *word, size_t len)
{
	if (is_doubled(n, word, len))
		return 2;
	return is_same(*n->wanted, *word);
}

void nearest_offer(struct nearest *n, const char *word, size_t len)
{
	size_t shorter = n->len < len ? n->len : len;
	unsigned limit = shorter < 2 ? 0 : shorter < 5 ? 1 : 2;
	if (!shorter)
		return;
	if (shorter < 2 && is_doubled(n, word, len))
		limit = 1;
	if (n->word && n->edits < limit)
		limit = n->edits;
	unsigned edits = nearest_edits(n->wanted, n->len, word, len, limit);
	unsigned favoured = favour(n, word, len);
	if (edits > limit || (n->word && edits == n->edits && favoured <= n->favour))
		return;
	n->word = word;
	n->word_len = len;
	n->edits = edits;
	n->favour = favoured;
}
