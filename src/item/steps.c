/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The lines of a worked solution: name, formula, the formula with its values, what comes out.
 *
 * A line must hold with the numbers that stand in it: who works it out again on a pocket calculator
 * has to come to what is shown. So a value that was worked out before is shown with as many places
 * more as that takes, in all lines of the ask in the same way. */
#include <barwright/item/instance.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <barwright/base/mem.h>
#include <barwright/base/number.h>
#include <barwright/base/utf8.h>

#include "course/course.h"
#include "item/words.h"

/* ---- how many places ------------------------------------------------------------------------- */

enum { EXTRA_MOST = 6, PASSES = 20 };

/* One ask's steps, with what is added to the places of each slot. */
struct precision {
	const struct instance *i;
	const struct step *step;
	size_t n;
	unsigned char *extra;
	struct formula_value *value; /* of each slot, as it is shown */
	struct arena arena;
};

static double half_digit(const struct shown *s, int places)
{
	return 0.5 * s->unit.factor / pow(10, places);
}

/* The value of the number as it is shown, by the printing itself. */
static double rounded(const struct shown *s, double value, int places)
{
	struct text t;
	if (formula_is_nothing(value))
		return value;
	text_init(&t);
	number_add_to((value - s->unit.offset) / s->unit.factor, places, '.', &t);
	double read = t.out ? NAN : strtod(t.at, NULL);
	text_release(&t);
	return isnan(read) ? value : read * s->unit.factor + s->unit.offset;
}

static int places_of(const struct precision *p, size_t slot)
{
	return p->i->problem->shown[slot].places + p->extra[slot];
}

static void slot_round(struct precision *p, size_t slot)
{
	const struct shown *s = &p->i->problem->shown[slot];
	const struct formula_value *v = &p->i->value[slot];
	struct formula_value *out = &p->value[slot];
	double *list = v->list ? arena_many(&p->arena, v->n, double) : NULL;
	*out = *v;
	if (s->clock || (v->list && !list))
		return;
	out->number = rounded(s, v->number, places_of(p, slot));
	for (size_t k = 0; list && k < v->n; k++)
		list[k] = rounded(s, v->list[k], places_of(p, slot));
	out->list = list;
}

static bool is_close(double a, double b, double tolerance)
{
	return formula_is_nothing(a) || formula_is_nothing(b)
		       ? formula_is_nothing(a) && formula_is_nothing(b)
		       : fabs(a - b) <= tolerance;
}

/* Is something lost when the slot is shown? */
static bool is_exact(const struct precision *p, size_t slot)
{
	const struct shown *s = &p->i->problem->shown[slot];
	const struct formula_value *v = &p->i->value[slot], *r = &p->value[slot];
	double dust = 1e-6 * half_digit(s, places_of(p, slot));
	bool exact = v->list || is_close(v->number, r->number, dust);
	for (size_t k = 0; v->list && r->list && k < v->n; k++)
		exact = exact && is_close(v->list[k], r->list[k], dust);
	return exact;
}

/* The slot that holds what the step works out; SIZE_MAX: none, or one that is shown otherwise. */
static size_t slot_of(const struct precision *p, const struct step *step)
{
	const struct problem *q = p->i->problem;
	size_t slot;
	if (!step->name || !formula_scope_find(&q->scope, step->name, strlen(step->name), &slot) ||
		step->shown.clock || strcmp(q->shown[slot].unit_text, step->shown.unit_text) != 0)
		return SIZE_MAX;
	return slot;
}

/* What a step gives is shown as it will be read in the steps behind it. */
static int result_places(const struct precision *p, const struct step *step)
{
	size_t slot = slot_of(p, step);
	if (slot == SIZE_MAX || !p->extra[slot] || places_of(p, slot) < step->shown.places)
		return step->shown.places;
	return places_of(p, slot);
}

/* Does the line hold with the numbers that are shown? */
static bool step_holds(const struct precision *p, const struct step *step)
{
	struct formula_value v, again;
	int places = result_places(p, step);
	double half = half_digit(&step->shown, places) * (1 + 1e-6);
	double list[FORMULA_LENGTH];
	if (!step->formula || step->shown.clock ||
		formula_result(step->formula).kind == FORMULA_TRUTH ||
		formula_run(step->formula, p->i->value, p->i->work, &v))
		return true;
	if (v.list)
		memcpy(list, v.list, v.n * sizeof *list); /* the next run takes its room */
	if (formula_run(step->formula, p->value, p->i->work, &again) || !again.list != !v.list ||
		(v.list && again.n != v.n))
		return false;
	if (!v.list)
		return is_close(rounded(&step->shown, v.number, places), again.number, half);
	for (size_t k = 0; k < v.n; k++)
		if (!is_close(rounded(&step->shown, list[k], places), again.list[k], half))
			return false;
	return true;
}

