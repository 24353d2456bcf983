/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include <locale.h>
#include <string.h>

#include <barwright/base/bad.h>

#include "surface/hear.h"

static const struct choice choices[] = {
	{"drill", "Practise", NULL},
	{"learn", "Read", NULL},
	{"back", "An entry that is called back", NULL},
	{NULL, "Only a number", NULL},
};
static const struct question line = {.kind = ASK_LINE, .prompt = "?"};
static const struct question list = {
	.kind = ASK_CHOICE, .prompt = "?", .choice = choices, .nchoice = 4};
static const struct choice levels[] = {
	{"good", "good", NULL}, {NULL, "middling", NULL}, {NULL, "poor", NULL}};
static const struct question scale = {
	.kind = ASK_CHOICE, .choice = levels, .nchoice = 3, .is_scale = true};
static const struct question go = {.kind = ASK_GO};

#define LINE_255 \
	"1234567890123456789012345678901234567890123456789012345678901234567890123456789012345678" \
	"9012345678901234567890123456789012345678901234567890123456789012345678901234567890123456" \
	"7890123456789012345678901234567890123456789012345678901234567890123456789012345"

struct case_of {
	const char *why;
	const struct question *question;
	const char *typed;
	size_t len; /* 0: up to the ending 0 */
	enum heard heard;
	enum reply_kind kind;
	const char *text;
	size_t choice;
};

static const struct case_of cases[] = {
	{"a number", &line, "3.5 mm", 0, HEARD_REPLY, REPLY_TEXT, "3.5 mm", 0},
	{"blanks around it go", &line, " \t3,5  \r", 0, HEARD_REPLY, REPLY_TEXT, "3,5", 0},
	{"a tab inside is a blank", &line, "3\tmm", 0, HEARD_REPLY, REPLY_TEXT, "3 mm", 0},
	{"accents", &line, "Prüfstück", 0, HEARD_REPLY, REPLY_TEXT, "Prüfstück", 0},
	{"nothing", &line, "", 0, HEARD_FAULT, 0, NULL, 0},
	{"blanks alone", &line, "   ", 0, HEARD_FAULT, 0, NULL, 0},
	{"back", &line, "back", 0, HEARD_REPLY, REPLY_BACK, "", 0},
	{"capitals", &line, "LEAVE", 0, HEARD_REPLY, REPLY_LEAVE, "", 0},
	{"back with more is an answer", &line, "back 3", 0, HEARD_REPLY, REPLY_TEXT, "back 3", 0},
	{"help", &line, " ? ", 0, HEARD_HELP, 0, NULL, 0},
	{"the longest", &line, LINE_255, 0, HEARD_REPLY, REPLY_TEXT, LINE_255, 0},
	{"one too long", &line, LINE_255 "6", 0, HEARD_FAULT, 0, NULL, 0},
	{"a zero byte", &line, "3\0005", 3, HEARD_FAULT, 0, NULL, 0},
	{"an escape", &line, "\x1b[A", 0, HEARD_FAULT, 0, NULL, 0},
	{"Latin-1", &line,
		"Pr\xfc"
		"f",
		0, HEARD_FAULT, 0, NULL, 0},
	{"a cut sequence", &line, "\xE2\x89", 0, HEARD_FAULT, 0, NULL, 0},
	{"an overlong slash", &line, "\xC0\xAF", 0, HEARD_FAULT, 0, NULL, 0},
	{"a surrogate", &line, "\xED\xA0\x80", 0, HEARD_FAULT, 0, NULL, 0},
	{"an override", &line,
		"a\xE2\x80\xAE"
		"b",
		0, HEARD_FAULT, 0, NULL, 0},
	{"a zero-width space", &line,
		"a\xE2\x80\x8B"
		"b",
		0, HEARD_FAULT, 0, NULL, 0},
	{"the first", &list, "1", 0, HEARD_REPLY, REPLY_CHOICE, "", 0},
	{"the last", &list, "4", 0, HEARD_REPLY, REPLY_CHOICE, "", 3},
	{"a full stop behind", &list, "2.", 0, HEARD_REPLY, REPLY_CHOICE, "", 1},
	{"zeros before", &list, "002", 0, HEARD_REPLY, REPLY_CHOICE, "", 1},
	{"none", &list, "0", 0, HEARD_FAULT, 0, NULL, 0},
	{"one too many", &list, "5", 0, HEARD_FAULT, 0, NULL, 0},
	{"2^64 + 1", &list, "18446744073709551617", 0, HEARD_FAULT, 0, NULL, 0},
	{"below zero", &list, "-1", 0, HEARD_FAULT, 0, NULL, 0},
	{"a fraction", &list, "1.5", 0, HEARD_FAULT, 0, NULL, 0},
	{"a word", &list, "Learn", 0, HEARD_REPLY, REPLY_CHOICE, "", 1},
	{"half a word", &list, "lea", 0, HEARD_FAULT, 0, NULL, 0},
	{"nothing of a list", &list, "", 0, HEARD_FAULT, 0, NULL, 0},
	{"the list's own back", &list, "back", 0, HEARD_REPLY, REPLY_CHOICE, "", 2},
	{"leave from a list", &list, "leave", 0, HEARD_REPLY, REPLY_LEAVE, "", 0},
	{"help on a list", &list, "?", 0, HEARD_HELP, 0, NULL, 0},
	{"the best of a scale", &scale, "2", 0, HEARD_REPLY, REPLY_CHOICE, "", 0},
	{"the middle of a scale", &scale, "1", 0, HEARD_REPLY, REPLY_CHOICE, "", 1},
	{"the end of a scale", &scale, "0", 0, HEARD_REPLY, REPLY_CHOICE, "", 2},
	{"above a scale", &scale, "3", 0, HEARD_FAULT, 0, NULL, 0},
	{"a word of a scale", &scale, "good", 0, HEARD_REPLY, REPLY_CHOICE, "", 0},
	{"nothing of a scale", &scale, "", 0, HEARD_FAULT, 0, NULL, 0},
	{"a full stop of a scale", &scale, ".", 0, HEARD_FAULT, 0, NULL, 0},
	{"on", &go, "", 0, HEARD_REPLY, REPLY_GO, "", 0},
	{"on with a word", &go, "yes", 0, HEARD_FAULT, 0, NULL, 0},
	{"not on but back", &go, "back", 0, HEARD_REPLY, REPLY_BACK, "", 0},
};

