/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "screen/frame.h"

#include <string.h>

#include <barwright/base/text.h>
#include <barwright/base/unit.h>
#include <barwright/base/utf8.h>

#include "surface/charset.h"

enum {
	MARGIN = 1,
	ROWS_AROUND = 3, /* two rules and the keys */
	TITLE_ROWS = 3,
	FIELD_COLS = 48,
	NUMBER_COLS = 24 /* a field with a unit behind it */
};

static size_t smaller(size_t a, size_t b)
{
	return a < b ? a : b;
}

static int room_of(int cols, int most)
{
	int room = cols - 2 * MARGIN;
	return room < most ? room : most;
}

int frame_text_cols(int cols)
{
	return room_of(cols, FRAME_TEXT_COLS);
}

/* ---- the question --------------------------------------------------------------------------- */

/* What is asked, as rows of its own, and where in them the cursor stands. */
struct asked {
	struct rows rows;
	const struct view *view;
	int cols;      /* of text */
	int list_cols; /* of a list: an entry is no running text, and may be longer */
	bool is_long;  /* of a list that does not fit only the chosen entry shows its note */
	size_t focus_row;
	int focus_col;
};

static size_t wrap_asked(struct asked *a, int indent, const char *s, int ink)
{
	size_t len, index = a->rows.n;
	const char *text = rows_safe(&a->rows, &a->view->look, s, &len);
	return rows_wrap(&a->rows, index, MARGIN + indent, a->cols - indent, 0, text, len, ink);
}

static void put_prompt(struct asked *a, const struct question *q)
{
	const char *prompt = q->prompt && *q->prompt ? q->prompt : NULL;
	if (!prompt && q->kind == ASK_GO)
		prompt = "Press Enter to go on.";
	a->focus_row = a->rows.n;
	a->focus_col = MARGIN;
	if (prompt && q->topic) {
		prompt = arena_format(a->rows.arena, "%s: %s", prompt, q->topic);
		a->rows.out |= !prompt;
	}
	if (prompt)
		wrap_asked(a, 0, prompt, INK_STRONG);
}

/* A text of `n` equal characters in the arena. */
static const char *repeated(struct rows *r, const char *s, int n, size_t *len)
{
	struct text text;
	text_init(&text);
	for (int i = 0; i < n; i++)
		text_add(&text, s);
	const char *copy = text.out ? NULL : arena_copy(r->arena, text.at, text.len);
	*len = copy ? text.len : 0;
	text_release(&text);
	if (!copy)
		r->out = true;
	return copy ? copy : "";
}

/* One column for each code point, on an ASCII terminal too. */
static const char *field_cells(struct asked *a, size_t from, size_t to, size_t *len)
{
	const struct field *f = a->view->field;
	char *text = arena_get(a->rows.arena, 4 * (to - from) + 1);
	*len = 0;
	if (!text) {
		a->rows.out = true;
		return "";
	}
	for (size_t i = from; i < to; i++) {
		char cell[4] = {charset_cell(f->code[i])};
		size_t n = a->view->look.utf8 ? utf8_write(f->code[i], cell) : 1;
		memcpy(text + *len, cell, n);
		*len += n;
	}
	return text;
}

static void put_field_text(struct asked *a, size_t row, int col, int room)
{
	const struct field *f = a->view->field;
	size_t from, to, len;
	field_window(f, room, &from, &to);
	const char *text = field_cells(a, from, to, &len);
	rows_put(&a->rows, row, col, text, len, INK_FIELD);
	a->focus_row = row;
	a->focus_col = col + field_width(f, from, f->at);
}

static void put_field(struct asked *a, const struct question *q)
{
	size_t len, unit_len, row = a->rows.n;
	struct text printed;
	text_init(&printed);
	unit_add_printed(q->unit, q->unit ? strlen(q->unit) : 0, &printed);
	const char *unit = rows_safe(&a->rows, &a->view->look, printed.at, &unit_len);
	a->rows.out |= printed.out;
	text_release(&printed);
	int unit_cols = (int)utf8_width(unit, unit_len);
	int room = a->cols - 3 - unit_cols, most = unit_cols ? NUMBER_COLS : FIELD_COLS;
	room = room > most ? most : room < 8 ? 8 : room;
	rows_put(&a->rows, row, MARGIN, ">", 1, INK_PLAIN);
	const char *blanks = repeated(&a->rows, " ", room, &len);
	rows_put(&a->rows, row, MARGIN + 2, blanks, len, INK_FIELD);
	put_field_text(a, row, MARGIN + 2, room);
	rows_put(&a->rows, row, MARGIN + 2 + room + 1, unit, unit_len, INK_PLAIN);
}

