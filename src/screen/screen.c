/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "screen/screen.h"

#include <string.h>

#include <barwright/base/clock.h>
#include <barwright/base/mem.h>

#include "screen/frame.h"
#include "screen/keys.h"
#include "screen/term.h"
#include "surface/charset.h"
#include "surface/hear.h"

enum {
	PAINT_MS = 100,    /* no longer unseen than this */
	WARNING_MS = 10000 /* a warning stands that long, also when the page changes */
};

struct screen {
	struct surface surface;
	struct term *term;
	struct arena arena; /* the page */
	struct page page;
	size_t nblock;
	struct view view; /* of the page and the question */
	struct field field;
	struct arena keys_arena;
	struct page keys_page;
	struct view keys_view;
	bool on_keys;    /* the keys page is up */
	bool confirming; /* "Leave?" */
	bool small;      /* the window shows only that it is too small */
	size_t height;   /* rows of the page in sight */
	size_t typed;    /* the number being typed on a list */
	struct warner warner;
	char left[LIMIT_WORDS], warning[LIMIT_WORDS]; /* of the page's time; "" none */
	int64_t warned_ms;
	int64_t painted_ms;
};

static struct screen *screen_of(struct surface *s)
{
	return (struct screen *)s;
}

/* ---- painting ------------------------------------------------------------------------------- */

static enum place place_of(const struct screen *s)
{
	if (s->on_keys)
		return PLACE_KEYS;
	if (s->view.reading)
		return PLACE_TEXT;
	switch (s->view.question->kind) {
	case ASK_LINE:
		return s->view.question->nletter ? PLACE_LETTER : PLACE_FIELD;
	case ASK_CHOICE:
		return PLACE_LIST;
	case ASK_GO:
		break;
	}
	return PLACE_GO;
}

static struct view *view_of(struct screen *s)
{
	return s->on_keys ? &s->keys_view : &s->view;
}

/* What a narrow window cuts off is the end. */
static const char *confirm_words(const struct screen *s, struct arena *a)
{
	static const char answers[] = "Leave? Ctrl-C again: yes. Other keys: no. ";
	const char *kept = s->surface.kept;
	const char *made = kept ? arena_format(a, "%s%s ", answers, kept) : answers;
	return made ? made : answers;
}

static enum bad paint(struct screen *s)
{
	struct arena a = {0};
	struct frame frame;
	struct view *v = view_of(s);
	int rows, cols;
	v->place = place_of(s);
	v->confirm = s->confirming ? confirm_words(s, &a) : NULL;
	term_size(s->term, &rows, &cols);
	frame_make(v, rows, cols, &a, &frame);
	enum bad code = frame.rows.out ? BAD_MEMORY : FINE;
	if (!code)
		term_paint(s->term, &frame);
	s->small = frame.too_small;
	s->height = frame.body_height;
	arena_release(&a);
	return code;
}

/* ---- time ----------------------------------------------------------------------------------- */

/* What the head and the question say of the time, by now. */
static void look_at_time(struct screen *s)
{
	int64_t now = clock_boot();
	limit_words(&s->page.limit, now, s->left);
	if (limit_warns(&s->warner, &s->page.limit, now, s->warning))
		s->warned_ms = now;
	s->view.left = s->keys_view.left = s->left;
	s->view.warning = *s->warning ? s->warning : NULL;
}

static void forget_warning(struct screen *s)
{
	if (!limit_is_set(&s->page.limit) || clock_boot() - s->warned_ms >= WARNING_MS)
		*s->warning = '\0';
}

/* When the screen has to say something else of the time. */
static int64_t next_look_ms(const struct screen *s)
{
	int64_t now = clock_boot();
	return limit_is_set(&s->page.limit) ? now + limit_next_ms(&s->page.limit, now) : INT64_MAX;
}

/* ---- showing -------------------------------------------------------------------------------- */

static void look_at_width(struct screen *s)
{
	int rows, cols;
	term_size(s->term, &rows, &cols);
	s->surface.columns = frame_text_cols(cols < FRAME_LEAST_COLS ? FRAME_LEAST_COLS : cols);
}

