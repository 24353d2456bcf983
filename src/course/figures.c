/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drawings in problems and lessons.
 *
 *	figure:
 *	  arch:
 *	    x: [-17 mm, 0 mm, 17 mm]
 *	    y: [-9 mm, 0 mm, -9 mm]
 *	    diameter: 4.1 mm
 *
 * One key names the drawing; below it stand the fields of the tables here, each a formula or, where
 * things have names, a list of texts. In a problem formulas may use its draws and lets; in a lesson they
 * use no names. */
#include "course/figures.h"

#include <string.h>

#include <barwright/base/nearest.h>
#include <barwright/base/utf8.h>

#include "course/doc.h"

#define LENGTH .power[DIM_LENGTH] = 1
#define ANGLE  .power[DIM_ANGLE] = 1
#define PLAIN  .power[DIM_LENGTH] = 0
#define TIME   .power[DIM_TIME] = 1
#define EACH   (A_NUMBER | A_LIST)

static const struct figure_form arch[] = {
	{"x", A_LIST, {LENGTH}, true,
		.about = "centres from the midline, to the patient's left; from the patient's "
			 "right to "
			 "left"},
	{"y", A_LIST, {LENGTH}, true, .about = "centres to the front"},
	{"diameter", EACH, {LENGTH}, false, .about = "of the platforms: one for all, or one each"},
	{"labels", A_LIST, {PLAIN}, false, .about = "tooth numbers (ISO 3950)"},
	{"lower", A_TRUTH, {PLAIN}, false, .about = "true: a lower jaw"},
	{"bar", A_TRUTH, {PLAIN}, false, .about = "true: draw the bar"},
	{"extension_right", A_NUMBER, {LENGTH}, false,
		.about = "bar beyond the last platform on the patient's right, along the bar"},
	{"extension_left", A_NUMBER, {LENGTH}, false, .about = "the same on the left"},
	{"spread", A_TRUTH, {PLAIN}, false, .about = "true: draw the line of the A-P spread"},
	{"centres", A_TRUTH, {PLAIN}, false,
		.about = "true: the spread goes to the centres, not to the distal surfaces"},
};

static const struct figure_form stack[] = {
	{"platform", EACH, {LENGTH}, false, .about = "height of the platform above the datum"},
	{"tissue", EACH, {LENGTH}, true, .about = "height of the top of the tissue"},
	{"matrix", EACH, {LENGTH}, true, .about = "height of the inner surface of the matrix"},
	{"clearance", EACH, {LENGTH}, false, .about = "between tissue and bar"},
	{"opaque", EACH, {LENGTH}, false, .about = "thickness of the opaque layer"},
	{"resin", EACH, {LENGTH}, false, .about = "thickness of the resin under the teeth"},
	{"tooth", EACH, {LENGTH}, false, .about = "height of the denture tooth"},
	{"bar", EACH, {LENGTH}, false,
		.about = "thickness of the bar; left out: what is asked for"},
	{"cylinder", EACH, {LENGTH}, false, .about = "length of the cylinder above its platform"},
	{"protrusion", EACH, {LENGTH}, false, .about = "of the cylinder above the bar"},
	{"cover", EACH, {LENGTH}, false, .about = "resin that must stay over the cylinder"},
	{"tilt", EACH, {ANGLE}, false, .about = "of the cylinder from upright"},
	{"labels", A_LIST, {PLAIN}, false, .about = "tooth numbers (ISO 3950), one a site"},
};

static const struct figure_form arc[] = {
	{"radius", A_NUMBER, {LENGTH}, true, .about = "of the circle the extension runs along"},
	{"along", A_NUMBER, {LENGTH}, true, .about = "length of the extension along the circle"},
};

static const char *const section_words[] = {"width", "height", "hole", "offset", "left", "right",
	"film", "cylinder", "aside", "tilt", "wander", NULL};

