/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench/decide.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include <barwright/base/number.h>

const struct decision_word decision_words[DECISION_KINDS] = {
#define X(name, word, takes, does) {word, takes, does},
	DECISIONS(X)
#undef X
};

/* A text, cut into words at blanks; "17.8, 17.2" is one word. */
struct words_at {
	const char *at, *end;
};
struct token {
	const char *at;
	size_t len;
};

static bool next_token(struct words_at *w, struct token *out)
{
	while (w->at < w->end && *w->at == ' ')
		w->at++;
	out->at = w->at;
	while (w->at < w->end && (*w->at != ' ' || (w->at > out->at && w->at[-1] == ',')))
		w->at++;
	out->len = (size_t)(w->at - out->at);
	return out->len > 0;
}

static bool is_word(const char *word, const struct token *t)
{
	size_t i = 0;
	for (; i < t->len && word[i]; i++)
		if ((word[i] | 0x20) != (t->at[i] | 0x20))
			return false;
	return i == t->len && !word[i];
}

/* The sentence with what was typed in it, where '@' stands. */
static enum bad wrong(char *why, const char *sentence, const char *word, size_t len)
{
	const char *at = strchr(sentence, '@');
	size_t before = at ? (size_t)(at - sentence) : strlen(sentence);
	snprintf(why, DECISION_WHY, "%.*s%.*s%s", (int)before, sentence, (int)(len < 40 ? len : 40),
		word, at ? at + 1 : "");
	return BAD_SYNTAX;
}

/* ---- units ----------------------------------------------------------------------------------- */

const char *decision_unit(const char *unit)
{
	static const char *const signs[][2] = {{"um", "\xC2\xB5m"},
		{"degC", "\xC2\xB0"
			 "C"},
		{"deg", "\xC2\xB0"}, {"mm2", "mm\xC2\xB2"}, {"cm2", "cm\xC2\xB2"},
		{"mm3", "mm\xC2\xB3"}, {"cm3", "cm\xC2\xB3"}, {"s/cm2", "s/cm\xC2\xB2"},
		{"g/cm3", "g/cm\xC2\xB3"}};
	for (size_t i = 0; i < sizeof signs / sizeof *signs; i++)
		if (strcmp(signs[i][0], unit) == 0)
			return signs[i][1];
	return unit;
}

/* ---- values ---------------------------------------------------------------------------------- */

/* A number in the unit of the ask, or with a unit of its own. */
static enum bad quantity_value(
	const struct hand_ask *ask, const struct token *t, double *out, char *why)
{
	struct typed typed;
	struct unit unit = ask->shown.unit;
	const char *said;
	size_t at, len;
	enum bad code = typed_read(t->at, t->len, &typed, &said);
	if (code) {
		snprintf(why, DECISION_WHY, "%s", said);
		return BAD_SYNTAX;
	}
	if (typed.unit_len && unit_read(typed.unit, typed.unit_len, &unit, &at, &len))
		return wrong(why, "no unit is called '@'", typed.unit, typed.unit_len);
	if (!dim_is_equal(unit.dim, ask->shown.unit.dim)) {
		snprintf(why, DECISION_WHY, "this is asked in %s",
			*ask->shown.unit_text ? decision_unit(ask->shown.unit_text)
					      : "plain numbers");
		return BAD_SYNTAX;
	}
	*out = decimal_value(typed.value) * unit.factor + unit.offset;
	return FINE;
}

static enum bad number_value(
	const struct hand_ask *ask, const struct token *t, double *out, char *why)
{
	double value;
	enum bad code = quantity_value(ask, t, &value, why);
	if (code)
		return code;
	if (value < ask->low - 1e-9 || value > ask->high + 1e-9) {
		struct shown s = ask->shown;
		snprintf(why, DECISION_WHY, "%.*s is no sensible answer: %.4g to %.4g %s",
			(int)(t->len < 24 ? t->len : 24), t->at,
			(ask->low - s.unit.offset) / s.unit.factor,
			(ask->high - s.unit.offset) / s.unit.factor, decision_unit(s.unit_text));
		return BAD_SYNTAX;
	}
	*out = value;
	return FINE;
}