static const char *copied(struct page *p, const char *text)
{
	char *copy = text ? arena_copy(p->arena, text, strlen(text)) : NULL;
	if (text && !copy)
		p->out = 1;
	return copy;
}

static size_t blocks_of(const struct page *p)
{
	size_t n = 0;
	for (const struct block *b = p->first; b; b = b->next)
		n++;
	return n;
}

static enum bad screen_show(struct surface *surface, const struct page *p)
{
	struct screen *s = screen_of(surface);
	look_at_width(s);
	arena_release(&s->arena);
	page_init(&s->page, &s->arena, NULL, NULL);
	const char *title = copied(&s->page, p->title);
	s->page.title = title ? title : "";
	s->page.note = copied(&s->page, p->note);
	s->page.limit = p->limit;
	page_add_copy(&s->page, p);
	s->nblock = blocks_of(&s->page);
	s->view.top = 0;
	s->view.cols = 0;
	s->view.reveal = false;
	return s->page.out ? BAD_MEMORY : FINE;
}

static enum bad screen_tell(struct surface *surface, const struct page *p)
{
	struct screen *s = screen_of(surface);
	look_at_width(s);
	if (!s->page.arena)
		page_init(&s->page, &s->arena, "", NULL);
	if (!s->view.reveal)
		s->view.reveal_block = s->nblock;
	page_add_copy(&s->page, p);
	s->nblock = blocks_of(&s->page);
	s->view.reveal = true;
	return s->page.out ? BAD_MEMORY : FINE;
}

/* ---- moving --------------------------------------------------------------------------------- */

static void scroll_by(struct screen *s, bool down, size_t n)
{
	struct view *v = view_of(s);
	if (down)
		v->top += n;
	else
		v->top -= n < v->top ? n : v->top;
}

static void move_in_list(struct screen *s, enum action act)
{
	struct view *v = &s->view;
	size_t last = v->question->nchoice ? v->question->nchoice - 1 : 0;
	bool none = v->chosen == CHOICE_NONE;
	v->fault = NULL;
	if (act == ACT_FIRST || (none && act == ACT_NEXT))
		v->chosen = 0;
	else if (act == ACT_LAST || none)
		v->chosen = last;
	else if (act == ACT_NEXT)
		v->chosen = v->chosen < last ? v->chosen + 1 : 0;
	else
		v->chosen = v->chosen ? v->chosen - 1 : last;
}

/* Digits go to that line of the list; several make one number as long as there is such a line. */
static void type_digit(struct screen *s, size_t digit)
{
	struct view *v = &s->view;
	size_t number = s->typed * 10 + digit, line;
	if (number > v->question->nchoice)
		number = digit;
	s->typed = number;
	v->fault = NULL;
	line = question_line(v->question, number);
	if (line < v->question->nchoice)
		v->chosen = line;
}

/* The field takes the next letter or the one before, round the end; nothing stands there at first. */
static void move_in_letters(struct screen *s, bool next)
{
	struct field *f = &s->field;
	size_t n = s->view.question->nletter;
	size_t at = f->n == 1 ? (size_t)((f->code[0] | 0x20) - 'a') : n;
	char text[2] = {0};
	if (at >= n)
		at = next ? 0 : n - 1;
	else
		at = (at + (next ? 1 : n - 1)) % n;
	text[0] = (char)('a' + at);
	field_set(f, text);
	s->view.fault = NULL;
}

static void edit(struct field *f, enum action act)
{
	static void (*const edits[ACT_NOTHING])(struct field *) = {
		[ACT_LEFT] = field_left,
		[ACT_RIGHT] = field_right,
		[ACT_HOME] = field_home,
		[ACT_END] = field_end,
		[ACT_RUB] = field_rub,
		[ACT_DELETE] = field_delete,
		[ACT_RUB_WORD] = field_rub_word,
		[ACT_CLEAR] = field_clear,
	};
	if (edits[act])
		edits[act](f);
}

