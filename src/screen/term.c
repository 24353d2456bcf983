/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "screen/term.h"

#include <poll.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <termios.h>
#include <unistd.h>

#include <barwright/base/clock.h>
#include <barwright/base/mem.h>
#include <barwright/base/utf8.h>

#include "screen/curses_door.h"
#include "screen/terminfo.h"
#include "surface/charset.h"
#include "surface/signals.h"

struct term {
	SCREEN *screen;
	attr_t attributes[INK_ALL];
	short pair[INK_ALL];
	bool pasting;    /* between the marks of a paste */
	char partial[4]; /* the bytes of a letter that has not come whole */
	size_t npartial;
	int silent; /* times the terminal was ready and had nothing: it is gone */
};

enum { ESCAPE_MS = 25, PASTE_MS = 1000, SILENT_MOST = 5, SILENT_MS = 20, REPAIR_ROOM = 256 };
enum { SKIP_BYTES = 128 }; /* no more than ungetch takes back */
/* Beyond what ncurses uses itself. */
enum { KEY_PASTE_BEGIN = KEY_MAX + 1, KEY_PASTE_END };

/* ---- giving the terminal back in a crash ---------------------------------------------------- */

static struct termios usual_modes;
static char farewell[REPAIR_ROOM];
static size_t farewell_len;

static void crash_restore(void)
{
	ssize_t written = write(STDOUT_FILENO, farewell, farewell_len);
	(void)written; /* whatever became of it, the modes are given back */
	tcsetattr(STDIN_FILENO, TCSANOW, &usual_modes);
}

/* ---- colours -------------------------------------------------------------------------------- */

static bool is_set(const char *name)
{
	const char *value = getenv(name);
	return value && *value;
}

static bool is_zero(const char *name)
{
	const char *value = getenv(name);
	return value && strcmp(value, "0") == 0;
}

/* no-color.org; then CLICOLOR_FORCE over CLICOLOR. */
static bool wants_colour(void)
{
	if (is_set("NO_COLOR"))
		return false;
	if (is_set("CLICOLOR_FORCE") && !is_zero("CLICOLOR_FORCE"))
		return true;
	return !is_zero("CLICOLOR");
}

/* Of 256: the xterm colours nearest to those of M. Okabe and K. Ito, "Color Universal Design" (2008),
 * which people with any colour vision tell apart; of 8: blue and cyan against yellow, never red
 * against green. Only marks are coloured, the text keeps the person's own colours. */
struct tint {
	int ink;
	short of_256, of_8;
};

static const struct tint tints[] = {
	{INK_WORK, 32, COLOR_CYAN},
	{INK_MARK, 166, COLOR_YELLOW},
	{INK_GOOD, 36, COLOR_BLUE},
	{INK_BAD, 166, COLOR_YELLOW},
	{INK_CAUTION, 214, COLOR_YELLOW},
};

static void open_colours(struct term *t)
{
	if (!wants_colour() || !has_colors() || start_color() == ERR ||
		use_default_colors() == ERR || COLORS < 8)
		return;
	t->attributes[INK_FAINT] = A_DIM;
	for (size_t i = 0; i < sizeof tints / sizeof *tints; i++) {
		short pair = (short)(i + 1);
		short colour = COLORS >= 256 ? tints[i].of_256 : tints[i].of_8;
		if (init_pair(pair, colour, -1) == OK)
			t->pair[tints[i].ink] = pair;
	}
}

static void open_attributes(struct term *t)
{
	static const int strong[] = {
		INK_STRONG, INK_MARK, INK_GOOD, INK_BAD, INK_CAUTION, INK_FOCUS};
	for (size_t i = 0; i < sizeof strong / sizeof *strong; i++)
		t->attributes[strong[i]] = A_BOLD;
	t->attributes[INK_FIELD] = A_UNDERLINE;
}

/* ---- opening and closing --------------------------------------------------------------------- */

static void send(const char *capability)
{
	const char *bytes = terminfo_bytes(capability);
	if (bytes) {
		putp(bytes);
		fflush(stdout);
	}
}

