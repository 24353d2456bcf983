/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The full screen on a pseudo-terminal, seen through libvterm: what is shown, what each key does,
 * and that the terminal is given back whatever happens. The program under test is a function of this
 * file that shows pages and asks. */
#include "canvas_rows.h"
#include "pty.h"

#include <barwright/base/bad.h>
#include <barwright/base/clock.h>
#include <barwright/base/mem.h>
#include <barwright/base/text.h>

#include "screen/screen.h"
#include "surface/charset.h"
#include "surface/signals.h"

/* ---- the program under test ------------------------------------------------------------------ */

static const char *const reply_names[] = {"text", "choice", "go", "back", "leave", "time", "lost"};

struct stage {
	struct screen *screen;
	struct surface *surface;
	struct arena arena;
	struct text log; /* printed after the screen is closed */
};

static struct reply ask(struct stage *s, struct question q)
{
	struct reply r = {.kind = REPLY_LOST};
	enum bad code = surface_ask(s->surface, &q, &r);
	if (code)
		text_addf(&s->log, "ask failed: %s\n", bad_word(code));
	text_addf(&s->log, "reply %s <%s> %zu\n", reply_names[r.kind], r.text, r.choice);
	return r;
}

/* Runs a scene on a screen; the exit status is 3 when there is none, with the reason printed. */
static int on_screen(void (*scene)(struct stage *))
{
	struct stage s = {0};
	struct text why;
	text_init(&why);
	text_init(&s.log);
	charset_start();
	signals_install();
	enum bad code = screen_open(&s.screen, &why);
	if (code) {
		printf("refused: %s: %s\n", bad_word(code), why.at);
		fflush(stdout);
		return 3;
	}
	s.surface = screen_surface(s.screen);
	scene(&s);
	screen_close(s.screen);
	fputs(s.log.at, stdout);
	fflush(stdout);
	arena_release(&s.arena);
	text_release(&s.log);
	text_release(&why);
	signals_finish();
	return 0;
}

static const char *words[] = {"the bar stands 4.0 mm above the datum", "its height is asked for"};

static void add_figure(struct stage *s, struct page *p)
{
	struct canvas *c = canvas_new(&s->arena, 4, 30);
	canvas_box(c, 0, 0, 4, 30);
	canvas_fill(c, 1, 4, 1, 20, 0x2588, INK_WORK);
	canvas_text(c, 2, 4, "← 12.5 mm →", INK_MARK);
	struct figure *f = arena_new(&s->arena, struct figure);
	*f = (struct figure){"Section at 45", c, words, 2};
	page_figure(p, f);
}

static void show_task(struct stage *s)
{
	struct page p;
	page_init(&p, &s->arena, "Space for the bar", "task 3");
	page_add(&p, BLOCK_TEXT,
		"The underside of the bar stands above the tissue by the "
		"clearance. Measure at 45.");
	page_row(&p, "Tissue at 45", "%s", "2.5 mm");
	add_figure(s, &p);
	page_add(&p, BLOCK_CAUTION, "Laminate dust harms the lungs.");
	surface_show(s->surface, &p);
}

/* Asks for a thickness again and again, and tells what it heard. */
static void field_scene(struct stage *s)
{
	struct question q = {.kind = ASK_LINE,
		.prompt = "Thickness at 45",
		.unit = "mm",
		.words = "steps, skip"};
	char kept[REPLY_ROOM];
	show_task(s);
	for (;;) {
		struct reply r = ask(s, q);
		if (r.kind != REPLY_TEXT)
			return;
		struct page more;
		page_init(&more, &s->arena, "", NULL);
		page_add(&more, BLOCK_GOOD, "heard <%s>", r.text);
		surface_tell(s->surface, &more);
		bool fault = strcmp(r.text, "faulty") == 0;
		q.fault = fault ? "that is not a length" : NULL;
		snprintf(kept, sizeof kept, "%s", r.text);
		q.kept = fault ? kept : NULL;
	}
}

static void scale_scene(struct stage *s)
{
	static const struct choice levels[] = {{NULL, "excellent", "as planned"},
		{NULL, "competent", "one place off"}, {NULL, "below", "three places off"},
		{NULL, "unusable", "another form"}};
	struct question q = {.kind = ASK_CHOICE,
		.prompt = "Level?",
		.choice = levels,
		.nchoice = 4,
		.chosen = CHOICE_NONE,
		.is_scale = true};
	while (ask(s, q).kind == REPLY_CHOICE)
		continue;
}

/* Two questions on one page while its three seconds run, the second on another page. */
static void limit_scene(struct stage *s)
{
	struct question q = {.kind = ASK_LINE, .prompt = "Thickness at 45"};
	struct page p;
	struct limit limit = {clock_boot() + 3400, 8000};
	page_init(&p, &s->arena, "Task", "1 of 3");
	p.limit = limit;
	surface_show(s->surface, &p);
	ask(s, q);
	page_init(&p, &s->arena, "Another task", "2 of 3");
	p.limit = limit;
	surface_show(s->surface, &p);
	ask(s, q);
	page_init(&p, &s->arena, "The time is over", NULL);
	surface_show(s->surface, &p);
	ask(s, (struct question){.kind = ASK_GO});
}

static void list_scene(struct stage *s)
{
	static const struct choice choices[] = {
		{"drill", "Practise", "ten minutes"},
		{"learn", "Read a lesson", NULL},
		{"work", "Run a case", "with your own numbers"},
		{"d", "Fourth", NULL},
		{"e", "Fifth", NULL},
		{"f", "Sixth", NULL},
		{"g", "Seventh", NULL},
		{"h", "Eighth", NULL},
		{"i", "Ninth", NULL},
		{"j", "Tenth", NULL},
		{"k", "Eleventh", NULL},
		{"l", "Twelfth", NULL},
	};
	struct page p;
	page_init(&p, &s->arena, "Home", NULL);
	page_add(&p, BLOCK_TEXT, "A short page.");
	surface_show(s->surface, &p);
	struct question q = {.kind = ASK_CHOICE,
		.prompt = "What next?",
		.choice = choices,
		.nchoice = sizeof choices / sizeof *choices,
		.chosen = 1};
	while (ask(s, q).kind == REPLY_CHOICE)
		continue;
}

