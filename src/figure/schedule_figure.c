/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "figure/schedule_figure.h"

#include <math.h>
#include <string.h>

#include <barwright/base/utf8.h>

#include "figure/sketch.h"

enum {
	GLYPH_CLOSED = 0x2591, /* light shade */
	GLYPH_HANDS = 0x2592,  /* medium shade */
	GLYPH_TICK = 0x252C,
	LEAST_COLS = 46,
	RIGHT_COLS = 10, /* "531 min" */
	TIMES_COLS = 24, /* "Wed 16:30 - Thu 01:21" */
	TICK_COLS = 8,   /* an axis with a label has them at least */
	DAY_MIN = 24 * 60
};

struct plan {
	const struct schedule_picture *p;
	struct arena *a;
	struct canvas *c;
	bool scaled;     /* nothing is asked for */
	double from, to; /* s, that must fit */
	int left, cols;  /* of the axis */
	int top, foot;   /* row of the first step, and of the axis */
};

static bool is_asked(const struct schedule_picture *p)
{
	for (size_t i = 0; i < p->n; i++)
		if (p->step[i].asked)
			return true;
	return p->total_asked;
}

static bool has_steps(const struct schedule_picture *p, bool unattended)
{
	for (size_t i = 0; i < p->n; i++)
		if (p->step[i].unattended == unattended)
			return true;
	return false;
}

/* The one start that is given, where each step has but its length. */
static bool tells_begin(const struct schedule_picture *p)
{
	return p->begins && !p->timed && !(p->step[0].asked & SCHEDULE_START);
}

/* Rows between the steps and what the shades mean: an axis, or times that are given. */
static int foot_rows(const struct schedule_picture *p)
{
	if (!is_asked(p))
		return p->nday ? 3 : 2;
	return tells_begin(p) || p->has_deadline ? 2 : 0;
}

/* Beyond it no clock is written. */
static bool is_time(double time_s)
{
	return fabs(time_s) <= 1e9;
}

static bool closed_fits(const struct schedule_picture *p)
{
	for (size_t i = 0; i < p->nclosed; i++) {
		const double *pair = &p->closed[2 * i];
		if (!is_time(pair[0]) || !is_time(pair[1]) || pair[0] > pair[1])
			return false;
	}
	return !p->has_deadline || is_time(p->deadline_s);
}

static enum bad plan_init(struct plan *m, const struct schedule_picture *p)
{
	const double most_s = 60 * 86400.0;

	if (p->n < 1 || p->n > SCHEDULE_STEPS || p->nclosed > SCHEDULE_CLOSED)
		return BAD_COUNT;
	m->p = p;
	m->scaled = !is_asked(p);
	m->from = INFINITY;
	m->to = -INFINITY;
	for (size_t i = 0; i < p->n; i++) {
		const struct schedule_step *x = &p->step[i];
		if (!is_time(x->start_s) || !is_time(x->end_s) || x->end_s < x->start_s)
			return BAD_RANGE;
		m->from = fmin(m->from, x->start_s);
		m->to = fmax(m->to, x->end_s);
	}
	if (!closed_fits(p))
		return BAD_RANGE;
	if (p->has_deadline && m->scaled)
		m->to = fmax(m->to, p->deadline_s), m->from = fmin(m->from, p->deadline_s);
	return m->to - m->from >= 60 && m->to - m->from <= most_s ? FINE : BAD_RANGE;
}

int schedule_rows(const struct schedule_picture *p)
{
	return (p->has_deadline && !is_asked(p)) + (int)p->n + p->total_asked + foot_rows(p) + 1;
}

static int name_cols(const struct schedule_picture *p)
{
	size_t most = p->total_asked ? strlen("in all") : 0;

	for (size_t i = 0; i < p->n; i++) {
		size_t width = utf8_width(p->step[i].name, strlen(p->step[i].name));
		most = width > most ? width : most;
	}
	return most < SCHEDULE_NAME ? (int)most : SCHEDULE_NAME;
}

