/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "work/report.h"

#include <math.h>

enum { FIGURE_COLS = 60, ARCH_ROWS = 16, STACK_ROWS = 20, SITE_COLS = 9, AXIS_COLS = 6 };

/* ---- drawings -------------------------------------------------------------------------------- */

enum bad work_arch_picture(struct arena *a, const struct work_result *w, struct arch_picture *out)
{
	const struct case_file *c = w->file;
	struct arch_site *site = arena_many(a, c->nsite, struct arch_site);
	const char **label = arena_many(a, c->nsite, const char *);
	struct arch_load *load = arena_many(a, c->nload ? c->nload : 1, struct arch_load);
	const char *spread = arena_format(a, "%.1f mm", w->spread.spread_mm);

	if (!site || !label || !load || !spread)
		return BAD_MEMORY;
	case_arch(c, site);
	for (size_t i = 0; i < c->nsite; i++)
		label[i] = c->site[i].tooth;
	for (size_t i = 0; i < c->nload; i++) {
		const struct case_load *l = &c->load[i];
		load[i] =
			(struct arch_load){l->x_mm, l->y_mm, arena_format(a, "%.0f N", l->force_N)};
		if (!load[i].text)
			return BAD_MEMORY;
	}
	*out = (struct arch_picture){.site = site,
		.label = label,
		.n = c->nsite,
		.lower_jaw = c->lower_jaw,
		.bar = true,
		.extension_right_mm = c->right_mm,
		.extension_left_mm = c->left_mm,
		.spread_line = true,
		.rule = c->spread,
		.spread_text = spread,
		.load = load,
		.nload = c->nload};
	return FINE;
}

/* Where nothing fits, the thinnest bar that may be used is drawn: it shows where it does not. */
static double drawn_bar(const struct work_result *w)
{
	const struct case_file *c = w->file;
	double thinnest = INFINITY;

	if (w->fits)
		return w->chosen_mm;
	for (size_t i = 0; i < c->nstock; i++)
		if (c->stock_mm[i] >= c->minimum_mm - SPACE_SLACK_mm)
			thinnest = fmin(thinnest, c->stock_mm[i]);
	return isfinite(thinnest) ? thinnest : c->minimum_mm;
}

static bool stack_site(
	struct arena *a, const struct work_result *w, size_t i, struct stack_site *out)
{
	const struct case_file *c = w->file;
	const struct space_site *s = &c->site[i].space;
	const struct work_site *r = &w->site[i];
	const char *bar = arena_format(a, "left %.1f", r->available_mm);
	const char *cut = w->fits ? arena_format(a, "cut %.1f", r->cut.cut_mm) : NULL;

	*out = (struct stack_site){.label = c->site[i].tooth,
		.platform_mm = s->platform_mm,
		.tissue_mm = s->tissue_mm,
		.matrix_mm = s->matrix_mm,
		.clearance_mm = c->layers.clearance_mm,
		.bar_mm = drawn_bar(w),
		.opaque_mm = c->layers.opaque_mm,
		.resin_mm = c->layers.resin_mm,
		.tooth_mm = c->layers.tooth_mm,
		.cylinder_mm = s->cylinder_mm,
		.cut_mm = w->fits ? r->cut.cut_mm : 0,
		.tilt_rad = s->tilt_rad,
		.note = {bar, cut},
		.governs = i == w->governing};
	return bar && (cut || !w->fits);
}

enum bad work_stack_picture(struct arena *a, const struct work_result *w, struct stack_picture *out)
{
	size_t n = w->file->nsite;
	struct stack_site *site = arena_many(a, n, struct stack_site);

	for (size_t i = 0; i < n; i++)
		if (!site || !stack_site(a, w, i, &site[i]))
			return BAD_MEMORY;
	*out = (struct stack_picture){.site = site, .n = n};
	return FINE;
}

static enum bad add_arch(struct page *p, const struct work_result *w)
{
	struct arch_picture picture;
	struct figure *f;
	enum bad code = work_arch_picture(p->arena, w, &picture);

	if (!code)
		code = arch_figure(p->arena, &picture, FIGURE_COLS, ARCH_ROWS, &f);
	if (!code)
		page_figure(p, f);
	return code;
}

/* As many sections side by side as a page is wide, the rest below. */
static enum bad add_stacks(struct page *p, const struct work_result *w)
{
	struct stack_picture all;
	size_t most = (FIGURE_COLS + 16 - AXIS_COLS) / SITE_COLS;
	enum bad code = work_stack_picture(p->arena, w, &all);

