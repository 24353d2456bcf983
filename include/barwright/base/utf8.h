/* SPDX-License-Identifier: GPL-3.0-or-later */
/* UTF-8, and the one filter through which strangers' bytes reach a terminal. */
#ifndef BARWRIGHT_BASE_UTF8_H
#define BARWRIGHT_BASE_UTF8_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <barwright/base/text.h>

/* Reads one code point at `s` (len > 0 bytes): its value in *out, its length in bytes as result.
 * Overlong forms, surrogates, values above U+10FFFF and cut sequences give 0 and leave *out. */
size_t utf8_read(const char *s, size_t len, uint32_t *out);
/* Bytes of the character at `s` (len > 0): what utf8_read gives, and 1 for a faulty byte. */
size_t utf8_step(const char *s, size_t len);
/* Writes a valid code point, returns its length (1 to 4); 0 for what is not one. */
size_t utf8_write(uint32_t code, char out[static 4]);
/* Bytes up to the first fault; equal to len when all is well. */
size_t utf8_valid(const char *s, size_t len);
/* Bytes up to the first that is not printable ASCII, ' ' to '~'. */
size_t utf8_plain(const char *s, size_t len);
/* Code points of valid text; a faulty byte counts as one. */
size_t utf8_count(const char *s, size_t len);
/* Columns a code point takes on a terminal: 0 (combining), 1 or 2; -1 if it must not be shown raw. */
int utf8_columns(uint32_t code);
/* Columns of a whole text as text_add_safe would show it. */
size_t utf8_width(const char *s, size_t len);

/* May a stranger's code point go to a terminal as it is? No: C0 and C1 controls, DEL, bidirectional
 * controls (Unicode Bidi_Control), line and paragraph separators, zero-width characters, tags,
 * noncharacters. Source: CWE-150; Unicode PropList Bidi_Control. */
bool utf8_is_safe(uint32_t code);
/* Adds a stranger's bytes with everything unsafe shown as <U+202E> and every faulty byte as <80>.
 * `lines`: keep LF as it is, else it shows as <U+000A> too; a tab becomes one space. */
void text_add_safe(struct text *out, const char *s, size_t len, bool lines);

#endif
