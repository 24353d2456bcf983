/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "export/csv.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include <barwright/base/clock.h>
#include <barwright/record/graded.h>

#define COLUMNS(X) \
	X(strand) \
	X(n) \
	X(id) \
	X(at) \
	X(who) \
	X(name) \
	X(learner) \
	X(kind) \
	X(mode) \
	X(sitting) \
	X(standing) \
	X(sealed_by) \
	X(seal_n) \
	X(course) \
	X(item) \
	X(attempt) \
	X(ask) \
	X(turn) \
	X(hints) \
	X(took_ms) \
	X(late_ms) \
	X(typed) \
	X(read_as) \
	X(outcome) \
	X(slip) \
	X(expected) \
	X(tolerance) \
	X(unit) \
	X(of) \
	X(part) \
	X(competency) \
	X(piece) \
	X(level) \
	X(percent) \
	X(needed) \
	X(verdict)

enum column {
#define X(name) COLUMN_##name,
	COLUMNS(X)
#undef X
		COLUMN_COUNT
};
static const char *const column_name[] = {
#define X(name) #name,
	COLUMNS(X)
#undef X
};

enum { DIGITS = 24, COUNTS = 8 };
struct row {
	const char *at[COLUMN_COUNT]; /* null: empty */
	char digits[COUNTS][DIGITS];
	int used;
	char time[TIME_TEXT];
};

static bool is_number(const char *s)
{
	size_t n;
	s += *s == '-' || *s == '+';
	n = strspn(s, "0123456789");
	if (!n)
		return false;
	s += n;
	if (*s == '.') {
		n = strspn(s + 1, "0123456789");
		s += n ? n + 1 : 0;
	}
	return !*s;
}

void csv_field(struct text *out, const char *value)
{
	bool formula = *value && strchr("=+-@\t\r", *value) && !is_number(value);
	if (!formula && !strpbrk(value, "\",\r\n")) {
		text_add(out, value);
		return;
	}
	text_add_char(out, '"');
	if (formula)
		text_add_char(out, '\'');
	for (; *value; value++) {
		if (*value == '"')
			text_add_char(out, '"');
		text_add_char(out, *value);
	}
	text_add_char(out, '"');
}

void csv_head(struct text *out)
{
	for (int i = 0; i < COLUMN_COUNT; i++)
		text_addf(out, "%s%s", i ? "," : "", column_name[i]);
	text_add(out, "\r\n");
}

static void add_row(struct text *out, const struct row *r)
{
	for (int i = 0; i < COLUMN_COUNT; i++) {
		if (i)
			text_add_char(out, ',');
		if (r->at[i])
			csv_field(out, r->at[i]);
	}
	text_add(out, "\r\n");
}

static void count(struct row *r, enum column c, uint64_t n)
{
	char *digits = r->digits[r->used++ % COUNTS];
	snprintf(digits, DIGITS, "%" PRIu64, n);
	r->at[c] = digits;
}

/* ---- lines ----------------------------------------------------------------------------------- */

struct writing {
	const struct csv_names *names;
	struct text *out;
};

static void begin_row(const struct writing *w, const struct picked *p, struct row *r)
{
	*r = (struct row){0};
	r->at[COLUMN_strand] = p->line->strand;
	count(r, COLUMN_n, p->line->n);
	r->at[COLUMN_id] = p->line->id;
	time_write(p->line->at_ms, r->time);
	r->at[COLUMN_at] = r->time;
	r->at[COLUMN_who] = p->line->who;
	r->at[COLUMN_learner] = p->line->who;
	if (w->names && w->names->name_of)
		r->at[COLUMN_name] = w->names->name_of(w->names->context, p->line->who);
	if (w->names && w->names->person_of)
		r->at[COLUMN_learner] = w->names->person_of(w->names->context, p->line->who);
	r->at[COLUMN_kind] = p->line->kind;
	r->at[COLUMN_mode] = p->open->mode;
	r->at[COLUMN_sitting] = p->open->sitting;
	r->at[COLUMN_course] = p->open->course;
	r->at[COLUMN_standing] = p->seal ? "assessed" : "practice";
	if (!p->seal)
		return;
	r->at[COLUMN_sealed_by] = p->seal->accepted_as;
	count(r, COLUMN_seal_n, p->seal->n);
}

