/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plain surface with a terminal behind it: how wide it writes, and what Ctrl-C, Ctrl-D and a
 * closed window do. Text in and text out through files is in tests/unit/line. */
#include "pty.h"

#include <barwright/base/bad.h>
#include <barwright/base/clock.h>
#include <barwright/base/mem.h>

#include "line/line.h"
#include "surface/charset.h"
#include "surface/signals.h"

static int run_plain(void *unused)
{
	(void)unused;
	static const char *words[] = {"ninety columns of nothing"};
	struct arena a = {0};
	struct page p;
	charset_start();
	signals_install();
	struct surface *s = line_open(&(struct line_options){.in = 0, .out = 1});
	page_init(&p, &a, "Space for the bar", "task 3");
	page_add(&p, BLOCK_TEXT,
		"The underside of the bar stands above the tissue by the "
		"clearance; what is left is for the bar, the resin and the teeth.");
	struct canvas *c = canvas_new(&a, 1, 90);
	canvas_line(c, 0, 0, 0, 89, '=', INK_WORK);
	page_figure(&p, &(struct figure){"Wide", c, words, 1});
	surface_show(s, &p);
	struct reply r = {.kind = REPLY_GO};
	while (r.kind == REPLY_GO || r.kind == REPLY_TEXT) {
		surface_ask(s, &(struct question){.kind = ASK_LINE, .prompt = "X"}, &r);
		page_init(&p, &a, "", NULL);
		page_add(&p, BLOCK_TEXT, "heard <%s> %d", r.text, r.kind == REPLY_LOST);
		surface_tell(s, &p);
	}
	line_close(s);
	arena_release(&a);
	signals_finish();
	return 7;
}

static void text_is_wrapped_at_the_terminal_and_never_above_80(void **state)
{
	(void)state;
	static const struct {
		int cols;
		const char *text, *figure;
	} cases[] = {
		{30,
			"The underside of the bar\nstands above the tissue by the\nclearance; what "
			"is left is for\n",
			"(the drawing needs 90 columns)"},
		{80,
			"The underside of the bar stands above the tissue by the clearance; what "
			"is left\n"
			"is for the bar, the resin and the teeth.\n",
			"(the drawing needs 90 columns)"},
		{120,
			"The underside of the bar stands above the tissue by the clearance; what "
			"is left\n"
			"is for the bar, the resin and the teeth.\n",
			"=========================================================================="
			"================\nIn words:\n- ninety"},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct pty p;
		pty_start(&p, (struct pty_options){.run = run_plain, .cols = cases[i].cols});
		pty_sees(&p, "\n>");
		pty_sees(&p, cases[i].text);
		pty_sees(&p, cases[i].figure);
		pty_send(&p, "4,5\n");
		pty_sees(&p, "> 4,5\n\nheard <4,5>"); /* the terminal's echo, not ours, and once */
		assert_false(p.alternate);
		pty_send(&p, "leave\n");
		assert_int_equal(pty_ended(&p), 7);
		pty_close(&p);
	}
}

static void end_of_input_and_signals_end_it(void **state)
{
	(void)state;
	static const struct {
		const char *keys;
		int ends;
	} cases[] = {{"\004", 7}, {KEY_CTRL_C_, -SIGINT}};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct pty p;
		pty_start(&p, (struct pty_options){.run = run_plain});
		pty_sees(&p, "\n>");
		pty_send(&p, cases[i].keys);
		assert_int_equal(pty_ended(&p), cases[i].ends);
		pty_sees(&p, "\n\nheard <> 1");
		assert_true(pty_is_restored(&p));
		pty_close(&p);
	}
}

static void closed_window_ends_it(void **state)
{
	(void)state;
	for (int ignored = 0; ignored < 2; ignored++) {
		struct pty p;
		pty_start(&p, (struct pty_options){.run = run_plain, .hangup_ignored = ignored});
		pty_sees(&p, "\n>");
		pty_hang_up(&p);
		int status = pty_ended(&p);
		/* The end of the input may be read before the signal comes. */
		assert_true(status == 7 || (!ignored && status == -SIGHUP));
		pty_close(&p);
	}
}

static void ctrl_z_stops_and_fg_goes_on(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_plain});
	pty_sees(&p, "\n>");
	pty_send(&p, KEY_CTRL_Z_);
	assert_true(pty_until(&p, pty_is_stopped, NULL, PTY_WAIT_MS));
	pty_continue(&p);
	pty_settle(&p, 50);
	pty_send(&p, "5\n");
	pty_sees(&p, "heard <5>");
	pty_send(&p, "leave\n");
	assert_int_equal(pty_ended(&p), 7);
	pty_close(&p);
}

static int run_limited(void *unused)
{
	(void)unused;
	struct arena a = {0};
	struct page p;
	struct reply first, second;
	struct question q = {.kind = ASK_LINE, .prompt = "X"};
	charset_start();
	signals_install();
	struct surface *s = line_open(&(struct line_options){.in = 0, .out = 1});
	page_init(&p, &a, "Task", "1 of 3");
	p.limit = (struct limit){clock_boot() + 1200, 60000};
	surface_show(s, &p);
	surface_ask(s, &q, &first);
	page_init(&p, &a, "The time is over", NULL);
	surface_show(s, &p);
	surface_ask(s, &q, &second);
	page_init(&p, &a, "Heard", NULL);
	page_add(&p, BLOCK_TEXT, "time %d, then <%s>", first.kind == REPLY_TIME, second.text);
	surface_tell(s, &p);
	line_close(s);
	arena_release(&a);
	return 7;
}

/* What somebody was typing then is no reply to what is asked after it. */
static void the_time_ends_a_line_that_is_being_typed(void **state)
{
	(void)state;
	struct pty p;
	pty_start(&p, (struct pty_options){.run = run_limited});
	pty_sees(&p, "Task (1 of 3, 2 s left)");
	pty_send(&p, "12");
	pty_sees(&p, "> 12");
	pty_sees(&p, "The time is over");
	pty_sees(&p, "X\n>");
	pty_send(&p, "5\n");
	pty_sees(&p, "time 1, then <5>");
	assert_int_equal(pty_ended(&p), 7);
	pty_close(&p);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(text_is_wrapped_at_the_terminal_and_never_above_80),
		cmocka_unit_test(end_of_input_and_signals_end_it),
		cmocka_unit_test(closed_window_ends_it),
		cmocka_unit_test(the_time_ends_a_line_that_is_being_typed),
		cmocka_unit_test(ctrl_z_stops_and_fg_goes_on),
	};
	return cmocka_run_group_tests_name("plain", tests, NULL, NULL);
}
