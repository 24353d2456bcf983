/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "course/case.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <barwright/base/file.h>
#include <barwright/base/unit.h>
#include <barwright/calc/safety.h>

#include "course/case_parts.h"

/* ---- numbers with their limits --------------------------------------------------------------- */

/* A quantity of the file. low..high: what can be at all; usual_low..usual_high: what passes without
 * a word. All in `unit`. The limits are this program's own guard against slips of the pen, the
 * usual ranges common practice of the trade unless said. */
struct gauge {
	const char *key, *unit;
	double low, high, usual_low, usual_high;
	double otherwise; /* in SI-mm when it is not there; NAN: it must be there */
	size_t at;        /* offset of the double that takes it */
	const char *hint; /* beside a value out of the usual */
};

#define IN_SITE(field) offsetof(struct case_site, field)
#define IN_CASE(field) offsetof(struct case_file, field)
#define NEEDED         NAN

static const struct gauge site_gauges[] = {
	{"x", "mm", -60, 60, -40, 40, NEEDED, IN_SITE(at.x_mm),
		"half an arch is hardly wider than 40 mm"},
	{"y", "mm", -80, 80, -50, 50, NEEDED, IN_SITE(at.y_mm),
		"an arch is hardly deeper than 50 mm"},
	{"diameter", "mm", 1, 12, 3, 6.5, NEEDED, IN_SITE(at.radius_mm),
		"platforms measure 3 to 6.5 mm"},
	{"platform", "mm", -20, 20, -5, 5, NEEDED, IN_SITE(space.platform_mm),
		"platforms stand near the datum"},
	{"tissue", "mm", -20, 30, 0, 6, NEEDED, IN_SITE(space.tissue_mm),
		"1 to 4 mm of tissue over the platform are usual"},
	{"matrix", "mm", 1, 60, 8, 25, NEEDED, IN_SITE(space.matrix_mm),
		"12 to 20 mm from the platform are taught for this kind of work"},
	{"cylinder", "mm", 1, 40, 5, 16, NEEDED, IN_SITE(space.cylinder_mm),
		"cylinders are supplied 8 to 14 mm high"},
	{"tilt", "deg", -60, 60, -30, 30, 0, IN_SITE(space.tilt_rad),
		"abutments correct more than 30 degrees"},
};

static const struct gauge space_gauges[] = {
	{"clearance", "mm", 0, 10, 0, 3, NEEDED, IN_CASE(layers.clearance_mm),
		"1 to 2 mm are usual in the lower jaw, contact in the upper"},
	{"opaque", "mm", 0, 3, 0, 0.5, NEEDED, IN_CASE(layers.opaque_mm),
		"0.2 to 0.3 mm are usual"},
	{"resin", "mm", 0, 15, 1.5, 5, NEEDED, IN_CASE(layers.resin_mm),
		"2 mm between bar and tooth are usual, 1.5 mm the least"},
	{"tooth", "mm", 0, 15, 2, 8, NEEDED, IN_CASE(layers.tooth_mm),
		"4 to 6 mm of tooth are left over the resin, 2 mm the least"},
	{"cover", "mm", 0, 15, 1.5, 5, NEEDED, IN_CASE(layers.cover_mm),
		"2 mm over a cylinder are usual, 1.5 mm the least"},
	{"protrusion", "mm", -10, 10, -1, 2, 0, IN_CASE(layers.protrusion_mm),
		"cylinders end level with the bar's top or a little above it"},
};

/* Moduli and strengths: from unidirectional glass across the fibres to cobalt-chromium; usual: glass
 * laminates along the fibres, calc/safety.h. */
static const struct gauge bar_gauges[] = {
	{"width", "mm", 1, 30, 4, 15, NEEDED, IN_CASE(width_mm), "bars are 5 to 12 mm wide"},
	{"modulus", "GPa", 0.5, 250, 10, 50, NEEDED, IN_CASE(modulus_MPa),
		"glass laminates have 15 to 45 GPa along their fibres"},
	{"shear_modulus", "GPa", 0.1, 100, 2, 10, NEEDED, IN_CASE(shear_modulus_MPa),
		"glass laminates have 3 to 5 GPa"},
	{"strength", "MPa", 10, 2500, 200, 1200, NEEDED, IN_CASE(strength_MPa),
		"glass laminates have 300 to 1200 MPa in bending along their fibres"},
	{"wet", "", 0.1, 1, 0.5, 1, SAFETY_WET_GLASS, IN_CASE(wet),
		"woven glass in acrylic resin kept 0.73 of its strength in water (Vallittu 2000)"},
};

