/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plain surface, text in and text out: each test gives what is typed and compares the whole
 * transcript. */
#include "near.h"

#include <fcntl.h>
#include <locale.h>
#include <poll.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <unistd.h>

#include <barwright/base/bad.h>
#include <barwright/base/clock.h>
#include <barwright/base/mem.h>
#include <barwright/base/text.h>

#include "line/line.h"
#include "surface/signals.h"

static struct arena arena;

/* ---- a session: input given as text, output collected ---------------------------------------- */

struct session {
	struct surface *surface;
	int in, out;
};

static int file_of(const char *bytes, size_t len)
{
	char name[] = "/tmp/barwright-line-XXXXXX";
	int fd = mkstemp(name);
	assert_true(fd >= 0);
	unlink(name);
	assert_int_equal(write(fd, bytes, len), len);
	lseek(fd, 0, SEEK_SET);
	return fd;
}

static struct session session_with(const char *typed, size_t len, struct line_options o)
{
	struct session s = {.in = file_of(typed, len), .out = file_of("", 0)};
	o.in = s.in;
	o.out = s.out;
	s.surface = line_open(&o);
	assert_non_null(s.surface);
	return s;
}

static struct session session(const char *typed)
{
	return session_with(typed, strlen(typed), (struct line_options){0});
}

static void session_says(struct session *s, const char *why, const char *want)
{
	char got[32768];
	lseek(s->out, 0, SEEK_SET);
	ssize_t n = read(s->out, got, sizeof got - 1);
	assert_true(n >= 0);
	got[n] = '\0';
	if (strcmp(got, want) != 0)
		fail_msg("%s: want\n%s\ngot\n%s", why, want, got);
}

static void session_end(struct session *s)
{
	line_close(s->surface);
	close(s->in);
	close(s->out);
	surface_stop = 0;
	arena_release(&arena);
}

static struct reply ask(struct session *s, struct question q)
{
	struct reply r = {0};
	code_is(surface_ask(s->surface, &q, &r), FINE);
	return r;
}

static void reply_is(struct reply got, enum reply_kind kind, const char *text)
{
	assert_int_equal(got.kind, kind);
	assert_string_equal(got.text, text);
}

/* ---- pages ----------------------------------------------------------------------------------- */

static const char *arch_words[] = {"five sites from 45 to 35", "the spread is 8.0 mm"};

static void fill_page(struct page *p)
{
	page_init(p, &arena, "Space for the bar", "task 3");
	page_add(p, BLOCK_TEXT,
		"The bar's underside stands above the tissue by the clearance; what is left below "
		"the matrix is for the bar, the opaque, the resin and the teeth.\n\nA second "
		"paragraph.");
	page_add(p, BLOCK_HEADING, "Measured");
	page_row(p, "Tissue", "%s", "2.5 mm");
	page_row(p, "Matrix:", "%s", "14.2 mm");
	page_add(p, BLOCK_ITEM, "one thing");
	page_add(p, BLOCK_ITEM,
		"another thing which is long enough to be wrapped at the width of seventy-eight "
		"columns");
	page_add(p, BLOCK_EXACT, "a = b + c\n  + d");
	page_add(p, BLOCK_CAUTION, "Laminate dust harms the lungs: work with extraction.");
	page_add(p, BLOCK_GOOD, "4.5 mm fits");
	page_add(p, BLOCK_BAD, "5.0 mm does not");
	struct canvas *c = canvas_new(&arena, 2, 9);
	canvas_line(c, 0, 0, 0, 8, 0x2500, INK_WORK);
	canvas_text(c, 1, 0, "45 ≤ 35", INK_PLAIN);
	struct figure *f = arena_new(&arena, struct figure);
	*f = (struct figure){"The arch from below", c, arch_words, 2};
	page_figure(p, f);
}

#define PAGE_HEAD \
	"Space for the bar (task 3)\n" \
	"\n" \
	"The bar's underside stands above the tissue by the clearance; what is left\n" \
	"below the matrix is for the bar, the opaque, the resin and the teeth.\n" \
	"\n" \
	"A second paragraph.\n" \
	"\n" \
	"Measured\n" \
	"Tissue: 2.5 mm\n" \
	"Matrix: 14.2 mm\n" \
	"\n" \
	"- one thing\n" \
	"- another thing which is long enough to be wrapped at the width of\n" \
	"  seventy-eight columns\n" \
	"\n" \
	"  a = b + c\n" \
	"    + d\n" \
	"\n" \
	"Caution: Laminate dust harms the lungs: work with extraction.\n" \
	"\n" \
	"[ok] 4.5 mm fits\n" \
	"\n" \
	"[not ok] 5.0 mm does not\n" \
	"\n" \
	"Figure: The arch from below\n"