static void open_list_scene(struct stage *s)
{
	static const struct choice choices[] = {{"a", "First", NULL}, {"b", "Second", NULL}};
	struct page p;
	page_init(&p, &s->arena, "Home", NULL);
	surface_show(s->surface, &p);
	struct question q = {.kind = ASK_CHOICE,
		.prompt = "Which?",
		.choice = choices,
		.nchoice = 2,
		.chosen = CHOICE_NONE};
	while (ask(s, q).kind == REPLY_CHOICE)
		continue;
}

/* One of three letters is asked for, and what is kept is told. */
static void letter_scene(struct stage *s)
{
	show_task(s);
	s->surface->kept = "What you answered is recorded.";
	ask(s, (struct question){.kind = ASK_LINE,
		       .prompt = "Your answer",
		       .topic = "Which of the three?",
		       .nletter = 3});
}

static void long_scene(struct stage *s)
{
	struct page p;
	page_init(&p, &s->arena, "A lesson", "page 1");
	for (int i = 1; i <= 60; i++)
		page_add(&p, BLOCK_ITEM, "point number %d.", i);
	surface_show(s->surface, &p);
	while (ask(s, (struct question){.kind = ASK_GO}).kind == REPLY_GO) {
		struct page more;
		page_init(&more, &s->arena, "", NULL);
		page_add(&more, BLOCK_BAD, "told at the end");
		surface_tell(s->surface, &more);
	}
}

/* Runs out of stack, so that a handler without a stack of its own would not run either. */
static int deepen(volatile char *above, int n)
{
	volatile char here[4096];
	here[0] = above ? above[0] : 0;
	return n ? deepen(here, n + 1) + here[0] : 0;
}

static void crash_scene(struct stage *s)
{
	show_task(s);
	struct reply r = ask(s, (struct question){.kind = ASK_LINE, .prompt = "How to crash"});
	if (strcmp(r.text, "abort") == 0)
		abort();
	if (strcmp(r.text, "deep") == 0)
		exit(deepen(NULL, 1));
	raise(strcmp(r.text, "quit") == 0 ? SIGQUIT : SIGSEGV);
}

static int run_field(void *unused)
{
	(void)unused;
	return on_screen(field_scene);
}

static int run_scale(void *unused)
{
	(void)unused;
	return on_screen(scale_scene);
}

static int run_limit(void *unused)
{
	(void)unused;
	return on_screen(limit_scene);
}

static int run_list(void *unused)
{
	(void)unused;
	return on_screen(list_scene);
}

static int run_letter(void *unused)
{
	(void)unused;
	return on_screen(letter_scene);
}

static int run_open_list(void *unused)
{
	(void)unused;
	return on_screen(open_list_scene);
}

static int run_long(void *unused)
{
	(void)unused;
	return on_screen(long_scene);
}

static int run_crash(void *unused)
{
	(void)unused;
	return on_screen(crash_scene);
}

/* ---- what is shown --------------------------------------------------------------------------- */

static void everything_is_in_sight_at_80_by_24(void **state)
{
	(void)state;
	static const char want[] =
		" Space for the bar                                                       task 3\n"
		" ──────────────────────────────────────────────────────────────────────────────\n"
		" The underside of the bar stands above the tissue by the clearance. Measure at\n"
		" 45.\n"
		"\n"
		" Tissue at 45  2.5 mm\n"
		"\n"
		" Section at 45\n"
		" ┌────────────────────────────┐\n"
		" │   ████████████████████     │\n"
		" │   ← 12.5 mm →              │\n"
		" └────────────────────────────┘\n"
		"\n"
		" ! Caution:\n"
		"   Laminate dust harms the lungs.\n"
		" ──────────────────────────────────────────────────────────────────────────────\n"
		" Thickness at 45\n"
		" >                          mm\n"
		" Also: steps, skip\n"
		"\n\n\n\n"
		" Enter answer   Esc back   F1 keys   Tab read\n";
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_field});
	pty_sees(&p, "F1 keys");
	pty_settle(&p, 50);
	assert_true(p.alternate);
	if (strcmp(pty_look(&p), want) != 0)
		fail_msg("want\n%s\ngot\n%s", want, p.seen);
	pty_send(&p, "\033");
	assert_int_equal(pty_ended(&p), 0);
	assert_true(pty_is_restored(&p));
	pty_close(&p);
}

/* What must be there at every size. */
static const char *const content[] = {"Space for the bar", "task 3", "Tissue at 45", "2.5 mm",
	"Section at 45", "← 12.5 mm →", "Caution", "Laminate dust harms the lungs.",
	"Thickness at 45", "steps, skip"};

static void larger_windows_show_the_same_content(void **state)
{
	(void)state;
	static const int sizes[][2] = {{24, 80}, {60, 200}, {16, 60}, {100, 40 + 60}};
	for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
		struct pty p;
		pty_start(&p, (struct pty_options){
				      .run = run_field, .rows = sizes[i][0], .cols = sizes[i][1]});
		pty_sees(&p, "F1 keys");
		for (size_t k = 0; k < sizeof content / sizeof *content; k++)
			for (int tries = 0; !pty_has(&p, content[k]); tries++) {
				if (tries == 30)
					fail_msg("%d x %d: \"%s\" is not there\n%s", sizes[i][0],
						sizes[i][1], content[k], p.seen);
				pty_send(&p, KEY_DOWN_);
				pty_settle(&p, 30);
			}
		pty_send(&p, "\033");
		assert_int_equal(pty_ended(&p), 0);
		pty_close(&p);
	}
}

