/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "formula/value.h"

#include <float.h>

const char value_by_zero[] = "divides by 0";
const char value_too_large[] = "becomes too large";
const char value_met_nothing[] = "meets \"nothing\", which is_nothing(...) should ask for first";

double formula_nothing(void)
{
	return NAN;
}

bool formula_is_nothing(double number)
{
	return isnan(number);
}

static enum bad refuse(enum bad code, const char *words, const char **why)
{
	*why = words;
	return code;
}

static enum bad give(double value, double *out, const char **why)
{
	if (fabs(value) > DBL_MAX)
		return refuse(BAD_RANGE, value_too_large, why);
	*out = value;
	return FINE;
}

enum { POWER_MOST = 64 };

static double whole_power(double base, int n)
{
	double made = 1, square = base;
	for (int left = n < 0 ? -n : n; left; left >>= 1) {
		if (left & 1)
			made *= square;
		square *= square;
	}
	return n < 0 ? 1 / made : made;
}

enum bad value_power(double base, double exponent, double *out, const char **why)
{
	if (isnan(base) || isnan(exponent))
		return give(NAN, out, why);
	if (base == 0 && exponent < 0)
		return refuse(BAD_RANGE, value_by_zero, why);
	if (base < 0 && exponent != floor(exponent))
		return refuse(BAD_RANGE, "takes a root of a negative number", why);
	if (exponent == floor(exponent) && fabs(exponent) <= POWER_MOST)
		return give(whole_power(base, (int)exponent), out, why);
	return give(exponent == 0.5 ? sqrt(base) : pow(base, exponent), out, why);
}

double value_slack(struct dim dim)
{
	return dim.power[DIM_MASS] && !dim.power[DIM_TIME] ? 0 : VALUE_SLACK;
}

static bool compare(enum op op, double a, double b, double margin)
{
	switch ((int)op) {
	case OP_EQUAL:
		return fabs(a - b) <= margin;
	case OP_UNEQUAL:
		return fabs(a - b) > margin;
	case OP_LESS:
		return a < b - margin;
	case OP_LESS_EQUAL:
		return a <= b + margin;
	case OP_MORE:
		return a > b + margin;
	default:
		return a >= b - margin;
	}
}

static enum bad apply_truth(
	enum op op, double a, double b, double slack, double *out, const char **why)
{
	if (isnan(a) || isnan(b))
		return refuse(BAD_NOTHING, value_met_nothing, why);
	if (op == OP_NOT)
		*out = a == 0;
	else if (op == OP_AND)
		*out = a != 0 && b != 0;
	else if (op == OP_OR)
		*out = a != 0 || b != 0;
	else
		*out = compare(op, a, b, value_margin(a, b, slack));
	return FINE;
}

enum bad value_apply(enum op op, double a, double b, double slack, double *out, const char **why)
{
	switch ((int)op) {
	case OP_ADD:
		return give(a + b, out, why);
	case OP_SUBTRACT:
		return give(a - b, out, why);
	case OP_MULTIPLY:
		return give(a * b, out, why);
	case OP_DIVIDE:
		if (b == 0)
			return refuse(BAD_RANGE, value_by_zero, why);
		return give(a / b, out, why);
	case OP_POWER:
		return value_power(a, b, out, why);
	case OP_NEGATE:
		return give(-a, out, why);
	default:
		return apply_truth(op, a, b, slack, out, why);
	}
}

static bool holds_nothing(const struct call *c, const struct function *f)
{
	size_t lists = 0;
	for (size_t i = 0; i < c->n; i++)
		if (isnan(c->number[i]))
			return true;
	for (const struct parameter *p = f->parameter;
		p < f->parameter + FUNCTION_PARAMETERS && p->name; p++)
		lists += p->kind == FORMULA_LIST;
	for (size_t k = 0; k < lists; k++)
		for (size_t i = 0; i < c->list[k].n; i++)
			if (isnan(c->list[k].at[i]))
				return true;
	return false;
}

/* Words for a code of the calculation core. */
static const char *why_refused(enum bad code)
{
	switch ((int)code) {
	case BAD_RANGE:
		return "is given a value outside of what is allowed";
	case BAD_COUNT:
		return "is given too few or too many values, or lists of unequal length";
	case BAD_ORDER:
		return "is given values in the wrong order";
	case BAD_SINGULAR:
		return "is given values that do not fix one answer";
	default:
		return "is refused";
	}
}

enum bad value_call(const struct function *f, struct call *c)
{
	c->why = NULL;
	if (!f->looks && holds_nothing(c, f)) {
		if (f->gives.kind == FORMULA_NUMBER) {
			c->out[0] = NAN;
			return FINE;
		}
		c->why = value_met_nothing;
		return BAD_NOTHING;
	}
	enum bad code = f->run(c);
	if (!code && f->gives.kind == FORMULA_NUMBER && fabs(c->out[0]) > DBL_MAX) {
		c->why = value_too_large;
		return BAD_RANGE;
	}
	if (code && !c->why)
		c->why = why_refused(code);
	return code;
}