/* What every place has: scrolling, the keys page, repainting. False when it was something else. */
static bool move(struct screen *s, enum action act)
{
	size_t most = s->height > 1 ? s->height - 1 : 1;
	switch (act) {
	case ACT_DOWN:
	case ACT_UP:
		scroll_by(s, act == ACT_DOWN, 1);
		return true;
	case ACT_PAGE_DOWN:
	case ACT_SPACE_DOWN:
		scroll_by(s, true, most);
		return true;
	case ACT_PAGE_UP:
		scroll_by(s, false, most);
		return true;
	case ACT_TOP:
		view_of(s)->top = 0;
		return true;
	case ACT_BOTTOM:
		view_of(s)->top = SIZE_MAX / 2;
		return true;
	case ACT_SWAP:
	case ACT_SWAP_BACK:
		s->view.reading = act == ACT_SWAP;
		return true;
	case ACT_WORDS:
		s->view.look.words = !s->view.look.words;
		s->view.cols = 0;
		return true;
	case ACT_KEYS:
	case ACT_KEYS_TOO:
	case ACT_CLOSE:
	case ACT_CLOSE_TOO:
		s->on_keys = !s->on_keys;
		s->keys_view.top = 0;
		return true;
	case ACT_CONFIRM:
		s->confirming = true;
		return true;
	case ACT_REPAINT:
		term_forget(s->term);
		return true;
	default:
		return false;
	}
}

/* ---- asking --------------------------------------------------------------------------------- */

static bool reply(struct reply *out, enum reply_kind kind)
{
	*out = (struct reply){.kind = kind};
	return true;
}

/* Enter in a field: true when that is a reply. */
static bool answer(struct screen *s, struct reply *out)
{
	char line[REPLY_ROOM];
	struct view *v = &s->view;
	field_text(&s->field, line);
	v->fault = NULL;
	switch (hear_line(v->question, line, strlen(line), out, &v->fault)) {
	case HEARD_REPLY:
		return true;
	case HEARD_HELP:
		field_clear(&s->field);
		s->on_keys = true;
		break;
	case HEARD_FAULT:
		break;
	}
	return false;
}

/* Enter on a list: true when that is a reply. */
static bool choose(struct screen *s, struct reply *out)
{
	struct view *v = &s->view;
	if (v->chosen >= v->question->nchoice) {
		v->fault = v->question->nchoice
				   ? "Nothing is chosen yet: go to a line with the arrow keys or "
				     "its number."
				   : NULL;
		return false;
	}
	reply(out, REPLY_CHOICE);
	out->choice = v->chosen;
	return true;
}

static bool act_on(struct screen *s, enum action act, struct reply *out)
{
	if (move(s, act))
		return false;
	switch (act) {
	case ACT_ANSWER:
		return answer(s, out);
	case ACT_CHOOSE:
		return choose(s, out);
	case ACT_GO_ON:
		return reply(out, REPLY_GO);
	case ACT_BACK:
		return reply(out, REPLY_BACK);
	case ACT_LEAVE:
		return reply(out, REPLY_LEAVE);
	case ACT_NEXT:
	case ACT_BEFORE:
	case ACT_FIRST:
	case ACT_LAST:
		move_in_list(s, act);
		return false;
	case ACT_LETTER_NEXT:
	case ACT_LETTER_BEFORE:
		move_in_letters(s, act == ACT_LETTER_NEXT);
		return false;
	default:
		edit(&s->field, act);
		return false;
	}
}

/* A letter or a digit that is not a key. */
static void type(struct screen *s, uint32_t press)
{
	enum place place = place_of(s);
	if (place & PLACE_TYPE) {
		bool full = s->field.bytes + 4 >= REPLY_ROOM; /* for any letter */
		if (!field_insert(&s->field, press) && full && term_is_pasting(s->term))
			term_skip_paste(s->term);
	} else if (place == PLACE_LIST && press >= '0' && press <= '9')
		type_digit(s, press - '0');
}