static void figure_stands_beside_the_text_where_there_is_room(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_field, .rows = 60, .cols = 200});
	pty_sees(&p, "F1 keys");
	const char *caution = strstr(pty_look(&p), "Caution");
	const char *figure = strstr(p.seen, "Section at 45");
	assert_non_null(caution);
	assert_non_null(figure);
	assert_true(
		figure - caution < 200); /* the same row: without it, it stands four rows above */
	pty_send(&p, "\033");
	assert_int_equal(pty_ended(&p), 0);
	pty_close(&p);
}

static void locale_c_gives_ascii(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){
			      .run = run_field, .env = (const char *const[]){"LC_ALL=C", NULL}});
	pty_sees(&p, "F1 keys");
	pty_settle(&p, 50);
	for (const char *s = pty_look(&p); *s; s++)
		if ((unsigned char)*s >= 0x80)
			fail_msg("not ASCII:\n%s", p.seen);
	pty_sees(&p, "|   < 12.5 mm >");
	pty_sees(&p, "+----------------------------+");
	pty_send(&p, "4\xc3\xa9\r");
	pty_sees(&p, "[ok] heard <4e>");
	pty_send(&p, "\033");
	assert_int_equal(pty_ended(&p), 0);
	pty_sees(&p, "reply text <4\xc3\xa9>");
	pty_close(&p);
}

static void locale_that_is_not_installed_still_gives_lines(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_field,
			      .env = (const char *const[]){"LC_ALL=xx_XX.UTF-8", NULL}});
	pty_sees(&p, "│   ← 12.5 mm →");
	pty_send(&p, "\033");
	assert_int_equal(pty_ended(&p), 0);
	pty_close(&p);
}

/* Every terminal of the minimal system shows the same, with and without colour. */
static void other_terminals_show_the_same(void **state)
{
	(void)state;
	static const char *const kinds[] = {"TERM=vt100", "TERM=vt220", "TERM=linux", "TERM=screen",
		"TERM=tmux-256color", "TERM=rxvt", "TERM=xterm-mono"};
	for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++) {
		struct pty p;
		pty_start(&p, (struct pty_options){.run = run_field,
				      .env = (const char *const[]){kinds[i], NULL}});
		pty_sees(&p, "F1 keys");
		for (size_t k = 0; k < sizeof content / sizeof *content; k++)
			if (!pty_has(&p, content[k]))
				fail_msg("%s: \"%s\" is not there\n%s", kinds[i], content[k],
					p.seen);
		pty_send(&p, "4.5\r");
		pty_sees(&p, "heard <4.5>");
		pty_send(&p, "\033");
		assert_int_equal(pty_ended(&p), 0);
		pty_close(&p);
	}
}

static bool has_colour(struct pty *p)
{
	for (int row = 0; row < p->rows; row++)
		for (int col = 0; col < p->cols; col++) {
			VTermScreenCell cell;
			vterm_screen_get_cell(p->screen, (VTermPos){row, col}, &cell);
			if (!VTERM_COLOR_IS_DEFAULT_FG(&cell.fg) ||
				!VTERM_COLOR_IS_DEFAULT_BG(&cell.bg))
				return true;
		}
	return false;
}

static void no_color_means_no_colour(void **state)
{
	(void)state;
	static const struct {
		const char *const env[4];
		bool colour;
	} cases[] = {
		{{NULL}, true},
		{{"NO_COLOR=1", NULL}, false},
		{{"NO_COLOR=", NULL}, true},
		{{"CLICOLOR=0", NULL}, false},
		{{"CLICOLOR=0", "CLICOLOR_FORCE=1", NULL}, true},
		{{"NO_COLOR=1", "CLICOLOR_FORCE=1", NULL}, false},
		{{"TERM=vt100", "CLICOLOR_FORCE=1", NULL}, false},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct pty p;
		pty_start(&p, (struct pty_options){.run = run_field, .env = cases[i].env});
		pty_sees(&p, "F1 keys");
		pty_settle(&p, 30);
		if (has_colour(&p) != cases[i].colour)
			fail_msg("row %zu of the table: colour %d, want %d", i, has_colour(&p),
				cases[i].colour);
		pty_send(&p, "\033");
		assert_int_equal(pty_ended(&p), 0);
		pty_close(&p);
	}
}

/* The text itself, and every background, keep the person's own colours. */
static void text_keeps_the_default_colours(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_field});
	pty_sees(&p, "F1 keys");
	pty_settle(&p, 30);
	for (int row = 0; row < p.rows; row++)
		for (int col = 0; col < p.cols; col++) {
			VTermScreenCell cell;
			vterm_screen_get_cell(p.screen, (VTermPos){row, col}, &cell);
			bool letter = (cell.chars[0] >= 'a' && cell.chars[0] <= 'z');
			bool mark = row == 10; /* the figure's marked length */
			if (!VTERM_COLOR_IS_DEFAULT_BG(&cell.bg) ||
				(letter && !mark && !VTERM_COLOR_IS_DEFAULT_FG(&cell.fg)) ||
				cell.attrs.blink)
				fail_msg("row %d, column %d is coloured:\n%s", row, col,
					pty_look(&p));
		}
	pty_send(&p, "\033");
	assert_int_equal(pty_ended(&p), 0);
	pty_close(&p);
}

/* ---- the field ------------------------------------------------------------------------------- */

static void cursor_is_at(struct pty *p, int row, int col)
{
	VTermPos at;
	pty_settle(p, 60);
	vterm_state_get_cursorpos(vterm_obtain_state(p->vterm), &at);
	if (at.row != row || at.col != col)
		fail_msg("the cursor is at %d,%d, not at %d,%d:\n%s", at.row, at.col, row, col,
			pty_look(p));
}