#define PAGE_WORDS \
	"- five sites from 45 to 35\n" \
	"- the spread is 8.0 mm\n"

static void every_kind_of_block_is_printed(void **state)
{
	(void)state;
	static const struct {
		const char *why;
		struct line_options options;
		const char *want;
	} cases[] = {
		{"UTF-8", {0}, PAGE_HEAD "─────────\n45 ≤ 35\nIn words:\n" PAGE_WORDS},
		{"ASCII", {.ascii = true}, PAGE_HEAD "---------\n45 < 35\nIn words:\n" PAGE_WORDS},
		{"words only", {.words_only = true}, PAGE_HEAD PAGE_WORDS},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct session s = session_with("", 0, cases[i].options);
		struct page p;
		fill_page(&p);
		code_is(surface_show(s.surface, &p), FINE);
		session_says(&s, cases[i].why, cases[i].want);
		session_end(&s);
	}
}

static void locale_without_utf8_gives_ascii(void **state)
{
	(void)state;
	setlocale(LC_CTYPE, "C");
	struct session s = session("\xc3\xa9\n");
	struct page p;
	page_init(&p, &arena, "Höhe ≤ 3 µm", NULL);
	page_add(&p, BLOCK_TEXT, "30° – Ø 4,1 × 2 → σ = 400 MPa, 12 mm², 中");
	code_is(surface_show(s.surface, &p), FINE);
	reply_is(ask(&s, (struct question){.kind = ASK_LINE, .prompt = "Höhe"}), REPLY_TEXT, "é");
	session_says(&s, "C locale",
		"Hohe <= 3 um\n\n30 deg - O 4,1 * 2 -> sigma = 400 MPa, 12 mm^2, <U+4E2D>\n\nHohe\n"
		"(Type and press Enter. Also: back, leave, or ? for help.)\n> e\n");
	session_end(&s);
	setlocale(LC_CTYPE, "C.UTF-8");
}

static void strangers_bytes_print_harmlessly(void **state)
{
	(void)state;
	struct session s = session("\x1b]0;x\x07\n");
	struct page p;
	page_init(&p, &arena, "\x1b[2Jtitle\n",
		"\x9b"
		"1m");
	page_add_text(&p, BLOCK_EXACT,
		"a\x1b[31m\nb\xE2\x80\xAE"
		"c\rd",
		15);
	page_row(&p, "\x07", "\x08%s", "\xff");
	struct choice c = {"\x1b[0m", "\x1b[7m", "\x1b[5m"};
	code_is(surface_show(s.surface, &p), FINE);
	ask(&s, (struct question){.kind = ASK_CHOICE,
			.prompt = "\x1b[H",
			.choice = &c,
			.nchoice = 1,
			.unit = "\x1bm",
			.words = "\x1bw",
			.fault = "\x1b"
				 "f"});
	char got[4096];
	lseek(s.out, 0, SEEK_SET);
	ssize_t n = read(s.out, got, sizeof got);
	assert_true(n > 200);
	for (ssize_t i = 0; i < n; i++)
		if (((unsigned char)got[i] < 0x20 && got[i] != '\n') ||
			(unsigned char)got[i] >= 0x7F)
			fail_msg(
				"byte %02x at %zd of\n%.*s", (unsigned char)got[i], i, (int)n, got);
	session_end(&s);
}

static void lines_keep_to_the_width_asked(void **state)
{
	(void)state;
	struct session s = session_with("", 0, (struct line_options){.columns = 30});
	struct page p;
	page_init(&p, &arena, "A title that is wider than thirty", "so is this");
	page_add(&p, BLOCK_ITEM, "%s", "wrapped with its sign and hanging");
	page_row(&p, "A label of some length", "%s", "and what stands opposite");
	page_add(&p, BLOCK_EXACT, "this line is kept as it is, whatever the width");
	assert_int_equal(s.surface->columns, 30);
	code_is(surface_show(s.surface, &p), FINE);
	session_says(&s, "30 columns",
		"A title that is wider than\nthirty (so is this)\n\n"
		"- wrapped with its sign and\n  hanging\n\n"
		"A label of some length: and\n  what stands opposite\n\n"
		"  this line is kept as it is, whatever the width\n");
	session_end(&s);
}