static enum bad on_answer(
	const struct writing *w, const struct picked *p, struct row *r, struct arena *a)
{
	struct line_answer x;
	enum bad code = line_answer_read(p->line, a, &x);
	if (code)
		return code;
	if (line_answer_is_held(&x)) /* the one that counts stands behind once more, scored */
		r->at[COLUMN_kind] = LINE_HELD;
	r->at[COLUMN_item] = x.item;
	count(r, COLUMN_attempt, x.attempt);
	count(r, COLUMN_ask, x.ask);
	count(r, COLUMN_turn, x.turn);
	count(r, COLUMN_hints, x.hints);
	count(r, COLUMN_took_ms, x.took_ms);
	if (x.late_ms)
		count(r, COLUMN_late_ms, x.late_ms);
	r->at[COLUMN_typed] = x.typed;
	r->at[COLUMN_read_as] = x.read_as;
	r->at[COLUMN_outcome] = x.outcome;
	r->at[COLUMN_slip] = x.slip;
	r->at[COLUMN_expected] = x.expected;
	r->at[COLUMN_tolerance] = x.tolerance;
	r->at[COLUMN_unit] = x.unit;
	add_row(w->out, r);
	return FINE;
}

static enum bad on_rating(
	const struct writing *w, const struct picked *p, struct row *r, struct arena *a)
{
	struct line_rating x;
	enum bad code = line_rating_read(p->line, a, &x);
	if (code)
		return code;
	r->at[COLUMN_of] = x.rubric;
	r->at[COLUMN_part] = x.station;
	count(r, COLUMN_ask, x.criterion);
	r->at[COLUMN_piece] = x.piece;
	r->at[COLUMN_typed] = x.readings;
	r->at[COLUMN_unit] = x.unit;
	count(r, COLUMN_level, x.level);
	add_row(w->out, r);
	return FINE;
}

static enum bad on_result(
	const struct writing *w, const struct picked *p, struct row *r, struct arena *a)
{
	struct line_result x;
	enum bad code = line_result_read(p->line, a, &x);
	if (code)
		return code;
	r->at[COLUMN_of] = x.of;
	r->at[COLUMN_piece] = x.piece;
	count(r, COLUMN_attempt, x.attempt);
	r->at[COLUMN_percent] = x.percent;
	r->at[COLUMN_needed] = x.needed;
	r->at[COLUMN_verdict] = x.verdict;
	add_row(w->out, r);
	for (size_t i = 0; i < x.part.n; i++) {
		r->at[COLUMN_part] = x.part.at[i];
		r->at[COLUMN_competency] = x.part_competency.at[i];
		r->at[COLUMN_percent] = x.part_percent.at[i];
		r->at[COLUMN_needed] = x.part_needed.at[i];
		r->at[COLUMN_verdict] = x.part_verdict.at[i];
		add_row(w->out, r);
	}
	return FINE;
}

/* A line of a later program is left out. */
static enum bad on_line(void *context, const struct picked *p)
{
	struct writing *w = context;
	struct arena a = {0};
	struct row r;
	enum bad code = FINE;
	begin_row(w, p, &r);
	if (p->kind == LINE_ANSWER)
		code = on_answer(w, p, &r, &a);
	else if (p->kind == LINE_RATING)
		code = on_rating(w, p, &r, &a);
	else if (p->kind == LINE_RESULT)
		code = on_result(w, p, &r, &a);
	arena_release(&a);
	return code == BAD_MEMORY || w->out->out ? BAD_MEMORY : FINE;
}

enum bad csv_strand(const struct source *s, const struct key_ring *assessors,
	const struct csv_names *names, struct text *out, struct diags *d)
{
	struct writing w = {names, out};
	return pick_lines(s, assessors, on_line, &w, d);
}