static void field_is_edited_with_the_usual_keys(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_field});
	pty_sees(&p, "F1 keys");
	cursor_is_at(&p, 17, 3);
	pty_send(&p, "4,5");
	cursor_is_at(&p, 17, 6);
	pty_send(&p, KEY_LEFT_ KEY_LEFT_ "\177"); /* the 4 goes */
	cursor_is_at(&p, 17, 3);
	pty_send(&p, "3");
	pty_sees(&p, "> 3,5 ");
	pty_send(&p, KEY_END_ "q?é中" KEY_HOME_ "<" KEY_DELETE_);
	pty_sees(&p, "> <,5q?é中 ");
	pty_send(&p, "\005\027"
		     "12" KEY_LEFT_ "\010"); /* Ctrl-E, Ctrl-W; backspace as Ctrl-H */
	pty_sees(&p, "> 2 ");
	pty_send(&p, "\025"
		     "7.5\r"); /* Ctrl-U */
	pty_sees(&p, "heard <7.5>");
	pty_loses(&p, "> 7.5");
	pty_send(&p, "\033");
	assert_int_equal(pty_ended(&p), 0);
	pty_close(&p);
}

static void letters_that_come_in_pieces_are_put_together(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_field});
	pty_sees(&p, "F1 keys");
	pty_send(&p, "a\xe2");
	pty_settle(&p, 60);
	pty_send(&p, "\x89");
	pty_settle(&p, 60);
	pty_send(&p, "\xa4\xff\xfe\xc3"
		     "b\r"); /* and what is no letter is dropped */
	pty_sees(&p, "heard <a≤b>");
	pty_send(&p, "\033");
	assert_int_equal(pty_ended(&p), 0);
	pty_close(&p);
}

static void pasted_line_ends_do_not_send_the_answer(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_field});
	pty_sees(&p, "F1 keys");
	assert_true(pty_marks_pastes(&p));
	pty_send(&p, PASTE_BEGIN_ "4.5\n\x01mm\r\n" PASTE_END_);
	pty_sees(&p, "> 4.5 mm");
	pty_send(&p, "\r");
	pty_sees(&p, "heard <4.5 mm>");
	pty_send(&p, "\033");
	assert_int_equal(pty_ended(&p), 0);
	pty_close(&p);
}

/* A whole file: the field takes what a reply can hold, and the key behind the paste is not lost. */
static void a_large_paste_is_passed_over(void **state)
{
	(void)state;
	enum { MOST = 1 << 20 };
	struct pty p;
	static const char tail[] = PASTE_END_ "\x15"
					      "5\r";
	char *big = malloc(MOST + sizeof tail);
	assert_non_null(big);
	memset(big, '7', MOST);
	memcpy(big + MOST, tail, sizeof tail);
	pty_start(&p, (struct pty_options){.run = run_field});
	pty_sees(&p, "F1 keys");
	pty_send(&p, PASTE_BEGIN_);
	pty_send(&p, big);
	pty_sees(&p, "heard <5>");
	pty_send(&p, "\033");
	assert_int_equal(pty_ended(&p), 0);
	pty_close(&p);
	free(big);
}

static void arrows_go_through_letters_and_none_stands_there_first(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_letter});
	pty_sees(&p, "Up Down letter");
	pty_sees(&p, "Your answer: Which of the three?");
	pty_send(&p, "\r");
	pty_sees(&p, "nothing was typed");
	pty_send(&p, KEY_UP_);
	pty_sees(&p, "> c");
	pty_send(&p, KEY_DOWN_ KEY_DOWN_);
	pty_sees(&p, "> b");
	pty_send(&p, "\r");
	assert_int_equal(pty_ended(&p), 0);
	pty_sees(&p, "reply text <b>");
	pty_close(&p);
}

static void leaving_says_what_is_kept(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_letter});
	pty_sees(&p, "F1 keys");
	pty_send(&p, KEY_CTRL_C_);
	pty_sees(&p, "Leave? Ctrl-C again: yes. Other keys: no. What you answered is recorded.");
	pty_send(&p, KEY_CTRL_C_);
	assert_int_equal(pty_ended(&p), 0);
	pty_close(&p);
}

static void unknown_keys_are_neither_esc_nor_letters(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_field});
	pty_sees(&p, "F1 keys");
	pty_send(&p, "\033[1;97~"
		     "\033x"
		     "\033[200;1Z"
		     "\033Oz"
		     "8");
	pty_sees(&p, "> 8 ");
	pty_send(&p, "\r");
	pty_sees(&p, "heard <8>");
	pty_send(&p, "\033");
	assert_int_equal(pty_ended(&p), 0);
	pty_sees(&p, "reply back");
	pty_close(&p);
}

static void full_field_takes_no_more(void **state)
{
	(void)state;
	char big[400];
	memset(big, '1', 300);
	big[300] = '\0';
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_field});
	pty_sees(&p, "F1 keys");
	pty_send(&p, big);
	pty_settle(&p, 60);
	pty_send(&p, KEY_HOME_ KEY_DELETE_ "2\r");
	pty_sees(&p, "<2111111");
	big[REPLY_ROOM - 2] = '\0';
	char want[500];
	snprintf(want, sizeof want, "reply text <2%s> 0", big);
	pty_send(&p, "\033");
	assert_int_equal(pty_ended(&p), 0);
	char flat[PTY_CELLS]; /* the terminal has wrapped the line */
	size_t n = 0;
	for (const char *s = pty_look(&p); *s; s++)
		if (*s != '\n')
			flat[n++] = *s;
	flat[n] = '\0';
	assert_non_null(strstr(flat, want));
	pty_close(&p);
}

static void nothing_typed_is_a_fault_and_words_are_heard(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_field});
	pty_sees(&p, "F1 keys");
	pty_send(&p, "\r");
	pty_sees(&p, "✗ nothing was typed");
	pty_send(&p, "faulty\r");
	pty_sees(&p, "✗ that is not a length");
	pty_sees(&p, "> faulty");
	pty_send(&p, "\025?\r");
	pty_sees(&p, "give the answer");
	pty_loses(&p, "Thickness at 45");
	pty_send(&p, "\033");
	pty_sees(&p, "Thickness at 45");
	pty_send(&p, "leave\r");
	assert_int_equal(pty_ended(&p), 0);
	pty_sees(&p, "reply leave");
	pty_close(&p);
}

