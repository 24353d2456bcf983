/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A bench procedure: what the hands do, what comes of it, and where it shows.
 *
 *	procedure   its code
 *	title       one line
 *	about       what is made, and from what
 *	source      where steps and numbers come from
 *	caution     for the procedure as a whole (none)
 *	wage        money an hour of attended work costs (0)
 *	parts       what can be worked by itself: part, title, about, from, to (codes of steps). What comes
 *	            before it has been done well by somebody else
 *	properties  the work in numbers, by name:
 *	  each      site, place or end: a value for each (one value)
 *	  unit, places   how it is shown; or truth: true
 *	  start     a formula over the properties above (0; false)
 *	  draw      or what is drawn anew for every run (draw.c)
 *	  seen      true: known from the start (false)
 *	  about     one line
 *	cases       at least one: case (its code), values: numbers of some properties (none). site_x fixes
 *	            how many sites there are; without a property site_x there is one
 *	tools       by code: title; reads (a unit), resolution, error; or eye: true
 *	materials   by code: title, stock, order (what one order brings), wait, price of one unit (none)
 *	lets        names and what is worked out, as in a problem, whenever a formula asks for it
 *	steps       procedure_steps.c
 *	looks, backs, orders, windows   procedure_steps.c (none)
 *	faults, rates                   procedure_faults.c (none)
 *	refer       when it is right to refer the case back (never)
 *	refer_seen  lists of looks: all of one list show that it is right (nothing need be looked at)
 *	ends        a text each for accepted, refused, returned, scrapped and referred
 *
 * Formulas may mention properties, asks, lets, what the bench gives (procedure.h), and of every step
 * did_CODE, a truth, and at_CODE, when it was done. */
#include "course/procedure.h"

#include <string.h>

#include <barwright/base/nearest.h>

#include "course/load.h"
#include "course/procedure_parts.h"

const char *const bench_end_word[ENDS] = {
	"", "accepted", "refused", "returned", "scrapped", "referred"};

size_t each_count(enum each e, size_t n)
{
	return e == EACH_SITE ? n : e == EACH_PLACE ? 2 * n + 1 : e == EACH_END ? 2 : 1;
}

/* ---- names with fixed meanings --------------------------------------------------------------- */

#define DIM_NONE \
	{ \
		{ \
			0 \
		} \
	}
#define DIM_LENGTH_1 \
	{ \
		.power = { [DIM_LENGTH] = 1 } \
	}
#define DIM_FORCE \
	{ \
		.power = { [DIM_LENGTH] = 1, [DIM_MASS] = 1, [DIM_TIME] = -2 } \
	}
#define DIM_STRESS \
	{ \
		.power = { [DIM_LENGTH] = -1, [DIM_MASS] = 1, [DIM_TIME] = -2 } \
	}
#define DIM_SPRING \
	{ \
		.power = { [DIM_MASS] = 1, [DIM_TIME] = -2 } \
	}
#define DIM_KELVIN \
	{ \
		.power = { [DIM_TEMPERATURE] = 1 } \
	}
#define DIM_KELVIN_RATE \
	{ \
		.power = { [DIM_TEMPERATURE] = 1, [DIM_TIME] = -1 } \
	}

enum dim_word {
	WORD_NONE,
	WORD_LENGTH,
	WORD_TIME,
	WORD_FORCE,
	WORD_STRESS,
	WORD_SPRING,
	WORD_KELVIN,
	WORD_KELVIN_RATE
};
static const struct {
	struct dim dim;
	const char *unit;
	int places;
} dim_words[] = {
	[WORD_NONE] = {DIM_NONE, "", 2},
	[WORD_LENGTH] = {DIM_LENGTH_1, "mm", 2},
	[WORD_TIME] = {{.power = {[DIM_TIME] = 1}}, "min", 0},
	[WORD_FORCE] = {DIM_FORCE, "N", 0},
	[WORD_STRESS] = {DIM_STRESS, "MPa", 1},
	[WORD_SPRING] = {DIM_SPRING, "N/mm", 0},
	[WORD_KELVIN] = {DIM_KELVIN, "degC", 0},
	[WORD_KELVIN_RATE] = {DIM_KELVIN_RATE, "K/min", 1},
};

struct fixed_name {
	const char *word;
	enum each each;
	enum dim_word dim;
};
static const struct fixed_name given_names[GIVEN_COUNT] = {
#define X(name, word, each, dim) {word, EACH_##each, WORD_##dim},
	GIVEN_VALUES(X)
#undef X
};
static const struct fixed_name core_names[CORE_COUNT] = {
#define X(name, word, each, dim) {word, EACH_##each, WORD_##dim},
	CORE_VALUES(X)
#undef X
};