static const struct figure_form section[] = {
	{"width", A_NUMBER, {LENGTH}, false, .about = "of the bar"},
	{"height", A_NUMBER, {LENGTH}, false, .about = "of the bar"},
	{"hole", A_NUMBER, {LENGTH}, false, .about = "diameter of the hole"},
	{"offset", A_NUMBER, {LENGTH}, false,
		.about = "of its centre from the middle of the bar, to the right"},
	{"cylinder", A_NUMBER, {LENGTH}, false, .about = "diameter of the cylinder in the hole"},
	{"aside", A_NUMBER, {LENGTH}, false,
		.about = "of the cylinder from the middle of the hole"},
	{"tilt", A_NUMBER, {ANGLE}, false,
		.about = "from upright: of the cylinder, or of the hole alone"},
	{"sides", FIGURE_TEXTS, {PLAIN}, false, .about = "what lies left and right of the bar",
		.most = 8, .count = 2},
	{"shown", FIGURE_TEXTS, {PLAIN}, false, .about = "what is shown with its value besides",
		.among = section_words},
	{"asked", FIGURE_TEXTS, {PLAIN}, false, .about = "what is shown with a question mark",
		.among = section_words},
};

static const struct figure_form schedule[] = {
	{"steps", FIGURE_TEXTS, {PLAIN}, true, .about = "names, in their order", .most = 20},
	{"durations", A_LIST, {TIME}, false, .about = "of the steps, one after the other"},
	{"begin", A_NUMBER, {TIME}, false, .about = "when the first step starts"},
	{"starts", A_LIST, {TIME}, false, .about = "of the steps, in place of durations"},
	{"ends", A_LIST, {TIME}, false, .about = "of the steps, with starts"},
	{"deadline", A_NUMBER, {TIME}, false, .about = "when all has to be done"},
	{"closed_from", EACH, {TIME}, false, .about = "when the bench shuts"},
	{"closed_to", EACH, {TIME}, false, .about = "when it opens again"},
	{"clock", A_TRUTH, {PLAIN}, false,
		.about = "true: times of day, from midnight of day 1 on"},
	{"days", FIGURE_TEXTS, {PLAIN}, false, .about = "short names of the days, day 1 first",
		.most = 4},
	{"unattended", FIGURE_TEXTS, {PLAIN}, false, .about = "steps that go on by themselves",
		.of = "steps"},
	{"ask_starts", FIGURE_TEXTS, {PLAIN}, false, .about = "steps whose start is asked for",
		.of = "steps"},
	{"ask_ends", FIGURE_TEXTS, {PLAIN}, false, .about = "steps whose end is asked for",
		.of = "steps"},
	{"ask_durations", FIGURE_TEXTS, {PLAIN}, false,
		.about = "steps whose duration is asked for", .of = "steps"},
	{"ask_total", A_TRUTH, {PLAIN}, false, .about = "true: asked is how long it takes in all"},
};

static const struct {
	const char *word;
	const struct figure_form *form;
	size_t n;
} kinds[] = {
	[FIGURE_NONE] = {NULL, NULL, 0},
	[FIGURE_ARCH] = {"arch", arch, sizeof arch / sizeof *arch},
	[FIGURE_STACK] = {"stack", stack, sizeof stack / sizeof *stack},
	[FIGURE_ARC] = {"arc", arc, sizeof arc / sizeof *arc},
	[FIGURE_SECTION] = {"section", section, sizeof section / sizeof *section},
	[FIGURE_SCHEDULE] = {"schedule", schedule, sizeof schedule / sizeof *schedule},
};
enum { KIND_COUNT = sizeof kinds / sizeof *kinds };

const struct figure_form *figure_forms(enum figure_kind kind, size_t *n)
{
	*n = kinds[kind].n;
	return kinds[kind].form;
}

const struct formula *figure_spec_field(const struct figure_spec *f, const char *name)
{
	for (size_t i = 0; i < f->nfield; i++)
		if (strcmp(f->field[i].name, name) == 0)
			return f->field[i].formula;
	return NULL;
}

const char *const *figure_spec_texts(const struct figure_spec *f, const char *name, size_t *n)
{
	for (size_t i = 0; i < f->nfield; i++)
		if (f->field[i].text && strcmp(f->field[i].name, name) == 0) {
			*n = f->field[i].ntext;
			return f->field[i].text;
		}
	*n = 0;
	return NULL;
}