static const struct gauge extension_gauges[] = {
	{"right", "mm", 0, 60, 0, 20, NEEDED, IN_CASE(right_mm), "guides end at 15 to 20 mm"},
	{"left", "mm", 0, 60, 0, 20, NEEDED, IN_CASE(left_mm), "guides end at 15 to 20 mm"},
};

static const struct gauge rule_gauges[] = {
	{"factor", "", 0.1, 10, 0.5, 2.5, NEEDED, IN_CASE(factor),
		"1.5 to 2.5 times the spread is the range quoted"},
	{"cap", "mm", 1, 60, 7, 20, NEEDED, IN_CASE(cap_mm),
		"caps of 10 mm (upper) and 15 to 20 mm (lower jaw) are usual"},
	{"minimum_thickness", "mm", 0.5, 15, 3, 6, NEEDED, IN_CASE(minimum_mm),
		"3.5 mm is common practice"},
	{"engagement", "mm", 0, 15, 3, 6, NEEDED, IN_CASE(engagement_mm),
		"4 mm is common practice"},
	{"safety", "", 1, 20, 1.5, 5, NEEDED, IN_CASE(safety),
		"2 to 3 are usual for fibre-reinforced polymers"},
	{"everyday", "", 0, 1, 0.2, 1, 0.5, IN_CASE(everyday),
		"half of the greatest bite is this course's value"},
	{"everyday_safety", "", 1, 20, 1, 5, 1.5, IN_CASE(everyday_safety), "1.5 is usual"},
};

static const struct gauge support_gauges[] = {
	{"stiffness", "N/mm", 1, 1e7, 500, 50000, NEEDED, IN_CASE(stiffness_N_per_mm),
		"some 5000 N/mm are the order of an integrated implant"},
};

static const struct gauge joint_gauges[] = {
	{"diameter", "mm", 1, 12, 3, 6, NEEDED, IN_CASE(sleeve_mm),
		"cylinders measure 4 to 5 mm across"},
	{"bond", "MPa", 0.1, 100, 3, 30, NEEDED, IN_CASE(bond_MPa),
		"ISO 10477:2020 asks for 5 MPa; 10 to 25 MPa are reported for resin cements"},
	{"share", "", 0.01, 1, 0.2, 1, 0.5, IN_CASE(bond_share), "half is this course's value"},
};

#define COUNT(list) (sizeof(list) / sizeof *(list))

static void gauge_warn(struct diags *d, struct tree *t, const struct gauge *g, double value)
{
	struct unit unit = {.factor = 1};
	size_t at, len;
	const char *blank = *g->unit ? " " : "";

	unit_read(g->unit, strlen(g->unit), &unit, &at, &len);
	value /= unit.factor;
	if (value >= g->usual_low - 1e-9 && value <= g->usual_high + 1e-9)
		return;
	diag_warn(d, BAD_RANGE, t->place, t->span, "%s is %g%s%s, which is unusual", tree_name(t),
		value, blank, g->unit);
	diag_hint(d, "%s; if it is right, leave it", g->hint);
}

/* Reads what the gauges name from a map into the struct at `base`; true when all went well. */
static bool gauges_read(
	struct case_reader *r, struct tree *map, const struct gauge *gauge, size_t n, void *base)
{
	bool fine = map != NULL;

	for (size_t i = 0; i < n; i++) {
		const struct gauge *g = &gauge[i];
		double *to = (double *)((char *)base + g->at);
		bool needed = isnan(g->otherwise);
		struct tree *t = needed ? tree_need(map, g->key, r->diags) : tree_find(map, g->key);
		*to = needed ? 0 : g->otherwise;
		if (!t && !needed)
			continue;
		enum bad code = tree_quantity_in(t, g->unit, g->low, g->high, r->diags, to);
		if (code == BAD_RANGE)
			diag_hint(r->diags, "%s", g->hint);
		if (code)
			fine = false;
		else
			gauge_warn(r->diags, t, g, *to);
	}
	return fine;
}

/* ---- sites ----------------------------------------------------------------------------------- */