struct dim time_dim(void)
{
	return dim_words[WORD_TIME].dim;
}

static struct shown shown_as(enum dim_word w)
{
	struct shown s = {.unit_text = dim_words[w].unit, .places = dim_words[w].places};
	size_t at, len;
	unit_read(s.unit_text, strlen(s.unit_text), &s.unit, &at, &len);
	return s;
}

static struct formula_type type_of(enum each each, struct dim dim)
{
	return (struct formula_type){each == EACH_ONE ? FORMULA_NUMBER : FORMULA_LIST, dim};
}

/* ---- shared ---------------------------------------------------------------------------------- */

bool slot_add(struct reading *r, struct tree *at, const char *name, size_t len,
	struct formula_type type, const struct shown *shown, enum each each, size_t *slot)
{
	struct diags *d = r->doc->diags;
	struct place place = at ? at->place : (struct place){0};
	struct formula_name made = {doc_keep(r->doc, name, len), len, type, place, 0};
	enum bad code = formula_scope_add(r->doc->arena, &r->p->scope, &made, slot);
	if (!code) {
		r->names.shown[*slot] = *shown;
		r->each[*slot] = each;
		return true;
	}
	if (!doc_fine(r->doc, code) && code == BAD_MEMORY)
		return false;
	const char *why = "cannot be used as a name";
	formula_name_is_free(name, len, &why);
	tree_fault(at, d, code, code == BAD_REPEATED ? "'%.*s' is there already" : "'%.*s' %s",
		(int)len, name, why);
	if (code != BAD_REPEATED)
		diag_hint(d, "take another name: a letter, then letters, digits and '_'");
	return false;
}

const struct formula *formula_of(
	struct reading *r, struct tree *t, unsigned kinds, struct dim dim, const char *what)
{
	const struct formula *f = t ? doc_formula(r->doc, &r->names, t) : NULL;
	if (!f || !doc_kind(r->doc, t, f, kinds) || !doc_fits(r->doc, t, f, dim, what))
		return NULL;
	return f;
}

const struct formula *truth_of(struct reading *r, struct tree *t)
{
	const struct formula *f = t ? doc_formula(r->doc, &r->names, t) : NULL;
	return doc_kind(r->doc, t, f, A_TRUTH) ? f : NULL;
}

const struct formula *time_of(struct reading *r, struct tree *t)
{
	return formula_of(r, t, A_NUMBER, time_dim(), "the time");
}

static bool number_in(struct reading *r, struct tree *t, struct dim dim, struct quantity *out)
{
	if (!doc_quantity(r->doc, t, out))
		return false;
	if (dim_is_equal(out->of.dim, dim))
		return true;
	tree_fault(t, r->doc->diags, BAD_UNIT, "this is %s where %s is needed",
		doc_dim(r->doc, out->of.dim), doc_dim(r->doc, dim));
	return false;
}

bool point_of(struct reading *r, struct tree *t, struct dim dim, double *out)
{
	struct quantity q;
	if (!number_in(r, t, dim, &q))
		return false;
	*out = quantity_span(&q) + q.of.offset;
	return true;
}

double duration_of(struct reading *r, struct tree *t)
{
	struct quantity q;
	return t && number_in(r, t, time_dim(), &q) ? quantity_span(&q) : 0;
}

enum each each_of(struct reading *r, struct tree *t)
{
	static const char *const words[] = {"one", "site", "place", "end"};
	size_t k = EACH_ONE;
	doc_fine(r->doc, tree_word(t, words, 4, r->doc->diags, &k));
	return (enum each)k;
}

size_t step_of(struct reading *r, struct tree *t)
{
	const char *code;
	if (!doc_fine(r->doc, tree_text(t, r->doc->diags, &code)))
		return SIZE_MAX;
	for (size_t i = 0; i < r->p->nstep; i++)
		if (strcmp(r->p->step[i].code, code) == 0)
			return i;
	struct nearest near = {.wanted = code, .len = t->len};
	for (size_t i = 0; i < r->p->nstep; i++)
		nearest_offer(&near, r->p->step[i].code, strlen(r->p->step[i].code));
	tree_fault(t, r->doc->diags, BAD_UNKNOWN, "no step is called '%s'", code);
	if (near.word)
		diag_hint(r->doc->diags, "did you mean '%s'?", near.word);
	return SIZE_MAX;
}