static void told_text_comes_into_sight(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_field, .rows = 16, .cols = 60});
	pty_sees(&p, "F1 keys");
	for (int i = 1; i < 30; i++) {
		char typed[16], want[32];
		snprintf(typed, sizeof typed, "%d.5\r", i);
		snprintf(want, sizeof want, "heard <%d.5>", i);
		pty_send(&p, typed);
		pty_sees(&p, want);
		pty_sees(&p, "Thickness at 45");
	}
	pty_sees(&p, "lines above");
	pty_send(&p, KEY_PGUP_);
	pty_loses(&p, "heard <29.5>");
	pty_sees(&p, "below");
	pty_send(&p, "\t" KEY_HOME_); /* reading: the start of the text */
	pty_sees(&p, "The underside");
	cursor_is_at(&p, 2, 1);
	pty_send(&p, "\t9\r");
	pty_sees(&p, "heard <9>");
	pty_send(&p, "\tq");
	assert_int_equal(pty_ended(&p), 0);
	pty_sees(&p, "reply leave");
	pty_close(&p);
}

/* ---- lists and long pages -------------------------------------------------------------------- */

static void list_is_moved_in_by_arrows_and_numbers(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_list});
	pty_sees(&p, ">  2  Read a lesson");
	cursor_is_at(&p, 6, 4);
	pty_send(&p, KEY_DOWN_);
	pty_sees(&p, ">  3  Run a case      with your own numbers");
	cursor_is_at(&p, 7, 4);
	pty_send(&p, "\r");
	pty_send(&p, "12\r");
	pty_send(&p, "7\r");
	pty_send(&p, KEY_END_ "\r");
	pty_send(&p, KEY_HOME_ KEY_UP_ "\r");
	pty_send(&p, "99\r");
	pty_settle(&p, 100);
	pty_send(&p, "\033");
	assert_int_equal(pty_ended(&p), 0);
	pty_sees(&p,
		"reply choice <> 2\nreply choice <> 11\nreply choice <> 6\n"
		"reply choice <> 11\nreply choice <> 11\nreply choice <> 8\nreply back <> 0\n");
	pty_close(&p);
}

/* The number before a step of a scale is the step's own, counted down to 0. */
static void a_digit_on_a_scale_is_that_step(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_scale});
	pty_sees(&p, "3  excellent");
	pty_sees(&p, "0  unusable");
	pty_send(&p, "3\r");
	pty_send(&p, "1\r");
	pty_send(&p, "0\r");
	pty_send(&p, "4\r"); /* no such step: nothing is taken */
	pty_sees(&p, "Nothing is chosen yet");
	pty_send(&p, "\033");
	assert_int_equal(pty_ended(&p), 0);
	pty_sees(&p, "reply choice <> 0\nreply choice <> 2\nreply choice <> 3\nreply back <> 0\n");
	pty_close(&p);
}

static void enter_alone_takes_nothing_where_nothing_is_chosen(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_open_list});
	pty_sees(&p, "   1  First");
	pty_sees(&p, "   2  Second");
	pty_send(&p, "\r");
	pty_sees(&p, "Nothing is chosen yet");
	pty_send(&p, KEY_UP_);
	pty_sees(&p, "> 2  Second");
	pty_loses(&p, "Nothing is chosen yet");
	pty_send(&p, "\r");
	pty_sees(&p, "   2  Second");
	pty_send(&p, "1\r");
	pty_settle(&p, 100);
	pty_send(&p, "\033");
	assert_int_equal(pty_ended(&p), 0);
	pty_sees(&p, "reply choice <> 1\nreply choice <> 0\nreply back <> 0\n");
	pty_close(&p);
}

static void pasted_letters_are_not_keys(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_list});
	pty_sees(&p, ">  2  Read a lesson");
	pty_send(&p, PASTE_BEGIN_ "q5\n" PASTE_END_ KEY_DOWN_);
	pty_sees(&p, ">  3  Run a case");
	pty_send(&p, "q");
	assert_int_equal(pty_ended(&p), 0);
	pty_close(&p);
}

static void long_list_scrolls_with_its_cursor_in_sight(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_list, .rows = 16, .cols = 60});
	pty_sees(&p, "... more below");
	for (int i = 3; i <= 12; i++) {
		char want[16];
		snprintf(want, sizeof want, "> %2d  ", i);
		pty_send(&p, KEY_DOWN_);
		pty_sees(&p, want);
	}
	pty_sees(&p, "... more above");
	pty_loses(&p, "... more below");
	pty_sees(&p, "A short page.");
	pty_send(&p, "q");
	assert_int_equal(pty_ended(&p), 0);
	pty_sees(&p, "reply leave");
	pty_close(&p);
}

static void long_page_scrolls_and_says_what_is_hidden(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_long});
	pty_sees(&p, "41 lines below");
	pty_sees(&p, "point number 19.");
	pty_send(&p, KEY_DOWN_);
	pty_sees(&p, "1 line above");
	pty_sees(&p, "point number 20.");
	pty_send(&p, KEY_PGDN_);
	pty_sees(&p, "19 lines above");
	pty_send(&p, " ");
	pty_sees(&p, "37 lines above");
	pty_send(&p, KEY_END_);
	pty_sees(&p, "41 lines above");
	pty_sees(&p, "point number 60.");
	pty_send(&p, KEY_UP_);
	pty_sees(&p, "1 line below");
	pty_send(&p, KEY_PGUP_ KEY_PGUP_ KEY_PGUP_ KEY_PGUP_);
	pty_sees(&p, "point number 1.");
	pty_send(&p, "\r");
	pty_sees(&p, "✗ told at the end");
	pty_send(&p, KEY_HOME_ "\033");
	assert_int_equal(pty_ended(&p), 0);
	pty_close(&p);
}

