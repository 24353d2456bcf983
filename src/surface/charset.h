/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which characters the person's terminal can show, and what stands in for the others. Everything a
 * surface prints goes through charset_add, so a stranger's bytes never reach a terminal raw. */
#ifndef BARWRIGHT_SURFACE_CHARSET_H
#define BARWRIGHT_SURFACE_CHARSET_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <barwright/base/text.h>

/* Takes LC_CTYPE from the environment; LC_NUMERIC stays "C". A locale that is not installed is
 * replaced by C.UTF-8, unless its name asks for another charset. Once, before any surface opens. */
void charset_start(void);
/* May UTF-8 be printed? False for the locales "C" and "POSIX" and for 8-bit charsets. */
bool charset_is_utf8(void);
/* '.' or ',': how the person's locale writes a decimal fraction. Changes no locale. */
char charset_decimal(void);

/* One ASCII character for one cell of a drawing; '?' when none is known. */
char charset_cell(uint32_t code);
/* Adds text through text_add_safe; unless `utf8`, what is not ASCII is then spelt in ASCII of one
 * or more characters ("<=", "deg"), or '?' when nothing is known. `lines`: LF stays. */
void charset_add(struct text *out, const char *s, size_t len, bool lines, bool utf8);

#endif
