/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cmd/help.h"

#include <stdint.h>
#include <string.h>

enum { COLUMNS = 79, COLUMN_LEAST = 8 };

/* ---- no wider than a terminal ---------------------------------------------------------------- */

static size_t blanks(const char *s)
{
	return strspn(s, " ");
}

/* Words one behind the other; what does not fit stands below, `indent` blanks from the left. */
static void add_wrapped(struct text *out, const char *words, size_t indent)
{
	size_t col = 0;
	while (*words) {
		size_t gap = blanks(words), word = strcspn(words + gap, " ");
		if (col && word && col + gap + word > COLUMNS) {
			text_add_char(out, '\n');
			text_add_repeat(out, ' ', indent);
			words += gap;
			gap = 0;
			col = indent;
		}
		text_add_bytes(out, words, gap + word);
		col += gap + word;
		words += gap + word;
	}
	text_add_char(out, '\n');
}

/* Where the words stand that a line of help goes on with: the second column of "  --count N   stop
 * after", the first of what stands far from the left, the edge for running text; SIZE_MAX: it ends
 * with the line. */
static size_t column_of(const char *line, size_t len)
{
	size_t first = blanks(line);
	for (size_t at = first; at + 2 < len && first; at++)
		if (line[at] == ' ' && line[at + 1] == ' ')
			return at + blanks(line + at);
	return !len || (first && first < COLUMN_LEAST) ? SIZE_MAX : first;
}

/* Lines that go on in the column of the one before are joined to it, and wrapped anew. */
static void add_help(struct text *out, const char *help)
{
	struct text joined;
	text_init(&joined);
	while (*help) {
		size_t len = strcspn(help, "\n"), column = column_of(help, len);
		text_clear(&joined);
		text_add_bytes(&joined, help, len);
		for (help += len + (help[len] != 0);
			*help && *help != '\n' && blanks(help) == column;
			help += len + (help[len] != 0)) {
			len = strcspn(help, "\n");
			text_addf(&joined, " %.*s", (int)(len - column), help + column);
		}
		add_wrapped(out, joined.at, column == SIZE_MAX ? COLUMN_LEAST : column);
	}
	out->out |= joined.out;
	text_release(&joined);
}

static void add_usage(struct text *out, const char *usage)
{
	struct text line;
	text_init(&line);
	for (const char *from = usage; *from; from += strspn(from, "\n ")) {
		size_t len = strcspn(from, "\n");
		text_clear(&line);
		text_addf(&line, "%s%.*s", from == usage ? "Usage: " : "       ", (int)len, from);
		add_wrapped(out, line.at, 17);
		from += len;
	}
	out->out |= line.out;
	text_release(&line);
}

/* ---- what there is to say -------------------------------------------------------------------- */

static void add_commands(struct text *out, const struct command *const *commands, size_t n)
{
	struct text list;
	text_init(&list);
	for (size_t k = 0; k < n; k++)
		text_addf(&list, "  %-8s  %s\n", commands[k]->name, commands[k]->summary);
	add_help(out, list.at);
	out->out |= list.out;
	text_release(&list);
}

int help_show(const struct command *const *commands, size_t n)
{
	struct text t;
	text_init(&t);
	add_usage(&t, "barwright [OPTION...] [COMMAND [ARGUMENT...]]");
	add_help(&t, "\nTrains and assesses dental-technology students on the polymer bar of a "
		     "full-arch, screw-retained implant prosthesis. Without a command it opens on "
		     "the home page; --unrecorded alone does so and keeps no record.\n\n");
	add_commands(&t, commands, n);
	add_help(&t, "\nOptions that every command knows:\n"
		     "  --plain         line by line, for screen readers, pipes and scripts\n"
		     "  --words         figures in words only (with --plain)\n"
		     "  --json          results as JSON, where there are results\n"
		     "  --data DIR      where records and keys are kept\n"
		     "  --courses DIR   where courses are\n"
		     "  --course CODE   which course, if there are several\n"
		     "  --learner NAME  who learns, on a machine that several share\n"
		     "  --help          this, or more about a command: barwright drill --help\n"
		     "  --version\n\n"
		     "Exit status: 0 done; 1 the answer is no (faults found, an audit failed); 2 "
		     "it cannot be done.\n\n"
		     "What this program shows does not replace a prescription, suppliers' "
		     "instructions, local rules or licensed practice.\n");
	int status = put_out(&t, EXIT_DONE);
	text_release(&t);
	return status;
}

int help_show_command(const struct command *c)
{
	struct text t, summary;
	text_init(&t);
	text_init(&summary);
	add_usage(&t, c->usage);
	text_addf(&summary, "\n%c%s.\n", *c->summary & ~0x20, c->summary + 1);
	add_help(&t, summary.at);
	t.out |= summary.out;
	text_release(&summary);
	if (*c->help) {
		text_add_char(&t, '\n');
		add_help(&t, c->help);
	}
	text_add(&t, "\nOptions that every command knows: barwright --help\n");
	int status = put_out(&t, EXIT_DONE);
	text_release(&t);
	return status;
}