static void check(const struct case_of *c)
{
	struct reply untouched = {.kind = REPLY_LOST, .choice = 99}, out = untouched;
	const char *fault = NULL;
	size_t len = c->len ? c->len : strlen(c->typed);
	enum heard heard = hear_line(c->question, c->typed, len, &out, &fault);
	if (heard != c->heard)
		fail_msg("%s: heard as %d, want %d", c->why, heard, c->heard);
	if (heard == HEARD_FAULT && (!fault || strlen(fault) < 10))
		fail_msg("%s: no words about the fault", c->why);
	if (heard != HEARD_REPLY) {
		if (out.kind != untouched.kind || out.choice != untouched.choice)
			fail_msg("%s: the reply was written", c->why);
		return;
	}
	if (out.kind != c->kind || out.choice != c->choice || strcmp(out.text, c->text) != 0)
		fail_msg("%s: got kind %d, choice %zu, \"%s\"", c->why, out.kind, out.choice,
			out.text);
}

static void each_line_is_heard_as_the_table_says(void **state)
{
	(void)state;
	assert_int_equal(strlen(LINE_255), REPLY_ROOM - 1);
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
		check(&cases[i]);
}

int main(void)
{
	setlocale(LC_CTYPE, "C.UTF-8");
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(each_line_is_heard_as_the_table_says),
	};
	return cmocka_run_group_tests_name("hear", tests, NULL, NULL);
}
