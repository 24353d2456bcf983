/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A terminal in the test process: starts a program, or a function, on a pseudo-terminal, feeds what
 * it writes to libvterm, sends it keys, and waits, never longer than asked, until something is seen.
 *
 *	struct pty p;
 *	pty_start(&p, (struct pty_options){.argv = (char *[]){"barwright", "drill", NULL}});
 *	pty_sees(&p, "Thickness");                     fails the test, with the screen, if it does not
 *	pty_send(&p, "4.5\r");
 *	assert_int_equal(pty_ended(&p), 0);
 *	pty_close(&p);
 *
 * A screen comes row by row: what is seen first may stand above rows of the page before. So before
 * Esc wait with pty_loses for the old page to go; a letter sent together with Esc counts as Alt.
 *
 * Between the test and the program stands a leader, as a shell would: it has the terminal as its
 * own and gives it to the program, which runs in a process group of its own. Without it Ctrl-Z would
 * do nothing, since the kernel does not stop orphaned groups. */
#ifndef BARWRIGHT_TESTS_PTY_PTY_H
#define BARWRIGHT_TESTS_PTY_PTY_H

#include "near.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <pty.h>
#include <signal.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/wait.h>
#include <termios.h>
#include <time.h>
#include <unistd.h>
#include <vterm.h>

/* What the terminal sends for keys while a program has it in application mode (xterm). */
#define KEY_UP_      "\033OA"
#define KEY_DOWN_    "\033OB"
#define KEY_RIGHT_   "\033OC"
#define KEY_LEFT_    "\033OD"
#define KEY_HOME_    "\033OH"
#define KEY_END_     "\033OF"
#define KEY_PGUP_    "\033[5~"
#define KEY_PGDN_    "\033[6~"
#define KEY_DELETE_  "\033[3~"
#define KEY_F1_      "\033OP"
#define KEY_F2_      "\033OQ"
#define KEY_CTRL_C_  "\003"
#define KEY_CTRL_Z_  "\032"
#define KEY_CTRL_L_  "\014"
#define PASTE_BEGIN_ "\033[200~"
#define PASTE_END_   "\033[201~"

enum { PTY_WAIT_MS = 8000, PTY_CELLS = 40000 };

struct pty_options {
	char *const *argv;      /* a program, found by PATH; null: `run` instead */
	int (*run)(void *with); /* a function of the test; its result is the exit status */
	void *with;
	int rows, cols;         /* 0: 24 and 80 */
	const char *const *env; /* "NAME=value" or "NAME" to unset, up to a null; may be null */
	bool hangup_ignored;    /* as nohup does */
};

struct pty {
	int master, slave;
	int report, order; /* pipes from and to the leader */
	pid_t leader, child;
	VTerm *vterm;
	VTermScreen *screen;
	int rows, cols;
	bool alternate; /* the program has switched to the alternate screen */
	bool cursor_shown;
	struct termios before;
	size_t bytes; /* received so far */
	bool stopped, ended;
	int status;           /* as waitpid gave it, once ended */
	char seen[PTY_CELLS]; /* the screen as text, made by pty_look */
};

/* ---- the child's side ------------------------------------------------------------------------ */

static inline void pty_set_environment(const char *const *env)
{
	setenv("TERM", "xterm-256color", 1);
	setenv("LC_ALL", "C.UTF-8", 1);
	unsetenv("NO_COLOR");
	unsetenv("LINES");
	unsetenv("COLUMNS");
	for (; env && *env; env++) {
		const char *is = strchr(*env, '=');
		char name[64];
		snprintf(name, sizeof name, "%.*s", is ? (int)(is - *env) : 63, *env);
		if (is)
			setenv(name, is + 1, 1);
		else
			unsetenv(name);
	}
}