/* ---- a list --------------------------------------------------------------------------------- */

/* Where a list's parts stand: "> 12  Title   note". */
struct columns {
	int digits; /* of the largest number */
	int title;  /* first column of the titles, counted from the margin */
	int note;   /* of the notes; 0: they stand below their titles */
};

static int title_width(struct asked *a, const struct choice *c)
{
	size_t len;
	const char *text = rows_safe(&a->rows, &a->view->look, c->title, &len);
	return (int)utf8_width(text, len);
}

static struct columns columns_of(struct asked *a, const struct question *q)
{
	struct columns k = {.digits = 1};
	int widest = 0;
	for (size_t n = q->nchoice; n > 9; n /= 10)
		k.digits++;
	for (size_t i = 0; i < q->nchoice; i++) {
		int width = title_width(a, &q->choice[i]);
		widest = width > widest ? width : widest;
	}
	k.title = 2 + k.digits + 2;
	if (k.title + widest + 3 + 24 <= a->list_cols)
		k.note = k.title + widest + 3;
	return k;
}

static size_t put_part(struct asked *a, size_t row, int col, const char *s, int ink)
{
	size_t len;
	const char *text = rows_safe(&a->rows, &a->view->look, s ? s : "", &len);
	return rows_wrap(&a->rows, row, MARGIN + col, a->list_cols - col, 0, text, len, ink);
}

static void put_choice(struct asked *a, const struct question *q, size_t i, struct columns k)
{
	const struct choice *c = &q->choice[i];
	bool chosen = i == a->view->chosen;
	size_t row = a->rows.n;
	const char *number = arena_format(a->rows.arena, "%*zu", k.digits, question_number(q, i));
	if (chosen) {
		a->focus_row = row;
		a->focus_col = MARGIN + 2 + k.digits - 1;
		rows_put(&a->rows, row, MARGIN, ">", 1, INK_FOCUS);
	}
	if (number)
		rows_put(&a->rows, row, MARGIN + 2, number, strlen(number),
			chosen ? INK_FOCUS : INK_PLAIN);
	else
		a->rows.out = true;
	size_t taken = put_part(a, row, k.title, c->title, chosen ? INK_FOCUS : INK_PLAIN);
	if (chosen || !a->is_long)
		put_part(a, k.note ? row : row + taken, k.note ? k.note : k.title, c->note,
			INK_PLAIN);
}

static void put_list(struct asked *a, const struct question *q)
{
	struct columns k = columns_of(a, q);
	for (size_t i = 0; i < q->nchoice; i++)
		put_choice(a, q, i, k);
}

static void put_fault(struct asked *a, const char *fault)
{
	const char *sign = a->view->look.ticks ? "✗" : "!";
	size_t row = a->rows.n;
	wrap_asked(a, 2, fault, INK_PLAIN);
	rows_put(&a->rows, row, MARGIN, sign, strlen(sign), INK_BAD);
}

static void put_warning(struct asked *a, const char *warning)
{
	size_t row = a->rows.n;
	wrap_asked(a, 2, warning, INK_STRONG);
	rows_put(&a->rows, row, MARGIN, "!", 1, INK_CAUTION);
}

static void put_words(struct asked *a, const char *words)
{
	const char *line = arena_format(a->rows.arena, "Also: %s", words);
	if (line)
		wrap_asked(a, 0, line, INK_PLAIN);
	else
		a->rows.out = true;
}

static void lay_question(struct asked *a)
{
	const struct question *q = a->view->question;
	if (!q)
		return;
	put_prompt(a, q);
	if (q->kind == ASK_LINE)
		put_field(a, q);
	else if (q->kind == ASK_CHOICE)
		put_list(a, q);
	const char *fault = a->view->fault ? a->view->fault : q->fault;
	if (fault && *fault)
		put_fault(a, fault);
	if (a->view->warning)
		put_warning(a, a->view->warning);
	if (q->words && *q->words)
		put_words(a, q->words);
}

/* ---- dividing the height ---------------------------------------------------------------------- */

struct heights {
	size_t body, asked;
};

/* The question takes what it needs; a long list leaves a third to the text, and scrolls. */
static struct heights divide(size_t room, size_t body, const struct asked *a)
{
	size_t asked = a->rows.n;
	if (body + asked <= room)
		return (struct heights){body, asked};
	const struct question *q = a->view->question;
	size_t least = smaller(body, q && q->kind == ASK_CHOICE ? room / 3 : 3);
	struct heights h = {.asked = smaller(asked, room - least)};
	h.body = room - h.asked;
	return h;
}