	for (size_t at = 0; at < all.n && !code; at += most) {
		struct stack_picture some = all;
		struct figure *f;
		some.site = all.site + at;
		some.n = all.n - at < most ? all.n - at : most;
		int columns = AXIS_COLS + 2 + SITE_COLS * (int)some.n;
		code = stack_figure(p->arena, &some, columns > 46 ? columns : 46, STACK_ROWS, &f);
		if (!code)
			page_figure(p, f);
	}
	return code;
}

/* ---- the parts of the page ------------------------------------------------------------------- */

static const char *tooth(const struct work_result *w, size_t i)
{
	return w->file->site[i].tooth;
}

static void add_verdict(struct page *p, const struct work_result *w)
{
	if (!w->refer) {
		page_add(p, BLOCK_GOOD, "Within the rules of this case%s.",
			w->engagement_ok ? "" : ", once the bar is built up at the sleeves");
		return;
	}
	page_add(p, BLOCK_BAD, "Refer this case back before work goes on:");
	for (size_t i = 0; i < w->nwhy; i++)
		page_add(p, BLOCK_ITEM, "%s", w->why[i]);
}

static void add_side(struct page *p, const char *name, const struct work_side *s)
{
	page_add(p, BLOCK_EXACT, "%-6s %8.2f %8.2f %8.2f %9.2f %9.2f   %s", name, s->limit_mm,
		s->actual_mm, s->trim_mm, s->chord_mm, s->lever_mm, s->ok ? "within" : "too long");
}

static void add_spread(struct page *p, const struct work_result *w)
{
	const struct case_file *c = w->file;
	bool centres = c->spread == ARCH_CENTRES;

	page_add(p, BLOCK_HEADING, "Spread and cantilevers, mm");
	page_row(p, "A-P spread to the distal surfaces", "%.2f%s", w->distal_mm,
		centres ? "" : "  the rule of this case");
	page_row(p, "A-P spread centre to centre", "%.2f%s", w->centres_mm,
		centres ? "  the rule of this case" : "");
	if (w->spread.first != w->spread.second)
		page_row(p, "of the two anterior sites", "%s %.2f, %s %.2f: the mean counts",
			tooth(w, w->spread.first), w->spread.first_mm, tooth(w, w->spread.second),
			w->spread.second_mm);
	page_add(p, BLOCK_EXACT, "          limit   actual  to trim  straight     lever");
	add_side(p, "right", &w->side[ARCH_RIGHT]);
	add_side(p, "left", &w->side[ARCH_LEFT]);
	page_add(p, BLOCK_TEXT,
		"Actual: along the bar from the distal surface of the terminal site; straight: the "
		"same ends in a straight line; lever: from the line of the terminal centres, "
		"square to it, to the bar's end.");
	page_add(p, BLOCK_TEXT,
		"Limit: the smaller of %g times the spread and %g mm. Distal surface: Chung, "
		"Chang, Klokkevold in Carranza's Clinical Periodontology, 12th ed. 2015, ch. 74. "
		"Centre to centre: common practice of the trade. Factor: 1.5 is ascribed to "
		"English 1990 (from memory, not verified), 1.5 to 2.5 is quoted in practice; not "
		"validated prospectively (Walter and Greenstein, JADA 2020;151(10):790-795). Cap: "
		"common practice of the trade, no published source. Ties between sites and the "
		"mean of two: course value.",
		c->factor, c->cap_mm);
}

static void add_thickness(struct page *p, const struct work_result *w)
{
	const struct case_file *c = w->file;

	page_row(p, "the least space", "%.2f at site %s", w->available_mm, tooth(w, w->governing));
	if (w->fits)
		page_row(p, "bar chosen from stock", "%.2f", w->chosen_mm);
	else
		page_row(p, "bar chosen from stock", "none: %.2f too little", w->shortfall_mm);
	page_row(p, "least thickness", "%.2f", c->minimum_mm);
	page_row(p, "engagement wanted at each sleeve", "%.2f", c->engagement_mm);
}

static void add_heights(struct page *p, const struct work_result *w)
{
	page_add(p, BLOCK_EXACT,
		w->fits ? "site   for bar  underside   cut at  cut off  engaged  build up"
			: "site   for bar");
	for (size_t i = 0; i < w->file->nsite; i++) {
		const struct work_site *s = &w->site[i];
		const char *mark = i == w->governing ? "  least" : "";
		if (w->fits)
			page_add(p, BLOCK_EXACT, "%-5s %8.2f %10.2f %8.2f %8.2f %8.2f %9.2f%s",
				tooth(w, i), s->available_mm, s->cut.underside_mm, s->cut.top_mm,
				s->cut.cut_mm, s->cut.engaged_mm, s->build_up_mm, mark);
		else
			page_add(
				p, BLOCK_EXACT, "%-5s %8.2f%s", tooth(w, i), s->available_mm, mark);
	}
}