static void told_blocks_follow_what_was_shown(void **state)
{
	(void)state;
	struct session s = session("");
	struct page p, more;
	page_init(&p, &arena, "One", NULL);
	page_add(&p, BLOCK_TEXT, "first");
	page_init(&more, &arena, "not used", NULL);
	page_add(&more, BLOCK_GOOD, "second");
	code_is(surface_show(s.surface, &p), FINE);
	code_is(surface_tell(s.surface, &more), FINE);
	page_init(&p, &arena, "Two", NULL);
	code_is(surface_show(s.surface, &p), FINE);
	session_says(&s, "order", "One\n\nfirst\n\n[ok] second\n\nTwo\n");
	session_end(&s);
}

/* ---- asking ---------------------------------------------------------------------------------- */

static const struct choice menu[] = {
	{"drill", "Practise generated problems", "about ten minutes"},
	{"learn", "Read lessons", NULL},
	{"work", "Run a case", ""},
};
static const struct question menu_question = {
	.kind = ASK_CHOICE, .prompt = "What next?", .choice = menu, .nchoice = 3};
#define MENU \
	"What next?\n" \
	"  1  drill  Practise generated problems - about ten minutes\n" \
	"  2  learn  Read lessons\n" \
	"  3  work   Run a case\n"
#define ONCE "(Type and press Enter. Also: back, leave, or ? for help.)\n"

static void answers_are_taken_and_faults_are_named(void **state)
{
	(void)state;
	struct session s = session("4\nlearn\n\n 4.5 m \n\n4.5 mm\n\n\n");
	struct question thickness = {.kind = ASK_LINE,
		.prompt = "Thickness of the bar",
		.unit = "mm",
		.words = "refer, show, skip"};
	struct reply r = ask(&s, menu_question);
	assert_int_equal(r.kind, REPLY_CHOICE);
	assert_int_equal(r.choice, 1);
	reply_is(ask(&s, thickness), REPLY_TEXT, "4.5 m");
	thickness.fault = "4.5 m is far too long";
	thickness.kept = "4.5 m"; /* refused: Enter alone does not take it again */
	reply_is(ask(&s, thickness), REPLY_TEXT, "4.5 mm");
	thickness.fault = NULL;
	thickness.kept = "4.5 mm";
	reply_is(ask(&s, thickness), REPLY_TEXT, "4.5 mm");
	reply_is(ask(&s, (struct question){.kind = ASK_GO}), REPLY_GO, "");
	reply_is(ask(&s, (struct question){.kind = ASK_GO}), REPLY_LOST, "");
	reply_is(ask(&s, (struct question){.kind = ASK_GO}), REPLY_LOST, "");
	session_says(&s, "transcript",
		MENU ONCE
		"> 4\nNot taken: that is neither a number nor a word of the list\n> learn\n\n"
		"Thickness of the bar (in mm)\nAlso: refer, show, skip\n> \n"
		"Not taken: nothing was typed\n>  4.5 m \n\n"
		"Not taken: 4.5 m is far too long\nThickness of the bar (in mm)\n> \n"
		"Not taken: nothing was typed\n> 4.5 mm\n\n"
		"Thickness of the bar (in mm)\nEnter alone takes: 4.5 mm\n> \n\n"
		"Press Enter to go on.\n> \n\n"
		"Press Enter to go on.\n> \n\n"
		"Press Enter to go on.\n> \n");
	session_end(&s);
}

static void back_leave_and_help_are_words(void **state)
{
	(void)state;
	struct session s = session("?\nback\nleave\n");
	struct question q = menu_question;
	q.words = "hint";
	reply_is(ask(&s, q), REPLY_BACK, "");
	reply_is(ask(&s, (struct question){.kind = ASK_LINE, .prompt = "X"}), REPLY_LEAVE, "");
	session_says(&s, "words",
		MENU "Also: hint\n" ONCE "> ?\n\nWhat can be typed here:\n"
		     "- the number or the word of a line of the list, and Enter\n"
		     "- hint\n"
		     "- back: go back one page\n"
		     "- leave: leave the program\n"
		     "- ?: say what can be typed here\n\n" MENU "> back\n\nX\n> leave\n");
	session_end(&s);
}

static void last_line_without_line_end_counts(void **state)
{
	(void)state;
	struct session s = session("3.5");
	struct question q = {.kind = ASK_LINE, .prompt = "X"};
	reply_is(ask(&s, q), REPLY_TEXT, "3.5");
	reply_is(ask(&s, q), REPLY_LOST, "");
	session_end(&s);
}