static size_t first_row_of(const struct rows *r, size_t block)
{
	size_t i = 0;
	while (i < r->n && r->at[i].block < block)
		i++;
	while (i + 1 < r->n && !r->at[i].first)
		i++;
	return i;
}

static void settle_top(struct view *v, const struct rows *body, size_t height, int cols)
{
	size_t most = body->n > height ? body->n - height : 0;
	if (v->cols && v->cols != cols)
		v->top = first_row_of(body, v->top_block);
	if (v->reveal) {
		size_t first = first_row_of(body, v->reveal_block);
		if (first < v->top || body->n > v->top + height)
			v->top = smaller(first, most);
	}
	v->top = smaller(v->top, most);
	v->reveal = false;
	v->cols = cols;
	v->top_block = v->top < body->n ? body->at[v->top].block : 0;
}

/* ---- putting it together ---------------------------------------------------------------------- */

static void put_text(
	struct frame *f, const struct look *look, size_t row, int col, const char *s, int ink)
{
	size_t len;
	const char *text = rows_safe(&f->rows, look, s, &len);
	rows_put(&f->rows, row, col, text, len, ink);
}

static void put_rule(
	struct frame *f, const struct look *look, size_t row, int cols, const char *news)
{
	size_t len;
	const char *rule = repeated(&f->rows, look->utf8 ? "─" : "-", cols - 2 * MARGIN, &len);
	rows_put(&f->rows, row, MARGIN, rule, len, INK_FAINT);
	if (news)
		put_text(f, look, row, cols - MARGIN - (int)strlen(news) - 2, news, INK_PLAIN);
}

static const char *lines_away(struct rows *r, size_t n, const char *where)
{
	if (!n)
		return NULL;
	const char *news =
		arena_format(r->arena, " %zu %s %s ", n, n == 1 ? "line" : "lines", where);
	if (!news)
		r->out = true;
	return news;
}

/* As many bytes as fit into `cols`. */
static size_t cut_to(const char *s, size_t len, int cols)
{
	size_t end = 0;
	while (end < len) {
		size_t n = utf8_step(s + end, len - end);
		if ((int)utf8_width(s, end + n) > cols)
			break;
		end += n;
	}
	return end;
}

/* "task 3, 12 min left" */
static const char *note_of(struct frame *f, const struct view *v)
{
	const char *note = v->page->note ? v->page->note : "", *left = v->left ? v->left : "";
	const char *made =
		arena_format(f->rows.arena, "%s%s%s", note, *note && *left ? ", " : "", left);
	f->rows.out |= !made;
	return made ? made : note;
}

/* The title, wrapped beside its note; returns the rows it took. */
static size_t put_title(struct frame *f, const struct view *v, int cols)
{
	size_t len, note_len;
	const struct page *p = v->page;
	const char *note = rows_safe(&f->rows, &v->look, note_of(f, v), &note_len);
	note_len = cut_to(note, note_len, cols / 2);
	int note_cols = (int)utf8_width(note, note_len);
	int room = cols - 2 * MARGIN - (note_cols ? note_cols + 2 : 0);
	const char *title = rows_safe(&f->rows, &v->look, p->title, &len);
	rows_wrap(&f->rows, 0, MARGIN, room, 0, title, len, INK_STRONG);
	if (f->rows.n > TITLE_ROWS)
		f->rows.n = TITLE_ROWS;
	rows_put(&f->rows, 0, cols - MARGIN - note_cols, note, note_len, INK_PLAIN);
	return f->rows.n ? f->rows.n : 1;
}

/* Rows from..from+n-1 of `source`, at `row` of the frame. */
static void put_rows(struct frame *f, size_t row, const struct rows *source, size_t from, size_t n)
{
	for (size_t i = 0; i < n; i++) {
		struct row *to = rows_at(&f->rows, row + i);
		if (to && from + i < source->n)
			*to = source->at[from + i];
	}
}

static void put_instead(struct frame *f, const struct look *look, size_t row, const char *s)
{
	struct row *r = rows_at(&f->rows, row);
	if (r)
		*r = (struct row){0};
	put_text(f, look, row, MARGIN + 2, s, INK_PLAIN);
}

