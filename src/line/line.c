/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "line/line.h"

#include <errno.h>
#include <poll.h>
#include <stdint.h>
#include <string.h>
#include <sys/ioctl.h>
#include <termios.h>
#include <unistd.h>

#include <barwright/base/clock.h>
#include <barwright/base/mem.h>
#include <barwright/base/text.h>
#include <barwright/base/unit.h>

#include "surface/charset.h"
#include "surface/hear.h"
#include "surface/signals.h"

enum { COLUMNS_ELSE = 78, COLUMNS_MOST = 80, COLUMNS_LEAST = 20 };
/* Longer than any reply, so that hear_line can say "too long"; the rest of such a line is skipped. */
enum { LINE_ROOM = REPLY_ROOM + 64 };
enum { WORD_COLUMNS = 20 }; /* of the words of a list; a longer one moves its title */

struct line {
	struct surface surface;
	struct line_options options;
	bool utf8, in_terminal;
	struct text pending; /* to be written */
	bool gone;           /* nobody reads what is written */
	bool ended;          /* nothing more to read */
	bool begun;          /* something was printed: an empty line may stand before more */
	bool late;           /* the page's time was over before the line was typed */
	bool skip;           /* what is still to come of such a line is passed over */
	struct limit limit;  /* of the page */
	struct warner warner;
	bool explained;         /* the words that work everywhere were said once */
	enum block_kind last;   /* kind of the block printed last */
	char words[REPLY_ROOM]; /* offered last, to say them only when new */
	int terminal_columns;   /* of the output; 0: no terminal */
	char read[4096];        /* bytes read but not used: at..end */
	size_t at, end;
};

static struct line *line_of(struct surface *s)
{
	return (struct line *)s;
}

/* ---- writing ------------------------------------------------------------------------------- */

static enum bad write_failed(struct line *l)
{
	switch (errno) {
	case EPIPE:
	case EIO: /* the terminal has gone */
		l->gone = true;
		return FINE;
	case ENOSPC:
	case EDQUOT:
	case EFBIG:
		return BAD_FULL;
	default:
		return BAD_IO;
	}
}

/* Writes one piece; *written is 0 when it has to be tried again. */
static enum bad write_some(struct line *l, const char *bytes, size_t len, size_t *written)
{
	ssize_t n = write(l->options.out, bytes, len);
	*written = n > 0 ? (size_t)n : 0;
	if (n >= 0)
		return FINE;
	if (errno == EAGAIN || errno == EWOULDBLOCK) {
		poll(&(struct pollfd){.fd = l->options.out, .events = POLLOUT}, 1, 1000);
		errno = EINTR;
	}
	if (errno != EINTR)
		return write_failed(l);
	/* An output that is stopped must not hold up a program that was asked to end. */
	l->gone = surface_stop != 0;
	return FINE;
}

static enum bad flush(struct line *l)
{
	enum bad code = l->pending.out ? BAD_MEMORY : FINE;
	for (size_t at = 0, n; !code && !l->gone && at < l->pending.len; at += n)
		code = write_some(l, l->pending.at + at, l->pending.len - at, &n);
	text_clear(&l->pending);
	return code;
}

/* ---- texts --------------------------------------------------------------------------------- */

/* A run of lines: the first behind `lead`, the others indented by `indent`. */
struct run {
	struct text *out;
	const char *lead;
	size_t indent;
	bool first;
};

static int run_line(void *to, const char *at, size_t len)
{
	struct run *r = to;
	if (r->first)
		text_add(r->out, r->lead);
	else if (len)
		text_add_repeat(r->out, ' ', r->indent);
	r->first = false;
	text_add_bytes(r->out, at, len);
	text_add_char(r->out, '\n');
	return 0;
}

static void add_safe(struct line *l, struct text *out, const char *s, bool lines)
{
	charset_add(out, s, strlen(s), lines, l->utf8);
}

