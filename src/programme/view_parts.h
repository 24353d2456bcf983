/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside this floor: what the matrix, the transcript and their JSON share. */
#ifndef BARWRIGHT_PROGRAMME_VIEW_PARTS_H
#define BARWRIGHT_PROGRAMME_VIEW_PARTS_H

#include "programme/view.h"

/* A competency of an outcome that has too little assessed evidence. */
struct lack {
	const char *competency;
	uint64_t has;
	int needs;
};
enum { LACKS_SHOWN = 12 };

/* Those of an outcome, at most `most`; gives how many there are. */
size_t lacks_find(const struct view_of *v, const char *who, const struct outcome_code *o,
	struct lack *list, size_t most);
/* "" when nobody knows it. */
const char *view_name(const struct view_of *v, const char *who);
void view_add_safe(struct text *out, const char *s);
/* What was erased of a learner, when and by whom, each strand; nothing when nothing was. */
void view_add_erased(const struct view_of *v, const char *who, struct text *out);
/* Was it erased, and is there nothing since? Then nothing is missing either. */
bool view_is_erased(const struct view_of *v, const char *who);
/* Code and name. */
void view_add_who(const struct view_of *v, const char *who, struct text *out);
void view_add_day(int64_t ms, struct text *out); /* 2026-11-25 */
/* `words` in lines of VIEW_COLUMNS, the first behind `lead`, the others behind as many blanks. */
enum { VIEW_COLUMNS = 78 };
void view_add_words(const char *lead, const struct text *words, struct text *out);
/* Every outcome of the programme: reached, or what is missing. */
void view_add_missing(const struct view_of *v, const char *who, struct text *out);

#endif