/* Pastes are marked, so that a line end in one does not send the answer. */
static void open_pastes(void)
{
	const char *begin = terminfo_bytes("PS"), *end = terminfo_bytes("PE");
	if (!begin || !end || !terminfo_bytes("BE"))
		return;
	define_key(begin, KEY_PASTE_BEGIN);
	define_key(end, KEY_PASTE_END);
	send("BE");
}

static void open_modes(void)
{
	cbreak();
	noecho();
	nonl();
	keypad(stdscr, TRUE);
	nodelay(stdscr, TRUE);
	set_escdelay(ESCAPE_MS);
}

static enum bad refuse(struct text *why, const char *words)
{
	text_add(why, words);
	return BAD_TERMINAL;
}

static enum bad check(struct text *why)
{
	if (!isatty(STDIN_FILENO))
		return refuse(why, "the standard input is not a terminal");
	if (!isatty(STDOUT_FILENO))
		return refuse(why, "the standard output is not a terminal");
	return terminfo_check(why);
}

enum bad term_open(struct term **out, struct text *why)
{
	enum bad code = check(why);
	if (code)
		return code;
	struct term *t = mem_get(sizeof *t);
	if (!t)
		return BAD_MEMORY;
	*t = (struct term){0};
	tcgetattr(STDIN_FILENO, &usual_modes);
	signals_note_suspend();
	use_env(FALSE); /* COLUMNS and LINES would hold against every resize */
	use_tioctl(TRUE);
	t->screen = newterm(NULL, stdout, stdin);
	if (!t->screen) {
		mem_drop(t);
		return refuse(why, "the terminal could not be opened");
	}
	open_modes();
	open_attributes(t);
	open_colours(t);
	farewell_len = terminfo_farewell(farewell, sizeof farewell);
	signals_before_crash(crash_restore);
	open_pastes();
	*out = t;
	return FINE;
}

void term_close(struct term *t)
{
	if (!t)
		return;
	send("BD");
	endwin();
	signals_before_crash(NULL);
	delscreen(t->screen);
	mem_drop(t);
}

struct look term_look(const struct term *t)
{
	(void)t;
	const char *kind = termname();
	bool utf8 = charset_is_utf8();
	/* The fonts of the Linux console have the lines but not the ticks. */
	return (struct look){.utf8 = utf8, .ticks = utf8 && strncmp(kind, "linux", 5) != 0};
}

void term_size(const struct term *t, int *rows, int *cols)
{
	(void)t;
	*rows = getmaxy(stdscr);
	*cols = getmaxx(stdscr);
}

/* ---- painting ------------------------------------------------------------------------------- */

/* Code points of one segment, as far as the line goes. */
static void paint_segment(const struct term *t, int row, const struct segment *s, int cols)
{
	wchar_t wide[64];
	int n = 0, col = s->col, at = s->col;
	attr_set(t->attributes[s->ink], t->pair[s->ink], NULL);
	for (size_t i = 0; i < s->len;) {
		uint32_t code;
		size_t len = utf8_read(s->text + i, s->len - i, &code);
		int taken = len ? utf8_columns(code) : -1;
		if (taken < 0 || col + taken > cols)
			break;
		wide[n++] = (wchar_t)code;
		col += taken;
		i += len;
		if (n < 64 && i < s->len)
			continue;
		mvaddnwstr(row, at, wide, n);
		at = col;
		n = 0;
	}
	if (n)
		mvaddnwstr(row, at, wide, n);
}

void term_paint(struct term *t, const struct frame *f)
{
	int rows, cols;
	term_size(t, &rows, &cols);
	werase(stdscr);
	for (int row = 0; row < rows && (size_t)row < f->rows.n; row++)
		for (const struct segment *s = f->rows.at[row].first; s; s = s->next)
			if (s->col >= 0)
				paint_segment(t, row, s, cols);
	attr_set(A_NORMAL, 0, NULL);
	wmove(stdscr, f->cursor_row < rows ? f->cursor_row : rows - 1,
		f->cursor_col < cols ? f->cursor_col : cols - 1);
	wnoutrefresh(stdscr);
	doupdate();
}

