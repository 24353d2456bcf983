/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Instances in words. */
#include <barwright/item/instance.h>

#include <string.h>

#include "course/course.h"
#include "item/clock.h"
#include "item/words.h"

static double outside(const struct shown *shown, double value)
{
	return (value - shown->unit.offset) / shown->unit.factor;
}

void shown_unit_add(const struct shown *shown, struct text *out)
{
	if (strcmp(shown->unit_text, "money") == 0)
		return; /* of no currency: the number alone, as on a bill */
	if (*shown->unit_text && !unit_is_close(shown->unit_text))
		text_add_char(out, ' ');
	unit_add_printed(shown->unit_text, strlen(shown->unit_text), out);
}

static void add_number(
	const struct shown *shown, double value, int places, char sign, struct text *out)
{
	number_add_to(outside(shown, value), places < 0 ? shown->places : places, sign, out);
}

static void bare_add(
	const struct shown *shown, double value, int places, char sign, struct text *out)
{
	if (shown->clock)
		clock_add(shown->clock, value, out);
	else
		add_number(shown, value, places, sign, out);
}

void shown_add(const struct shown *shown, double value, int places, char sign, struct text *out)
{
	bare_add(shown, value, places, sign, out);
	if (!shown->clock && !formula_is_nothing(value))
		shown_unit_add(shown, out);
}

void shown_record(const struct shown *shown, double value, int places, struct text *out)
{
	bare_add(shown, value, places, '.', out);
	if (!shown->clock && !formula_is_nothing(value) && *shown->unit_text)
		text_addf(out, " %s", shown->unit_text);
}

void shown_value_add(const struct shown *shown, const struct formula_value *v, int places,
	char sign, struct text *out)
{
	if (!v->list) {
		shown_add(shown, v->number, places, sign, out);
		return;
	}
	/* With a decimal comma a comma cannot also part the numbers. */
	const char *between = sign == ',' ? "; " : ", ";
	for (size_t j = 0; j < v->n; j++) {
		text_add(out, j ? between : "");
		bare_add(shown, v->list[j], places, sign, out);
	}
	if (!shown->clock)
		shown_unit_add(shown, out);
}

void instance_value_add(
	const struct instance *i, size_t slot, int places, char sign, struct text *out)
{
	struct shown shown = i->problem->shown[slot];
	if (places == PLACES_CLOCK || places == PLACES_DAYS)
		shown.clock = &i->problem->clock[places == PLACES_DAYS];
	shown_value_add(&shown, &i->value[slot], places, sign, out);
}

/* Does only a comma stand here between two values? */
static bool is_comma_between(const struct template *t, size_t n)
{
	const struct piece *p = &t->piece[n];
	return p->slot == NO_SLOT && p->len == 2 && memcmp(p->text, ", ", 2) == 0 && n &&
	       n + 1 < t->n && p[-1].slot != NO_SLOT && p[1].slot != NO_SLOT;
}

void instance_text_add(
	const struct instance *i, const struct template *t, char sign, struct text *out)
{
	for (size_t n = 0; n < t->n; n++) {
		const struct piece *p = &t->piece[n];
		if (sign == ',' && is_comma_between(t, n))
			text_add(out, "; ");
		else if (p->slot == NO_SLOT)
			text_add_bytes(out, p->text, p->len);
		else
			instance_value_add(i, (size_t)p->slot, p->places, sign, out);
	}
}

/* ---- options --------------------------------------------------------------------------------- */

void instance_offer_add(
	const struct instance *i, size_t ask, size_t place, char sign, struct text *out)
{
	const struct ask *q = &i->problem->ask[ask];
	instance_text_add(i, &q->offer[i->ask[ask].place[place]].text, sign, out);
}

void instance_with_add(
	const struct instance *i, size_t ask, size_t place, char sign, struct text *out)
{
	const struct ask *q = &i->problem->ask[ask];
	size_t k = i->ask[ask].with[place];
	instance_text_add(
		i, k < q->noffer ? &q->offer[k].with : &q->other[k - q->noffer], sign, out);
}

void instance_answer_add(const struct instance *i, size_t ask, char sign, struct text *out)
{
	if (i->problem->ask[ask].noffer)
		instance_letters_add(i, ask, out);
	else if (formula_is_nothing(i->ask[ask].answer))
		text_add(out, "none: refer back");
	else
		shown_add(&i->problem->ask[ask].shown, i->ask[ask].answer, -1, sign, out);
}