/* Bars that show the order only are all as wide as the narrowest place allows. */
static void plan_layout(struct plan *m)
{
	const struct schedule_picture *p = m->p;

	m->left = name_cols(p) + 2;
	m->cols = m->c->cols - m->left - (p->timed && !m->scaled ? TIMES_COLS : RIGHT_COLS);
	m->top = p->has_deadline && m->scaled;
	m->foot = m->top + (int)p->n + p->total_asked;
	if (!m->scaled)
		m->cols -= m->cols % (int)p->n;
}

/* ---- texts ----------------------------------------------------------------------------------- */

/* "16:30", "Wed 16:30"; "90" in minutes from the start. */
static const char *time_text(const struct plan *m, double time_s)
{
	const struct schedule_picture *p = m->p;
	long long minute = llround(time_s / 60), rest = (minute % DAY_MIN + DAY_MIN) % DAY_MIN;
	long long n = (long long)p->nday, day = (minute - rest) / DAY_MIN;
	const char *text;

	if (!p->clock)
		text = arena_format(m->a, "%lld", minute);
	else if (n)
		text = arena_format(
			m->a, "%s %02lld:%02lld", p->day[(day % n + n) % n], rest / 60, rest % 60);
	else
		text = arena_format(m->a, "%02lld:%02lld", rest / 60, rest % 60);
	return text ? text : "";
}

static const char *length_text(const struct plan *m, double time_s)
{
	double minutes = time_s / 60;
	const char *text;

	if (fabs(minutes - round(minutes)) < 0.005)
		text = arena_format(m->a, "%.0f min", minutes);
	else
		text = arena_format(m->a, "%s min", mm_text(m->a, minutes, m->p->decimal));
	return text ? text : "";
}

static const char *start_text(const struct plan *m, const struct schedule_step *x)
{
	return x->asked & SCHEDULE_START ? "?" : time_text(m, x->start_s);
}

static const char *end_text(const struct plan *m, const struct schedule_step *x)
{
	return x->asked & SCHEDULE_END ? "?" : time_text(m, x->end_s);
}

static const char *step_length(const struct plan *m, const struct schedule_step *x)
{
	return x->asked & SCHEDULE_LENGTH ? "?" : length_text(m, x->end_s - x->start_s);
}

/* To the right of a bar. Times that are given are shown where the axis does not tell them. */
static const char *right_text(const struct plan *m, const struct schedule_step *x)
{
	if (m->scaled || !m->p->timed)
		return step_length(m, x);
	const char *text = arena_format(m->a, "%s - %s", start_text(m, x), end_text(m, x));
	return text ? text : "";
}

/* ---- drawing --------------------------------------------------------------------------------- */

/* The cell that begins at this time. */
static int col_at(const struct plan *m, double time_s)
{
	double part = (time_s - m->from) / (m->to - m->from);

	part = part < 0 ? 0 : part > 1 ? 1 : part;
	return m->left + (int)lround(part * m->cols);
}

static void draw_closed(const struct plan *m)
{
	for (size_t i = 0; i < m->p->nclosed && m->scaled; i++) {
		int from = col_at(m, m->p->closed[2 * i]), to = col_at(m, m->p->closed[2 * i + 1]);
		canvas_fill(
			m->c, m->top, from, m->foot - m->top, to - from, GLYPH_CLOSED, INK_FAINT);
	}
}

static void draw_bar(const struct plan *m, int row, size_t i)
{
	const struct schedule_step *x = &m->p->step[i];
	int each = m->cols / (int)m->p->n;
	int from = m->scaled ? col_at(m, x->start_s) : m->left + (int)i * each;
	int to = m->scaled ? col_at(m, x->end_s) : from + each;

	if (to <= from)
		to = from + 1;
	if (to > m->left + m->cols)
		from -= to - m->left - m->cols, to = m->left + m->cols;
	canvas_fill(m->c, row, from, 1, to - from, x->unattended ? GLYPH_DOUBLE : GLYPH_HANDS,
		x->unattended ? INK_PLAIN : INK_WORK);
	if (x->asked & SCHEDULE_START)
		canvas_put(m->c, row, from, '?', INK_MARK);
	if (x->asked & SCHEDULE_END)
		canvas_put(m->c, row, to - 1, '?', INK_MARK);
	if (x->asked & SCHEDULE_LENGTH)
		canvas_put(m->c, row, (from + to) / 2, '?', INK_MARK);
}

