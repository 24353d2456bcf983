/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drawings in problems and lessons.
 *
 *	figure:
 *	  arch:
 *	    x: [-17 mm, 0 mm, 17 mm]
 *	    y: [-9 mm, 0 mm, -9 mm]
 *	    diameter: 4.1 mm
 *
 * One key names the drawing; below it stand the fields of the tables here, each a formula. In a
 * problem they may use its draws and lets; in a lesson they use no names. */
#include "course/figures.h"

#include <string.h>

#include <barwright/base/nearest.h>

#include "course/doc.h"

#define LENGTH .power[DIM_LENGTH] = 1
#define ANGLE  .power[DIM_ANGLE] = 1
#define PLAIN  .power[DIM_LENGTH] = 0
#define EACH   (A_NUMBER | A_LIST)

static const struct figure_form arch[] = {
	{"x", A_LIST, {LENGTH}, true,
		"centres from the midline, to the patient's left; from the patient's right to "
		"left"},
	{"y", A_LIST, {LENGTH}, true, "centres to the front"},
	{"diameter", EACH, {LENGTH}, false, "of the platforms: one for all, or one each"},
	{"labels", A_LIST, {PLAIN}, false, "tooth numbers (ISO 3950)"},
	{"lower", A_TRUTH, {PLAIN}, false, "true: a lower jaw"},
	{"bar", A_TRUTH, {PLAIN}, false, "true: draw the bar"},
	{"extension_right", A_NUMBER, {LENGTH}, false,
		"bar beyond the last platform on the patient's right, along the bar"},
	{"extension_left", A_NUMBER, {LENGTH}, false, "the same on the left"},
	{"spread", A_TRUTH, {PLAIN}, false, "true: draw the line of the A-P spread"},
	{"centres", A_TRUTH, {PLAIN}, false,
		"true: the spread goes to the centres, not to the distal surfaces"},
};

static const struct figure_form stack[] = {
	{"platform", EACH, {LENGTH}, false, "height of the platform above the datum"},
	{"tissue", EACH, {LENGTH}, true, "height of the top of the tissue"},
	{"matrix", EACH, {LENGTH}, true, "height of the inner surface of the matrix"},
	{"clearance", EACH, {LENGTH}, false, "between tissue and bar"},
	{"opaque", EACH, {LENGTH}, false, "thickness of the opaque layer"},
	{"resin", EACH, {LENGTH}, false, "thickness of the resin under the teeth"},
	{"tooth", EACH, {LENGTH}, false, "height of the denture tooth"},
	{"bar", EACH, {LENGTH}, false, "thickness of the bar; left out: what is asked for"},
	{"cylinder", EACH, {LENGTH}, false, "length of the cylinder above its platform"},
	{"protrusion", EACH, {LENGTH}, false, "of the cylinder above the bar"},
	{"cover", EACH, {LENGTH}, false, "resin that must stay over the cylinder"},
	{"tilt", EACH, {ANGLE}, false, "of the cylinder from upright"},
	{"labels", A_LIST, {PLAIN}, false, "tooth numbers (ISO 3950), one a site"},
};

static const struct figure_form arc[] = {
	{"radius", A_NUMBER, {LENGTH}, true, "of the circle the extension runs along"},
	{"along", A_NUMBER, {LENGTH}, true, "length of the extension along the circle"},
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
};
enum { KIND_COUNT = sizeof kinds / sizeof *kinds };

const char *figure_word(enum figure_kind kind)
{
	return kinds[kind].word;
}

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
		diag_hint(c->diags, "there are 'arch', 'stack' and 'arc'");
	return FIGURE_NONE;
}

static void field_read(struct doc *c, const struct names *n, struct tree *t,
	const struct figure_form *form, struct figure_spec *out, struct figure_field *field)
{
	struct formula *f = doc_formula(c, n, t);
	if (doc_kind(c, t, f, form->kinds) && form->kinds != A_TRUTH)
		doc_fits(c, t, f, form->dim, tree_name(t));
	field[out->nfield++] = (struct figure_field){form->name, f};
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
	for (size_t i = 0; i < count; i++) {
		struct tree *value = form[i].needed ? tree_need(map, form[i].name, c->diags)
						    : tree_find(map, form[i].name);
		if (value)
			field_read(c, n, value, &form[i], &made, field);
	}
	tree_unknown(map, c->diags);
	made.field = field;
	made.place = map->place;
	*out = made;
}