int case_tooth(long number, bool lower_jaw)
{
	long quadrant = number / 10 - (lower_jaw ? 2 : 0), tooth = number % 10;

	if (tooth < 1 || tooth > 8)
		return -1;
	if (quadrant == (lower_jaw ? 2 : 1))
		return (int)(8 - tooth);
	if (quadrant == (lower_jaw ? 1 : 2))
		return (int)(7 + tooth);
	return -1;
}

/* Two digits, else 0. */
static long tooth_number(const char *text)
{
	if (text[0] < '1' || text[0] > '4' || text[1] < '1' || text[1] > '8' || text[2])
		return 0;
	return 10 * (text[0] - '0') + (text[1] - '0');
}

static bool tooth_read(struct case_reader *r, struct tree *t, const char **out)
{
	bool lower = r->file.lower_jaw;

	*out = "?";
	if (tree_text(t, r->diags, out))
		return false;
	long number = tooth_number(*out);
	if (number && !r->jaw_known)
		return false; /* the jaw's own fault says it all */
	if (case_tooth(number, lower) >= 0)
		return true;
	if (number)
		tree_fault(t, r->diags, BAD_RANGE, "tooth %ld is not in the %s jaw", number,
			lower ? "lower" : "upper");
	else
		tree_fault(
			t, r->diags, BAD_TYPE, "%s is no tooth number of ISO 3950", tree_name(t));
	diag_hint(r->diags, "write %s", lower ? "48 to 41 or 31 to 38" : "18 to 11 or 21 to 28");
	return false;
}

static bool site_read(struct case_reader *r, struct tree *t, struct case_site *out)
{
	out->tooth = "";
	if (tree_is(t, TREE_MAP, r->diags))
		return false;
	bool fine = tooth_read(r, tree_need(t, "tooth", r->diags), &out->tooth);
	fine = gauges_read(r, t, site_gauges, COUNT(site_gauges), out) && fine;
	tree_unknown(t, r->diags);
	out->at.radius_mm /= 2; /* the file gives the diameter */
	return fine;
}

static void sites_read(struct case_reader *r, struct tree *t)
{
	struct case_file *c = &r->file;

	r->sites = t;
	if (tree_is(t, TREE_LIST, r->diags))
		return;
	if (t->count < 3 || t->count > ARCH_SITES) {
		tree_fault(t, r->diags, BAD_COUNT, "3 to %d sites are needed, not %zu", ARCH_SITES,
			t->count);
		diag_hint(r->diags, "list every site of the prosthesis, each as "
				    "{tooth: 45, x: -17.0, y: -9.0, ...}");
	}
	if (t->count > ARCH_SITES)
		return;
	c->site = arena_many(r->arena, t->count, struct case_site);
	r->out |= !c->site;
	r->all_sites = c->site && t->count >= 3;
	for (struct tree *child = t->first; child && c->site; child = child->next) {
		r->site[c->nsite] = child;
		if (!site_read(r, child, &c->site[c->nsite++]))
			r->all_sites = false;
	}
}

/* The file may count x to the right or y to the back; inside it is left and front. */
static void axes_read(struct case_reader *r, struct tree *t)
{
	static const char *const across[] = {"left", "right"}, *const along[] = {"front", "back"};
	size_t x = 0, y = 0;

	if (!t || tree_is(t, TREE_MAP, r->diags))
		return;
	tree_word(tree_need(t, "x", r->diags), across, 2, r->diags, &x);
	tree_word(tree_need(t, "y", r->diags), along, 2, r->diags, &y);
	tree_unknown(t, r->diags);
	for (size_t i = 0; i < r->file.nsite; i++) {
		r->file.site[i].at.x_mm *= x ? -1 : 1;
		r->file.site[i].at.y_mm *= y ? -1 : 1;
	}
	for (size_t i = 0; i < r->file.nload; i++) {
		r->file.load[i].x_mm *= x ? -1 : 1;
		r->file.load[i].y_mm *= y ? -1 : 1;
	}
}

/* ---- the other parts ------------------------------------------------------------------------- */