static bool may_grow(const struct precision *p, size_t slot)
{
	return p->extra[slot] < EXTRA_MOST && places_of(p, slot) < DECIMAL_PLACES &&
	       !p->i->problem->shown[slot].clock && !is_exact(p, slot);
}

/* One place more for what the step is worked out from. */
static bool step_grow(struct precision *p, const struct step *step)
{
	bool grew = false;
	for (size_t slot = 0; slot < p->i->problem->scope.n; slot++) {
		if (!formula_uses(step->formula, slot) || !may_grow(p, slot))
			continue;
		p->extra[slot]++;
		slot_round(p, slot);
		grew = true;
	}
	return grew;
}

static void precision_find(const struct instance *i, const struct step *step, struct precision *p)
{
	const struct problem *q = i->problem;
	size_t n = q->scope.n;
	*p = (struct precision){.i = i, .step = step, .n = 1};
	p->extra = arena_many(&p->arena, n, unsigned char);
	p->value = arena_many(&p->arena, n, struct formula_value);
	if (p->arena.out)
		return;
	for (size_t k = 0; k < q->nask; k++)
		if (step >= q->ask[k].step && step < q->ask[k].step + q->ask[k].nstep) {
			p->step = q->ask[k].step;
			p->n = q->ask[k].nstep;
		}
	for (size_t slot = 0; slot < n; slot++)
		slot_round(p, slot);
	bool grew = true;
	for (int pass = 0; grew && pass < PASSES; pass++) {
		grew = false;
		for (size_t k = 0; k < p->n && !p->arena.out; k++)
			grew |= !step_holds(p, &p->step[k]) && step_grow(p, &p->step[k]);
	}
}

/* ---- the line -------------------------------------------------------------------------------- */

struct showing {
	const struct precision *precision;
	char sign;
};

/* A list in brackets, as in the formula. */
static void bracketed_add(const struct shown *shown, const struct formula_value *v, int places,
	char sign, struct text *out)
{
	struct shown bare = *shown;
	if (!v->list) {
		shown_value_add(shown, v, places, sign, out);
		return;
	}
	bare.unit_text = "";
	text_add_char(out, '[');
	shown_value_add(&bare, v, places, sign, out);
	text_add_char(out, ']');
	if (!shown->clock)
		shown_unit_add(shown, out);
}

static void show_slot(void *context, size_t slot, const struct formula_type *type,
	const struct formula_value *value, struct text *out)
{
	const struct showing *s = context;
	(void)type;
	bracketed_add(&s->precision->i->problem->shown[slot], value, places_of(s->precision, slot),
		s->sign, out);
}

/* One more "= ..." of a step, on a line of its own where the line before is full. What repeats the one
 * before says nothing and is left out. */
struct chain {
	struct text last;
	size_t width; /* of the line so far */
	size_t indent;
	bool any;
};
enum { STEP_WIDTH = 70 };

/* How well a line ends before this byte, so deep in brackets: far right, between terms, outside of brackets.
 * Below 0: not at all. */
static long break_worth(const char *s, size_t k, long depth)
{
	static const char *const sign[] = {" + ", " - ", " × ", " / ", " and ", " of "};
	if (s[k] == ' ' && (s[k - 1] == ',' || s[k - 1] == ';'))
		return (long)k - 12 * depth;
	for (size_t b = 0; b < sizeof sign / sizeof *sign; b++)
		if (strncmp(s + k, sign[b], strlen(sign[b])) == 0)
			return (long)k + (b < 2 ? 10 : 0) - 12 * depth;
	return -1;
}