void term_forget(struct term *t)
{
	(void)t;
	clearok(curscr, TRUE);
}

/* ---- keys ----------------------------------------------------------------------------------- */

/* The rest of a key that ncurses does not know, or of a letter typed with Alt, goes unseen: it must
 * not count as Esc and letters. Returns false when the Esc stood alone. */
static bool swallow_sequence(void)
{
	int c = wgetch(stdscr);
	if (c == ERR)
		return false;
	if (c == 27 || c >= KEY_MIN) { /* another key, pressed at once after it */
		ungetch(c);
		return false;
	}
	if (c != '[' && c != 'O')
		return true;
	do
		c = wgetch(stdscr);
	while (c != ERR && c < 0x40);
	return true;
}

static uint32_t press_of_control(int c)
{
	switch (c) {
	case '\r':
	case '\n':
		return PRESS_ENTER;
	case '\t':
		return PRESS_TAB;
	case 27:
		return swallow_sequence() ? PRESS_NONE : PRESS_ESCAPE;
	case 8:
	case 127:
		return PRESS_RUB;
	case 'A' - 64:
		return PRESS_HOME;
	case 'E' - 64:
		return PRESS_END;
	case 'L' - 64:
		return PRESS_REPAINT;
	case 'U' - 64:
		return PRESS_CLEAR;
	case 'W' - 64:
		return PRESS_RUB_WORD;
	case 'C' - 64: /* where the terminal sends no SIGINT */
		return PRESS_INTERRUPT;
	default:
		return PRESS_NONE;
	}
}

static uint32_t press_of_key(struct term *t, int key)
{
	static const struct {
		int key;
		uint32_t press;
	} presses[] = {
		{KEY_ENTER, PRESS_ENTER},
		{KEY_UP, PRESS_UP},
		{KEY_DOWN, PRESS_DOWN},
		{KEY_LEFT, PRESS_LEFT},
		{KEY_RIGHT, PRESS_RIGHT},
		{KEY_PPAGE, PRESS_PAGE_UP},
		{KEY_NPAGE, PRESS_PAGE_DOWN},
		{KEY_HOME, PRESS_HOME},
		{KEY_END, PRESS_END},
		{KEY_BACKSPACE, PRESS_RUB},
		{KEY_DC, PRESS_DELETE},
		{KEY_BTAB, PRESS_TAB},
		{KEY_F(1), PRESS_F1},
		{KEY_HELP, PRESS_F1},
		{KEY_F(2), PRESS_F2},
		{KEY_RESIZE, PRESS_RESIZE},
	};
	if (key == KEY_PASTE_BEGIN || key == KEY_PASTE_END)
		t->pasting = key == KEY_PASTE_BEGIN;
	for (size_t i = 0; i < sizeof presses / sizeof *presses; i++)
		if (presses[i].key == key)
			return presses[i].press;
	return PRESS_NONE;
}

/* May more bytes still make these a letter? */
static bool is_begun(const char *bytes, size_t n)
{
	unsigned char first = (unsigned char)bytes[0];
	size_t want = first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : 2;
	for (size_t i = 1; i < n; i++)
		if (((unsigned char)bytes[i] & 0xC0) != 0x80)
			return false;
	return first >= 0xC2 && first <= 0xF4 && n < want;
}

/* ncurses' own reading of letters loses one whose bytes come apart; so bytes are put together here.
 * Faulty bytes are dropped. */
static uint32_t press_of_byte(struct term *t, int byte)
{
	uint32_t code;
	t->partial[t->npartial++] = (char)byte;
	while (t->npartial && !is_begun(t->partial, t->npartial)) {
		if (utf8_read(t->partial, t->npartial, &code)) {
			t->npartial = 0;
			return code;
		}
		memmove(t->partial, t->partial + 1, --t->npartial);
	}
	return PRESS_NONE;
}

static uint32_t press_of(struct term *t, int c)
{
	if (c >= KEY_MIN)
		return press_of_key(t, c);
	if (t->pasting && (c == '\n' || c == '\r' || c == '\t'))
		return ' ';
	if (c >= 0x20 && c != 127)
		return press_of_byte(t, c);
	return t->pasting ? (uint32_t)PRESS_NONE : press_of_control(c);
}