static void draw_step(const struct plan *m, size_t i)
{
	const struct schedule_step *x = &m->p->step[i];
	int row = m->top + (int)i;

	draw_bar(m, row, i);
	canvas_text(m->c, row, m->left + m->cols + 2, right_text(m, x),
		x->asked & SCHEDULE_LENGTH ? INK_MARK : INK_PLAIN);
}

static void draw_total(const struct plan *m)
{
	int row = m->foot - 1, last = m->left + m->cols - 1;

	canvas_text(m->c, row, 0, "in all", INK_STRONG);
	canvas_line(m->c, row, m->left, row, last, GLYPH_ACROSS, INK_FAINT);
	canvas_put(m->c, row, m->left, GLYPH_TEE_RIGHT, INK_FAINT);
	canvas_put(m->c, row, last, GLYPH_TEE_LEFT, INK_FAINT);
	canvas_text(m->c, row, last + 3, "?", INK_MARK);
}

static void draw_deadline(const struct plan *m)
{
	const char *text = arena_format(m->a, "due %s", time_text(m, m->p->deadline_s));
	int col = col_at(m, m->p->deadline_s) - 1;

	col = col < m->left ? m->left : col;
	canvas_put(m->c, 0, col, GLYPH_DOWN, INK_MARK);
	canvas_text_right(m->c, 0, col - 2, text ? text : "", INK_MARK);
}

/* Minutes between two ticks, so that their labels stand clear of each other. */
static double tick_step(const struct plan *m)
{
	static const int steps[] = {
		5, 10, 15, 30, 60, 120, 180, 240, 360, 720, 1440, 2880, 4320, 7200};
	size_t i = 0, last = sizeof steps / sizeof *steps - 1;
	double cols_a_min = m->cols / ((m->to - m->from) / 60);

	while (i < last && steps[i] * cols_a_min < TICK_COLS)
		i++;
	return steps[i] * 60.0;
}

static void draw_day(const struct plan *m, double time_s, int col)
{
	const char *text = time_text(m, time_s), *end = strrchr(text, ' ');
	const char *day = end ? arena_copy(m->a, text, (size_t)(end - text)) : NULL;

	if (day)
		canvas_text(m->c, m->foot + 2, col, day, INK_FAINT);
}

/* The day stands below the first tick, and below the first of each day. */
static void draw_axis(const struct plan *m)
{
	double step = tick_step(m), day = -1e9;

	canvas_line(
		m->c, m->foot, m->left, m->foot, m->left + m->cols - 1, GLYPH_ACROSS, INK_FAINT);
	for (double t = ceil(m->from / step - 1e-9) * step; t <= m->to + 1; t += step) {
		int col = col_at(m, t);
		const char *text = time_text(m, t), *clock = strrchr(text, ' ');
		col -= col == m->left + m->cols;
		canvas_put(m->c, m->foot, col, GLYPH_TICK, INK_FAINT);
		canvas_text(m->c, m->foot + 1, col, clock ? clock + 1 : text, INK_FAINT);
		if (m->p->nday && floor(t / 86400) > day)
			draw_day(m, t, col);
		day = floor(t / 86400);
	}
	if (!m->p->clock)
		canvas_text(m->c, m->foot, m->left + m->cols + 2, "min", INK_FAINT);
}

/* The times that are given, where nothing is to scale. */
static void draw_known(const struct plan *m)
{
	const struct schedule_picture *p = m->p;
	int last = m->left + m->cols - 1;
	struct spot begin[] = {{m->foot + 1, m->left, 1}, {m->foot, m->left + 2, 1}};

	if (p->has_deadline) {
		const char *text = arena_format(m->a, "due %s", time_text(m, p->deadline_s));
		canvas_put(m->c, m->foot, last, GLYPH_UP, INK_MARK);
		canvas_text_right(m->c, m->foot + 1, last, text ? text : "", INK_MARK);
	}
	if (tells_begin(p)) {
		canvas_put(m->c, m->foot, m->left, GLYPH_UP, INK_MARK);
		label_try(m->c, time_text(m, m->from), INK_MARK, begin, 2, false);
	}
}

