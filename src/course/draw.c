/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is drawn for a task: one entry of 'draws'.
 *
 *	height: {from: 10.00 mm, to: 13.50 mm, step: 0.05 mm}     a reading on a scale
 *	stock:  {choice: [3.5 mm, 4.0 mm, 5.0 mm]}                one of some values
 *	lists:  {sets: [[3.5 mm, 4 mm], [4 mm, 5 mm]]}            one of some lists
 *
 *	from, to, step   needed together. Numbers with one unit; step above 0, to above from, a whole
 *	                 number of steps between them, at most 2^31 values
 *	choice           at least 2 different values with one unit
 *	sets             at least 2 lists of 1 to 64 values with one unit
 *	read             resolution of the instrument, "read: 0.1 mm". Left out: the step; of choice and
 *	                 sets the last digit written
 *	exact            true: given, not read from an instrument (false). Numbers without a unit are
 *	                 exact unless 'read' is there
 *	count            makes a list: "5", or "{from: 4, to: 6}", or the name of a list that stands
 *	                 above: as many as that has. 1 to 64. Not with sets
 *	different        true: no value twice in the list (false); needs count. With as many as there
 *	                 are to choose from, it shuffles them
 *	together         the name of a choice or sets that stands above, with as many entries: both take
 *	                 the entry at the same place, as from one row of a table
 *
 * Values are shown with as many decimal places as the most precise number here was written with. */
#include "course/doc.h"

#include <math.h>
#include <string.h>

/* One entry while it is read. */
struct entry {
	struct doc *doc;
	const struct names *names;
	const struct draw *before; /* the draws that stand above, by slot */
	struct tree *t;
	struct draw *d;
	struct quantity first; /* its unit holds for all */
	struct tree *first_at; /* null: none yet */
	bool mixed;            /* another unit has been told */
};

static const char *const forms =
	"write {from: 10.00 mm, to: 12.00 mm, step: 0.05 mm} or {choice: [3.5 mm, 4.0 mm]}";

/* ---- numbers --------------------------------------------------------------------------------- */

/* [1,5 mm] is read as a list of 1 and 5 mm: nothing but the comma stands between them. */
static bool is_behind_comma(const struct tree *first, const struct tree *t)
{
	return first->next == t && !strchr(first->text, '.') &&
	       first->place.line == t->place.line &&
	       t->place.col == first->place.col + first->span + 1;
}

static void mixed_units(struct entry *e, struct tree *t, const struct quantity *q)
{
	if (e->first.unit_len)
		tree_fault(t, e->doc->diags, BAD_UNIT,
			"this is in '%s', but '%s' is the unit of "
			"this draw",
			q->unit, e->first.unit);
	else
		tree_fault(t, e->doc->diags, BAD_UNIT,
			"this is in '%s', but the first number of this draw has no unit", q->unit);
	diag_note(e->doc->diags, e->first_at->place, "here is the first number");
	if (is_behind_comma(e->first_at, t))
		diag_hint(e->doc->diags, "numbers in course files have a point: %s.%s",
			e->first_at->text, t->text);
	else
		diag_hint(e->doc->diags, "write all numbers of a draw in one unit");
}

/* A number of this draw, which shares its unit with all others of it. */
static bool number(struct entry *e, struct tree *t, struct decimal *out)
{
	struct quantity q;
	if (!doc_quantity(e->doc, t, &q))
		return false;
	if (!e->first_at) {
		e->first = q;
		e->first_at = t;
		e->d->shown.unit = q.of;
		e->d->shown.unit_text = q.unit;
	} else if (q.unit_len != e->first.unit_len ||
		   memcmp(q.unit, e->first.unit, q.unit_len) != 0) {
		if (!e->mixed)
			mixed_units(e, t, &q);
		e->mixed = true;
		return false;
	}
	if (q.number.places > e->d->places)
		e->d->places = q.number.places;
	*out = q.number;
	return true;
}

/* Brings n numbers to the places of the draw. */
static bool scale(struct entry *e, struct decimal *number, size_t n)
{
	for (size_t i = 0; i < n; i++)
		if (decimal_scale(&number[i], e->d->places)) {
			tree_fault(e->t, e->doc->diags, BAD_SIZE,
				"a number has more digits than can be kept");
			return false;
		}
	return true;
}