/* True when the press made a reply. */
static bool press_on(struct screen *s, uint32_t press, struct reply *out)
{
	if (press == PRESS_LOST)
		return reply(out, REPLY_LOST);
	if (press == PRESS_RESIZE) {
		/* What was on its way for the old size may have landed in the new one. */
		term_forget(s->term);
		look_at_width(s);
		return false;
	}
	if (s->confirming) {
		s->confirming = false;
		return press == PRESS_INTERRUPT && reply(out, REPLY_LEAVE);
	}
	enum action act = keys_action(press, place_of(s));
	if (s->small && act != ACT_CONFIRM && act != ACT_REPAINT)
		return false;
	if (term_is_pasting(s->term) && !(place_of(s) & PLACE_TYPE))
		return false;
	if (press < '0' || press > '9')
		s->typed = 0;
	if (act != ACT_NOTHING)
		return act_on(s, act, out);
	type(s, press);
	return false;
}

static void begin(struct screen *s, const struct question *q)
{
	struct view *v = &s->view;
	v->question = q;
	v->fault = NULL;
	v->reading = false;
	v->chosen = q->chosen < q->nchoice || q->chosen == CHOICE_NONE ? q->chosen : 0;
	field_set(&s->field, q->kind == ASK_LINE && q->kept ? q->kept : "");
	s->typed = 0;
	s->on_keys = false;
	s->confirming = false;
	forget_warning(s);
}

/* Letters that come faster than anybody types, a paste, need not all be painted. */
static bool can_wait(struct screen *s, uint32_t press)
{
	int64_t now = clock_boot();
	if (press < PRESS_NONE && term_has_more(s->term) && now - s->painted_ms < PAINT_MS)
		return true;
	s->painted_ms = now;
	return false;
}

/* The time is over: what stands in a field is handed out as it is. */
static enum bad answer_time(struct screen *s, struct reply *out)
{
	reply(out, REPLY_TIME);
	if (s->view.question->kind == ASK_LINE)
		field_text(&s->field, out->text);
	return FINE;
}

static enum bad screen_ask(struct surface *surface, const struct question *q, struct reply *out)
{
	struct screen *s = screen_of(surface);
	uint32_t press = PRESS_NONE;
	begin(s, q);
	for (;;) {
		if (!surface_stop && limit_is_over(&s->page.limit, clock_boot()))
			return answer_time(s, out);
		look_at_time(s);
		bool unseen = can_wait(s, press);
		enum bad code = surface_stop || unseen ? FINE : paint(s);
		if (code)
			return code;
		press = term_press(s->term, unseen ? 0 : next_look_ms(s));
		if (press != PRESS_NONE && press_on(s, press, out))
			return FINE;
	}
}

/* ---- opening -------------------------------------------------------------------------------- */

static enum bad prepare(struct screen *s)
{
	page_init(&s->page, &s->arena, "", NULL);
	page_init(&s->keys_page, &s->keys_arena, "Keys", NULL);
	keys_page(&s->keys_page);
	s->view.page = &s->page;
	s->view.field = &s->field;
	s->view.look = term_look(s->term);
	s->keys_view = (struct view){.page = &s->keys_page, .look = s->view.look};
	look_at_width(s);
	return s->keys_page.out ? BAD_MEMORY : FINE;
}

enum bad screen_open(struct screen **out, struct text *why)
{
	static const struct surface_ops ops = {screen_show, screen_tell, screen_ask};
	struct screen *s = mem_get(sizeof *s);
	if (!s)
		return BAD_MEMORY;
	*s = (struct screen){.surface = {.ops = &ops, .decimal = charset_decimal()}};
	enum bad code = term_open(&s->term, why);
	if (!code)
		code = prepare(s);
	if (code) {
		screen_close(s);
		return code;
	}
	*out = s;
	return FINE;
}

struct surface *screen_surface(struct screen *s)
{
	return &s->surface;
}

void screen_close(struct screen *s)
{
	if (!s)
		return;
	term_close(s->term);
	arena_release(&s->arena);
	arena_release(&s->keys_arena);
	mem_drop(s);
}