static void draw_key(const struct plan *m, int *col, uint32_t glyph, enum ink ink, const char *text)
{
	int row = m->foot + foot_rows(m->p);

	canvas_put(m->c, row, *col, glyph, ink);
	*col += 4 + canvas_text(m->c, row, *col + 2, text, INK_FAINT);
}

static void draw_legend(const struct plan *m)
{
	int col = 0;

	if (has_steps(m->p, false))
		draw_key(m, &col, GLYPH_HANDS, INK_WORK, "with hands");
	if (has_steps(m->p, true))
		draw_key(m, &col, GLYPH_DOUBLE, INK_PLAIN, "by itself");
	if (m->p->nclosed && m->scaled)
		draw_key(m, &col, GLYPH_CLOSED, INK_FAINT, "closed");
	if (!m->scaled)
		draw_key(m, &col, '?', INK_MARK, "asked for");
}

/* A name that is too long ends before the axis. */
static void draw_names(const struct plan *m)
{
	for (size_t i = 0; i < m->p->n; i++) {
		canvas_text(m->c, m->top + (int)i, 0, m->p->step[i].name, INK_STRONG);
		canvas_fill(m->c, m->top + (int)i, m->left - 1, 1, m->c->cols, 0, INK_PLAIN);
	}
}

static void draw(const struct plan *m)
{
	draw_names(m);
	draw_closed(m);
	for (size_t i = 0; i < m->p->n; i++)
		draw_step(m, i);
	if (m->p->total_asked)
		draw_total(m);
	if (m->p->has_deadline && m->scaled)
		draw_deadline(m);
	if (m->scaled)
		draw_axis(m);
	else
		draw_known(m);
	draw_legend(m);
}

/* ---- the same in words ----------------------------------------------------------------------- */

/* Given times and a length beside them would tell the time that is asked for. */
static void tell_times(const struct plan *m, struct words *w, const struct schedule_step *x)
{
	const char *self = x->unattended ? ", by itself" : "";
	const char *unit = m->p->clock ? "" : " min";
	bool length = m->scaled || x->asked & SCHEDULE_LENGTH;

	words_add(w, "%s: from %s to %s%s%s%s%s", x->name, start_text(m, x), end_text(m, x), unit,
		length ? ", " : "", length ? step_length(m, x) : "", self);
}

static void tell_step(const struct plan *m, struct words *w, const struct schedule_step *x)
{
	if (m->scaled || m->p->timed)
		tell_times(m, w, x);
	else
		words_add(w, "%s: %s%s%s%s", x->name, step_length(m, x),
			x->unattended ? ", by itself" : "",
			x->asked & SCHEDULE_START ? ", starts at ?" : "",
			x->asked & SCHEDULE_END ? ", ends at ?" : "");
}

static void tell(const struct plan *m, struct words *w)
{
	const struct schedule_picture *p = m->p;

	if (!m->scaled && tells_begin(p))
		words_add(w, "begins at %s", time_text(m, m->from));
	for (size_t i = 0; i < p->n; i++)
		tell_step(m, w, &p->step[i]);
	if (p->total_asked)
		words_add(w, "in all: ?");
	if (p->has_deadline)
		words_add(w, "due at %s", time_text(m, p->deadline_s));
	for (size_t i = 0; i < p->nclosed && m->scaled; i++)
		words_add(w, "closed from %s to %s", time_text(m, p->closed[2 * i]),
			time_text(m, p->closed[2 * i + 1]));
}

enum bad schedule_figure(struct arena *a, const struct schedule_picture *p, int columns, int rows,
	struct figure **out)
{
	struct plan m = {.a = a};
	struct words w = {.arena = a, .decimal = p->decimal};
	enum bad code = plan_init(&m, p);

	if (code)
		return code;
	if (columns < LEAST_COLS || columns > 200 || rows < schedule_rows(p) || rows > 100)
		return BAD_SIZE;
	m.c = canvas_new(a, rows, columns);
	if (!m.c)
		return BAD_MEMORY;
	plan_layout(&m);
	draw(&m);
	tell(&m, &w);
	const char *usual = m.scaled ? "The steps over time" : "The steps in order, not to scale";
	return figure_make(a, p->title ? p->title : usual, m.c, &w, out);
}