static inline void pty_run_child(const struct pty_options *o)
{
	setpgid(0, 0);
	/* The leader hands the terminal over; until then, wait, or the first look at it stops us. */
	while (tcgetpgrp(0) != getpgrp())
		usleep(1000);
	for (int s = 1; s < NSIG; s++)
		signal(s, SIG_DFL);
	if (o->hangup_ignored)
		signal(SIGHUP, SIG_IGN);
	sigset_t none;
	sigemptyset(&none);
	sigprocmask(SIG_SETMASK, &none, NULL);
	pty_set_environment(o->env);
	if (!o->argv)
		_exit(o->run(o->with));
	execvp(o->argv[0], o->argv);
	_exit(127);
}

struct pty_news {
	int status; /* as waitpid gives it; PTY_BEGUN first */
	pid_t child;
};
enum { PTY_BEGUN = -1 };

static pid_t pty_led; /* in the leader: the program's group */

/* The kernel tells a closed window to the leader alone; a shell tells its jobs. */
static inline void pty_pass_hangup(int sig)
{
	if (pty_led > 0)
		kill(-pty_led, sig);
}

/* Tells each change of the child; after a stop it takes the terminal and waits for the order to go
 * on, as a shell's fg does. */
static inline void pty_lead(const struct pty_options *o, int report, int order)
{
	signal(SIGTTOU, SIG_IGN);
	signal(SIGINT, SIG_IGN);
	sigaction(SIGHUP,
		&(struct sigaction){.sa_handler = pty_pass_hangup, .sa_flags = SA_RESTART}, NULL);
	pid_t child = pty_led = fork();
	if (child == 0)
		pty_run_child(o);
	setpgid(child, child);
	tcsetpgrp(0, child);
	struct pty_news news = {PTY_BEGUN, child};
	if (write(report, &news, sizeof news) != sizeof news)
		_exit(1);
	for (;;) {
		if (waitpid(child, &news.status, WUNTRACED) != child)
			_exit(1);
		tcsetpgrp(0, getpgrp());
		if (write(report, &news, sizeof news) != sizeof news)
			_exit(1);
		char go;
		if (!WIFSTOPPED(news.status) || read(order, &go, 1) != 1)
			_exit(0);
		tcsetpgrp(0, child);
		kill(-child, SIGCONT);
	}
}

/* ---- the terminal ---------------------------------------------------------------------------- */

static inline int pty_property(VTermProp prop, VTermValue *value, void *of)
{
	struct pty *p = of;
	if (prop == VTERM_PROP_ALTSCREEN)
		p->alternate = value->boolean;
	if (prop == VTERM_PROP_CURSORVISIBLE)
		p->cursor_shown = value->boolean;
	return 1;
}

static inline void pty_open_vterm(struct pty *p)
{
	static const VTermScreenCallbacks callbacks = {.settermprop = pty_property};
	p->vterm = vterm_new(p->rows, p->cols);
	vterm_set_utf8(p->vterm, 1);
	p->screen = vterm_obtain_screen(p->vterm);
	vterm_screen_enable_altscreen(p->screen, 1);
	vterm_screen_set_callbacks(p->screen, &callbacks, p);
	vterm_screen_reset(p->screen, 1);
}

/* Starts it and returns at once. */
static inline void pty_start(struct pty *p, struct pty_options o)
{
	int report[2], order[2];
	memset(p, 0, sizeof *p);
	p->rows = o.rows ? o.rows : 24;
	p->cols = o.cols ? o.cols : 80;
	struct winsize size = {
		.ws_row = (unsigned short)p->rows, .ws_col = (unsigned short)p->cols};
	assert_int_equal(openpty(&p->master, &p->slave, NULL, NULL, &size), 0);
	assert_int_equal(pipe(report), 0);
	assert_int_equal(pipe(order), 0);
	tcgetattr(p->slave, &p->before);
	fflush(NULL);
	p->leader = fork();
	assert_true(p->leader >= 0);
	if (p->leader == 0) {
		setsid();
		ioctl(p->slave, TIOCSCTTY, 0);
		for (int fd = 0; fd < 3; fd++)
			dup2(p->slave, fd);
		close(p->master);
		close(p->slave);
		close(report[0]);
		close(order[1]);
		fcntl(report[1], F_SETFD, FD_CLOEXEC);
		fcntl(order[0], F_SETFD, FD_CLOEXEC);
		pty_lead(&o, report[1], order[0]);
	}
	close(report[1]);
	close(order[0]);
	p->report = report[0];
	p->order = order[1];
	pty_open_vterm(p);
	struct pty_news news;
	assert_int_equal(read(p->report, &news, sizeof news), sizeof news);
	p->child = news.child;
}