static void keys_page_tells_every_key(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_field, .rows = 50});
	pty_sees(&p, "F1 keys");
	pty_send(&p, "4" KEY_F1_);
	static const char *const keys[] = {"Enter", "Esc", "Tab", "PgDn PgUp", "Home End",
		"Left Right", "Backspace Del", "Ctrl-U", "F1", "F2", "q", "Ctrl-C", "Ctrl-L",
		"Ctrl-Z", "1 2 3 ...", "Up Down", "Space", "back", "leave"};
	pty_sees(&p, "draw the screen anew");
	for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
		pty_sees(&p, keys[i]);
	pty_loses(&p, "> 4 ");
	pty_send(&p, "\033");
	pty_sees(&p, "> 4 "); /* what was typed is still there */
	pty_send(&p, KEY_F2_);
	pty_sees(&p, "• the bar stands 4.0 mm above the datum");
	pty_loses(&p, "12.5 mm");
	pty_send(&p, KEY_F2_);
	pty_sees(&p, "12.5 mm");
	pty_send(&p, "\033");
	assert_int_equal(pty_ended(&p), 0);
	pty_close(&p);
}

/* ---- the terminal changes, stops, goes -------------------------------------------------------- */

static void small_window_is_told_and_waited_for(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_field});
	pty_sees(&p, "F1 keys");
	pty_send(&p, "4.");
	pty_sees(&p, "> 4. ");
	pty_resize(&p, 10, 40);
	pty_sees(&p, "Barwright needs 60 x 16 characters");
	pty_send(&p, "99\r\033q");
	pty_settle(&p, 100);
	assert_false(p.ended);
	pty_resize(&p, 1, 1);
	pty_settle(&p, 100);
	pty_resize(&p, 60, 200);
	pty_sees(&p, "> 4. ");
	pty_sees(&p, "Laminate dust");
	pty_resize(&p, 24, 80);
	pty_sees(&p, "F1 keys");
	pty_send(&p, "5\r");
	pty_sees(&p, "heard <4.5>");
	pty_send(&p, "\033");
	assert_int_equal(pty_ended(&p), 0);
	pty_close(&p);
}

static void resize_keeps_the_place_in_the_text(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_long});
	pty_sees(&p, "F1 keys");
	pty_send(&p, KEY_PGDN_);
	pty_sees(&p, " • point number 19.");
	pty_resize(&p, 24, 100);
	pty_sees(&p, "18 lines above");
	pty_send(&p, "\033");
	assert_int_equal(pty_ended(&p), 0);
	pty_close(&p);
}

static void ctrl_c_asks_once(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_field});
	pty_sees(&p, "F1 keys");
	pty_send(&p, "4.5");
	pty_sees(&p, "> 4.5 "); /* the terminal drops what is not read when Ctrl-C comes */
	pty_send(&p, KEY_CTRL_C_);
	pty_sees(&p, "Leave?");
	pty_send(&p, "n");
	pty_loses(&p, "Leave?");
	pty_sees(&p, "> 4.5 "); /* without the n */
	pty_send(&p, KEY_CTRL_C_);
	pty_sees(&p, "Leave?");
	pty_send(&p, KEY_CTRL_C_);
	assert_int_equal(pty_ended(&p), 0);
	assert_true(pty_is_restored(&p));
	pty_sees(&p, "reply leave");
	pty_close(&p);
}

static void ctrl_z_stops_and_comes_back_repainted(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_field});
	pty_sees(&p, "F1 keys");
	pty_send(&p, "4.5");
	pty_sees(&p, "> 4.5 ");
	pty_send(&p, KEY_CTRL_Z_);
	assert_true(pty_until(&p, pty_is_stopped, NULL, PTY_WAIT_MS));
	pty_settle(&p, 50);
	assert_true(pty_is_restored(&p));
	/* Meanwhile the shell writes, and the window becomes larger. */
	assert_int_equal(write(p.slave, "$ ls\r\n", 6), 6);
	pty_settle(&p, 50);
	pty_resize(&p, 30, 100);
	pty_continue(&p);
	pty_sees(&p, "> 4.5 ");
	pty_sees(&p, "F1 keys");
	pty_loses(&p, "$ ls");
	assert_true(p.alternate);
	pty_send(&p, "6\r");
	pty_sees(&p, "heard <4.56>");
	pty_send(&p, "\033");
	assert_int_equal(pty_ended(&p), 0);
	assert_true(pty_is_restored(&p));
	pty_close(&p);
}

/* As in a window that was opened for the program alone: nobody in its session is its parent, so the
 * system takes a stop for a trap without a way out and does not stop it. */
static int run_alone(void *unused)
{
	int ends[2];
	unsigned char status = 99;
	pid_t between;
	if (pipe(ends) || (between = fork()) < 0)
		return 98;
	if (between == 0) {
		between = getpid();
		if (fork() != 0)
			_exit(0);
		while (getppid() == between)
			usleep(1000);
		setpgid(0, 0);
		signal(SIGTTOU, SIG_IGN);
		tcsetpgrp(0, getpgrp());
		status = (unsigned char)run_field(unused);
		_exit(write(ends[1], &status, 1) != 1);
	}
	close(ends[1]);
	waitpid(between, NULL, 0);
	return read(ends[0], &status, 1) == 1 ? status : 97;
}

static void ctrl_z_without_a_shell_keeps_the_screen(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_alone});
	pty_sees(&p, "F1 keys");
	pty_send(&p, "4.5");
	pty_sees(&p, "> 4.5 ");
	pty_send(&p, KEY_CTRL_Z_ "6");
	pty_sees(&p, "> 4.56 ");
	assert_true(p.alternate);
	pty_send(&p, "\033");
	assert_int_equal(pty_ended(&p), 0);
	pty_close(&p);
}