static void stock_read(struct case_reader *r, struct tree *t)
{
	struct case_file *c = &r->file;

	r->stock = t;
	if (t && t->kind == TREE_LIST && !t->count) {
		tree_fault(t, r->diags, BAD_MISSING, "the stock list is empty");
		diag_hint(r->diags, "list the thicknesses at hand: [3.5, 4.0, 5.0]");
	}
	if (tree_is(t, TREE_LIST, r->diags))
		return;
	if (t->count > CASE_STOCK) {
		tree_fault(t, r->diags, BAD_COUNT, "there are %zu thicknesses, more than %d",
			t->count, CASE_STOCK);
		return;
	}
	for (struct tree *child = t->first; child; child = child->next)
		if (!tree_quantity_in(child, "mm", 0.5, 30, r->diags, &c->stock_mm[c->nstock]))
			c->nstock++;
}

/* A map that must be there, with its gauges; null when it is none. */
static struct tree *part_read(struct case_reader *r, struct tree *root, const char *key,
	const struct gauge *gauge, size_t n)
{
	struct tree *t = tree_need(root, key, r->diags);

	if (!t || tree_is(t, TREE_MAP, r->diags))
		return NULL;
	gauges_read(r, t, gauge, n, &r->file);
	return t;
}

static void bar_read(struct case_reader *r, struct tree *root)
{
	struct tree *t = part_read(r, root, "bar", bar_gauges, COUNT(bar_gauges));

	if (!t)
		return;
	stock_read(r, tree_need(t, "stock", r->diags));
	tree_unknown(t, r->diags);
}

static void rules_read(struct case_reader *r, struct tree *root)
{
	static const char *const spread[] = {"distal-surface", "centres"};
	struct tree *t = part_read(r, root, "rules", rule_gauges, COUNT(rule_gauges));
	size_t which = 0;

	if (!t)
		return;
	tree_word(tree_need(t, "spread", r->diags), spread, 2, r->diags, &which);
	r->file.spread = which ? ARCH_CENTRES : ARCH_DISTAL_SURFACE;
	r->minimum = tree_find(t, "minimum_thickness");
	tree_unknown(t, r->diags);
}

static void joint_read(struct case_reader *r, struct tree *root)
{
	struct tree *t = tree_find(root, "joint");

	if (!t || tree_is(t, TREE_MAP, r->diags))
		return;
	r->file.has_joint = gauges_read(r, t, joint_gauges, COUNT(joint_gauges), &r->file);
	tree_unknown(t, r->diags);
}

/* ---- loads ----------------------------------------------------------------------------------- */

static void load_at_point(struct case_reader *r, struct tree *t, struct case_load *out)
{
	static const struct gauge gauges[] = {
		{"x", "mm", -80, 80, -50, 50, NEEDED, offsetof(struct case_load, x_mm),
			"half an arch is hardly wider than 40 mm"},
		{"y", "mm", -100, 100, -60, 60, NEEDED, offsetof(struct case_load, y_mm),
			"an arch is hardly deeper than 50 mm"},
	};

	gauges_read(r, t, gauges, 2, out);
	tree_unknown(t, r->diags);
	out->where = CASE_AT_POINT;
}

static bool load_at_site(const struct case_file *c, const char *text, struct case_load *out)
{
	for (size_t i = 0; i < c->nsite; i++)
		if (strcmp(c->site[i].tooth, text) == 0) {
			out->where = CASE_AT_SITE;
			out->site = i;
			out->x_mm = c->site[i].at.x_mm;
			out->y_mm = c->site[i].at.y_mm;
			return true;
		}
	return false;
}

static void load_at(struct case_reader *r, struct tree *t, struct case_load *out)
{
	const char *text;

	if (t && t->kind == TREE_MAP) {
		load_at_point(r, t, out);
		return;
	}
	if (tree_text(t, r->diags, &text))
		return;
	if (!strcmp(text, "left-end") || !strcmp(text, "right-end")) {
		out->where = *text == 'l' ? CASE_LEFT_END : CASE_RIGHT_END;
		return;
	}
	if (load_at_site(&r->file, text, out))
		return;
	if (tooth_number(text))
		tree_fault(t, r->diags, BAD_UNKNOWN, "there is no site %s to load", text);
	else
		tree_fault(t, r->diags, BAD_UNKNOWN, "%s names no place on the bar", tree_name(t));
	diag_hint(r->diags, "write left-end, right-end, the tooth number of a site or {x: , y: }");
}

static void load_read(struct case_reader *r, struct tree *t, struct case_load *out)
{
	static const struct gauge gauges[] = {
		{"force", "N", 1, 3000, 10, 600, NEEDED, offsetof(struct case_load, force_N),
			"bites of 50 to 400 N are reported, up to some 600 N on natural molars"},
	};

	if (tree_is(t, TREE_MAP, r->diags))
		return;
	gauges_read(r, t, gauges, 1, out);
	load_at(r, tree_need(t, "at", r->diags), out);
	tree_unknown(t, r->diags);
}