/* A page that allows 60 ms, and one that allows any time. */
static void show_limited(struct session *s, int64_t ms, int64_t whole_ms)
{
	struct page p;
	page_init(&p, &arena, "Task", "1 of 3");
	if (ms)
		p.limit = (struct limit){clock_boot() + ms, whole_ms};
	code_is(surface_show(s->surface, &p), FINE);
}

static void when_the_time_is_over_the_waiting_ends(void **state)
{
	(void)state;
	int typed[2];
	assert_int_equal(pipe(typed), 0);
	struct session s = {.in = typed[0], .out = file_of("", 0)};
	s.surface = line_open(&(struct line_options){.in = s.in, .out = s.out});
	struct question q = {.kind = ASK_LINE, .prompt = "X"};
	show_limited(&s, 60, 600000);
	assert_int_equal(write(typed[1], "12", 2), 2);
	reply_is(ask(&s, q), REPLY_TIME, "12");
	show_limited(&s, 0, 0);
	assert_int_equal(write(typed[1], ".5\nnext\n", 8), 8);
	reply_is(ask(&s, q), REPLY_TEXT, "next");
	session_says(&s, "time",
		"Task (1 of 3, 1 s left)\n\nX\n" ONCE "> 12\n\nTask (1 of 3)\n\nX\n> next\n");
	session_end(&s);
	close(typed[1]);
}

static void a_warning_stands_before_the_next_prompt(void **state)
{
	(void)state;
	struct session s = session("a\nb\nc\n");
	struct question q = {.kind = ASK_LINE, .prompt = "X"};
	show_limited(&s, 15300, 60000);
	int64_t until = clock_boot() + 400;
	ask(&s, q);
	while (clock_boot() < until)
		poll(NULL, 0, 20);
	ask(&s, q);
	ask(&s, q);
	session_says(&s, "warning",
		"Task (1 of 3, 16 s left)\n\nX\n" ONCE
		"> a\n\nThe last 15 s have begun. What is not given before the end does not "
		"count.\nX\n> b\n\nX\n> c\n");
	session_end(&s);
}

static void odd_input_is_refused_and_asked_again(void **state)
{
	(void)state;
	static char typed[70000];
	size_t len = 0;
	memset(typed, 'x', 66000); /* far longer than any buffer */
	len = 66000;
	static const char rest[] = "\na\0b\nPr\xfc"
				   "f\n\x1b[A\nfine\r\n";
	memcpy(typed + len, rest, sizeof rest - 1);
	len += sizeof rest - 1;
	struct session s = session_with(typed, len, (struct line_options){0});
	reply_is(ask(&s, (struct question){.kind = ASK_LINE, .prompt = "X"}), REPLY_TEXT, "fine");
	char got[4096] = "", *at = got;
	lseek(s.out, 0, SEEK_SET);
	assert_true(read(s.out, got, sizeof got - 1) > 0);
	static const char *const wanted[] = {"Not taken: that is too long",
		"a<U+0000>b\nNot taken: ", "Pr<FC>f\nNot taken: that is not UTF-8",
		"<U+001B>[A\nNot taken: ", "> fine\n"};
	for (size_t i = 0; i < sizeof wanted / sizeof *wanted; i++) {
		at = strstr(at, wanted[i]);
		if (!at)
			fail_msg("\"%s\" is not there, or not in its place:\n%s", wanted[i], got);
	}
	session_end(&s);
}

/* ---- when something breaks ------------------------------------------------------------------- */

static void stop_signal_ends_the_waiting(void **state)
{
	(void)state;
	signals_install();
	int pipes[2];
	assert_int_equal(pipe(pipes), 0);
	int out = file_of("", 0);
	struct surface *s = line_open(&(struct line_options){.in = pipes[0], .out = out});
	pid_t child = fork();
	if (child == 0) {
		usleep(50 * 1000);
		kill(getppid(), SIGTERM);
		_exit(0);
	}
	struct reply r = {0};
	code_is(surface_ask(s, &(struct question){.kind = ASK_GO}, &r), FINE);
	assert_int_equal(r.kind, REPLY_LOST);
	assert_int_equal(surface_stop, SIGTERM);
	surface_stop = 0;
	line_close(s);
	close(pipes[0]);
	close(pipes[1]);
	close(out);
}

static void closed_pipe_is_quiet_and_ends_the_session(void **state)
{
	(void)state;
	signals_install();
	int pipes[2];
	assert_int_equal(pipe(pipes), 0);
	close(pipes[0]);
	int in = file_of("1\n", 2);
	struct surface *s = line_open(&(struct line_options){.in = in, .out = pipes[1]});
	struct page p;
	page_init(&p, &arena, "T", NULL);
	code_is(surface_show(s, &p), FINE);
	struct reply r = {0};
	code_is(surface_ask(s, &menu_question, &r), FINE);
	assert_int_equal(r.kind, REPLY_LOST);
	line_close(s);
	close(in);
	close(pipes[1]);
	arena_release(&arena);
}

