/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cmd/phrase.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <termios.h>
#include <unistd.h>

#include <barwright/base/cipher.h>
#include <barwright/base/file.h>
#include <barwright/record/assessor.h>

#include "cmd/command.h"

/* Reads one line, byte by byte: what follows it belongs to somebody else. */
static enum bad line_read(int fd, char *out)
{
	size_t n = 0;
	char c;
	for (;;) {
		ssize_t got = read(fd, &c, 1);
		if (got < 0 && errno == EINTR)
			return BAD_STOPPED;
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

static enum bad typed(const char *prompt, char *out)
{
	struct termios as_it_was, silent;
	int fd = open("/dev/tty", O_RDWR | O_CLOEXEC);
	if (fd < 0 || tcgetattr(fd, &as_it_was)) {
		if (fd >= 0)
			close(fd);
		return BAD_TERMINAL;
	}
	silent = as_it_was;
	silent.c_lflag &= ~(tcflag_t)(ECHO | ECHOE | ECHOK | ECHONL);
	silent.c_lflag |= ICANON | ISIG;
	enum bad code = tcsetattr(fd, TCSAFLUSH, &silent) ? BAD_TERMINAL : FINE;
	if (!code && write(fd, prompt, strlen(prompt)) < 0)
		code = BAD_IO;
	if (!code)
		code = line_read(fd, out);
	tcsetattr(fd, TCSAFLUSH, &as_it_was);
	if (write(fd, "\n", 1) < 0 && !code)
		code = BAD_IO;
	close(fd);
	return code;
}

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

enum bad phrase_ask(const char *file, const char *prompt, char **out)
{
	char *phrase = secret_get(PHRASE_MOST + 1);
	enum bad code = !phrase ? BAD_MEMORY
			: file  ? from_file(file, phrase)
				: typed(prompt, phrase);
	if (!code) {
		*out = phrase;
		return FINE;
	}
	secret_drop(phrase);
	if (code == BAD_TERMINAL)
		cannot("there is no terminal to ask for the passphrase; name a file that holds it: "
		       "--phrase FILE");
	else if (code == BAD_MISSING)
		cannot("no passphrase was given");
	else
		cannot("the passphrase cannot be read: %s", bad_text(code));
	return code;
}