bool choice_is_number(const struct hand_ask *ask)
{
	return ask->kind == HAND_CHOICE && ask->nchoice && *ask->choice[0].word >= '0' &&
	       *ask->choice[0].word <= '9';
}

static enum bad choice_value(
	const struct hand_ask *ask, const struct token *t, double *out, char *why)
{
	for (size_t i = 0; i < ask->nchoice; i++)
		if (is_word(ask->choice[i].word, t)) {
			*out = ask->choice[i].value;
			return FINE;
		}
	/* "6 mm" is the choice '6.0' */
	double value;
	bool is_number = choice_is_number(ask);
	enum bad code = is_number ? quantity_value(ask, t, &value, why) : FINE;
	if (code)
		return code;
	for (size_t i = 0; i < ask->nchoice && is_number; i++)
		if (fabs(ask->choice[i].value - value) <= 1e-9) {
			*out = ask->choice[i].value;
			return FINE;
		}
	return wrong(why, "'@' is none of the choices", t->at, t->len);
}

static enum bad truth_value(const struct token *t, double *out, char *why)
{
	if (is_word("yes", t) || is_word("y", t))
		*out = 1;
	else if (is_word("no", t) || is_word("n", t))
		*out = 0;
	else
		return wrong(why, "'@' is neither yes nor no", t->at, t->len);
	return FINE;
}

static enum bad one_value(const struct hand_ask *ask, const struct token *t, double *out, char *why)
{
	return ask->kind == HAND_NUMBER   ? number_value(ask, t, out, why)
	       : ask->kind == HAND_CHOICE ? choice_value(ask, t, out, why)
					  : truth_value(t, out, why);
}

/* As a list is shown: a comma with a blank behind it parts, in "17,8, 17,2" too. */
static bool is_parting(const char *at, const char *end)
{
	return *at == '/' || *at == ';' || (*at == ',' && (at + 1 == end || at[1] == ' '));
}

/* Where the next of several values ends. A blank parts two numbers, not a number and its unit. */
static bool next_value(const char **at, const char *end, struct token *out)
{
	while (*at < end && (**at == ' ' || is_parting(*at, end)))
		++*at;
	out->at = *at;
	while (*at < end && !is_parting(*at, end)) {
		const char *next = *at + 1;
		if (**at == ' ' && next < end && (*next == '-' || (*next >= '0' && *next <= '9')))
			break;
		++*at;
	}
	out->len = (size_t)(*at - out->at);
	while (out->len && out->at[out->len - 1] == ' ')
		out->len--;
	return out->len > 0;
}

enum bad decision_values(const struct bench *b, const struct hand_ask *ask, const char *text,
	size_t len, double *out, char why[static DECISION_WHY])
{
	size_t want = each_count(ask->each, b->nsite), n = 0;
	const char *at = text, *end = text + len;
	struct token t;
	double value[BENCH_VALUES];
	while (next_value(&at, end, &t)) {
		if (n == want) {
			snprintf(why, DECISION_WHY, "these are more than %zu values", want);
			return BAD_SYNTAX;
		}
		enum bad code = one_value(ask, &t, &value[n++], why);
		if (code)
			return code;
	}
	if (n != want && n != 1) {
		snprintf(why, DECISION_WHY,
			n ? "%zu values are needed from the patient's right to left, here are %zu"
			  : "%zu values are needed, here are %zu",
			want, n);
		return BAD_SYNTAX;
	}
	for (size_t i = 0; i < want; i++)
		out[i] = value[n == 1 ? 0 : i];
	return FINE;
}

/* ---- reading --------------------------------------------------------------------------------- */

static size_t ask_named(const struct work_step *s, const struct token *t)
{
	for (size_t i = 0; i < s->nask; i++)
		if (is_word(s->ask[i].name, t))
			return i;
	return SIZE_MAX;
}