/* `text` is safe already. */
static void print_wrapped(struct line *l, const char *lead, size_t indent, const struct text *text)
{
	struct run r = {&l->pending, lead, indent, true};
	size_t taken = strlen(lead) > indent ? strlen(lead) : indent;
	text_wrap(text->at, text->len, l->surface.columns - (int)taken, run_line, &r);
	if (r.first && *lead) {
		text_add(&l->pending, lead);
		text_add_char(&l->pending, '\n');
	}
	if (text->out)
		l->pending.out = true;
	l->begun = true;
}

/* Up to three strings one behind the other, wrapped; null ones are left out. */
static void print_words(struct line *l, const char *lead, size_t indent, const char *a,
	const char *b, const char *c)
{
	const char *part[] = {a, b, c};
	struct text text;
	text_init(&text);
	for (size_t i = 0; i < 3; i++)
		if (part[i])
			add_safe(l, &text, part[i], true);
	text_fill(text.at, text.len);
	print_wrapped(l, lead, indent, &text);
	text_release(&text);
}

static void print_gap(struct line *l)
{
	if (l->begun)
		text_add_char(&l->pending, '\n');
}

/* ---- blocks -------------------------------------------------------------------------------- */

static void print_row(struct line *l, const struct block *b)
{
	size_t len = strlen(b->text);
	const char *colon = len && b->text[len - 1] == ':' ? " " : ": ";
	print_words(l, "", 2, b->text, colon, b->value);
}

static void print_exact(struct line *l, const char *s)
{
	struct text text;
	text_init(&text);
	add_safe(l, &text, s, true);
	struct run r = {&l->pending, "  ", 2, true};
	text_wrap(text.at, text.len, INT16_MAX, run_line, &r);
	if (text.out)
		l->pending.out = true;
	text_release(&text);
	l->begun = true;
}

static void print_drawing(struct line *l, const struct canvas *c)
{
	struct span span = canvas_span(c);
	if (l->terminal_columns && span.cols > l->terminal_columns) {
		text_addf(&l->pending, "(the drawing needs %d columns)\n", span.cols);
		return;
	}
	for (int row = span.first; row < span.end; row++) {
		canvas_add_cells(c, row, 0, canvas_used(c, row), !l->utf8, &l->pending);
		text_add_char(&l->pending, '\n');
	}
}

static void print_figure(struct line *l, const struct figure *f)
{
	print_words(l, "", 2, "Figure: ", f->title, NULL);
	bool drawn = f->canvas && !l->options.words_only;
	if (drawn)
		print_drawing(l, f->canvas);
	if (drawn && f->nword)
		text_add(&l->pending, "In words:\n");
	for (size_t i = 0; i < f->nword; i++)
		print_words(l, "- ", 2, f->words[i], NULL, NULL);
}

static void print_block(struct line *l, const struct block *b)
{
	switch (b->kind) {
	case BLOCK_ITEM:
		print_words(l, "- ", 2, b->text, NULL, NULL);
		break;
	case BLOCK_ROW:
		print_row(l, b);
		break;
	case BLOCK_EXACT:
		print_exact(l, b->text);
		break;
	case BLOCK_CAUTION:
		print_words(l, "", 0, "Caution: ", b->text, NULL);
		break;
	case BLOCK_GOOD:
		print_words(l, "", 0, "[ok] ", b->text, NULL);
		break;
	case BLOCK_BAD:
		print_words(l, "", 0, "[not ok] ", b->text, NULL);
		break;
	case BLOCK_FIGURE:
		if (b->figure)
			print_figure(l, b->figure);
		break;
	case BLOCK_HEADING:
	case BLOCK_TEXT:
	case BLOCK_COUNT:
		print_words(l, "", 0, b->text, NULL, NULL);
		break;
	}
}

static void print_blocks(struct line *l, const struct page *p)
{
	for (const struct block *b = p->first; b; b = b->next) {
		if (b == p->first || block_has_gap(l->last, b))
			print_gap(l);
		print_block(l, b);
		l->last = b->kind;
	}
	if (p->out)
		l->pending.out = true;
}

