/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rating/measured.h"

#include <math.h>
#include <string.h>

#include <barwright/base/number.h>
#include <barwright/base/unit.h>

const char *const rate_level_name[RUBRIC_LEVELS] = {"unusable", "below", "competent", "excellent"};

/* ---- reading --------------------------------------------------------------------------------- */

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

static bool begins_number(const char *s)
{
	if (*s == '+' || *s == '-')
		s++;
	return is_digit(*s) || ((*s == '.' || *s == ',') && is_digit(s[1]));
}

/* Up to the next number, or to a ';'. */
static size_t one_length(const char *s)
{
	size_t n = 1;
	while (s[n] && s[n] != ';' && !(s[n - 1] == ' ' && begins_number(s + n)))
		n++;
	return n;
}

static enum bad one_read(
	const struct measure *m, const char *s, size_t len, double *out, const char **why)
{
	struct typed typed;
	struct unit unit = m->unit;
	size_t fault, fault_len;
	enum bad code = typed_read(s, len, &typed, why);
	if (code)
		return code;
	if (typed.unit_len && unit_read(typed.unit, typed.unit_len, &unit, &fault, &fault_len)) {
		*why = "no unit has this name";
		return BAD_UNIT;
	}
	if (!dim_is_equal(unit.dim, m->unit.dim)) {
		*why = "a reading of this instrument has another unit";
		return BAD_UNIT;
	}
	*out = decimal_value(typed.value) * unit.factor;
	if (*out < 0) {
		*why = "type it without a sign: how large it is, or how far off";
		return BAD_RANGE;
	}
	return FINE;
}

/* A level is proved when every reading proves it, refuted when one does. */
static void judge(const struct measure *m, struct measured_set *s)
{
	s->proved = 0;
	for (int k = 1; k < RUBRIC_LEVELS; k++) {
		enum metrology_verdict all = METROLOGY_ACCEPT, one = METROLOGY_ACCEPT;
		for (size_t i = 0; i < s->n; i++) {
			if (metrology_judge(
				    s->reading[i], m->lower[k], m->upper[k], m->error, &one))
				one = METROLOGY_CANNOT_TELL;
			if (one == METROLOGY_ACCEPT || all == METROLOGY_REJECT)
				continue;
			s->worst = i;
			all = one;
		}
		s->verdict[k] = all;
		if (all == METROLOGY_ACCEPT)
			s->proved = k;
	}
}

enum bad measured_read(
	const struct measure *m, const char *typed, struct measured_set *out, const char **why)
{
	struct measured_set s = {.verdict = {METROLOGY_ACCEPT}};
	for (const char *at = typed; *at;) {
		if (*at == ' ' || *at == ';') {
			at++;
			continue;
		}
		size_t len = one_length(at);
		if (s.n == READINGS_MOST) {
			*why = "these are too many readings";
			return BAD_COUNT;
		}
		enum bad code = one_read(m, at, len, &s.reading[s.n], why);
		if (code)
			return code;
		s.n++;
		at += len;
	}
	if (!s.n) {
		*why = "type at least one reading";
		return BAD_COUNT;
	}
	judge(m, &s);
	*out = s;
	return FINE;
}

int measured_allows(const struct measured_set *s)
{
	int level = RUBRIC_LEVELS - 1;
	while (level && s->verdict[level] == METROLOGY_REJECT)
		level--;
	return level;
}

/* ---- words ----------------------------------------------------------------------------------- */

/* The unit as it stands behind a number, " mm" or "°"; null: no memory. */
static const char *unit_words(const struct measure *m, struct arena *a)
{
	struct text t;
	text_init(&t);
	text_add(&t, unit_is_close(m->unit_text) ? "" : " ");
	unit_add_printed(m->unit_text, strlen(m->unit_text), &t);
	const char *made = t.out ? NULL : arena_copy(a, t.at, t.len);
	text_release(&t);
	return made;
}

/* "at most 0.20 mm", "from 1.00 to 2.00 mm". */
static const char *limit_words(const struct measure *m, int level, struct arena *a)
{
	double low = m->lower[level] / m->unit.factor, high = m->upper[level] / m->unit.factor;
	const char *unit = unit_words(m, a);
	if (!unit)
		return NULL;
	if (isinf(low))
		return arena_format(a, "at most %.2f%s", high, unit);
	if (isinf(high))
		return arena_format(a, "at least %.2f%s", low, unit);
	return arena_format(a, "from %.2f to %.2f%s", low, high, unit);
}

static const char *verdict_words(
	const struct measure *m, const struct measured_set *s, int level, struct arena *a)
{
	const char *limit = limit_words(m, level, a), *name = rate_level_name[level];
	const char *unit = unit_words(m, a);
	double error = m->error / m->unit.factor;
	if (!limit || !unit)
		return NULL;
	if (s->verdict[level] == METROLOGY_ACCEPT)
		return arena_format(a, "%s (%s) is proved", name, limit);
	if (s->verdict[level] == METROLOGY_REJECT)
		return arena_format(a, "%s (%s) is not kept", name, limit);
	return arena_format(a,
		"whether %s (%s) is kept cannot be told: the reading lies within the error "
		"of the instrument, %.2f%s, of the limit",
		name, limit, error, unit);
}

const char *measured_words(const struct measure *m, const struct measured_set *s, struct arena *a)
{
	const char *first = s->proved ? verdict_words(m, s, s->proved, a) : "no level is proved";
	if (!first || s->proved == RUBRIC_LEVELS - 1)
		return first;
	const char *next = verdict_words(m, s, s->proved + 1, a);
	return next ? arena_format(a, "%s; %s", first, next) : NULL;
}