step_set steps_of(struct reading *r, struct tree *t)
{
	step_set set = 0;
	for (struct tree *child = t ? doc_children(r->doc, t, TREE_LIST) : NULL; child;
		child = child->next) {
		size_t k = step_of(r, child);
		if (k != SIZE_MAX)
			set |= (step_set)1 << k;
	}
	return set;
}

const char *text_or_null(struct reading *r, struct tree *map, const char *key)
{
	struct tree *t = tree_find(map, key);
	return t ? doc_text(r->doc, t) : NULL;
}

static bool is_settable(const struct procedure *p, size_t slot)
{
	size_t first = GIVEN_COUNT, last = GIVEN_COUNT + p->nproperty;
	if (slot >= first && slot < last)
		return true;
	for (size_t i = 0; i < p->nstep; i++)
		for (size_t k = 0; k < p->step[i].nask; k++)
			if (p->step[i].ask[k].slot == slot)
				return true;
	return false;
}

static bool set_read(struct reading *r, struct tree *t, struct set_value *out)
{
	struct diags *d = r->doc->diags;
	const struct formula_scope *scope = &r->p->scope;
	out->place = t->key_place;
	t->used = true;
	if (names_is_lost(&r->names, t->key, t->key_len))
		return false;
	if (!formula_scope_find(scope, t->key, t->key_len, &out->slot) ||
		!is_settable(r->p, out->slot)) {
		struct nearest near = {.wanted = t->key, .len = t->key_len};
		diag_error(d, BAD_UNKNOWN, t->key_place, t->key_span,
			"'%s' is no property of the work that can be set", t->key);
		for (size_t i = 0; i < scope->n; i++)
			if (is_settable(r->p, i))
				nearest_offer(&near, scope->name[i].name, scope->name[i].len);
		if (near.word)
			diag_hint(d, "did you mean '%.*s'?", (int)near.word_len, near.word);
		return false;
	}
	struct formula_type type = scope->name[out->slot].type;
	r->is_set[out->slot] = true;
	if (type.kind == FORMULA_TRUTH)
		out->formula = truth_of(r, t);
	else
		out->formula = formula_of(r, t,
			type.kind == FORMULA_LIST ? A_NUMBER | A_LIST : A_NUMBER, type.dim, "this");
	return out->formula != NULL;
}

void sets_read(struct reading *r, struct tree *t, struct set_values *out)
{
	struct tree *child = t ? doc_children(r->doc, t, TREE_MAP) : NULL;
	struct set_value *list = doc_many(r->doc, child ? t->count : 0, struct set_value);
	for (; list && child; child = child->next)
		out->n += set_read(r, child, &list[out->n]);
	out->at = list;
}

static size_t stuff_of(struct reading *r, struct tree *t)
{
	for (size_t i = 0; i < r->p->nstuff; i++)
		if (strcmp(r->p->stuff[i].code, t->key) == 0)
			return i;
	diag_error(r->doc->diags, BAD_UNKNOWN, t->key_place, t->key_span,
		"no material is called '%s'", t->key);
	return SIZE_MAX;
}

void uses_read(struct reading *r, struct tree *t, struct use_stuffs *out)
{
	struct tree *child = t ? doc_children(r->doc, t, TREE_MAP) : NULL;
	struct use_stuff *list = doc_many(r->doc, child ? t->count : 0, struct use_stuff);
	for (; list && child; child = child->next) {
		struct use_stuff *u = &list[out->n];
		child->used = true;
		u->place = child->place;
		u->stuff = stuff_of(r, child);
		if (u->stuff == SIZE_MAX)
			continue;
		u->amount = formula_of(
			r, child, A_NUMBER, r->p->stuff[u->stuff].shown.unit.dim, "the amount");
		out->n += u->amount != NULL;
	}
	out->at = list;
}

void cans_read(struct reading *r, struct tree *t, struct can_dos *out)
{
	struct tree *child = t ? doc_children(r->doc, t, TREE_LIST) : NULL;
	struct can_do *list = doc_many(r->doc, child ? t->count : 0, struct can_do);
	for (; list && child; child = child->next) {
		list[out->n].when = truth_of(r, tree_need(child, "when", r->doc->diags));
		list[out->n++].otherwise =
			doc_text(r->doc, tree_need(child, "else", r->doc->diags));
		tree_unknown(child, r->doc->diags);
	}
	out->at = list;
}

/* ---- properties ------------------------------------------------------------------------------ */