/* The terminal may have been made wider or narrower since. */
static void look_at_width(struct line *l)
{
	struct winsize size;
	bool known = isatty(l->options.out) && ioctl(l->options.out, TIOCGWINSZ, &size) == 0;
	l->terminal_columns = known ? size.ws_col : 0;
	int columns = l->terminal_columns ? l->terminal_columns : COLUMNS_ELSE;
	columns = columns < COLUMNS_MOST ? columns : COLUMNS_MOST;
	if (l->options.columns)
		columns = l->options.columns;
	l->surface.columns = columns < COLUMNS_LEAST ? COLUMNS_LEAST : columns;
}

/* "Title (note, 12 min left)" */
static void print_title(struct line *l, const struct page *p)
{
	const char *note = p->note ? p->note : "";
	char left[LIMIT_WORDS];
	struct text title;
	limit_words(&p->limit, clock_boot(), left);
	text_init(&title);
	add_safe(l, &title, p->title, false);
	if (*note || *left) {
		text_add(&title, " (");
		add_safe(l, &title, note, false);
		text_addf(&title, "%s%s)", *note && *left ? ", " : "", left);
	}
	print_wrapped(l, "", 0, &title);
	text_release(&title);
}

static enum bad line_show(struct surface *s, const struct page *p)
{
	struct line *l = line_of(s);
	look_at_width(l);
	print_gap(l);
	print_title(l, p);
	l->limit = p->limit;
	print_blocks(l, p);
	return flush(l);
}

static enum bad line_tell(struct surface *s, const struct page *p)
{
	struct line *l = line_of(s);
	look_at_width(l);
	print_blocks(l, p);
	return flush(l);
}

/* ---- reading ------------------------------------------------------------------------------- */

static bool is_time_over(const struct line *l)
{
	return limit_is_over(&l->limit, clock_boot());
}

/* Fills the buffer; `ended` when there is nothing more. Nothing is read when the time is over. */
static enum bad read_more(struct line *l)
{
	int64_t until = limit_is_set(&l->limit) ? l->limit.over_ms : INT64_MAX;
	while (!surface_stop && !is_time_over(l)) {
		int ms = signals_ms_until(until);
		if (signals_wait(l->options.in, ms, NULL, NULL) != WAKE_READY)
			continue;
		ssize_t n = read(l->options.in, l->read, sizeof l->read);
		if (n > 0) {
			l->at = 0;
			l->end = (size_t)n;
			return FINE;
		}
		if (n < 0 && (errno == EINTR || errno == EAGAIN))
			continue;
		l->ended = true;
		return n == 0 || errno == EIO || errno == EBADF || errno == ENXIO ? FINE : BAD_IO;
	}
	l->ended = surface_stop != 0;
	return FINE;
}

/* One line without its line end; what does not fit is skipped. *len 0 and `ended` at the end; `late` with
 * what was typed so far when the time is over. */
static enum bad read_line(struct line *l, char line[static LINE_ROOM], size_t *len)
{
	size_t n = 0;
	enum bad code = FINE;
	l->late = false;
	while (!code) {
		if (l->at == l->end) {
			code = read_more(l);
			if (code || l->ended)
				break;
			l->late = l->at == l->end;
			if (l->late)
				break;
		}
		char c = l->read[l->at++];
		if (c == '\n' && !l->skip)
			break;
		if (l->skip)
			l->skip = c != '\n';
		else if (n < LINE_ROOM)
			line[n++] = c;
	}
	l->skip |= l->late && n;
	*len = n && n < LINE_ROOM && line[n - 1] == '\r' ? n - 1 : n;
	return code;
}

/* ---- asking -------------------------------------------------------------------------------- */

