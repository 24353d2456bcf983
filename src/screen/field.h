/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A line being typed: code points and a place between them. Holds what a reply can hold. */
#ifndef BARWRIGHT_SCREEN_FIELD_H
#define BARWRIGHT_SCREEN_FIELD_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "surface/surface.h"

struct field {
	uint32_t code[REPLY_ROOM];
	size_t n;     /* code points */
	size_t at;    /* the cursor stands before this one; n: at the end */
	size_t bytes; /* of all of them as UTF-8; below REPLY_ROOM */
};

/* Starts with this text, cursor at the end; what cannot stand in a reply is left out. */
void field_set(struct field *f, const char *text);
/* At the cursor. False when it cannot stand in a reply or there is no room; nothing changes then. */
bool field_insert(struct field *f, uint32_t code);
/* The text and its ending 0. */
void field_text(const struct field *f, char out[static REPLY_ROOM]);

/* Each moves or deletes by what is seen: a letter and its combining marks are one. */
void field_left(struct field *f);
void field_right(struct field *f);
void field_home(struct field *f);
void field_end(struct field *f);
void field_rub(struct field *f);    /* what stands before the cursor */
void field_delete(struct field *f); /* what stands behind it */
void field_clear(struct field *f);
void field_rub_word(struct field *f);

/* Columns of code points from..to-1. */
int field_width(const struct field *f, size_t from, size_t to);
/* What of it shows in `columns` columns (at least 2) so that the cursor is among them: *from..*to-1. */
void field_window(const struct field *f, int columns, size_t *from, size_t *to);

#endif