static void full_disk_is_said(void **state)
{
	(void)state;
	int full = open("/dev/full", O_WRONLY), nowhere = open("/dev/null", O_RDONLY);
	assert_true(full >= 0);
	struct surface *s = line_open(&(struct line_options){.in = nowhere, .out = full});
	struct page p;
	struct reply r = {.kind = REPLY_BACK};
	page_init(&p, &arena, "T", NULL);
	code_is(surface_show(s, &p), BAD_FULL);
	code_is(surface_tell(s, &p), FINE);
	code_is(surface_ask(s, &menu_question, &r), BAD_FULL);
	assert_int_equal(r.kind, REPLY_BACK);
	line_close(s);
	s = line_open(&(struct line_options){.in = nowhere, .out = nowhere});
	code_is(surface_show(s, &p), BAD_IO);
	line_close(s);
	close(full);
	close(nowhere);
	arena_release(&arena);
}

static void file_size_limit_counts_as_a_full_disk(void **state)
{
	(void)state;
	signals_install();
	struct rlimit usual, tight = {64, 64};
	getrlimit(RLIMIT_FSIZE, &usual);
	tight.rlim_max = usual.rlim_max;
	struct session s = session("");
	struct page p;
	fill_page(&p);
	setrlimit(RLIMIT_FSIZE, &tight);
	enum bad code = surface_show(s.surface, &p);
	setrlimit(RLIMIT_FSIZE, &usual);
	code_is(code, BAD_FULL);
	session_end(&s);
}

static void folder_as_input_is_an_error(void **state)
{
	(void)state;
	int in = open("/", O_RDONLY), out = file_of("", 0);
	struct surface *s = line_open(&(struct line_options){.in = in, .out = out});
	struct reply r;
	code_is(surface_ask(s, &menu_question, &r), BAD_IO);
	line_close(s);
	close(in);
	close(out);
}

static void missing_memory_is_never_a_silent_gap(void **state)
{
	(void)state;
	for (unsigned long n = 1; n < 400; n++) {
		struct session s = {.in = file_of("2\n", 2), .out = file_of("", 0)};
		struct page p;
		struct reply r = {.kind = REPLY_LOST};
		fill_page(&p);
		mem_fail_at(n, 0);
		s.surface = line_open(&(struct line_options){.in = s.in, .out = s.out});
		enum bad shown = s.surface ? surface_show(s.surface, &p) : BAD_MEMORY;
		enum bad asked =
			s.surface ? surface_ask(s.surface, &menu_question, &r) : BAD_MEMORY;
		int failed = mem_failed();
		mem_fail_at(0, 0);
		if (failed && !shown && !asked)
			fail_msg("request %lu failed and nobody said so", n);
		if (!failed) {
			assert_int_equal(r.choice, 1);
			assert_true(n > 20);
		}
		session_end(&s);
		if (!failed)
			return;
	}
	fail_msg("the end was not reached");
}

int main(void)
{
	setlocale(LC_CTYPE, "C.UTF-8");
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(every_kind_of_block_is_printed),
		cmocka_unit_test(locale_without_utf8_gives_ascii),
		cmocka_unit_test(strangers_bytes_print_harmlessly),
		cmocka_unit_test(lines_keep_to_the_width_asked),
		cmocka_unit_test(told_blocks_follow_what_was_shown),
		cmocka_unit_test(answers_are_taken_and_faults_are_named),
		cmocka_unit_test(back_leave_and_help_are_words),
		cmocka_unit_test(last_line_without_line_end_counts),
		cmocka_unit_test(when_the_time_is_over_the_waiting_ends),
		cmocka_unit_test(a_warning_stands_before_the_next_prompt),
		cmocka_unit_test(odd_input_is_refused_and_asked_again),
		cmocka_unit_test(stop_signal_ends_the_waiting),
		cmocka_unit_test(closed_pipe_is_quiet_and_ends_the_session),
		cmocka_unit_test(full_disk_is_said),
		cmocka_unit_test(file_size_limit_counts_as_a_full_disk),
		cmocka_unit_test(folder_as_input_is_an_error),
		cmocka_unit_test(missing_memory_is_never_a_silent_gap),
	};
	return cmocka_run_group_tests_name("line", tests, NULL, NULL);
}