static void property_shown(struct reading *r, struct tree *t, struct property *x)
{
	struct tree *unit = tree_find(t, "unit");
	x->shown.unit_text = "";
	x->shown.unit.factor = 1;
	if (unit)
		doc_unit(r->doc, unit, &x->shown.unit, &x->shown.unit_text);
	x->shown.places = doc_whole(
		r->doc, tree_find(t, "places"), 0, DECIMAL_PLACES, x->is_truth ? 0 : USUAL_PLACES);
	if (unit && x->is_truth)
		tree_fault(unit, r->doc->diags, BAD_TYPE, "a truth has no unit");
}

static void property_draw(struct reading *r, struct tree *t, struct property *x)
{
	struct draw *d = doc_many(r->doc, 1, struct draw);
	struct formula_type type;
	if (!d || !draw_read(r->doc, &r->names, NULL, t, d, &type))
		return;
	if (d->kind == DRAW_SET || d->is_list)
		tree_fault(t, r->doc->diags, BAD_TYPE,
			"'each' tells how many are drawn; write {from, to, step} or {choice}");
	else if (!dim_is_equal(d->shown.unit.dim, x->shown.unit.dim))
		tree_fault(t, r->doc->diags, BAD_UNIT, "this is %s where %s is needed",
			doc_dim(r->doc, d->shown.unit.dim), doc_dim(r->doc, x->shown.unit.dim));
	x->draw = d;
}

static void property_read(struct reading *r, struct tree *t, struct property *x)
{
	struct tree *draw = tree_find(t, "draw"), *start = tree_find(t, "start");
	struct tree *truth = tree_find(t, "truth"), *seen = tree_find(t, "seen");
	x->name = doc_keep(r->doc, t->key, t->key_len);
	x->place = t->key_place;
	x->about = doc_line(r->doc, tree_need(t, "about", r->doc->diags));
	x->each = each_of(r, tree_find(t, "each"));
	x->is_truth = truth && doc_truth(r->doc, truth);
	x->seen = seen && doc_truth(r->doc, seen);
	property_shown(r, t, x);
	struct formula_type type = x->is_truth ? (struct formula_type){.kind = FORMULA_TRUTH}
					       : type_of(x->each, x->shown.unit.dim);
	if (draw)
		property_draw(r, draw, x);
	if (start && x->is_truth)
		x->start = truth_of(r, start);
	else if (start)
		x->start = formula_of(
			r, start, x->each ? A_NUMBER | A_LIST : A_NUMBER, type.dim, "the start");
	if (x->is_truth && x->each)
		tree_fault(t, r->doc->diags, BAD_TYPE, "a truth is one for the whole work");
	tree_unknown(t, r->doc->diags);
	r->is_set[r->p->scope.n] = draw || start;
	if (!slot_add(r, t, t->key, t->key_len, type, &x->shown, x->each, &x->slot))
		names_lose(&r->names, t);
	else
		r->p->scope.name[x->slot].declared = t->key_place;
}

static void properties_read(struct reading *r, struct tree *t)
{
	struct tree *child = doc_children(r->doc, t, TREE_MAP);
	struct property *list = doc_many(r->doc, child ? t->count : 0, struct property);
	r->p->property = list;
	for (; list && child; child = child->next) {
		child->used = true;
		property_read(r, child, &list[r->p->nproperty]);
		/* slots of properties stand behind each other, from GIVEN_COUNT */
		r->p->nproperty = r->p->scope.n - GIVEN_COUNT;
	}
}

/* ---- cases ----------------------------------------------------------------------------------- */

static void case_value_read(
	struct reading *r, struct tree *t, struct bench_case *c, struct case_value *out)
{
	struct tree *one = t->kind == TREE_LIST ? t->first : t;
	double *value = doc_many(r->doc, t->kind == TREE_LIST ? t->count : 1, double);
	size_t slot;
	t->used = true;
	if (names_is_lost(&r->names, t->key, t->key_len) || !value)
		return;
	if (!formula_scope_find(&r->p->scope, t->key, t->key_len, &slot) || slot < GIVEN_COUNT) {
		diag_error(r->doc->diags, BAD_UNKNOWN, t->key_place, t->key_span,
			"no property is called '%s'", t->key);
		return;
	}
	const struct property *x = &r->p->property[slot - GIVEN_COUNT];
	*out = (struct case_value){slot - GIVEN_COUNT, 0, value};
	r->is_set[slot] = true;
	for (; one; one = t->kind == TREE_LIST ? one->next : NULL) {
		struct quantity q;
		if (!number_in(r, one, x->shown.unit.dim, &q))
			return;
		value[out->n++] = quantity_span(&q) + q.of.offset;
	}
	if (strcmp(x->name, core_names[CORE_SITE_X].word) == 0)
		c->nsite = out->n;
	c->nvalue++;
}