static enum figure_kind kind_of(struct doc *c, struct tree *t)
{
	struct nearest near = {.wanted = t->key, .len = t->key_len};
	for (int k = FIGURE_NONE + 1; k < KIND_COUNT; k++) {
		if (strcmp(kinds[k].word, t->key) == 0)
			return (enum figure_kind)k;
		nearest_offer(&near, kinds[k].word, strlen(kinds[k].word));
	}
	diag_error(c->diags, BAD_UNKNOWN, t->key_place, t->key_span, "no drawing is called '%s'",
		t->key);
	if (near.word)
		diag_hint(c->diags, "did you mean '%s'?", near.word);
	else
		diag_hint(c->diags, "there are arch, stack, arc, section and schedule");
	return FIGURE_NONE;
}

/* ---- fields ---------------------------------------------------------------------------------- */

static size_t text_count(const char *const *list)
{
	size_t n = 0;
	while (list[n])
		n++;
	return n;
}

/* Steps or parts of a drawing, else told with the nearest. */
static void text_is_one_of(struct doc *c, struct tree *t, const char *text,
	const struct figure_form *form, const char *const *list, size_t n)
{
	struct nearest near = {.wanted = text, .len = strlen(text)};
	for (size_t i = 0; i < n; i++) {
		if (strcmp(list[i], text) == 0)
			return;
		nearest_offer(&near, list[i], strlen(list[i]));
	}
	if (!*text || !n) /* told already */
		return;
	tree_fault(t, c->diags, BAD_UNKNOWN, "no %s is called '%s'",
		form->of ? "step" : "part of the drawing", text);
	if (near.word)
		diag_hint(c->diags, "did you mean '%s'?", near.word);
	else if (form->among == section_words)
		diag_hint(c->diags, "there are width, height, hole, offset, left, right, film, "
				    "cylinder, aside, tilt and wander");
}

static void text_fits(struct doc *c, struct tree *t, const char *text,
	const struct figure_form *form, const struct figure_spec *before)
{
	size_t n = 0, width = utf8_count(text, strlen(text));
	if (form->among) {
		text_is_one_of(c, t, text, form, form->among, text_count(form->among));
	} else if (form->of) {
		const char *const *list = figure_spec_texts(before, form->of, &n);
		text_is_one_of(c, t, text, form, list, n);
	} else if (width > form->most) {
		tree_fault(t, c->diags, BAD_SIZE, "%s has %zu characters, more than %zu",
			tree_name(t), width, form->most);
	}
}

/* The i-th of the list, against what stands before it. */
static void text_is_new(struct doc *c, struct tree *t, const char *const *list, size_t i)
{
	for (size_t k = 0; k < i; k++)
		if (*list[i] && strcmp(list[k], list[i]) == 0) {
			tree_fault(t, c->diags, BAD_REPEATED, "'%s' is in the list twice", list[i]);
			return;
		}
}

static void texts_read(struct doc *c, struct tree *t, const struct figure_form *form,
	const struct figure_spec *before, struct figure_field *out)
{
	out->name = form->name;
	out->text = doc_lines(c, t, &out->ntext);
	if (out->text && form->count && out->ntext && out->ntext != form->count)
		tree_fault(t, c->diags, BAD_COUNT, "%s lists %zu where %zu are needed",
			tree_name(t), out->ntext, form->count);
	struct tree *child = t->first;
	for (size_t i = 0; out->text && i < out->ntext; i++, child = child->next) {
		text_is_new(c, child, out->text, i);
		text_fits(c, child, out->text[i], form, before);
	}
}

static void field_read(struct doc *c, const struct names *n, struct tree *t,
	const struct figure_form *form, struct figure_spec *out, struct figure_field *field)
{
	if (form->kinds == FIGURE_TEXTS) {
		texts_read(c, t, form, out, &field[out->nfield++]);
		return;
	}
	struct formula *f = doc_formula(c, n, t);
	if (doc_kind(c, t, f, form->kinds) && form->kinds != A_TRUTH)
		doc_fits(c, t, f, form->dim, tree_name(t));
	field[out->nfield++] = (struct figure_field){.name = form->name, .formula = f};
}

/* ---- fields that go together ----------------------------------------------------------------- */

static void goes_with(struct doc *c, struct tree *map, const char *one, const char *other)
{
	struct tree *t = tree_find(map, one);
	if (t && !tree_find(map, other))
		diag_error(c->diags, BAD_MISSING, t->key_place, t->key_span,
			"'%s' needs '%s' beside it", one, other);
}