static void explain_cut(struct page *p, const struct case_file *c)
{
	page_add(p, BLOCK_TEXT,
		"Underside and cut are heights above the datum. Cut off is measured along the "
		"cylinder, which ends at the bar's top%s but at least %g under the matrix. Engaged "
		"is the height over which cylinder and bar overlap, so that cement or screw has "
		"something to hold; build up is what is put on the bar around the cylinder where "
		"that is less than wanted.",
		c->layers.protrusion_mm != 0 ? " plus the protrusion" : "", c->layers.cover_mm);
}

static enum bad add_space(struct page *p, const struct work_result *w)
{
	const struct case_file *c = w->file;

	page_add(p, BLOCK_HEADING, "Heights, mm");
	enum bad code = add_stacks(p, w);
	add_thickness(p, w);
	add_heights(p, w);
	page_add(p, BLOCK_TEXT,
		"For the bar: matrix - (tissue + %g clearance) - %g opaque - %g resin - %g tooth; "
		"the least of all sites governs, and the thickest stock that fits is taken. "
		"Under each section the drawing says how much that leaves.",
		c->layers.clearance_mm, c->layers.opaque_mm, c->layers.resin_mm,
		c->layers.tooth_mm);
	if (w->fits)
		explain_cut(p, c);
	page_add(p, BLOCK_TEXT,
		"Sources: 15 mm from platform to the opposing surface as the least for a "
		"screw-retained hybrid: Carpentieri, Greenstein, Cavallaro, JADA 2019. Least "
		"thickness, engagement, clearance, opaque, resin, tooth and cover: common practice "
		"of the trade, no published source.");
	return code;
}

static void add_load_list(struct page *p, const struct work_result *w)
{
	static const char *const where[] = {
		"at the left end", "at the right end", "at site ", "at"};
	const struct case_file *c = w->file;

	for (size_t i = 0; i < c->nload; i++) {
		const struct case_load *l = &c->load[i];
		if (l->where == CASE_AT_POINT)
			page_row(p, "load", "%.0f N at x %.1f, y %.1f", l->force_N, l->x_mm,
				l->y_mm);
		else
			page_row(p, "load", "%.0f N %s%s", l->force_N, where[l->where],
				l->where == CASE_AT_SITE ? tooth(w, l->site) : "");
	}
}

static void add_models(struct page *p, const struct work_result *w)
{
	if (w->fits)
		page_add(p, BLOCK_TEXT,
			"Go by the flexible column: it counts with the stiffness of this bar. The "
			"rigid column is the limit for a bar that does not bend at all. A polymer "
			"bar bends: it pulls at the neighbour of the loaded end, not across the "
			"arch, and presses harder on the terminal site than the rigid column says. "
			"Resin over the bar stiffens it and moves the loads somewhat towards the "
			"rigid column, so screw and cement are judged by the worse of the two.");
	else
		page_add(p, BLOCK_TEXT,
			"Without a bar that fits there is only the rigid model, of a bar that does "
			"not bend. A polymer bar bends: it pulls at the neighbour of the loaded "
			"end, not across the arch, and presses harder on the terminal site.");
}

static void add_loads(struct page *p, const struct work_result *w)
{
	page_add(p, BLOCK_HEADING, "Loads on the sites, N, pressure positive");
	add_load_list(p, w);
	page_add(p, BLOCK_EXACT, w->fits ? "site        rigid   flexible" : "site        rigid");
	for (size_t i = 0; i < w->file->nsite; i++) {
		const struct work_site *s = &w->site[i];
		if (w->fits)
			page_add(p, BLOCK_EXACT, "%-5s %11.1f %10.1f%s", tooth(w, i), s->rigid_N,
				s->flexible_N,
				fmin(s->rigid_N, s->flexible_N) < -0.05 ? "  pulled" : "");
		else
			page_add(p, BLOCK_EXACT, "%-5s %11.1f%s", tooth(w, i), s->rigid_N,
				s->rigid_N < -0.05 ? "  pulled" : "");
	}
	add_models(p, w);
	page_add(p, BLOCK_TEXT,
		"Rigid: Skalak, J Prosthet Dent 1983;49:843-848 (equations from memory). Flexible: "
		"grillage of straight elements with shear and torsion (Kattan 2007, ch. 9) on "
		"springs of %g N/mm (course value, the order of an integrated implant). Bites of "
		"50 to 400 N: Flanagan, Med Devices 2017.",
		w->file->stiffness_N_per_mm);
}