static void case_counts(struct reading *r, struct tree *t, struct bench_case *c)
{
	const char *sites = core_names[CORE_SITE_X].word;
	size_t slot;
	if (!formula_scope_find(&r->p->scope, sites, strlen(sites), &slot))
		c->nsite = 1;
	else if (c->nsite < 2 || c->nsite > PROCEDURE_SITES) {
		tree_fault(t, r->doc->diags, BAD_COUNT, "a case needs site_x for 2 to %d sites",
			PROCEDURE_SITES);
		return;
	}
	for (size_t i = 0; i < c->nvalue; i++) {
		const struct property *x = &r->p->property[c->value[i].property];
		if (c->value[i].n != each_count(x->each, c->nsite))
			tree_fault(tree_find(tree_find(t, "values"), x->name), r->doc->diags,
				BAD_COUNT, "there are %zu values where %zu are needed",
				c->value[i].n, each_count(x->each, c->nsite));
	}
}

static void cases_read(struct reading *r, struct tree *t)
{
	struct tree *child = doc_children(r->doc, t, TREE_LIST);
	struct bench_case *list = doc_many(r->doc, child ? t->count : 0, struct bench_case);
	for (; list && child; child = child->next) {
		struct bench_case *c = &list[r->p->ncase++];
		c->code = doc_code(r->doc, tree_need(child, "case", r->doc->diags));
		struct tree *values = tree_find(child, "values");
		struct tree *one = values ? doc_children(r->doc, values, TREE_MAP) : NULL;
		struct case_value *value =
			doc_many(r->doc, one ? values->count : 0, struct case_value);
		c->value = value;
		for (; value && one; one = one->next)
			case_value_read(r, one, c, &value[c->nvalue]);
		case_counts(r, child, c);
		tree_unknown(child, r->doc->diags);
	}
	r->p->cases = list;
}

/* ---- tools and materials --------------------------------------------------------------------- */

static double span_in(struct reading *r, struct tree *t, struct dim dim, double otherwise)
{
	struct quantity q;
	return t && number_in(r, t, dim, &q) ? quantity_span(&q) : otherwise;
}

static void tools_read(struct reading *r, struct tree *t)
{
	struct diags *d = r->doc->diags;
	struct tree *child = doc_children(r->doc, t, TREE_MAP);
	struct tool *list = doc_many(r->doc, child ? t->count : 0, struct tool);
	for (; list && child; child = child->next) {
		struct tool *x = &list[r->p->ntool++];
		struct tree *eye = tree_find(child, "eye");
		child->used = true;
		*x = (struct tool){.code = doc_keep(r->doc, child->key, child->key_len),
			.place = child->key_place};
		x->title = doc_line(r->doc, tree_need(child, "title", d));
		x->is_eye = eye && doc_truth(r->doc, eye);
		x->shown = (struct shown){.unit_text = ""};
		if (!x->is_eye) {
			struct quantity q;
			doc_unit(r->doc, tree_need(child, "reads", d), &x->shown.unit,
				&x->shown.unit_text);
			x->dim = x->shown.unit.dim;
			struct tree *step = tree_need(child, "resolution", d);
			if (number_in(r, step, x->dim, &q)) {
				x->resolution = quantity_span(&q);
				x->shown.places = q.number.places;
				if (!(x->resolution > 0))
					tree_fault(step, d, BAD_RANGE, "a resolution is above 0");
			}
			x->error = span_in(r, tree_need(child, "error", d), x->dim, 0);
		}
		tree_unknown(child, d);
	}
	r->p->tool = list;
}

static void stuff_read(struct reading *r, struct tree *t, struct stuff *x)
{
	struct diags *d = r->doc->diags;
	struct quantity stock;
	struct tree *price = tree_find(t, "price");
	*x = (struct stuff){.code = doc_keep(r->doc, t->key, t->key_len),
		.place = t->key_place,
		.shown = {.unit_text = ""}};
	x->title = doc_line(r->doc, tree_need(t, "title", d));
	if (doc_quantity(r->doc, tree_need(t, "stock", d), &stock)) {
		char *unit = arena_copy(r->doc->arena, stock.unit, stock.unit_len);
		x->stock = quantity_span(&stock);
		x->shown = (struct shown){.unit = stock.of,
			.unit_text = unit ? unit : "",
			.places = stock.number.places};
		x->order = span_in(r, tree_need(t, "order", d), stock.of.dim, 0);
		x->wait_s = duration_of(r, tree_find(t, "wait"));
		x->price = price ? span_in(r, price, (struct dim)DIM_NONE, 0) / stock.of.factor : 0;
	}
	tree_unknown(t, d);
}