/* A question higher than its place shows the part with the cursor, and says what is hidden. */
static void put_asked(
	struct frame *f, const struct look *look, size_t row, const struct asked *a, size_t height)
{
	size_t from = 0;
	if (a->rows.n > height && a->focus_row + 2 > height)
		from = smaller(a->focus_row + 2 - height, a->rows.n - height);
	put_rows(f, row, &a->rows, from, height);
	f->cursor_row = (int)(row + a->focus_row - from);
	f->cursor_col = a->focus_col;
	if (a->rows.n <= height || height < 4)
		return;
	if (from)
		put_instead(f, look, row, "... more above");
	if (from + height < a->rows.n)
		put_instead(f, look, row + height - 1, "... more below");
}

static void put_confirm(struct frame *f, const struct view *v, size_t row, int col, int cols)
{
	size_t len;
	const char *text = rows_safe(&f->rows, &v->look, v->confirm, &len);
	len = cut_to(text, len, cols - col - 1);
	rows_put(&f->rows, row, col, text, len, INK_STRONG);
	f->cursor_row = (int)row;
	f->cursor_col = col + (int)utf8_width(text, len);
}

/* "Enter answer   Esc back": as many as fit. */
static void put_keys(struct frame *f, const struct view *v, size_t row, int cols)
{
	const char *key, *word;
	int col = MARGIN;
	for (size_t i = 0; (key = keys_hint(v->place, i, &word)); i++) {
		int key_cols = (int)strlen(key), word_cols = (int)strlen(word);
		if (keys_is_scroll(word) && f->body_rows <= f->body_height)
			continue;
		if (col + key_cols + 1 + word_cols > cols - MARGIN)
			continue;
		put_text(f, &v->look, row, col, key, INK_STRONG);
		put_text(f, &v->look, row, col + key_cols + 1, word, INK_PLAIN);
		col += key_cols + 1 + word_cols + 3;
	}
}

static void make_small(const struct view *v, int rows, int cols, struct frame *f)
{
	f->too_small = true;
	const char *words = arena_format(f->rows.arena,
		"Barwright needs %d x %d characters; this window has %d x %d.", FRAME_LEAST_COLS,
		FRAME_LEAST_ROWS, cols, rows);
	size_t len;
	const char *text = rows_safe(&f->rows, &v->look, words ? words : "", &len);
	rows_put(&f->rows, 0, 0, text, cut_to(text, len, cols), INK_PLAIN);
	if (v->confirm && rows > 1)
		put_confirm(f, v, 1, 0, cols);
}

/* Everything between the title and the keys, from row `title` on. */
static void put_middle(struct frame *f, struct view *v, size_t title, int cols,
	const struct rows *body, const struct asked *asked, struct heights h)
{
	size_t below = body->n - v->top > h.body ? body->n - v->top - h.body : 0;
	bool parted = below || (h.body && asked->rows.n);
	size_t next = title + 1 + h.body;
	put_rule(f, &v->look, title, cols, lines_away(&f->rows, v->top, "above"));
	put_rows(f, title + 1, body, v->top, h.body);
	if (parted)
		put_rule(f, &v->look, next, cols, lines_away(&f->rows, below, "below"));
	if (asked->rows.n)
		put_asked(f, &v->look, next + parted, asked, h.asked);
	if (v->reading || !asked->rows.n) {
		f->cursor_row = (int)title + 1;
		f->cursor_col = MARGIN;
	}
	f->body_rows = body->n;
	f->body_height = h.body;
}

void frame_make(struct view *v, int rows, int cols, struct arena *arena, struct frame *out)
{
	*out = (struct frame){.rows = {.arena = arena}};
	if (rows < FRAME_LEAST_ROWS || cols < FRAME_LEAST_COLS) {
		make_small(v, rows, cols, out);
		return;
	}
	struct rows body = {.arena = arena};
	struct asked asked = {.rows = {.arena = arena},
		.view = v,
		.cols = frame_text_cols(cols),
		.list_cols = room_of(cols, FRAME_LIST_COLS)};
	layout_page(v->page, &v->look, MARGIN, frame_text_cols(cols), cols, &body);
	size_t title = put_title(out, v, cols), room = (size_t)(rows - ROWS_AROUND) - title;
	lay_question(&asked);
	if (asked.rows.n > room && v->question->kind == ASK_CHOICE) {
		asked.rows = (struct rows){.arena = arena};
		asked.is_long = true;
		lay_question(&asked);
	}
	struct heights h = divide(room, body.n, &asked);
	settle_top(v, &body, h.body, cols);
	put_middle(out, v, title, cols, &body, &asked, h);
	if (v->confirm)
		put_confirm(out, v, (size_t)rows - 1, MARGIN, cols);
	else
		put_keys(out, v, (size_t)rows - 1, cols);
	out->rows.out |= body.out || asked.rows.out;
}
