/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside this floor: a value in words, for texts and steps alike. */
#ifndef BARWRIGHT_ITEM_WORDS_H
#define BARWRIGHT_ITEM_WORDS_H

#include <barwright/item/instance.h>

/* A number, or a list as "16.0, 14.6 mm"; places -1: as shown. */
void shown_value_add(const struct shown *shown, const struct formula_value *v, int places,
	char sign, struct text *out);
/* " mm"; nothing for a plain number, no blank before a degree sign. */
void shown_unit_add(const struct shown *shown, struct text *out);

#endif