static void stuffs_read(struct reading *r, struct tree *t)
{
	struct tree *child = t ? doc_children(r->doc, t, TREE_MAP) : NULL;
	struct stuff *list = doc_many(r->doc, child ? t->count : 0, struct stuff);
	for (; list && child; child = child->next) {
		child->used = true;
		stuff_read(r, child, &list[r->p->nstuff++]);
	}
	r->p->stuff = list;
}

/* ---- lets, parts, ends ----------------------------------------------------------------------- */

static void let_read(struct reading *r, struct tree *t, struct let *out)
{
	struct tree *map = t->kind == TREE_MAP ? t : NULL;
	struct tree *text = map ? tree_need(map, "formula", r->doc->diags) : t;
	struct formula *f = doc_formula(r->doc, &r->names, text);
	*out = (struct let){
		.name = doc_keep(r->doc, t->key, t->key_len), .formula = f, .place = t->key_place};
	bool shown = doc_shown(r->doc, &r->names, map, f, &out->shown);
	if (map)
		tree_unknown(map, r->doc->diags);
	if (!shown || !f) {
		names_lose(&r->names, t);
		return;
	}
	struct formula_type type = formula_result(f);
	type.dim = out->shown.unit.dim;
	enum each each = type.kind == FORMULA_LIST ? EACH_SITE : EACH_ONE;
	if (slot_add(r, t, t->key, t->key_len, type, &out->shown, each, &out->slot))
		r->p->scope.name[out->slot].declared = t->key_place;
}

static void lets_read(struct reading *r, struct tree *t)
{
	struct tree *child = t ? doc_children(r->doc, t, TREE_MAP) : NULL;
	struct let *list = doc_many(r->doc, child ? t->count : 0, struct let);
	for (; list && child; child = child->next) {
		size_t before = r->p->scope.n;
		child->used = true;
		r->names.now = child;
		let_read(r, child, &list[r->p->nlet]);
		r->p->nlet += r->p->scope.n - before;
	}
	r->names.now = NULL;
	r->p->let = list;
}

static void parts_read(struct reading *r, struct tree *t)
{
	struct diags *d = r->doc->diags;
	struct tree *child = doc_children(r->doc, t, TREE_LIST);
	struct part *list = doc_many(r->doc, child ? t->count : 0, struct part);
	for (; list && child; child = child->next) {
		struct part *x = &list[r->p->npart++];
		x->code = doc_code(r->doc, tree_need(child, "part", d));
		x->title = doc_line(r->doc, tree_need(child, "title", d));
		x->about = doc_text(r->doc, tree_need(child, "about", d));
		x->from = step_of(r, tree_need(child, "from", d));
		x->to = step_of(r, tree_need(child, "to", d));
		if (x->from != SIZE_MAX && x->to != SIZE_MAX && x->to < x->from)
			tree_fault(tree_find(child, "to"), d, BAD_ORDER,
				"this step stands before the one where the part begins");
		tree_unknown(child, d);
	}
	r->p->part = list;
}

static void ends_read(struct reading *r, struct tree *t)
{
	for (int i = END_ACCEPTED; i < ENDS; i++)
		r->p->end_text[i] =
			doc_text(r->doc, tree_need(t, bench_end_word[i], r->doc->diags));
	tree_unknown(t, r->doc->diags);
}

/* ---- the whole ------------------------------------------------------------------------------- */

static bool names_make(struct reading *r, struct tree *root)
{
	struct tree *steps = tree_find(root, "steps"), *properties = tree_find(root, "properties");
	struct tree *lets = tree_find(root, "lets");
	size_t n = GIVEN_COUNT + asks_count(steps) + (steps ? 2 * steps->count : 0) +
		   (properties ? properties->count : 0) + (lets ? lets->count : 0);
	struct shown *shown = doc_many(r->doc, n, struct shown);
	r->each = doc_many(r->doc, n, enum each);
	r->is_set = doc_many(r->doc, n, bool);
	r->p->scope.name = doc_many(r->doc, n, struct formula_name);
	r->names = (struct names){.scope = &r->p->scope,
		.shown = shown,
		.lost = doc_many(r->doc, n, const struct tree *)};
	if (r->doc->out)
		return false;
	r->p->scope.room = n;
	r->p->shown = shown;
	r->p->each = r->each;
	for (int i = 0; i < GIVEN_COUNT; i++) {
		const struct fixed_name *f = &given_names[i];
		struct shown as = shown_as(f->dim);
		size_t slot;
		slot_add(r, NULL, f->word, strlen(f->word), type_of(f->each, as.unit.dim), &as,
			f->each, &slot);
	}
	return true;
}