/* ---- from, to, step -------------------------------------------------------------------------- */

static void no_whole_steps(struct entry *e, struct tree *to, int64_t from, int64_t last)
{
	struct text words;
	text_init(&words);
	decimal_add_to((struct decimal){last, e->d->places}, '.', &words);
	tree_fault(to, e->doc->diags, BAD_RANGE,
		"there is no whole number of steps from 'from' to 'to'");
	if (last > from)
		diag_hint(e->doc->diags, "the last value the steps meet is %s%s%s", words.at,
			*e->first.unit ? " " : "", e->first.unit);
	else
		diag_hint(e->doc->diags, "the step is larger than the whole way");
	text_release(&words);
}

static void grid(struct entry *e, struct tree *from, struct tree *to, struct tree *step)
{
	struct diags *diags = e->doc->diags;
	struct decimal n[3];
	bool fine = number(e, from, &n[0]);
	fine = number(e, to, &n[1]) && fine;
	fine = number(e, step, &n[2]) && fine;
	if (!fine || !scale(e, n, 3))
		return;
	int64_t low = n[0].digits, way = n[1].digits - low, each = n[2].digits;
	if (each <= 0)
		tree_fault(step, diags, BAD_RANGE, "the step must be above 0");
	else if (way <= 0)
		tree_fault(to, diags, BAD_ORDER, "'to' must be above 'from'");
	else if (way % each)
		no_whole_steps(e, to, low, low + way / each * each);
	else if (way / each >= INT64_C(1) << 31)
		tree_fault(step, diags, BAD_SIZE, "there are more than 2^31 steps");
	else
		*e->d = (struct draw){.kind = DRAW_GRID,
			.from = low,
			.step = each,
			.n = (uint32_t)(way / each) + 1,
			.places = e->d->places,
			.shown = e->d->shown,
			.half_digit = decimal_value(n[2]) * e->first.of.factor / 2};
}

/* ---- choice and sets ------------------------------------------------------------------------- */

/* The numbers of a list, not yet of one scale; null when one of them is faulty. */
static struct decimal *numbers(struct entry *e, struct tree *t, size_t *n)
{
	struct tree *child = doc_children(e->doc, t, TREE_LIST);
	struct decimal *list = doc_many(e->doc, child ? t->count : 0, struct decimal);
	bool fine = child && list;
	size_t k = 0;
	for (; child && list; child = child->next)
		fine = number(e, child, &list[k++]) && fine;
	*n = k;
	return fine ? list : NULL;
}

static void half_of_last_digit(struct entry *e)
{
	e->d->half_digit =
		decimal_value((struct decimal){1, e->d->places}) * e->first.of.factor / 2;
}

static void twice(struct entry *e, const struct decimal *list, size_t n, struct tree *choice)
{
	for (size_t i = 1; i < n; i++)
		for (size_t j = 0; j < i; j++)
			if (list[i].digits == list[j].digits) {
				tree_fault(tree_at(choice, i), e->doc->diags, BAD_REPEATED,
					"this value is in the list twice");
				return;
			}
}

static void choice(struct entry *e, struct tree *t)
{
	size_t n;
	struct decimal *list = numbers(e, t, &n);
	e->d->kind = DRAW_CHOICE;
	if (!list || !scale(e, list, n))
		return;
	if (n < 2 || n > FORMULA_LENGTH) {
		tree_fault(t, e->doc->diags, BAD_COUNT,
			"a choice is made from 2 to %d values, not %zu", FORMULA_LENGTH, n);
		return;
	}
	twice(e, list, n, t);
	e->d->choice = list;
	e->d->n = (uint32_t)n;
	half_of_last_digit(e);
}