/* "kept=1/2/3", or values in the order of the asks. */
static enum bad step_values(const struct bench *b, struct words_at *w, struct deed *d, char *why)
{
	const struct work_step *s = &b->procedure->step[d->what];
	struct token t;
	unsigned given = 0;
	for (size_t k = 0; next_token(w, &t); k++) {
		const char *sign = memchr(t.at, '=', t.len);
		struct token name = {t.at, sign ? (size_t)(sign - t.at) : 0};
		struct token value = {sign ? sign + 1 : t.at, t.len};
		size_t i = sign ? ask_named(s, &name) : k;
		if (sign)
			value.len = t.len - name.len - 1;
		if (i >= s->nask)
			return wrong(why, "the step asks for no '@'", t.at, t.len);
		enum bad code =
			decision_values(b, &s->ask[i], value.at, value.len, d->input.value[i], why);
		if (code)
			return code;
		given |= 1U << i;
	}
	d->has_input = given == (1U << s->nask) - 1;
	return FINE;
}

static enum bad step_read(
	const struct bench *b, struct words_at *w, const struct token *t, struct deed *d, char *why)
{
	d->kind = DECIDE_DO;
	d->what = procedure_step(b->procedure, t->at, t->len);
	if (d->what == SIZE_MAX)
		return wrong(why, "no step is called '@'", t->at, t->len);
	return step_values(b, w, d, why);
}

static size_t tool_find(const struct procedure *p, const struct token *t)
{
	for (size_t i = 0; i < p->ntool; i++)
		if (is_word(p->tool[i].code, t))
			return i;
	return SIZE_MAX;
}

static enum bad look_read(const struct bench *b, struct words_at *w, struct deed *d, char *why)
{
	struct token t;
	d->other = SIZE_MAX;
	if (!next_token(w, &t))
		return wrong(why, "look at what?", "", 0);
	d->what = procedure_look(b->procedure, t.at, t.len);
	if (d->what == SIZE_MAX)
		return wrong(why, "nothing to look at is called '@'", t.at, t.len);
	if (!next_token(w, &t) || (is_word("with", &t) && !next_token(w, &t)))
		return FINE;
	d->other = tool_find(b->procedure, &t);
	return d->other == SIZE_MAX ? wrong(why, "no tool is called '@'", t.at, t.len) : FINE;
}

/* "refer", or with the look that shows it. */
static enum bad refer_read(const struct bench *b, struct words_at *w, struct deed *d, char *why)
{
	struct token t;
	d->what = SIZE_MAX;
	if (!next_token(w, &t))
		return FINE;
	d->what = procedure_look(b->procedure, t.at, t.len);
	return d->what == SIZE_MAX ? wrong(why, "nothing to look at is called '@'", t.at, t.len)
				   : FINE;
}

static size_t stuff_find(const struct procedure *p, const char *code, size_t len)
{
	struct token t = {code, len};
	for (size_t i = 0; i < p->nstuff; i++)
		if (is_word(p->stuff[i].code, &t))
			return i;
	return SIZE_MAX;
}

static enum bad named_read(const struct bench *b, struct words_at *w, struct deed *d, char *why,
	size_t find(const struct procedure *, const char *, size_t))
{
	struct token t;
	if (!next_token(w, &t))
		return wrong(why, "@ what?", decision_words[d->kind].word,
			strlen(decision_words[d->kind].word));
	d->what = find(b->procedure, t.at, t.len);
	return d->what == SIZE_MAX ? wrong(why, "nothing like that is called '@'", t.at, t.len)
				   : FINE;
}

static enum bad step_named(const struct bench *b, const struct token *t, size_t *out, char *why)
{
	*out = procedure_step(b->procedure, t->at, t->len);
	return *out == SIZE_MAX ? wrong(why, "no step is called '@'", t->at, t->len) : FINE;
}

/* The fault, and the two steps when both are given. */
static enum bad name_read(const struct bench *b, struct words_at *w, struct deed *d, char *why)
{
	struct token t;
	enum bad code = named_read(b, w, d, why, procedure_fault);
	if (code || !next_token(w, &t))
		return code;
	code = step_named(b, &t, &d->other, why);
	if (!code && !next_token(w, &t))
		return wrong(why, "and which step's check could have found it first?", "", 0);
	return code ? code : step_named(b, &t, &d->check, why);
}

