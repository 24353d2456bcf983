/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cmd/phrase.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <sys/select.h>
#include <termios.h>
#include <unistd.h>

#include <barwright/base/cipher.h>
#include <barwright/base/file.h>
#include <barwright/record/assessor.h>

#include "cmd/command.h"

/* ---- at the terminal ------------------------------------------------------------------------- */

static volatile sig_atomic_t caught;

static void note(int signal)
{
	caught = signal;
}

/* What may come while somebody types: it waits until the terminal shows again what is typed. */
static const int held_back[] = {SIGINT, SIGTERM, SIGHUP, SIGQUIT, SIGTSTP};
enum { HELD = sizeof held_back / sizeof *held_back };

struct holding {
	struct sigaction before[HELD];
	sigset_t mask; /* as it was */
};

static void hold(struct holding *h)
{
	struct sigaction now = {.sa_handler = note};
	sigset_t block;
	sigemptyset(&now.sa_mask);
	sigemptyset(&block);
	for (size_t i = 0; i < HELD; i++)
		sigaddset(&block, held_back[i]);
	sigprocmask(SIG_BLOCK, &block, &h->mask);
	caught = 0;
	for (size_t i = 0; i < HELD; i++) {
		sigaction(held_back[i], NULL, &h->before[i]);
		if (h->before[i].sa_handler != SIG_IGN)
			sigaction(held_back[i], &now, NULL);
	}
}

static void let_go(const struct holding *h)
{
	for (size_t i = 0; i < HELD; i++)
		sigaction(held_back[i], &h->before[i], NULL);
	sigprocmask(SIG_SETMASK, &h->mask, NULL);
}

/* Signals come only while it waits, so none is lost between a look at `caught` and the waiting. */
static enum bad wait_for(int fd, const struct holding *h)
{
	fd_set one;
	FD_ZERO(&one);
	FD_SET(fd, &one);
	int n = pselect(fd + 1, &one, NULL, NULL, NULL, &h->mask);
	return n == 1 ? FINE : n < 0 && errno == EINTR ? BAD_STOPPED : BAD_IO;
}

/* Reads one line, byte by byte: what follows it belongs to somebody else. */
static enum bad line_read(int fd, const struct holding *h, char *out)
{
	size_t n = 0;
	for (;;) {
		char c;
		enum bad code = wait_for(fd, h);
		if (code == BAD_STOPPED && !caught)
			continue;
		if (code)
			return code;
		ssize_t got = read(fd, &c, 1);
		if (got < 0)
			return BAD_IO;
		if (got == 0 || c == '\n')
			break;
		if (n == PHRASE_MOST)
			return BAD_SIZE;
		out[n++] = c;
	}
	if (n && out[n - 1] == '\r')
		n--;
	out[n] = 0;
	return n ? FINE : BAD_MISSING;
}

/* Asks, and hands on what was typed, until that is right, something else is the matter, or it was wrong
 * as often as that is borne. */
static enum bad ask(int fd, const struct phrase_use *u, const struct holding *h, char *phrase)
{
	const char *prompt = u->prompt;
	enum bad code = FINE;
	for (int n = 1;; n++) {
		code = write(fd, prompt, strlen(prompt)) < 0 ? BAD_IO : line_read(fd, h, phrase);
		if (write(fd, "\n", 1) < 0 && !code)
			code = BAD_IO;
		if (code)
			return code;
		code = u->open(u->context, phrase);
		if (code != BAD_SEAL || n >= u->tries)
			return code;
		tcflush(fd, TCIFLUSH);
		prompt = "That is not the passphrase. Once more: ";
	}
}

/* Nothing that is typed is shown until the passphrase has been worked on, which takes a while, and what was
 * typed meanwhile is meant for nobody. */