/* Stopped from outside, it can tidy nothing up; the shell does, and writes, and sets its own modes. */
static void screen_comes_back_after_a_stop_from_outside(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_field});
	pty_sees(&p, "F1 keys");
	pty_send(&p, "4.5");
	pty_sees(&p, "> 4.5 ");
	kill(p.child, SIGSTOP);
	assert_true(pty_until(&p, pty_is_stopped, NULL, PTY_WAIT_MS));
	tcsetattr(p.slave, TCSANOW, &p.before);
	assert_int_equal(write(p.slave, "\033[2J\033[Hshell", 12), 12);
	pty_sees(&p, "shell");
	pty_continue(&p);
	pty_sees(&p, "> 4.5 ");
	pty_sees(&p, "Laminate dust");
	pty_loses(&p, "shell");
	pty_send(&p, "6");
	pty_sees(&p, "> 4.56 "); /* key by key again */
	pty_send(&p, "\033");
	assert_int_equal(pty_ended(&p), 0);
	assert_true(pty_is_restored(&p));
	pty_close(&p);
}

/* ncurses waits a second, unless told, whether more follows an Esc. */
static void lone_esc_is_not_waited_for(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_field});
	pty_sees(&p, "F1 keys");
	pty_settle(&p, 50);
	pty_send(&p, "\033");
	assert_true(pty_until(&p, pty_is_over, NULL, 900));
	pty_close(&p);
}

static void ctrl_l_repaints_everything(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_field});
	pty_sees(&p, "F1 keys");
	pty_settle(&p, 50);
	assert_int_equal(write(p.slave, "\033[2J\033[HMESS", 12 - 1), 11);
	pty_sees(&p, "MESS");
	pty_send(&p, KEY_CTRL_L_);
	pty_sees(&p, "Laminate dust");
	pty_loses(&p, "MESS");
	pty_send(&p, "\033");
	assert_int_equal(pty_ended(&p), 0);
	pty_close(&p);
}

/* One more letter sends a few bytes, not a screen. */
static void only_what_changed_is_sent(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_field, .rows = 60, .cols = 200});
	pty_sees(&p, "F1 keys");
	pty_send(&p, "1");
	pty_sees(&p, "> 1 ");
	pty_settle(&p, 50);
	size_t before = p.bytes;
	pty_send(&p, "2");
	pty_sees(&p, "> 12 ");
	pty_settle(&p, 50);
	if (p.bytes - before > 60)
		fail_msg("%zu bytes for one letter", p.bytes - before);
	pty_send(&p, "\033");
	assert_int_equal(pty_ended(&p), 0);
	pty_close(&p);
}

/* Nobody presses anything: the head counts down all the same, and little is sent for it. */
static void the_time_that_is_left_runs_on_the_screen(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_limit});
	pty_sees(&p, "1 of 3, 4 s left");
	pty_send(&p, "12");
	pty_sees(&p, "> 12");
	pty_settle(&p, 50);
	size_t before = p.bytes;
	pty_sees(&p, "1 of 3, 3 s left");
	pty_settle(&p, 50);
	if (p.bytes - before > 60)
		fail_msg("%zu bytes for one second", p.bytes - before);
	pty_sees(&p, "> 12");
	pty_sees(&p, "1 of 3, 2 s left");
	pty_sees(&p, "The last 2 s have begun");
	pty_send(&p, "\r4.5");
	pty_sees(&p, "2 of 3, ");
	pty_sees(&p, "The last 2 s have begun"); /* it stands long enough to be read */
	pty_send(&p, KEY_F1_);                   /* and the time runs on the page of the keys too */
	pty_sees(&p, "Keys");
	pty_sees(&p, "1 s left");
	pty_sees(&p, "The time is over");
	pty_loses(&p, "The last 2 s");
	pty_send(&p, "\r");
	assert_int_equal(pty_ended(&p), 0);
	pty_sees(&p, "reply text <12>");
	pty_sees(&p, "reply time <4.5>");
	pty_close(&p);
}

static void stop_signals_end_it_with_that_signal(void **state)
{
	(void)state;
	static const int signals[] = {SIGTERM, SIGHUP};
	for (size_t i = 0; i < 2; i++) {
		struct pty p;
		pty_start(&p, (struct pty_options){.run = run_field});
		pty_sees(&p, "F1 keys");
		kill(p.child, signals[i]);
		assert_int_equal(pty_ended(&p), -signals[i]);
		assert_true(pty_is_restored(&p));
		pty_sees(&p, "reply lost");
		pty_close(&p);
	}
}

static void closed_window_ends_it(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_field});
	pty_sees(&p, "F1 keys");
	pty_hang_up(&p);
	assert_int_equal(pty_ended(&p), -SIGHUP);
	pty_close(&p);
}

/* Under nohup there is no SIGHUP: the reading fails for ever, and that must count as the end. */
static void closed_window_ends_it_under_nohup_too(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_field, .hangup_ignored = true});
	pty_sees(&p, "F1 keys");
	pty_hang_up(&p);
	assert_int_equal(pty_ended(&p), 0);
	pty_close(&p);
}

static void crash_gives_the_terminal_back(void **state)
{
	(void)state;
	static const struct {
		const char *typed;
		int ends;
	} cases[] = {
		{"abort\r", -SIGABRT},
		{"quit\r", -SIGQUIT},
#ifndef __SANITIZE_ADDRESS__ /* there the sanitizer reports and exits */
		{"segv\r", -SIGSEGV},
		{"deep\r", -SIGSEGV},
#endif
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct pty p;
		pty_start(&p, (struct pty_options){.run = run_crash});
		pty_sees(&p, "How to crash");
		pty_send(&p, cases[i].typed);
		assert_int_equal(pty_ended(&p), cases[i].ends);
		assert_true(pty_is_restored(&p));
		pty_close(&p);
	}
}

/* ---- where there is no screen ------------------------------------------------------------------ */

static int run_without_input(void *unused)
{
	(void)unused;
	int nothing = open("/dev/null", O_RDONLY);
	dup2(nothing, 0);
	return on_screen(field_scene);
}

