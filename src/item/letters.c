/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Answers given by letters: one option, several, an order, what goes together. */
#include <string.h>

#include "course/course.h"
#include "item/judge.h"

/* ---- the letters ----------------------------------------------------------------------------- */

static size_t place_of(const uint32_t *place, size_t n, size_t option)
{
	size_t k = 0;
	while (k < n && place[k] != option)
		k++;
	return k;
}

static void letter_add(struct text *out, size_t place)
{
	text_add_char(out, (char)('a' + place));
}

static void parted(struct text *out, size_t before)
{
	if (out->len > before)
		text_add_char(out, ' ');
}

static void match_letters(const struct ask *q, const struct instance_ask *made, struct text *out)
{
	size_t before = out->len;
	for (size_t row = 0; row < q->noffer; row++) {
		parted(out, before);
		text_addf(out, "%zu", row + 1);
		letter_add(out, place_of(made->with, q->noffer + q->nother, made->place[row]));
	}
}

/* One right order: of those that may come next, the one first in the file. */
static void order_letters(const struct ask *q, const struct instance_ask *made, struct text *out)
{
	size_t before = out->len;
	uint32_t placed = 0;
	for (size_t k = 0; k < q->noffer;) {
		uint32_t bit = (uint32_t)1 << k;
		if (!(made->right & bit) || placed & bit || made->after[k] & ~placed) {
			k++;
			continue;
		}
		parted(out, before);
		letter_add(out, place_of(made->place, q->noffer, k));
		placed |= bit;
		k = 0;
	}
}

void instance_letters_add(const struct instance *i, size_t ask, struct text *out)
{
	const struct ask *q = &i->problem->ask[ask];
	const struct instance_ask *made = &i->ask[ask];
	size_t before = out->len;
	if (q->kind == ASKED_MATCH)
		match_letters(q, made, out);
	else if (q->kind == ASKED_ORDER)
		order_letters(q, made, out);
	else
		for (size_t place = 0; place < q->noffer; place++)
			if (made->right & (uint32_t)1 << made->place[place]) {
				parted(out, before);
				letter_add(out, place);
			}
}

/* ---- reading --------------------------------------------------------------------------------- */

static bool is_between(char c)
{
	return c == ' ' || c == ',' || c == ';' || c == '-' || c == '>' || c == '\t' || c == '.' ||
	       c == ')';
}

/* Letters as places; null when all could be read, else why not. */
static const char *read_places(
	const char *s, size_t len, size_t n, unsigned char *place, size_t *count)
{
	*count = 0;
	for (size_t k = 0; k < len; k++) {
		char c = (char)(s[k] | 0x20);
		if (is_between(s[k]))
			continue;
		if (c < 'a' || c > 'z')
			return "answer with the letters beside the options";
		if ((size_t)(c - 'a') >= n)
			return "there is no option with that letter";
		if (memchr(place, c - 'a', *count))
			return "a letter stands there twice";
		place[(*count)++] = (unsigned char)(c - 'a');
	}
	return *count ? NULL : "answer with the letters beside the options";
}

static const char *read_options(const struct ask *q, const struct instance_ask *made, const char *s,
	size_t len, struct score *out)
{
	unsigned char place[INSTANCE_OFFERS];
	size_t n;
	const char *why = read_places(s, len, q->noffer, place, &n);
	if (why)
		return why;
	if (q->kind == ASKED_CHOICE && n > 1)
		return "one letter is wanted";
	for (size_t k = 0; k < n; k++)
		out->picked[k] = (unsigned char)made->place[place[k]];
	out->npicked = n;
	return NULL;
}

static size_t number_at(const char *s, size_t len, size_t *row)
{
	size_t n = 0;
	*row = 0;
	while (n < len && n < 2 && s[n] >= '0' && s[n] <= '9')
		*row = 10 * *row + (size_t)(s[n++] - '0');
	return n;
}

/* "1c 2a 3b", or the letters alone, row by row. */
static const char *read_match(const struct ask *q, const struct instance_ask *made, const char *s,
	size_t len, struct score *out)
{
	uint32_t done = 0;
	size_t next = 0;
	for (size_t k = 0; k < len;) {
		size_t row, n = number_at(s + k, len - k, &row);
		if (!n && is_between(s[k])) {
			k++;
			continue;
		}
		row = n ? row - 1 : next; /* 0 becomes the largest of all */
		for (k += n; k < len && is_between(s[k]);)
			k++;
		char c = k < len ? (char)(s[k++] | 0x20) : 0;
		if (row >= q->noffer || done & (uint32_t)1 << row)
			return "there is no such row, or it stands there twice";
		if (c < 'a' || (size_t)(c - 'a') >= q->noffer + q->nother)
			return "answer with number and letter, such as: 1c 2a 3b";
		out->picked[made->place[row]] = (unsigned char)made->with[c - 'a'];
		done |= (uint32_t)1 << row;
		next = row + 1;
	}
	out->npicked = q->noffer;
	return done == ((uint32_t)1 << q->noffer) - 1 ? NULL : "each row needs a letter";
}

