/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Answers, judgements and results as a table: comma-separated values of RFC 4180 (Shafranovich, 2005),
 * UTF-8, lines ended by CR LF, the first one the names of the columns. A text that a spreadsheet would
 * take for a formula (it begins with = + - @, a tab or a carriage return and is no plain number) gets an
 * apostrophe before it. */
#ifndef BARWRIGHT_EXPORT_CSV_H
#define BARWRIGHT_EXPORT_CSV_H

#include "export/pick.h"

/* Whose a code is: the columns "name" and "learner", the latter one code for all codes of a person. */
struct csv_names {
	const char *(*name_of)(
		void *context, const char *who); /* "" for nobody; null: names stay out */
	const char *(*person_of)(
		void *context, const char *who); /* null: each code stands for itself */
	void *context;
};

void csv_head(struct text *out);
/* `names` may be null. The rows of a strand: one an answer, of kind "held" what was typed before
 * handing in (the answer that counts has its own row), one a judgement, one a result and one each of its parts. */
enum bad csv_strand(const struct source *s, const struct key_ring *assessors,
	const struct csv_names *names, struct text *out, struct diags *d);
/* One field, quoted where it must be. */
void csv_field(struct text *out, const char *value);

#endif