static void add_safety(struct page *p, const struct work_result *w)
{
	const struct work_bar *b = &w->bar;
	const struct case_file *c = w->file;

	double peak = fmax(b->bending_MPa, b->net_MPa);

	page_row(p, "strength as given over stress", "%.2f", b->factor);
	page_row(p, "the loads on wet strength", "%.0f MPa / %.1f MPa = %.2f, wanted %.2f: %s",
		b->safety.wet_MPa, peak, b->safety.peak, c->safety,
		b->safety.peak_ok ? "enough" : "too little");
	page_row(p, "everyday load, wet, a million times",
		"%.0f MPa / %.1f MPa = %.2f, wanted %.2f: %s", b->safety.fatigue_MPa,
		c->everyday * peak, b->safety.everyday, c->everyday_safety,
		b->safety.everyday_ok ? "enough" : "too little");
}

static void add_bar(struct page *p, const struct work_result *w)
{
	const struct work_bar *b = &w->bar;
	const struct case_file *c = w->file;

	page_add(p, BLOCK_HEADING, "The bar");
	page_row(p, "section", "%.1f mm wide, %.1f mm high", c->width_mm, w->chosen_mm);
	if (b->near_mm < 0.05)
		page_row(p, "greatest bending stress", "%.1f MPa, at site %s", b->bending_MPa,
			tooth(w, b->near_site));
	else
		page_row(p, "greatest bending stress", "%.1f MPa, %.1f mm from site %s",
			b->bending_MPa, b->near_mm, tooth(w, b->near_site));
	page_row(p, "the same at a site, less its hole", "%.1f MPa at site %s, hole %.1f mm%s",
		b->net_MPa, tooth(w, b->net_site), case_hole_mm(c, b->net_site),
		c->has_joint ? "" : " (as wide as the platform: no sleeve is named)");
	page_row(p, "greatest shear stress, with torsion", "%.1f MPa", b->shear_MPa);
	page_row(p, "drop of the right end", "%.3f mm", w->side[ARCH_RIGHT].tip_mm);
	page_row(p, "drop of the left end", "%.3f mm", w->side[ARCH_LEFT].tip_mm);
	page_row(p, "rigidity index k L^3/(3 E I)", "%.2f (0: rigid; larger: more flexible)",
		b->lambda);
	add_safety(p, w);
	page_add(p, BLOCK_TEXT,
		"All loads act together on the bare bar; the resin over it carries a part that is "
		"not counted. Water leaves %g of the strength (0.73: woven glass in acrylic resin, "
		"Vallittu, Int J Prosthodont 2000;13:334-339); repeated load takes a tenth with "
		"each tenfold of cycles (Mandell, from memory, not verified). Everyday load: %g of "
		"the loads, course value. Safety %g and %g: rules of this case; 2 to 3 are common "
		"practice for fibre-reinforced polymers (from memory, not verified).",
		c->wet, c->everyday, c->safety, c->everyday_safety);
}

static void add_joint(struct page *p, const struct work_result *w)
{
	const struct case_file *c = w->file;

	page_add(p, BLOCK_HEADING, "The cemented sleeves");
	page_add(p, BLOCK_EXACT, "site     pull N   shear MPa   counted on N");
	for (size_t i = 0; i < c->nsite; i++)
		page_add(p, BLOCK_EXACT, "%-5s %9.1f %11.2f %14.0f%s", tooth(w, i),
			w->site[i].pull_N, w->site[i].bond_MPa, w->site[i].holds_N,
			w->site[i].pull_N > w->site[i].holds_N ? "  too little" : "");
	page_add(p, BLOCK_TEXT,
		"Pull: the larger one of the two models. Counted on: pi d h times %g MPa times %g "
		"(share for coverage and ageing, course value). ISO 10477:2020 asks for a bond of "
		"5 MPa. Area times bond ranks designs; it does not promise retention (BMC Oral "
		"Health 2021, doi 10.1186/s12903-021-01958-6).",
		c->bond_MPa, c->bond_share);
}

enum bad work_report(struct arena *a, const struct work_result *w, struct page *p)
{
	const struct case_file *c = w->file;
	const char *title = arena_format(a, "Case %s", c->code);
	const char *note =
		arena_format(a, "%s jaw, %zu sites", c->lower_jaw ? "lower" : "upper", c->nsite);

	if (!title || !note)
		return BAD_MEMORY;
	page_init(p, a, title, note);
	add_verdict(p, w);
	enum bad code = add_arch(p, w);
	add_spread(p, w);
	if (!code)
		code = add_space(p, w);
	if (w->has_loads)
		add_loads(p, w);
	if (w->has_loads && w->fits)
		add_bar(p, w);
	if (c->has_joint && w->fits)
		add_joint(p, w);
	page_add(p, BLOCK_HEADING, "Take care");
	for (size_t i = 0; i < w->ncaution; i++)
		page_add(p, BLOCK_CAUTION, "%s", w->caution[i]);
	return code ? code : p->out ? BAD_MEMORY : FINE;
}