/* "  2  word  Title - note", the words in a column of `width`. */
static void print_choice(struct line *l, size_t number, const struct choice *c, size_t width)
{
	struct text lead;
	text_init(&lead);
	text_addf(&lead, "%3zu  ", number);
	if (width) {
		size_t from = lead.len;
		add_safe(l, &lead, c->word ? c->word : "", false);
		if (lead.len - from < width)
			text_add_repeat(&lead, ' ', width - (lead.len - from));
		text_add(&lead, "  ");
	}
	const char *dash = c->note && *c->note ? " - " : NULL;
	print_words(l, lead.at, lead.len, c->title, dash, dash ? c->note : NULL);
	if (lead.out)
		l->pending.out = true;
	text_release(&lead);
}

/* 0: all words are the titles already, and need not be said twice. */
static size_t words_width(const struct question *q)
{
	size_t width = 0;
	bool said = true;
	for (size_t i = 0; i < q->nchoice; i++) {
		const struct choice *c = &q->choice[i];
		size_t len = c->word ? strlen(c->word) : 0;
		said &= !len || (len == strlen(c->title) && text_is_same(c->word, c->title, len));
		width = len > width ? len : width;
	}
	return said ? 0 : width;
}

static void print_choices(struct line *l, const struct question *q)
{
	size_t width = words_width(q);
	for (size_t i = 0; i < q->nchoice; i++)
		print_choice(l, question_number(q, i), &q->choice[i],
			width < WORD_COLUMNS ? width : WORD_COLUMNS);
}

static void print_prompt(struct line *l, const struct question *q)
{
	const char *prompt = q->prompt && *q->prompt ? q->prompt : NULL;
	if (!prompt && q->kind == ASK_GO)
		prompt = "Press Enter to go on.";
	struct text text;
	text_init(&text);
	if (prompt)
		add_safe(l, &text, prompt, true);
	text_fill(text.at, text.len);
	if (q->unit && *q->unit) {
		text_add(&text, " (in ");
		struct text unit;
		text_init(&unit);
		unit_add_printed(q->unit, strlen(q->unit), &unit);
		add_safe(l, &text, unit.at, false);
		text.out |= unit.out;
		text_release(&unit);
		text_add(&text, ")");
	}
	if (text.len || text.out)
		print_wrapped(l, "", 0, &text);
	text_release(&text);
}

/* Enter alone takes a kept text, since a field that starts with it cannot be shown; never one that was
 * refused just now. */
static bool takes_kept(const struct question *q)
{
	return q->kind == ASK_LINE && q->kept && *q->kept && !(q->fault && *q->fault);
}

static void print_offers(struct line *l, const struct question *q)
{
	const char *words = q->words ? q->words : "";
	if (*words && strncmp(words, l->words, sizeof l->words - 1) != 0)
		print_words(l, "", 2, "Also: ", words, NULL);
	snprintf(l->words, sizeof l->words, "%s", words);
	if (takes_kept(q))
		print_words(l, "", 2, "Enter alone takes: ", q->kept, NULL);
	if (!l->explained)
		print_words(l, "", 0, "(Type and press Enter. Also: back, leave, or ? for help.)",
			NULL, NULL);
	l->explained = true;
}

static void print_fault(struct line *l, const char *fault)
{
	print_words(l, "", 2, "Not taken: ", fault, NULL);
}

static void print_question(struct line *l, const struct question *q)
{
	char warning[LIMIT_WORDS];
	print_gap(l);
	if (limit_warns(&l->warner, &l->limit, clock_boot(), warning))
		print_words(l, "", 0, warning, NULL, NULL);
	if (q->fault && *q->fault)
		print_fault(l, q->fault);
	print_prompt(l, q);
	if (q->kind == ASK_CHOICE)
		print_choices(l, q);
	print_offers(l, q);
}

static void print_help(struct line *l, const struct question *q)
{
	static const char *const own[] = {
		[ASK_LINE] = "an answer, and Enter",
		[ASK_CHOICE] = "the number or the word of a line of the list, and Enter",
		[ASK_GO] = "Enter alone: go on",
	};
	print_gap(l);
	print_words(l, "", 0, "What can be typed here:", NULL, NULL);
	print_words(l, "- ", 2, own[q->kind], NULL, NULL);
	if (q->words && *q->words)
		print_words(l, "- ", 2, q->words, NULL, NULL);
	for (size_t i = 0; i < SPOKEN_COUNT; i++)
		print_words(
			l, "- ", 2, spoken_word((enum spoken)i), ": ", spoken_text((enum spoken)i));
}