/* ---- judging --------------------------------------------------------------------------------- */

/* Calls `look` for every option that went wrong, in the order in which it shows; stops when it gives
 * false. */
static void each_wrong(const struct instance *i, size_t ask, const struct score *s,
	bool (*look)(void *to, size_t option, bool missed), void *to)
{
	const struct ask *q = &i->problem->ask[ask];
	const struct instance_ask *made = &i->ask[ask];
	uint32_t seen = 0;
	for (size_t k = 0; k < s->npicked; k++) {
		size_t option = q->kind == ASKED_MATCH ? k : s->picked[k];
		uint32_t bit = (uint32_t)1 << option;
		bool wrong = !(made->right & bit);
		if (q->kind == ASKED_MATCH)
			wrong = s->picked[k] != k;
		else if (q->kind == ASKED_ORDER)
			wrong = wrong || made->after[option] & ~seen;
		seen |= bit;
		if (wrong && !look(to, option, false))
			return;
	}
	for (size_t k = 0; k < q->noffer && q->kind != ASKED_CHOICE; k++)
		if (made->right & ~seen & (uint32_t)1 << k && !look(to, k, true))
			return;
}

struct verdict {
	const struct ask *q;
	struct score *score;
	bool wrong;
};

static bool note_wrong(void *to, size_t option, bool missed)
{
	struct verdict *v = to;
	v->wrong = true;
	if (missed || !*v->q->offer[option].slip)
		return true;
	v->score->slip = (long)option;
	return false;
}

static bool wants_all(const struct ask *q, const struct instance_ask *made)
{
	return q->kind == ASKED_ORDER && made->right == ((uint32_t)1 << q->noffer) - 1;
}

void letters_judge(
	const struct instance *i, size_t ask, const char *typed, size_t len, struct score *out)
{
	const struct ask *q = &i->problem->ask[ask];
	const struct instance_ask *made = &i->ask[ask];
	const char *why =
		(q->kind == ASKED_MATCH ? read_match : read_options)(q, made, typed, len, out);
	if (!why && wants_all(q, made) && out->npicked < q->noffer)
		why = "not all are there: write the letters of all of them in their order";
	if (why) {
		unread(out, why);
		return;
	}
	struct verdict v = {q, out, false};
	each_wrong(i, ask, out, note_wrong, &v);
	out->outcome = !v.wrong                    ? OUTCOME_RIGHT
		       : out->slip == NO_SLIP_FITS ? OUTCOME_WRONG
						   : OUTCOME_SLIP;
}

/* ---- in words -------------------------------------------------------------------------------- */

/* As the places in the file, from 1: they mean the same whatever was shuffled. */
void letters_read_as(const struct instance *i, size_t ask, const struct score *s, struct text *out)
{
	bool match = i->problem->ask[ask].kind == ASKED_MATCH;
	text_add(out, match ? "pairs" : s->npicked > 1 ? "options" : "option");
	for (size_t k = 0; k < s->npicked; k++)
		if (match)
			text_addf(out, " %zu=%d", k + 1, s->picked[k] + 1);
		else
			text_addf(out, " %d", s->picked[k] + 1);
}

struct telling {
	const struct instance *instance;
	size_t ask;
	char sign;
	struct text *out;
	size_t told, missed;
};

static void tell_which(const struct telling *t, size_t option)
{
	const struct ask *q = &t->instance->problem->ask[t->ask];
	const struct instance_ask *made = &t->instance->ask[t->ask];
	bool belongs = made->right & (uint32_t)1 << option;
	if (q->kind == ASKED_CHOICE)
		return;
	text_add_char(t->out, '"');
	instance_text_add(t->instance, &q->offer[option].text, t->sign, t->out);
	text_add(t->out, q->kind == ASKED_MATCH   ? "\" goes with something else. "
			 : !belongs               ? "\" does not belong here. "
			 : q->kind == ASKED_ORDER ? "\" stands too early. "
						  : "\": ");
}

enum { TOLD_MOST = 3 };

/* What is missing is not named: it may still be found. */
static bool tell_one(void *to, size_t option, bool missed)
{
	struct telling *t = to;
	const struct offer *o = &t->instance->problem->ask[t->ask].offer[option];
	t->missed += missed;
	if (missed || t->told == TOLD_MOST)
		return true;
	if (t->out->len)
		text_add_char(t->out, ' ');
	tell_which(t, option);
	if (o->say.n)
		instance_text_add(t->instance, &o->say, t->sign, t->out);
	else if (t->out->len && t->out->at[t->out->len - 1] == ' ')
		t->out->at[--t->out->len] = 0;
	t->told++;
	return true;
}

void letters_tell(
	const struct instance *i, size_t ask, const struct score *s, char sign, struct text *out)
{
	struct telling t = {i, ask, sign, out, 0, 0};
	each_wrong(i, ask, s, tell_one, &t);
	if (t.missed)
		text_addf(out, "%s%zu %s missing.", out->len ? " " : "", t.missed,
			t.missed == 1 ? "is" : "are");
}