/* ---- waiting -------------------------------------------------------------------------------- */

/* The terminal's size when it is not the one ncurses has. */
static bool has_other_size(void *of)
{
	struct winsize *size = of;
	int rows, cols;
	term_size(NULL, &rows, &cols);
	return ioctl(STDIN_FILENO, TIOCGWINSZ, size) == 0 && size->ws_row && size->ws_col &&
	       (size->ws_row != rows || size->ws_col != cols);
}

static void come_back(struct term *t)
{
	reset_prog_mode();
	term_forget(t);
	doupdate();
	send("BE");
}

/* Where no shell waits (the program is all that runs in its window) the system does not stop it,
 * and nothing would continue it: it comes back by itself. */
static void suspend(struct term *t)
{
	send("BD");
	endwin();
	signals_suspend();
	signals_take_continue();
	come_back(t);
}

/* A terminal that is ready to be read and has nothing to read is gone, also where SIGHUP is
 * ignored; where it is not, the pause lets it come first. */
static bool has_gone(struct term *t, enum wake wake)
{
	int waiting = 0;
	if (wake != WAKE_READY || (ioctl(STDIN_FILENO, FIONREAD, &waiting) == 0 && waiting > 0)) {
		t->silent = 0;
		return false;
	}
	poll(NULL, 0, SILENT_MS);
	t->silent++;
	return t->silent >= SILENT_MOST;
}

/* What is to be done without a key: a press, or PRESS_NONE to go on waiting. */
static uint32_t press_of_news(struct term *t, int64_t until_ms)
{
	struct winsize size;
	if (signals_take_interrupt())
		return PRESS_INTERRUPT;
	if (surface_stop)
		return PRESS_LOST;
	if (signals_take_suspend())
		suspend(t);
	if (signals_take_continue())
		come_back(t);
	if (has_other_size(&size)) {
		resizeterm(size.ws_row, size.ws_col);
		return PRESS_RESIZE;
	}
	int ms = t->pasting ? PASTE_MS : signals_ms_until(until_ms);
	enum wake wake = signals_wait(STDIN_FILENO, ms, has_other_size, &size);
	if (wake == WAKE_TIME) /* the end mark of a paste was lost: Enter must work again */
		t->pasting = false;
	return has_gone(t, wake) ? (uint32_t)PRESS_LOST : (uint32_t)PRESS_NONE;
}

/* ncurses takes bytes one by one, which is slow for a whole file; it holds none of them back. What
 * stands behind the mark of the end goes back to it. */
void term_skip_paste(struct term *t)
{
	static const char mark[] = "\033[201~";
	char bytes[SKIP_BYTES];
	size_t matched = 0;
	t->npartial = 0;
	while (t->pasting) {
		enum wake wake = signals_wait(STDIN_FILENO, PASTE_MS, NULL, NULL);
		ssize_t n = wake == WAKE_READY ? read(STDIN_FILENO, bytes, sizeof bytes) : 0;
		if (n <= 0)
			return; /* term_press finds out why */
		for (ssize_t k = 0; k < n && t->pasting; k++) {
			matched = bytes[k] == mark[matched] ? matched + 1 : bytes[k] == mark[0];
			t->pasting = mark[matched] != 0;
			for (ssize_t back = n; !t->pasting && --back > k;)
				ungetch((unsigned char)bytes[back]);
		}
	}
}

bool term_has_more(const struct term *t)
{
	int waiting = 0;
	(void)t;
	return ioctl(STDIN_FILENO, FIONREAD, &waiting) == 0 && waiting > 0;
}

bool term_is_pasting(const struct term *t)
{
	return t->pasting;
}

uint32_t term_press(struct term *t, int64_t until_ms)
{
	for (;;) {
		int c = surface_stop ? ERR : wgetch(stdscr);
		if (c == ERR && !surface_stop && clock_boot() >= until_ms)
			return PRESS_NONE;
		uint32_t press = c == ERR ? press_of_news(t, until_ms) : press_of(t, c);
		if (press != PRESS_NONE)
			return press;
	}
}