static void sets(struct entry *e, struct tree *t)
{
	struct tree *child = doc_children(e->doc, t, TREE_LIST);
	size_t n = child ? t->count : 0, k = 0;
	struct decimal **set = doc_many(e->doc, n, struct decimal *);
	size_t *len = doc_many(e->doc, n, size_t);
	bool fine = child && set && len;
	e->d->kind = DRAW_SET;
	for (; fine && child; child = child->next, k++) {
		set[k] = numbers(e, child, &len[k]);
		if (set[k] && len[k] > FORMULA_LENGTH)
			tree_fault(child, e->doc->diags, BAD_SIZE, "a list has at most %d values",
				FORMULA_LENGTH);
		fine = set[k] != NULL;
	}
	for (k = 0; fine && k < n; k++)
		fine = scale(e, set[k], len[k]);
	if (!fine)
		return;
	if (n < 2) {
		tree_fault(t, e->doc->diags, BAD_COUNT, "at least 2 lists are needed here");
		diag_hint(e->doc->diags, "a list that never changes belongs under 'let'");
		return;
	}
	e->d->set = (const struct decimal *const *)set;
	e->d->set_len = len;
	e->d->n = (uint32_t)n;
	half_of_last_digit(e);
}

/* ---- instrument ------------------------------------------------------------------------------ */

static void instrument(struct entry *e, struct tree *read, struct tree *exact)
{
	struct quantity q;
	if (doc_truth(e->doc, exact)) {
		if (read)
			tree_fault(read, e->doc->diags, BAD_REPEATED,
				"what is exact is not read from an instrument");
		e->d->half_digit = 0;
	} else if (!read) {
		if (!e->first.unit_len)
			e->d->half_digit = 0;
	} else if (doc_quantity(e->doc, read, &q)) {
		if (!dim_is_equal(q.of.dim, e->d->shown.unit.dim))
			tree_fault(read, e->doc->diags, BAD_UNIT, "%s is read, and this is %s",
				doc_dim(e->doc, e->d->shown.unit.dim), doc_dim(e->doc, q.of.dim));
		else if (q.number.digits <= 0)
			tree_fault(read, e->doc->diags, BAD_RANGE, "'read' must be above 0");
		else
			e->d->half_digit = quantity_span(&q) / 2;
	}
}

/* ---- lists ----------------------------------------------------------------------------------- */

static void as_many(struct entry *e, struct tree *t)
{
	size_t slot;
	if (names_is_lost(e->names, t->text, t->len))
		return;
	if (!formula_scope_find(e->names->scope, t->text, t->len, &slot)) {
		tree_fault(t, e->doc->diags, BAD_UNKNOWN,
			"no draw that stands above is called '%s'", t->text);
		diag_hint(e->doc->diags, "write a number, {from: 4, to: 6}, or the name of a list");
		return;
	}
	const struct draw *other = e->before;
	while (other->slot != slot)
		other++;
	e->names->scope->name[slot].used++;
	if (e->names->scope->name[slot].type.kind != FORMULA_LIST) {
		tree_fault(t, e->doc->diags, BAD_TYPE, "'%s' is no list", t->text);
		return;
	}
	e->d->as_many = (int)slot;
	e->d->least = other->least;
	e->d->most = other->most;
}

static void count(struct entry *e, struct tree *t)
{
	struct diags *diags = e->doc->diags;
	e->d->is_list = true;
	if (t->broken)
		return;
	if (t->kind == TREE_SCALAR && t->len && (t->text[0] < '0' || t->text[0] > '9')) {
		as_many(e, t);
	} else if (t->kind == TREE_MAP) {
		struct tree *to = tree_need(t, "to", diags);
		e->d->least = (uint32_t)doc_whole(
			e->doc, tree_need(t, "from", diags), 1, FORMULA_LENGTH, 1);
		e->d->most = (uint32_t)doc_whole(e->doc, to, 1, FORMULA_LENGTH, FORMULA_LENGTH);
		if (e->d->most < e->d->least)
			tree_fault(to, diags, BAD_ORDER, "'to' must not be below 'from'");
		tree_unknown(t, diags);
	} else {
		e->d->least = (uint32_t)doc_whole(e->doc, t, 1, FORMULA_LENGTH, 1);
		e->d->most = e->d->least;
	}
}

static void different(struct entry *e, struct tree *t)
{
	e->d->different = doc_truth(e->doc, t);
	if (!e->d->different)
		return;
	if (!e->d->is_list)
		tree_fault(t, e->doc->diags, BAD_MISSING,
			"'different' needs a list: 'count' is missing");
	else if (e->d->n && e->d->most > e->d->n)
		tree_fault(t, e->doc->diags, BAD_COUNT,
			"%lu different values cannot be drawn from %lu", (unsigned long)e->d->most,
			(unsigned long)e->d->n);
}

