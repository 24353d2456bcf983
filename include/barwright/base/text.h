/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A growing text. `at` is never null and always ends in 0 beyond `len`. When memory runs out the
 * text keeps what it had, ignores what follows and says so in `out`: whoever hands the text on
 * asks once, at the end. */
#ifndef BARWRIGHT_BASE_TEXT_H
#define BARWRIGHT_BASE_TEXT_H

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>

struct text {
	char *at;    /* owned; text_release frees it */
	size_t len;  /* bytes, without the ending 0 */
	size_t room; /* 0: `at` is the static empty text */
	bool out;    /* memory ran out: something is missing at the end */
};

void text_init(struct text *t);
void text_release(struct text *t); /* leaves an empty text */
void text_clear(struct text *t);   /* len 0, room kept, `out` forgotten */
void text_add(struct text *t, const char *s);
void text_add_bytes(struct text *t, const char *s, size_t len);
void text_add_char(struct text *t, char c);
void text_add_repeat(struct text *t, char c, size_t n);
void text_addf(struct text *t, const char *format, ...) __attribute__((format(printf, 2, 3)));
void text_vaddf(struct text *t, const char *format, va_list args)
	__attribute__((format(printf, 2, 0)));

/* Are these len bytes the same to a person who types? ASCII capitals count as small letters, and
 * in every locale: strcasecmp keeps I and i apart where the language is Turkish. */
bool text_is_same(const char *a, const char *b, size_t len);

/* "fault" for one, "faults" for none and for several. */
static inline const char *text_plural(unsigned long long n, const char *one, const char *many)
{
	return n == 1 ? one : many;
}

#endif
