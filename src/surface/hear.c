/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "surface/hear.h"

#include <string.h>

#include <barwright/base/text.h>
#include <barwright/base/utf8.h>

static const struct {
	const char *word, *text;
} spoken_info[SPOKEN_COUNT] = {
#define X(name, word, text) [SPOKEN_##name] = {word, text},
	SPOKEN(X)
#undef X
};

const char *spoken_word(enum spoken which)
{
	return spoken_info[which].word;
}

const char *spoken_text(enum spoken which)
{
	return spoken_info[which].text;
}

bool hear_is_typable(uint32_t code)
{
	return utf8_is_safe(code);
}

static bool is_blank(char c)
{
	return c == ' ' || c == '\t' || c == '\r';
}

static bool is_word(const char *word, const char *s, size_t len)
{
	return word && strlen(word) == len && text_is_same(word, s, len);
}

/* Why these bytes cannot be a reply, or null. */
static const char *fault_of(const char *s, size_t len)
{
	uint32_t code;
	for (size_t i = 0; i < len;) {
		size_t n = utf8_read(s + i, len - i, &code);
		if (!n)
			return "that is not UTF-8 text; please type it again";
		if (code != '\t' && !hear_is_typable(code))
			return "there is a control or invisible character in it; please type it "
			       "again";
		i += n;
	}
	return len < REPLY_ROOM ? NULL : "that is too long for an answer; please type it shorter";
}

/* The index of the choice that was named by word or by number; nchoice: none. */
static size_t choice_of(const struct question *q, const char *s, size_t len)
{
	size_t number = 0, i;
	for (i = 0; i < q->nchoice; i++)
		if (is_word(q->choice[i].word, s, len))
			return i;
	for (i = 0; i < len && s[i] >= '0' && s[i] <= '9' && number <= q->nchoice; i++)
		number = number * 10 + (size_t)(s[i] - '0');
	bool whole = i && (i == len || (i + 1 == len && s[i] == '.'));
	return whole ? question_line(q, number) : q->nchoice;
}

static enum heard hear_spoken(const char *s, size_t len, struct reply *out)
{
	if (is_word(spoken_word(SPOKEN_HELP), s, len))
		return HEARD_HELP;
	if (is_word(spoken_word(SPOKEN_BACK), s, len))
		*out = (struct reply){.kind = REPLY_BACK};
	else if (is_word(spoken_word(SPOKEN_LEAVE), s, len))
		*out = (struct reply){.kind = REPLY_LEAVE};
	else
		return HEARD_FAULT;
	return HEARD_REPLY;
}

static enum heard hear_text(const char *s, size_t len, struct reply *out, const char **fault)
{
	if (!len) {
		*fault = "nothing was typed";
		return HEARD_FAULT;
	}
	*out = (struct reply){.kind = REPLY_TEXT};
	for (size_t i = 0; i < len; i++)
		out->text[i] = s[i] == '\t' ? ' ' : s[i];
	return HEARD_REPLY;
}

static enum heard hear_choice(
	const struct question *q, const char *s, size_t len, struct reply *out, const char **fault)
{
	size_t i = choice_of(q, s, len);
	if (i == q->nchoice) {
		*fault = "that is neither a number nor a word of the list";
		return HEARD_FAULT;
	}
	*out = (struct reply){.kind = REPLY_CHOICE, .choice = i};
	return HEARD_REPLY;
}

static enum heard hear_go(size_t len, struct reply *out, const char **fault)
{
	if (len) {
		*fault = "press Enter alone to go on";
		return HEARD_FAULT;
	}
	*out = (struct reply){.kind = REPLY_GO};
	return HEARD_REPLY;
}

enum heard hear_line(const struct question *q, const char *line, size_t len, struct reply *out,
	const char **fault)
{
	while (len && is_blank(*line)) {
		line++;
		len--;
	}
	while (len && is_blank(line[len - 1]))
		len--;
	const char *why = fault_of(line, len);
	if (why) {
		*fault = why;
		return HEARD_FAULT;
	}
	bool own = q->kind == ASK_CHOICE && choice_of(q, line, len) < q->nchoice;
	enum heard heard = own ? HEARD_FAULT : hear_spoken(line, len, out);
	if (heard != HEARD_FAULT)
		return heard;
	if (q->kind == ASK_CHOICE)
		return hear_choice(q, line, len, out, fault);
	return q->kind == ASK_GO ? hear_go(len, out, fault) : hear_text(line, len, out, fault);
}