static void together(struct entry *e, struct tree *t)
{
	size_t slot;
	const char *name = doc_line(e->doc, t);
	if (!*name)
		return;
	if (!formula_scope_find(e->names->scope, name, strlen(name), &slot)) {
		if (!names_is_lost(e->names, name, strlen(name)))
			tree_fault(t, e->doc->diags, BAD_UNKNOWN, "no draw above is called '%s'",
				name);
		return;
	}
	for (const struct draw *d = e->before; d < e->d; d++)
		if (d->slot == slot)
			e->d->together = d->together ? d->together : d;
	const struct draw *with = e->d->together;
	if (!with || with->kind == DRAW_GRID || e->d->kind == DRAW_GRID || with->is_list ||
		e->d->is_list)
		tree_fault(t, e->doc->diags, BAD_TYPE,
			"only a 'choice' of one value or 'sets' can be drawn together with "
			"another");
	else if (with->n != e->d->n)
		tree_fault(t, e->doc->diags, BAD_COUNT, "'%s' has %lu entries, and here are %lu",
			name, (unsigned long)with->n, (unsigned long)e->d->n);
}

static void set_lengths(struct draw *d)
{
	d->least = FORMULA_LENGTH;
	d->most = 1;
	for (size_t k = 0; d->set && k < d->n; k++) {
		d->least = d->set_len[k] < d->least ? (uint32_t)d->set_len[k] : d->least;
		d->most = d->set_len[k] > d->most ? (uint32_t)d->set_len[k] : d->most;
	}
}

/* ---- one entry ------------------------------------------------------------------------------- */

/* The kind that the keys ask for. */
static void values(struct entry *e)
{
	struct tree *t = e->t, *from = tree_find(t, "from"), *to = tree_find(t, "to");
	struct tree *step = tree_find(t, "step");
	struct tree *choose = tree_find(t, "choice"), *lists = tree_find(t, "sets");
	bool on_grid = from || to || step;
	if (on_grid + !!choose + !!lists != 1) {
		struct tree *other = lists ? lists : choose;
		if (other)
			diag_error(e->doc->diags, BAD_COUNT, other->key_place, other->key_span,
				"'%s' goes neither with 'from', 'to', 'step' nor with another list",
				other->key);
		else
			diag_error(e->doc->diags, BAD_MISSING, t->key_place, t->key_span,
				"it is not said from what '%s' is drawn", t->key);
		diag_hint(e->doc->diags, "%s", forms);
		t->broken = true;
	} else if (on_grid) {
		from = from ? from : tree_need(t, "from", e->doc->diags);
		to = to ? to : tree_need(t, "to", e->doc->diags);
		step = step ? step : tree_need(t, "step", e->doc->diags);
		grid(e, from, to, step);
	} else if (choose) {
		choice(e, choose);
	} else {
		sets(e, lists);
	}
}

bool draw_read(struct doc *c, const struct names *n, const struct draw *before, struct tree *t,
	struct draw *out, struct formula_type *type)
{
	struct entry e = {.doc = c, .names = n, .before = before, .t = t, .d = out};
	bool told = t->broken;
	if (!doc_fine(c, tree_is(t, TREE_MAP, c->diags))) {
		if (!told)
			diag_hint(c->diags, "%s", forms);
		return false;
	}
	values(&e);
	struct tree *many = tree_find(t, "count"), *unlike = tree_find(t, "different");
	instrument(&e, tree_find(t, "read"), tree_find(t, "exact"));
	out->as_many = NO_SLOT;
	if (out->kind == DRAW_SET) {
		set_lengths(out);
		if (many)
			tree_fault(
				many, c->diags, BAD_TYPE, "the lists of 'sets' have their lengths");
		if (unlike)
			tree_fault(
				unlike, c->diags, BAD_TYPE, "'different' does not go with 'sets'");
	} else {
		if (many)
			count(&e, many);
		if (unlike)
			different(&e, unlike);
	}
	struct tree *with = tree_find(t, "together");
	if (with)
		together(&e, with);
	tree_unknown(t, c->diags);
	out->place = t->key_place;
	out->shown.places = out->places;
	type->kind = out->is_list || out->kind == DRAW_SET ? FORMULA_LIST : FORMULA_NUMBER;
	type->dim = out->shown.unit.dim;
	return e.first_at != NULL;
}
