/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/base/diag.h>

#include <string.h>

#include <barwright/base/utf8.h>

static struct diag *append(struct diags *d)
{
	if (d->nerror + d->nwarning > DIAGS_KEPT)
		return NULL;
	struct diag *one = arena_new(d->arena, struct diag);
	if (!one) {
		d->out = 1;
		return NULL;
	}
	if (d->last)
		d->last->next = one;
	else
		d->first = one;
	d->last = one;
	return one;
}

static const char *words(struct diags *d, const char *format, va_list args)
{
	const char *made = arena_vformat(d->arena, format, args);
	if (!made)
		d->out = 1;
	return made ? made : "(no memory left for the words)";
}

static void add(struct diags *d, enum severity severity, enum bad code, struct place at,
	uint32_t span, const char *format, va_list args)
{
	if (severity == SEVERITY_ERROR)
		d->nerror++;
	else
		d->nwarning++;
	struct diag *one = append(d);
	d->muted = !one;
	if (!one)
		return;
	*one = (struct diag){severity, code, at, span ? span : 1, .words = ""};
	one->words = words(d, format, args);
}

void diag_error(
	struct diags *d, enum bad code, struct place at, uint32_t span, const char *format, ...)
{
	va_list args;
	va_start(args, format);
	add(d, SEVERITY_ERROR, code, at, span, format, args);
	va_end(args);
}

void diag_warn(
	struct diags *d, enum bad code, struct place at, uint32_t span, const char *format, ...)
{
	va_list args;
	va_start(args, format);
	add(d, SEVERITY_WARNING, code, at, span, format, args);
	va_end(args);
}

void diag_hint(struct diags *d, const char *format, ...)
{
	if (d->muted || !d->last)
		return;
	va_list args;
	va_start(args, format);
	d->last->hint = words(d, format, args);
	va_end(args);
}

void diag_note(struct diags *d, struct place at, const char *format, ...)
{
	if (d->muted || !d->last)
		return;
	va_list args;
	va_start(args, format);
	d->last->note_place = at;
	d->last->note = words(d, format, args);
	va_end(args);
}

struct place source_place(const struct source *s, size_t offset)
{
	struct place p = {s, 1, 1};
	size_t start = 0;
	if (offset > s->len)
		offset = s->len;
	for (size_t i = 0; i < offset; i++)
		if (s->text[i] == '\n') {
			p.line++;
			start = i + 1;
		}
	p.col = 1 + (uint32_t)utf8_count(s->text + start, offset - start);
	return p;
}

const char *source_line(const struct source *s, uint32_t line, size_t *len)
{
	const char *at = s->text, *end = s->text + s->len;
	for (uint32_t n = 1; n < line && at; n++) {
		at = memchr(at, '\n', (size_t)(end - at));
		at = at ? at + 1 : NULL;
	}
	*len = 0;
	if (!line || !at || at > end)
		return "";
	const char *stop = memchr(at, '\n', (size_t)(end - at));
	*len = (size_t)((stop ? stop : end) - at);
	if (*len && at[*len - 1] == '\r')
		--*len;
	return at;
}

static void print_place(struct place p, struct text *out)
{
	const char *name = p.source ? p.source->name : "(no file)";
	text_add_safe(out, name, strlen(name), false);
	if (p.line)
		text_addf(out, ":%u:%u", (unsigned)p.line, (unsigned)p.col);
	text_add(out, ": ");
}

/* A long line is cut to a window around the place, so that the caret stays in sight. */
enum { WINDOW_BEFORE = 48, WINDOW = 90 };

/* The line and, below it, the underline, both as the safe filter shows them. */
static void print_line(struct place p, uint32_t span, struct text *out)
{
	size_t len;
	const char *line = source_line(p.source, p.line, &len);
	struct text shown, marks;
	text_init(&shown);
	text_init(&marks);
	uint32_t from = p.col > WINDOW_BEFORE + 1 ? p.col - WINDOW_BEFORE : 1, col = 1;
	for (size_t i = 0, n; i < len && col < from + WINDOW; i += n, col++) {
		n = utf8_step(line + i, len - i);
		if (col < from)
			continue;
		size_t width = utf8_width(line + i, n);
		text_add_safe(&shown, line + i, n, false);
		if (col < p.col)
			text_add_repeat(&marks, ' ', width);
		else if (col == p.col || col < p.col + span)
			text_add_repeat(&marks, col == p.col ? '^' : '~', col == p.col ? 1 : width);
		if (col == p.col && width > 1)
			text_add_repeat(&marks, '~', width - 1);
	}
	if (col <= p.col)
		text_add_char(&marks, '^');
	text_addf(out, "%5u | %s%s\n      | %s%s\n", (unsigned)p.line, from > 1 ? "..." : "",
		shown.at, from > 1 ? "   " : "", marks.at);
	out->out = out->out || shown.out || marks.out;
	text_release(&shown);
	text_release(&marks);
}

static void print_one(const struct diag *one, struct text *out)
{
	print_place(one->place, out);
	text_add(out, one->severity == SEVERITY_ERROR ? "error: " : "warning: ");
	text_add_safe(out, one->words, strlen(one->words), false);
	text_addf(out, " [%s]\n", bad_word(one->code));
	if (one->place.source && one->place.line)
		print_line(one->place, one->span, out);
	if (one->note) {
		print_place(one->note_place, out);
		text_add(out, "note: ");
		text_add_safe(out, one->note, strlen(one->note), false);
		text_add_char(out, '\n');
	}
	if (one->hint) {
		text_add(out, "hint: ");
		text_add_safe(out, one->hint, strlen(one->hint), false);
		text_add_char(out, '\n');
	}
}

void diags_print(const struct diags *d, struct text *out)
{
	size_t shown = 0;
	for (const struct diag *one = d->first; one; one = one->next, shown++)
		print_one(one, out);
	if (shown < d->nerror + d->nwarning)
		text_addf(out, "... and %zu more\n", d->nerror + d->nwarning - shown);
}