static enum bad wait_read(struct words_at *w, struct deed *d, char *why)
{
	static const struct unit minute = {60, 0, {.power = {[DIM_TIME] = 1}}};
	struct typed typed;
	struct unit unit = minute;
	const char *said;
	size_t at, len;
	while (w->at < w->end && *w->at == ' ')
		w->at++;
	if (typed_read(w->at, (size_t)(w->end - w->at), &typed, &said) ||
		(typed.unit_len && unit_read(typed.unit, typed.unit_len, &unit, &at, &len)) ||
		!dim_is_equal(unit.dim, minute.dim))
		return wrong(why, "wait how many minutes?", "", 0);
	d->seconds = decimal_value(typed.value) * unit.factor;
	return FINE;
}

static enum bad reason_read(const struct bench *b, struct words_at *w, struct deed *d, char *why)
{
	struct token t;
	enum bad code = named_read(b, w, d, why, procedure_step);
	if (code)
		return code;
	if (!next_token(w, &t))
		return wrong(why, "which reason?", "", 0);
	return step_named(b, &t, &d->other, why);
}

/* A step may be called like one of the other words: then it is the step. */
static enum decision_kind kind_typed(const struct bench *b, const struct token *t)
{
	enum decision_kind kind = is_word("measure", t) ? DECIDE_LOOK : DECISION_KINDS;
	for (int i = 0; i < DECISION_KINDS && kind == DECISION_KINDS; i++)
		if (is_word(decision_words[i].word, t))
			kind = (enum decision_kind)i;
	if (kind == DECIDE_DO || kind == DECIDE_WHY)
		return kind;
	return procedure_step(b->procedure, t->at, t->len) != SIZE_MAX ? DECISION_KINDS : kind;
}

/* What stands behind the first word, which is `t`. */
static enum bad rest_read(
	const struct bench *b, struct words_at *w, struct token *t, struct deed *d, char *why)
{
	switch (d->kind) {
	case DECIDE_DO:
		return next_token(w, t) ? step_read(b, w, t, d, why)
					: wrong(why, "do which step?", "", 0);
	case DECIDE_WHY:
		return reason_read(b, w, d, why);
	case DECIDE_LOOK:
		return look_read(b, w, d, why);
	case DECIDE_MEND:
		return named_read(b, w, d, why, procedure_fault);
	case DECIDE_NAME:
		return name_read(b, w, d, why);
	case DECIDE_REMAKE:
		return named_read(b, w, d, why, procedure_back);
	case DECIDE_ORDER:
		return named_read(b, w, d, why, stuff_find);
	case DECIDE_WAIT:
		return wait_read(w, d, why);
	case DECIDE_REFER:
		return refer_read(b, w, d, why);
	case DECIDE_RELEASE:
	case DECIDE_SCRAP:
		break;
	case DECISION_KINDS:
		if (procedure_step(b->procedure, t->at, t->len) == SIZE_MAX)
			return wrong(why,
				"'@' is no step and no word of the bench; help lists the words",
				t->at, t->len);
		return step_read(b, w, t, d, why);
	}
	return FINE;
}

enum bad decision_read(const struct bench *b, const char *text, size_t len, struct deed *out,
	char why[static DECISION_WHY])
{
	struct words_at w = {text, text + len};
	struct token t;
	struct deed d = {.other = SIZE_MAX, .check = SIZE_MAX};
	if (!next_token(&w, &t))
		return wrong(why, "nothing was typed", "", 0);
	d.kind = kind_typed(b, &t);
	enum bad code = rest_read(b, &w, &t, &d, why);
	if (!code)
		*out = d;
	return code;
}

/* ---- writing --------------------------------------------------------------------------------- */