static int run_into_a_pipe(void *unused)
{
	(void)unused;
	int ends[2];
	if (pipe(ends))
		return 9;
	int terminal = dup(1);
	dup2(ends[1], 1);
	int status = on_screen(field_scene);
	dup2(terminal, 1);
	char said[200];
	ssize_t n = read(ends[0], said, sizeof said);
	if (n > 0 && write(1, said, (size_t)n) < 0)
		return 9;
	return status;
}

static void terminals_that_cannot_be_painted_are_refused_in_words(void **state)
{
	(void)state;
	static const struct {
		int (*run)(void *);
		const char *const env[2];
		const char *says;
	} cases[] = {
		{run_field, {"TERM=dumb", NULL}, "kind \"dumb\" (TERM) cannot place the cursor"},
		{run_field, {"TERM=no-such-kind", NULL},
			"no description is installed for terminals of the kind \"no-such-kind\" "
			"(TERM); "
			"most understand TERM=xterm-256color"},
		{run_field, {"TERM", NULL}, "TERM is not set"},
		{run_field, {"TERM=", NULL}, "TERM is not set"},
		{run_field, {"TERM=a\033[31mb", NULL}, "kind \"a<U+001B>[31mb\""},
		{run_without_input, {NULL}, "the standard input is not a terminal"},
		{run_into_a_pipe, {NULL}, "the standard output is not a terminal"},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct pty p;
		pty_start(&p, (struct pty_options){
				      .run = cases[i].run, .env = cases[i].env, .cols = 160});
		assert_int_equal(pty_ended(&p), 3);
		pty_sees(&p, cases[i].says);
		assert_int_equal(strncmp(pty_look(&p), "refused: terminal: ", 19), 0);
		assert_true(pty_is_restored(&p));
		pty_close(&p);
	}
}

static int run_without_size(void *unused)
{
	(void)unused;
	ioctl(0, TIOCSWINSZ, &(struct winsize){0});
	return on_screen(field_scene);
}

static void terminal_without_a_size_counts_as_80_by_24(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_without_size});
	pty_sees(&p, "F1 keys");
	pty_sees(&p, "Laminate dust");
	pty_send(&p, "3\r");
	pty_sees(&p, "heard <3>");
	pty_send(&p, "\033");
	assert_int_equal(pty_ended(&p), 0);
	pty_close(&p);
}

/* They may be exported by a shell, and would hold against every resize. */
static void lines_and_columns_of_the_environment_do_not_count(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_field,
			      .env = (const char *const[]){"LINES=5", "COLUMNS=10", NULL}});
	pty_sees(&p, "F1 keys");
	pty_resize(&p, 40, 100);
	pty_sees(&p, "F1 keys");
	pty_send(&p, "\033");
	assert_int_equal(pty_ended(&p), 0);
	pty_close(&p);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(everything_is_in_sight_at_80_by_24),
		cmocka_unit_test(larger_windows_show_the_same_content),
		cmocka_unit_test(figure_stands_beside_the_text_where_there_is_room),
		cmocka_unit_test(locale_c_gives_ascii),
		cmocka_unit_test(locale_that_is_not_installed_still_gives_lines),
		cmocka_unit_test(other_terminals_show_the_same),
		cmocka_unit_test(no_color_means_no_colour),
		cmocka_unit_test(text_keeps_the_default_colours),
		cmocka_unit_test(field_is_edited_with_the_usual_keys),
		cmocka_unit_test(letters_that_come_in_pieces_are_put_together),
		cmocka_unit_test(pasted_line_ends_do_not_send_the_answer),
		cmocka_unit_test(a_large_paste_is_passed_over),
		cmocka_unit_test(arrows_go_through_letters_and_none_stands_there_first),
		cmocka_unit_test(leaving_says_what_is_kept),
		cmocka_unit_test(unknown_keys_are_neither_esc_nor_letters),
		cmocka_unit_test(full_field_takes_no_more),
		cmocka_unit_test(nothing_typed_is_a_fault_and_words_are_heard),
		cmocka_unit_test(told_text_comes_into_sight),
		cmocka_unit_test(list_is_moved_in_by_arrows_and_numbers),
		cmocka_unit_test(a_digit_on_a_scale_is_that_step),
		cmocka_unit_test(enter_alone_takes_nothing_where_nothing_is_chosen),
		cmocka_unit_test(pasted_letters_are_not_keys),
		cmocka_unit_test(long_list_scrolls_with_its_cursor_in_sight),
		cmocka_unit_test(long_page_scrolls_and_says_what_is_hidden),
		cmocka_unit_test(keys_page_tells_every_key),
		cmocka_unit_test(small_window_is_told_and_waited_for),
		cmocka_unit_test(resize_keeps_the_place_in_the_text),
		cmocka_unit_test(ctrl_c_asks_once),
		cmocka_unit_test(ctrl_z_stops_and_comes_back_repainted),
		cmocka_unit_test(ctrl_z_without_a_shell_keeps_the_screen),
		cmocka_unit_test(screen_comes_back_after_a_stop_from_outside),
		cmocka_unit_test(lone_esc_is_not_waited_for),
		cmocka_unit_test(ctrl_l_repaints_everything),
		cmocka_unit_test(only_what_changed_is_sent),
		cmocka_unit_test(the_time_that_is_left_runs_on_the_screen),
		cmocka_unit_test(stop_signals_end_it_with_that_signal),
		cmocka_unit_test(closed_window_ends_it),
		cmocka_unit_test(closed_window_ends_it_under_nohup_too),
		cmocka_unit_test(crash_gives_the_terminal_back),
		cmocka_unit_test(terminals_that_cannot_be_painted_are_refused_in_words),
		cmocka_unit_test(terminal_without_a_size_counts_as_80_by_24),
		cmocka_unit_test(lines_and_columns_of_the_environment_do_not_count),
	};
	return cmocka_run_group_tests_name("screen", tests, NULL, NULL);
}