/* The transcript: what came from a file or a pipe stands where a person would have typed it. */
static void print_typed(struct line *l, const char *line, size_t len)
{
	if (l->in_terminal)
		return;
	charset_add(&l->pending, line, len, false, l->utf8);
	text_add_char(&l->pending, '\n');
}

static bool is_over(const struct line *l)
{
	return surface_stop || l->gone || l->ended;
}

/* Prompts once and reads one line; *len 0 and is_over when there is none. */
static enum bad prompt_and_read(struct line *l, char line[static LINE_ROOM], size_t *len)
{
	text_add(&l->pending, "> ");
	enum bad code = flush(l);
	*len = 0;
	if (!code && !is_over(l))
		code = read_line(l, line, len);
	if (!code && !surface_stop && !l->gone)
		print_typed(l, line, *len);
	return code;
}

static enum heard hear(const struct question *q, const char *line, size_t len, struct reply *out,
	const char **fault)
{
	if (!len && takes_kept(q))
		return hear_line(q, q->kept, strlen(q->kept), out, fault);
	return hear_line(q, line, len, out, fault);
}

static enum bad answer_lost(struct line *l, struct reply *out)
{
	*out = (struct reply){.kind = REPLY_LOST};
	if (l->in_terminal) /* the prompt, perhaps with ^C, stands on this line */
		text_add_char(&l->pending, '\n');
	return flush(l);
}

/* What was typed and not sent off is handed out too; a terminal holds it back, and lets go of it. */
static enum bad answer_time(
	struct line *l, const struct question *q, const char *line, size_t len, struct reply *out)
{
	static const struct question any = {.kind = ASK_LINE};
	const char *fault;
	bool is_text = q->kind == ASK_LINE && len &&
		       hear_line(&any, line, len, out, &fault) == HEARD_REPLY &&
		       out->kind == REPLY_TEXT;
	if (!is_text)
		*out = (struct reply){0};
	out->kind = REPLY_TIME;
	if (l->in_terminal) {
		tcflush(l->options.in, TCIFLUSH);
		text_add_char(&l->pending, '\n');
	}
	return flush(l);
}

static enum bad line_ask(struct surface *s, const struct question *q, struct reply *out)
{
	struct line *l = line_of(s);
	char line[LINE_ROOM];
	look_at_width(l);
	print_question(l, q);
	for (;;) {
		size_t len;
		const char *fault;
		enum bad code = prompt_and_read(l, line, &len);
		if (code)
			return code;
		if (surface_stop || l->gone || (l->ended && !len))
			return answer_lost(l, out);
		if (l->late)
			return answer_time(l, q, line, len, out);
		switch (hear(q, line, len, out, &fault)) {
		case HEARD_REPLY:
			return flush(l);
		case HEARD_HELP:
			print_help(l, q);
			print_question(l, q);
			break;
		case HEARD_FAULT:
			print_fault(l, fault);
			break;
		}
	}
}

/* ---- opening ------------------------------------------------------------------------------- */

struct surface *line_open(const struct line_options *options)
{
	static const struct surface_ops ops = {line_show, line_tell, line_ask};
	struct line *l = mem_get(sizeof *l);
	if (!l)
		return NULL;
	*l = (struct line){
		.surface = {.ops = &ops, .decimal = charset_decimal()},
		.options = *options,
		.utf8 = charset_is_utf8() && !options->ascii,
		.in_terminal = isatty(options->in),
	};
	text_init(&l->pending);
	look_at_width(l);
	return &l->surface;
}

void line_close(struct surface *s)
{
	if (!s)
		return;
	text_release(&line_of(s)->pending);
	mem_drop(s);
}