static bool is_core(const struct reading *r, size_t slot, const struct fixed_name *f)
{
	const struct formula_name *name = &r->p->scope.name[slot];
	struct formula_type want = type_of(f->each, dim_words[f->dim].dim);
	bool is_let = slot >= r->p->scope.n - r->p->nlet;
	return name->type.kind == want.kind && dim_is_equal(name->type.dim, want.dim) &&
	       (is_let || r->each[slot] == f->each);
}

/* A given value is used: what it is worked out from must be there, and be what the bench takes it
 * for. */
static void core_need(struct reading *r, struct tree *root, enum given_value given, int core)
{
	struct formula_scope *scope = &r->p->scope;
	const struct fixed_name *f = &core_names[core];
	size_t slot;
	if (!formula_scope_find(scope, f->word, strlen(f->word), &slot)) {
		tree_fault(root, r->doc->diags, BAD_MISSING,
			"'%s' is used, for which a property '%s' is needed",
			given_names[given].word, f->word);
		return;
	}
	scope->name[slot].used++;
	if (is_core(r, slot, f))
		return;
	diag_error(r->doc->diags, BAD_TYPE, scope->name[slot].declared,
		(uint32_t)scope->name[slot].len, "'%s' is worked out from '%s', which must be %s%s",
		given_names[given].word, f->word, doc_dim(r->doc, dim_words[f->dim].dim),
		f->each == EACH_SITE    ? " for each site"
		: f->each == EACH_PLACE ? " for each place"
		: f->each == EACH_END   ? " for each end"
					: "");
}

/* The names the bench works from. One that is something else here is none of them, as long as nothing
 * is used that is worked out from it. */
static void core_find(struct reading *r, struct tree *root)
{
	struct procedure *p = r->p;
	for (int i = 0; i < CORE_COUNT; i++) {
		size_t slot;
		bool is_there = formula_scope_find(
			&p->scope, core_names[i].word, strlen(core_names[i].word), &slot);
		p->core[i] = is_there && is_core(r, slot, &core_names[i]) ? slot : SIZE_MAX;
	}
	for (int g = GIVEN_RIGID_LOAD; g < GIVEN_COUNT; g++) {
		bool is_bar = g < GIVEN_RESIN_PEAK;
		int from = is_bar ? 0 : CORE_BAR_LAST + 1;
		int to = is_bar ? CORE_BAR_LAST : CORE_COUNT - 1;
		for (int i = from; p->scope.name[g].used && i <= to; i++)
			core_need(r, root, (enum given_value)g, i);
	}
}

static size_t finding_look(struct reading *r, struct tree *t)
{
	const char *code = doc_code(r->doc, t);
	size_t look = procedure_look(r->p, code, strlen(code));
	if (look == SIZE_MAX)
		tree_fault(t, r->doc->diags, BAD_UNKNOWN, "no look is called '%s'", code);
	return look;
}

static void findings_read(struct reading *r, struct tree *t)
{
	struct tree *child = t ? doc_children(r->doc, t, TREE_LIST) : NULL;
	struct finding *list = doc_many(r->doc, child ? t->count : 0, struct finding);
	size_t n = 0;
	for (; child && list; child = child->next, n++) {
		struct tree *code = doc_children(r->doc, child, TREE_LIST);
		size_t *look = doc_many(r->doc, code ? child->count : 0, size_t);
		for (; code && look; code = code->next)
			look[list[n].nlook++] = finding_look(r, code);
		list[n].look = look;
	}
	r->p->finding = list;
	r->p->nfinding = n;
}