static void loads_read(struct case_reader *r, struct tree *t)
{
	struct case_file *c = &r->file;

	r->loads = t;
	if (!t || (t->kind == TREE_LIST && !t->count) || tree_is(t, TREE_LIST, r->diags))
		return;
	if (t->count > CASE_LOADS) {
		tree_fault(t, r->diags, BAD_COUNT, "there are %zu loads, more than %d", t->count,
			CASE_LOADS);
		return;
	}
	c->load = arena_many(r->arena, t->count, struct case_load);
	r->out |= !c->load;
	for (struct tree *child = t->first; child && c->load; child = child->next) {
		r->load[c->nload] = child;
		load_read(r, child, &c->load[c->nload++]);
	}
}

double case_hole_mm(const struct case_file *c, size_t site)
{
	return c->has_joint ? c->sleeve_mm : 2 * c->site[site].at.radius_mm;
}

/* ---- the whole ------------------------------------------------------------------------------- */

static void head_read(struct case_reader *r, struct tree *root)
{
	static const char *const jaws[] = {"upper", "lower"};
	struct tree *code = tree_need(root, "case", r->diags);
	size_t jaw = 0;

	tree_text(code, r->diags, &r->file.code);
	r->jaw_known = !tree_word(tree_need(root, "jaw", r->diags), jaws, 2, r->diags, &jaw);
	r->file.lower_jaw = jaw == 1;
}

static void parts_read(struct case_reader *r, struct tree *root)
{
	struct tree *t;

	head_read(r, root);
	sites_read(r, tree_need(root, "sites", r->diags));
	if ((t = part_read(r, root, "space", space_gauges, COUNT(space_gauges))))
		tree_unknown(t, r->diags);
	bar_read(r, root);
	r->width = tree_find(tree_find(root, "bar"), "width");
	if ((t = part_read(r, root, "extension", extension_gauges, COUNT(extension_gauges))))
		tree_unknown(t, r->diags);
	rules_read(r, root);
	loads_read(r, tree_find(root, "loads"));
	axes_read(r, tree_find(root, "axes"));
	if ((t = part_read(r, root, "supports", support_gauges, COUNT(support_gauges))))
		tree_unknown(t, r->diags);
	joint_read(r, root);
	tree_unknown(root, r->diags);
}

static enum bad first_error(const struct diags *d, const struct diag *after)
{
	const struct diag *at = after ? after->next : d->first;

	for (; at; at = at->next)
		if (at->severity == SEVERITY_ERROR)
			return at->code;
	return BAD_SYNTAX; /* told before the list was full */
}

static void root_read(struct case_reader *r, struct tree *root)
{
	if (tree_is(root, TREE_MAP, r->diags))
		return;
	parts_read(r, root);
	case_check(r);
}

enum bad case_root_check(struct arena *a, struct tree *root, struct diags *d)
{
	struct case_reader r = {.arena = a, .diags = d, .file.code = ""};

	root_read(&r, root);
	return r.out || d->out ? BAD_MEMORY : FINE;
}

enum bad case_read(struct arena *a, const struct source *s, struct diags *d, struct case_file *out)
{
	struct case_reader r = {.arena = a, .diags = d, .file.code = ""};
	size_t before = d->nerror;
	const struct diag *last = d->last;
	struct tree *root = NULL;
	enum bad code = tree_read(a, s, d, &root);

	if (!root)
		return code;
	root_read(&r, root);
	if (r.out || d->out)
		return BAD_MEMORY;
	if (d->nerror != before)
		return first_error(d, last);
	*out = r.file;
	return FINE;
}

enum bad case_load_file(struct arena *a, const char *path, struct source *source, struct diags *d,
	struct case_file *out)
{
	char *bytes;
	size_t len;
	enum bad code = file_read_named(path, CASE_FILE_BYTES, a, &bytes, &len);

	if (code)
		return code;
	*source = (struct source){path, bytes, len};
	return case_read(a, source, d, out);
}

void case_arch(const struct case_file *c, struct arch_site *out)
{
	for (size_t i = 0; i < c->nsite; i++)
		out[i] = c->site[i].at;
}
