/* SPDX-License-Identifier: GPL-3.0-or-later */
/* "Did you mean ...?": the known word nearest to a misspelt one. Known words are offered one by
 * one; nothing is allocated, and the texts must last as long as the search. */
#ifndef BARWRIGHT_BASE_NEAREST_H
#define BARWRIGHT_BASE_NEAREST_H

#include <stddef.h>

/* All zero but the misspelt word is a search that has seen nothing yet. */
struct nearest {
	const char *wanted;
	size_t len;
	const char *word; /* nearest so far, the first offered among equals; null: none is near */
	size_t word_len;
	unsigned edits;  /* how far it is; 0: only capitals differ */
	unsigned favour; /* as near: 1 its first letter is right, 2 one was typed twice */
};

enum { NEAREST_BYTES = 48 }; /* longer words are near to nothing */

/* How many letters have to be put in, taken out, replaced or swapped with their neighbour to get
 * from one word to the other (bytes; ASCII capitals count as small letters), or `limit` + 1
 * when it takes more than `limit`. F. J. Damerau, "A technique for computer detection and
 * correction of spelling errors", Comm. ACM 7(3):171, 1964; no place is edited twice. */
unsigned nearest_edits(const char *a, size_t alen, const char *b, size_t blen, unsigned limit);

/* Near is: at most 2 edits, 1 for a word of 2 to 4 letters, 0 for one letter, unless it was typed
 * twice. */
void nearest_offer(struct nearest *n, const char *word, size_t len);

#endif