/* Where a line of at most so many columns ends best: behind a blank; 0: nowhere. */
static size_t break_at(const char *s, size_t len, size_t most)
{
	size_t best = 0;
	long depth = 0, worth = 0;
	for (size_t k = 1; k < len && utf8_width(s, k) <= most; k++) {
		depth += s[k - 1] == '(' || s[k - 1] == '[';
		depth -= s[k - 1] == ')' || s[k - 1] == ']';
		if (break_worth(s, k, depth) >= worth && break_worth(s, k, depth) > 0) {
			worth = break_worth(s, k, depth);
			best = k + 1;
		}
	}
	return best;
}

/* A link that is longer than a line goes on below. Gives the width of its last line. */
static size_t link_add_long(const struct text *link, size_t indent, size_t used, struct text *out)
{
	const char *s = link->at;
	size_t len = link->len, end;
	while (utf8_width(s, len) > STEP_WIDTH - used &&
		(end = break_at(s, len, STEP_WIDTH - used)) > 0) {
		text_add_bytes(out, s, end - 1);
		text_add_char(out, '\n');
		text_add_repeat(out, ' ', indent);
		s += end;
		len -= end;
		used = indent;
	}
	text_add_bytes(out, s, len);
	return used + utf8_width(s, len);
}

static void chain_link(struct chain *c, const struct text *link, struct text *out)
{
	size_t width = utf8_width(link->at, link->len);
	if (c->any && strcmp(c->last.at, link->at) == 0)
		return;
	if (c->any && c->width + width + 3 > STEP_WIDTH) {
		text_add_char(out, '\n');
		text_add_repeat(out, ' ', c->indent);
		text_add(out, "= ");
		c->width = c->indent + 2;
	} else if (c->any) {
		text_add(out, " = ");
		c->width += 3;
	}
	if (c->width + width <= STEP_WIDTH) {
		text_add_bytes(out, link->at, link->len);
		c->width += width;
	} else {
		c->width = link_add_long(link, c->indent + 2, c->width, out);
	}
	c->any = true;
	out->out |= link->out;
	text_clear(&c->last);
	text_add_bytes(&c->last, link->at, link->len);
}

static void step_value_add(
	const struct precision *p, const struct step *step, char sign, struct text *out)
{
	struct formula_value v;
	if (formula_run(step->formula, p->i->value, p->i->work, &v))
		text_add(out, "none");
	else
		bracketed_add(&step->shown, &v, result_places(p, step), sign, out);
}

static bool is_word_char(char c)
{
	return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
	       c == '_';
}

/* Does the constant stand here, and not a name that holds its letters? */
static bool is_pi(const struct text *t, size_t i)
{
	return strncmp(t->at + i, "pi", 2) == 0 && (!i || !is_word_char(t->at[i - 1])) &&
	       !is_word_char(t->at[i + 2]);
}

/* A formula as it is printed, not as it is typed: with the signs for "times" and pi, and with values
 * apart that are written with a comma themselves. */
static void signs_set(struct text *t, char sign)
{
	struct text made;
	text_init(&made);
	for (size_t i = 0; i < t->len; i++)
		if (t->at[i] == '*')
			text_add(&made, "×");
		else if (sign == ',' && strncmp(t->at + i, ", ", 2) == 0)
			text_add_char(&made, ';');
		else if (is_pi(t, i))
			text_add(&made, "π"), i++;
		else
			text_add_char(&made, t->at[i]);
	made.out |= t->out;
	text_release(t);
	*t = made;
}

static void step_add(
	const struct precision *p, const struct step *step, char sign, struct text *out)
{
	struct showing how = {p, sign};
	struct chain chain = {.indent = 4};
	struct text link;
	text_init(&link);
	text_init(&chain.last);
	text_add(&link, step->name ? step->name : "result");
	chain_link(&chain, &link, out);
	text_clear(&link);
	formula_say(step->formula, NULL, NULL, NULL, &link);
	signs_set(&link, '.');
	chain_link(&chain, &link, out);
	text_clear(&link);
	formula_say(step->formula, p->i->value, show_slot, &how, &link);
	signs_set(&link, sign);
	chain_link(&chain, &link, out);
	text_clear(&link);
	step_value_add(p, step, sign, &link);
	chain_link(&chain, &link, out);
	text_release(&link);
	text_release(&chain.last);
}

void instance_step_add(
	const struct instance *i, const struct step *step, char sign, struct text *out)
{
	struct precision p;
	if (!step->formula)
		return;
	precision_find(i, step, &p);
	if (p.arena.out)
		out->out = true;
	else
		step_add(&p, step, sign, out);
	arena_release(&p.arena);
}
