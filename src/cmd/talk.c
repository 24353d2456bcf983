/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What commands say: results to stdout, talk to stderr. */
#include <errno.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include <barwright/base/file.h>
#include <barwright/base/utf8.h>

#include "cmd/command.h"

static int talk(const char *format, va_list args)
{
	struct text raw, safe;
	text_init(&raw);
	text_init(&safe);
	text_add(&raw, "barwright: ");
	text_vaddf(&raw, format, args);
	text_add_safe(&safe, raw.at, raw.len, true);
	fprintf(stderr, "%s\n", safe.at);
	text_release(&raw);
	text_release(&safe);
	return EXIT_CANNOT;
}

int cannot(const char *format, ...)
{
	va_list args;
	va_start(args, format);
	int status = talk(format, args);
	va_end(args);
	return status;
}

int cannot_file(enum bad code, const char *path)
{
	struct text words;
	text_init(&words);
	file_words(code, path, &words);
	int status = cannot("%s", words.at);
	text_release(&words);
	return status;
}

int cannot_read_usage(const struct command *c, const char *format, ...)
{
	va_list args;
	va_start(args, format);
	talk(format, args);
	va_end(args);
	fprintf(stderr, "Try 'barwright %s --help'.\n", c->name);
	return EXIT_CANNOT;
}

int put_out(const struct text *t, int status)
{
	if (t->out)
		return cannot("there was not enough memory for the whole answer");
	fwrite(t->at, 1, t->len, stdout);
	if (!fflush(stdout) && !ferror(stdout))
		return status;
	if (errno == EPIPE)
		return status;
	return cannot("the output could not be written: %s", strerror(errno));
}

enum bad put_file(const char *path, const char *begins, const void *bytes, size_t len, bool secret)
{
	if (file_kind(path) == FILE_PLAIN && !file_begins(path, begins))
		return BAD_REPEATED;
	return file_replace(path, bytes, len, secret);
}