static inline long long pty_now(void)
{
	struct timespec t;
	clock_gettime(CLOCK_MONOTONIC, &t);
	return t.tv_sec * 1000LL + t.tv_nsec / 1000000;
}

/* Takes in what has come, waiting at most ms for the first of it. True when something came. */
static inline bool pty_take(struct pty *p, int ms)
{
	struct pollfd fds[2] = {{p->master, POLLIN, 0}, {p->report, POLLIN, 0}};
	if (p->ended)
		fds[1].fd = -1;
	if (poll(fds, 2, ms) <= 0)
		return false;
	bool came = false;
	if (fds[0].revents & POLLIN) {
		char buffer[4096]; /* libvterm overflows its stack on megabytes */
		ssize_t n = read(p->master, buffer, sizeof buffer);
		if (n > 0) {
			vterm_input_write(p->vterm, buffer, (size_t)n);
			p->bytes += (size_t)n;
			came = true;
		}
	} else if (fds[1].revents) {
		struct pty_news news;
		if (read(p->report, &news, sizeof news) == sizeof news) {
			p->status = news.status;
			p->stopped = WIFSTOPPED(news.status);
			p->ended = !p->stopped;
			came = true;
		} else {
			p->ended = true;
		}
	}
	return came;
}

/* The screen as text in p->seen: rows ended by LF, trailing blanks cut. */
static inline const char *pty_look(struct pty *p)
{
	size_t n = 0;
	for (int row = 0; row < p->rows; row++) {
		size_t used = n;
		for (int col = 0; col < p->cols && n < PTY_CELLS - 32; col++) {
			VTermScreenCell cell;
			vterm_screen_get_cell(p->screen, (VTermPos){row, col}, &cell);
			if (cell.chars[0] == (uint32_t)-1) /* right half of a wide letter */
				continue;
			if (!cell.chars[0])
				p->seen[n++] = ' ';
			for (int i = 0; i < VTERM_MAX_CHARS_PER_CELL && cell.chars[i]; i++) {
				uint32_t c = cell.chars[i];
				if (c < 0x80) {
					p->seen[n++] = (char)c;
				} else if (c < 0x800) {
					p->seen[n++] = (char)(0xC0 | c >> 6);
					p->seen[n++] = (char)(0x80 | (c & 63));
				} else if (c < 0x10000) {
					p->seen[n++] = (char)(0xE0 | c >> 12);
					p->seen[n++] = (char)(0x80 | (c >> 6 & 63));
					p->seen[n++] = (char)(0x80 | (c & 63));
				} else {
					p->seen[n++] = '?';
				}
			}
			if (n && p->seen[n - 1] != ' ')
				used = n;
		}
		n = used;
		p->seen[n++] = '\n';
	}
	p->seen[n] = '\0';
	return p->seen;
}

/* ---- sending --------------------------------------------------------------------------------- */

static inline void pty_send(struct pty *p, const char *keys)
{
	size_t len = strlen(keys);
	assert_int_equal(write(p->master, keys, len), len);
}

static inline void pty_resize(struct pty *p, int rows, int cols)
{
	struct winsize size = {.ws_row = (unsigned short)rows, .ws_col = (unsigned short)cols};
	p->rows = rows;
	p->cols = cols;
	vterm_set_size(p->vterm, rows, cols);
	ioctl(p->master, TIOCSWINSZ, &size);
}

/* The terminal window is closed. Nothing can be sent or seen after it. */
static inline void pty_hang_up(struct pty *p)
{
	close(p->master);
	p->master = -1;
}

/* After a stop: as the shell's fg. */
static inline void pty_continue(struct pty *p)
{
	p->stopped = false;
	assert_int_equal(write(p->order, "g", 1), 1);
}

