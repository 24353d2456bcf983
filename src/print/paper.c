/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "print/paper.h"

#include <stdbool.h>
#include <string.h>

#include "print/svg.h"
#include "surface/page.h"

/* A4 in tenths of a millimetre. */
enum { WIDE = 2100, HIGH = 2970, LEFT = 150, TOP = 180, STEP = 42, FONT = 32, FOOT = 2850 };

struct lines {
	struct arena *a;
	const char **at;
	size_t n, room;
};

static int line_take(void *to, const char *at, size_t len)
{
	struct lines *l = to;
	if (l->n == l->room) {
		size_t room = l->room ? 2 * l->room : 64;
		const char **more = arena_many(l->a, room, const char *);
		if (!more)
			return 1;
		if (l->n)
			memcpy(more, l->at, l->n * sizeof *more);
		l->at = more;
		l->room = room;
	}
	l->at[l->n] = arena_copy(l->a, at, len);
	return l->at[l->n] ? (l->n++, 0) : 1;
}

/* Line by line, so that empty ones and blanks at the front stay. */
enum bad paper_lines(struct arena *a, const char *text, const char *const **line, size_t *n)
{
	struct lines l = {.a = a};
	while (*text) {
		size_t len = strcspn(text, "\n"), before = l.n;
		text_wrap(text, len, PAPER_COLUMNS, line_take, &l);
		if (l.n == before && line_take(&l, "", 0))
			return BAD_MEMORY;
		text += len + (text[len] == '\n');
	}
	if (!l.n && line_take(&l, "", 0))
		return BAD_MEMORY;
	*line = l.at;
	*n = l.n;
	return FINE;
}

size_t paper_sheets(size_t n)
{
	return n > PAPER_LINES ? (n + PAPER_LINES - 1) / PAPER_LINES : 1;
}

static void add_text(struct text *out, int x, int y, const char *how, const char *words)
{
	text_addf(out, "<text x=\"%d.%d\" y=\"%d.%d\"%s xml:space=\"preserve\">", x / 10, x % 10,
		y / 10, y % 10, how);
	svg_escaped(out, words);
	text_add(out, "</text>\n");
}

static void add_rule(struct text *out, int y)
{
	text_addf(out,
		"<line x1=\"%d\" y1=\"%d.%d\" x2=\"%d\" y2=\"%d.%d\" stroke=\"#000\" "
		"stroke-width=\"0.2\"/>\n",
		LEFT / 10, y / 10, y % 10, (WIDE - LEFT) / 10, y / 10, y % 10);
}

/* What begins at the margin heads what is set in below it. */
static void add_line(struct text *out, size_t k, const char *words)
{
	bool heads = *words && *words != ' ';
	if (*words)
		add_text(out, LEFT, TOP + (int)k * STEP, heads ? " font-weight=\"bold\"" : "",
			words);
}

enum bad paper_sheet(
	const char *title, const char *const *line, size_t n, size_t sheet, struct text *out)
{
	char foot[64];
	size_t before = out->len, first = sheet * PAPER_LINES;
	snprintf(foot, sizeof foot, "sheet %zu of %zu", sheet + 1, paper_sheets(n));
	text_addf(out,
		"<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
		"<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"%dmm\" "
		"height=\"%dmm\" viewBox=\"0 0 %d %d\" font-family=\"monospace\" "
		"font-size=\"%d.%d\" fill=\"#000\">\n<title>",
		WIDE / 10, HIGH / 10, WIDE / 10, HIGH / 10, FONT / 10, FONT % 10);
	svg_escaped(out, title);
	text_add(out, "</title>\n");
	for (size_t k = 0; k < PAPER_LINES && first + k < n; k++)
		add_line(out, k, line[first + k]);
	add_rule(out, FOOT - STEP);
	add_text(out, LEFT, FOOT, "", title);
	add_text(out, WIDE - LEFT, FOOT, " text-anchor=\"end\"", foot);
	text_add(out, "</svg>\n");
	if (!out->out)
		return FINE;
	out->at[out->len = before] = 0;
	return BAD_MEMORY;
}