/* What has to be there for a part to be named: itself, or what it is worked out from. */
static const char *part_needs(const char *part)
{
	static const char *const from[][2] = {
		{"left", "hole"}, {"right", "hole"}, {"film", "cylinder"}, {"wander", "tilt"}};
	for (size_t i = 0; i < sizeof from / sizeof *from; i++)
		if (strcmp(part, from[i][0]) == 0)
			return from[i][1];
	return part;
}

static void part_is_there(struct doc *c, struct tree *map, struct tree *t)
{
	const char *needed = part_needs(t->text);
	if (t->broken || t->kind != TREE_SCALAR || tree_find(map, needed))
		return;
	if (needed != t->text) {
		tree_fault(t, c->diags, BAD_MISSING, "'%s' needs '%s' in the drawing", t->text,
			needed);
		return;
	}
	tree_fault(t, c->diags, BAD_MISSING, "'%s' is not given in the drawing", t->text);
	diag_hint(c->diags, "give it by its formula; what is under 'asked' is not told");
}

static void parts_are_there(struct doc *c, struct tree *map, const char *list)
{
	struct tree *t = tree_find(map, list);
	for (t = t ? t->first : NULL; t; t = t->next)
		part_is_there(c, map, t);
}

static void section_fits(struct doc *c, struct tree *map)
{
	goes_with(c, map, "offset", "hole");
	goes_with(c, map, "cylinder", "hole");
	goes_with(c, map, "aside", "cylinder");
	parts_are_there(c, map, "shown");
	parts_are_there(c, map, "asked");
}

/* A list that is written out has as many entries as there are steps. */
static void one_a_step(struct doc *c, struct tree *map, const char *name, size_t steps)
{
	struct tree *t = tree_find(map, name);
	if (t && t->kind == TREE_LIST && !t->broken && steps && t->count != steps)
		tree_fault(t, c->diags, BAD_COUNT, "%s lists %zu for %zu steps", tree_name(t),
			t->count, steps);
}

static void schedule_fits(struct doc *c, struct tree *map, const struct figure_spec *f)
{
	static const char *const lists[] = {"durations", "starts", "ends"};
	struct tree *durations = tree_find(map, "durations"), *starts = tree_find(map, "starts");
	size_t steps;
	figure_spec_texts(f, "steps", &steps);
	if (steps > FIGURE_STEPS)
		tree_fault(tree_find(map, "steps"), c->diags, BAD_COUNT,
			"there are %zu steps, more than %d", steps, FIGURE_STEPS);
	for (size_t i = 0; i < sizeof lists / sizeof *lists; i++)
		one_a_step(c, map, lists[i], steps);
	if (!durations && !starts) {
		diag_error(c->diags, BAD_MISSING, map->key_place, map->key_span,
			"'schedule' has no times");
		diag_hint(c->diags, "give 'durations', or 'starts' and 'ends'");
	} else if (durations && starts) {
		diag_error(c->diags, BAD_COUNT, starts->key_place, starts->key_span,
			"'starts' stands beside 'durations' where one of them is needed");
	}
	goes_with(c, map, "starts", "ends");
	goes_with(c, map, "ends", "starts");
	goes_with(c, map, "closed_from", "closed_to");
	goes_with(c, map, "closed_to", "closed_from");
}

void figure_read(struct doc *c, const struct names *n, struct tree *t, struct figure_spec *out)
{
	struct tree *map = t ? doc_only(c, t, "one drawing a figure") : NULL;
	struct figure_spec made = {.kind = map ? kind_of(c, map) : FIGURE_NONE};
	if (made.kind == FIGURE_NONE || !doc_fine(c, tree_is(map, TREE_MAP, c->diags)))
		return;
	size_t count;
	const struct figure_form *form = figure_forms(made.kind, &count);
	struct figure_field *field = doc_many(c, map->count, struct figure_field);
	if (!field)
		return;
	made.field = field;
	for (size_t i = 0; i < count; i++) {
		struct tree *value = form[i].needed ? tree_need(map, form[i].name, c->diags)
						    : tree_find(map, form[i].name);
		if (value)
			field_read(c, n, value, &form[i], &made, field);
	}
	tree_unknown(map, c->diags);
	if (made.kind == FIGURE_SCHEDULE)
		schedule_fits(c, map, &made);
	if (made.kind == FIGURE_SECTION)
		section_fits(c, map);
	made.place = map->place;
	*out = made;
}