static enum bad typed_at(int fd, const struct phrase_use *u, char *phrase)
{
	struct termios as_it_was, silent;
	struct holding h;
	if (tcgetattr(fd, &as_it_was))
		return BAD_TERMINAL;
	silent = as_it_was;
	silent.c_lflag &= ~(tcflag_t)(ECHO | ECHOE | ECHOK | ECHONL);
	silent.c_lflag |= ICANON | ISIG;
	hold(&h);
	enum bad code = tcsetattr(fd, TCSAFLUSH, &silent) ? BAD_TERMINAL : FINE;
	if (!code)
		code = ask(fd, u, &h, phrase);
	tcsetattr(fd, TCSAFLUSH, &as_it_was);
	let_go(&h);
	return code;
}

/* A signal that came now does what it would have done; one that only suspended is followed by the
 * question anew. */
static enum bad typed(const struct phrase_use *u, char *phrase)
{
	enum bad code;
	int fd = open("/dev/tty", O_RDWR | O_CLOEXEC);
	if (fd < 0)
		return BAD_TERMINAL;
	do {
		code = typed_at(fd, u, phrase);
		if (code != BAD_STOPPED)
			break;
		cipher_wipe(phrase, PHRASE_MOST + 1);
		if (caught != SIGTSTP && u->gave_up)
			u->gave_up(u->context);
		raise(caught);
	} while (caught == SIGTSTP);
	close(fd);
	return code;
}

/* ---- from a file ----------------------------------------------------------------------------- */

static enum bad from_file(const char *file, char *out)
{
	char *bytes;
	size_t len, n = 0;
	enum bad code = file_read_named(file, PHRASE_MOST + 2, NULL, &bytes, &len);
	if (code)
		return code;
	while (n < len && bytes[n] != '\n' && bytes[n] != '\r')
		n++;
	if (n && n <= PHRASE_MOST) {
		memcpy(out, bytes, n);
		out[n] = 0;
	}
	cipher_wipe(bytes, len);
	mem_drop(bytes);
	return !n ? BAD_MISSING : n > PHRASE_MOST ? BAD_SIZE : FINE;
}

/* ---- both ------------------------------------------------------------------------------------ */

static void tell(enum bad code)
{
	if (code == BAD_TERMINAL)
		cannot("there is no terminal to ask for the passphrase; name a file that holds it: "
		       "--phrase FILE");
	else if (code == BAD_MISSING)
		cannot("no passphrase was given");
	else
		cannot("the passphrase cannot be read: %s", bad_text(code));
}

/* What u->open said is the caller's to tell. */
struct opening {
	const struct phrase_use *use;
	bool asked;
};

static enum bad open_noted(void *context, const char *phrase)
{
	struct opening *o = context;
	o->asked = true;
	return o->use->open(o->use->context, phrase);
}

static void gave_up_noted(void *context)
{
	const struct opening *o = context;
	if (o->use->gave_up)
		o->use->gave_up(o->use->context);
}

enum bad phrase_use(const struct phrase_use *u)
{
	struct opening o = {.use = u};
	struct phrase_use noted = {u->file, u->prompt, u->tries, open_noted, gave_up_noted, &o};
	char *phrase = secret_get(PHRASE_MOST + 1);
	enum bad code = !phrase   ? BAD_MEMORY
			: u->file ? from_file(u->file, phrase)
				  : typed(&noted, phrase);
	if (u->file && !code)
		code = open_noted(&o, phrase);
	secret_drop(phrase);
	if (code && !o.asked && code != BAD_STOPPED)
		tell(code);
	if (code && code != BAD_STOPPED)
		gave_up_noted(&o);
	return code;
}

static enum bad keep(void *context, const char *phrase)
{
	char **out = context;
	size_t len = strlen(phrase);
	*out = secret_get(PHRASE_MOST + 1);
	if (!*out)
		return BAD_MEMORY;
	memcpy(*out, phrase, len + 1);
	return FINE;
}

enum bad phrase_ask(const char *file, const char *prompt, char **out)
{
	struct phrase_use u = {
		.file = file, .prompt = prompt, .tries = 1, .open = keep, .context = out};
	return phrase_use(&u);
}