/* The shortest decimal of at most nine places that is this value in its unit. */
static void number_write(const struct shown *s, double inside, struct text *out)
{
	char digits[48];
	double value = (inside - s->unit.offset) / s->unit.factor;
	int len = snprintf(digits, sizeof digits, "%.6f", value);
	while (len > 1 && digits[len - 1] == '0')
		len--;
	if (digits[len - 1] == '.')
		len--;
	text_add_bytes(out, digits, (size_t)len);
}

static void value_write(const struct hand_ask *x, double value, struct text *out)
{
	if (x->kind == HAND_TRUTH) {
		text_add(out, value != 0 ? "yes" : "no");
		return;
	}
	for (size_t i = 0; i < x->nchoice; i++)
		if (x->choice[i].value == value) {
			text_add(out, x->choice[i].word);
			return;
		}
	number_write(&x->shown, value, out);
}

static void step_write(const struct bench *b, const struct deed *d, struct text *out)
{
	const struct work_step *s = &b->procedure->step[d->what];
	text_addf(out, "do %s", s->code);
	for (size_t i = 0; i < s->nask; i++) {
		text_addf(out, " %s=", s->ask[i].name);
		for (size_t k = 0; k < each_count(s->ask[i].each, b->nsite); k++) {
			text_add(out, k ? "/" : "");
			value_write(&s->ask[i], d->input.value[i][k], out);
		}
	}
}

void decision_write(const struct bench *b, const struct deed *d, struct text *out)
{
	const struct procedure *p = b->procedure;
	const char *word = decision_words[d->kind].word;
	switch (d->kind) {
	case DECIDE_DO:
		step_write(b, d, out);
		break;
	case DECIDE_WHY:
		text_addf(out, "%s %s %s", word, p->step[d->what].code, p->step[d->other].code);
		break;
	case DECIDE_LOOK:
		text_addf(out, "%s %s", word, p->look[d->what].code);
		if (d->other != SIZE_MAX)
			text_addf(out, " %s", p->tool[d->other].code);
		break;
	case DECIDE_MEND:
		text_addf(out, "%s %s", word, p->fault[d->what].code);
		break;
	case DECIDE_NAME:
		text_addf(out, "%s %s", word, p->fault[d->what].code);
		if (d->other != SIZE_MAX && d->check != SIZE_MAX)
			text_addf(out, " %s %s", p->step[d->other].code, p->step[d->check].code);
		break;
	case DECIDE_REMAKE:
		text_addf(out, "%s %s", word, p->back[d->what].code);
		break;
	case DECIDE_ORDER:
		text_addf(out, "%s %s", word, p->stuff[d->what].code);
		break;
	case DECIDE_WAIT:
		text_addf(out, "%s %.6f", word, d->seconds / 60);
		break;
	case DECIDE_REFER:
		text_add(out, word);
		if (d->what != SIZE_MAX)
			text_addf(out, " %s", p->look[d->what].code);
		break;
	case DECIDE_RELEASE:
	case DECIDE_SCRAP:
	case DECISION_KINDS:
		text_add(out, word);
		break;
	}
}

enum bad decision_carry(struct bench *b, const struct deed *d, struct bench_reading *reading)
{
	*reading = (struct bench_reading){0};
	switch (d->kind) {
	case DECIDE_DO:
		return bench_do(b, d->what, &d->input);
	case DECIDE_WHY:
		return bench_reason(b, d->what, d->other);
	case DECIDE_LOOK:
		return bench_look(b, d->what, d->other, reading);
	case DECIDE_MEND:
		return bench_mend(b, d->what);
	case DECIDE_REMAKE:
		return bench_back(b, d->what);
	case DECIDE_ORDER:
		return bench_buy(b, d->what);
	case DECIDE_WAIT:
		return bench_wait(b, d->seconds);
	case DECIDE_NAME:
		return bench_name(b, &(struct hunt_answer){d->what, d->other, d->check});
	case DECIDE_RELEASE:
		return bench_end(b, END_ACCEPTED);
	case DECIDE_REFER:
		return bench_refer(b, d->what);
	case DECIDE_SCRAP:
	case DECISION_KINDS:
		break;
	}
	return bench_end(b, END_SCRAPPED);
}