static void root_read(struct reading *r, struct tree *root)
{
	struct diags *d = r->doc->diags;
	struct procedure *p = r->p;
	struct tree *wage = tree_find(root, "wage"), *refer = tree_find(root, "refer");
	struct tree *ends = tree_need(root, "ends", d), *steps = tree_need(root, "steps", d);
	struct tree *faults = tree_find(root, "faults"), *rates = tree_find(root, "rates");
	p->code = doc_code(r->doc, tree_need(root, "procedure", d));
	p->title = doc_line(r->doc, tree_need(root, "title", d));
	p->about = doc_text(r->doc, tree_need(root, "about", d));
	p->source = doc_text(r->doc, tree_need(root, "source", d));
	p->caution = text_or_null(r, root, "caution");
	p->wage = span_in(r, wage, (struct dim)DIM_NONE, 0);
	if (!names_make(r, root))
		return;
	properties_read(r, tree_need(root, "properties", d));
	tools_read(r, tree_need(root, "tools", d));
	stuffs_read(r, tree_find(root, "materials"));
	steps_declare(r, steps);
	cases_read(r, tree_need(root, "cases", d));
	lets_read(r, tree_find(root, "lets"));
	steps_read(r, steps);
	looks_read(r, tree_find(root, "looks"));
	backs_read(r, tree_find(root, "backs"));
	orders_read(r, tree_find(root, "orders"));
	windows_read(r, tree_find(root, "windows"));
	faults_read(r, faults);
	rates_read(r, rates);
	parts_read(r, tree_need(root, "parts", d));
	p->refer = refer ? truth_of(r, refer) : NULL;
	findings_read(r, tree_find(root, "refer_seen"));
	ends_read(r, ends);
	core_find(r, root);
	tree_unknown(root, d);
}

static enum bad procedure_from(
	struct doc *doc, const struct source *file, struct tree *root, struct procedure *out)
{
	struct reading r = {.doc = doc, .p = out};
	*out = (struct procedure){.file = file};
	root_read(&r, root);
	if (out->nstep && !doc->out)
		procedure_graph(&r);
	return doc->out || doc->diags->out ? BAD_MEMORY : FINE;
}

enum bad procedure_read(struct arena *a, const struct source *file, struct tree *root,
	struct diags *d, struct procedure *out)
{
	struct doc doc = {.arena = a, .aside = a, .diags = d};
	return procedure_from(&doc, file, root, out);
}

enum bad procedure_load(const char *path, struct procedure *out, struct diags *d)
{
	struct arena arena = {0}, aside = {0};
	struct doc doc = {.arena = &arena, .aside = &aside, .diags = d};
	struct procedure made = {0};
	struct document file;
	size_t before = d->nerror;
	enum bad code = document_open(&doc, path, &file);
	struct tree *first = !code && file.root ? file.root->first : NULL;
	if (first && strcmp(first->key, "procedure") == 0)
		code = procedure_from(&doc, file.file, file.root, &made);
	else if (first)
		diag_error(d, BAD_TYPE, first->key_place, first->key_span,
			"this file does not begin with 'procedure'");
	arena_release(&aside);
	if (!code && doc.out)
		code = BAD_MEMORY;
	if (code) {
		arena_release(&arena);
		return code;
	}
	if (d->nerror != before || !made.nstep)
		made = (struct procedure){0};
	made.arena = arena; /* the places of the faults stand in it */
	*out = made;
	return FINE;
}

struct hash procedure_hash(const struct procedure *p)
{
	return hash_bytes(p->file->text, p->file->len);
}

void procedure_release(struct procedure *p)
{
	arena_release(&p->arena);
	*p = (struct procedure){0};
}

/* ---- finding --------------------------------------------------------------------------------- */

static bool is_word(const char *a, const char *b, size_t len)
{
	size_t i = 0;
	for (; i < len && a[i]; i++)
		if ((a[i] | 0x20) != (b[i] | 0x20))
			return false;
	return i == len && !a[i];
}

#define FIND(list, n, member) \
	for (size_t i = 0; i < p->n; i++) \
		if (is_word(p->list[i].member, code, len)) \
			return i; \
	return SIZE_MAX

size_t procedure_step(const struct procedure *p, const char *code, size_t len)
{
	for (size_t i = 0; i < p->nstep; i++)
		if (is_word(p->step[i].word, code, len))
			return i;
	FIND(step, nstep, code);
}

size_t procedure_fault(const struct procedure *p, const char *code, size_t len)
{
	FIND(fault, nfault, code);
}

size_t procedure_look(const struct procedure *p, const char *code, size_t len)
{
	FIND(look, nlook, code);
}

size_t procedure_back(const struct procedure *p, const char *code, size_t len)
{
	FIND(back, nback, code);
}

size_t procedure_part(const struct procedure *p, const char *code)
{
	size_t len = strlen(code);
	FIND(part, npart, code);
}