/* ---- waiting --------------------------------------------------------------------------------- */

/* Waits until `is` holds, at most ms. */
static inline bool pty_until(
	struct pty *p, bool (*is)(struct pty *p, const void *with), const void *with, int ms)
{
	long long end = pty_now() + ms;
	while (!is(p, with)) {
		long long left = end - pty_now();
		if (left <= 0)
			return false;
		if (!pty_take(p, left < 50 ? (int)left : 50) && p->ended)
			return is(p, with);
	}
	return true;
}

static inline bool pty_has(struct pty *p, const void *text)
{
	return strstr(pty_look(p), text) != NULL;
}

static inline bool pty_has_not(struct pty *p, const void *text)
{
	return !pty_has(p, text);
}

static inline bool pty_is_over(struct pty *p, const void *unused)
{
	(void)unused;
	return p->ended;
}

static inline bool pty_is_stopped(struct pty *p, const void *unused)
{
	(void)unused;
	return p->stopped;
}

static inline void pty_sees_at(struct pty *p, const char *text, const char *file, int line)
{
	if (pty_until(p, pty_has, text, PTY_WAIT_MS))
		return;
	print_error("%s:%d: \"%s\" did not appear%s:\n%s\n", file, line, text,
		p->ended ? ", the program has ended" : "", pty_look(p));
	_fail(file, line);
}
#define pty_sees(p, text) pty_sees_at((p), (text), __FILE__, __LINE__)

static inline void pty_loses_at(struct pty *p, const char *text, const char *file, int line)
{
	if (pty_until(p, pty_has_not, text, PTY_WAIT_MS))
		return;
	print_error("%s:%d: \"%s\" did not go:\n%s\n", file, line, text, pty_look(p));
	_fail(file, line);
}
#define pty_loses(p, text) pty_loses_at((p), (text), __FILE__, __LINE__)

/* Takes in whatever comes until nothing has come for ms: only where there is nothing to wait for. */
static inline void pty_settle(struct pty *p, int ms)
{
	while (pty_take(p, ms))
		continue;
}

/* Waits for the end; the exit status, or -N when signal N ended it. */
static inline int pty_ended_at(struct pty *p, const char *file, int line)
{
	if (!pty_until(p, pty_is_over, NULL, PTY_WAIT_MS)) {
		print_error("%s:%d: it did not end:\n%s\n", file, line,
			p->master < 0 ? "(hung up)" : pty_look(p));
		_fail(file, line);
	}
	if (p->master >= 0)
		pty_settle(p, 20); /* what was written last may still be on its way */
	return WIFEXITED(p->status) ? WEXITSTATUS(p->status) : -WTERMSIG(p->status);
}
#define pty_ended(p) pty_ended_at((p), __FILE__, __LINE__)

/* Has the program asked for pastes to be marked? (Asked of libvterm by pasting nothing.) */
static inline bool pty_marks_pastes(struct pty *p)
{
	char bytes[64];
	vterm_keyboard_start_paste(p->vterm);
	return vterm_output_read(p->vterm, bytes, sizeof bytes) > 0;
}

/* Are the terminal's modes those of before, and the usual screen and cursor back? */
static inline bool pty_is_restored(struct pty *p)
{
	struct termios now;
	tcgetattr(p->slave, &now);
	return now.c_iflag == p->before.c_iflag && now.c_oflag == p->before.c_oflag &&
	       now.c_cflag == p->before.c_cflag && now.c_lflag == p->before.c_lflag &&
	       memcmp(now.c_cc, p->before.c_cc, sizeof now.c_cc) == 0 && !p->alternate &&
	       p->cursor_shown && !pty_marks_pastes(p);
}

static inline void pty_close(struct pty *p)
{
	if (p->master >= 0)
		close(p->master);
	close(p->slave);
	close(p->order);
	if (!p->ended) {
		kill(p->leader, SIGKILL);
		if (p->child > 0)
			kill(p->child, SIGKILL);
	}
	close(p->report);
	waitpid(p->leader, NULL, 0);
	vterm_free(p->vterm);
}

#endif
