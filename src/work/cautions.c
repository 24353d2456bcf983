/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The verdict on a case and the words of caution that go with it. */
#include <math.h>
#include <stdarg.h>

#include <barwright/calc/safety.h>

#include "work/work.h"

/* What is put down while judging; `out` when memory ran out or the list is full. */
struct judge {
	struct arena *a;
	struct work_result *w;
	bool out;
};

static void caution(struct judge *j, const char *format, ...) __attribute__((format(printf, 2, 3)));
static void refer(struct judge *j, const char *format, ...) __attribute__((format(printf, 2, 3)));

static void caution(struct judge *j, const char *format, ...)
{
	va_list args;
	struct work_result *w = j->w;

	va_start(args, format);
	const char *text = arena_vformat(j->a, format, args);
	va_end(args);
	if (!text || w->ncaution == WORK_CAUTIONS)
		j->out = true;
	else
		w->caution[w->ncaution++] = text;
}

static void refer(struct judge *j, const char *format, ...)
{
	va_list args;
	struct work_result *w = j->w;

	va_start(args, format);
	const char *text = arena_vformat(j->a, format, args);
	va_end(args);
	w->refer = true;
	if (!text)
		j->out = true;
	else if (w->nwhy < sizeof w->why / sizeof *w->why)
		w->why[w->nwhy++] = text;
}

static const char *tooth(const struct judge *j, size_t i)
{
	return j->w->file->site[i].tooth;
}

/* "site 16 14.6 mm, ..." where there is less than is published; null when there is none. */
static const char *low_sites(struct judge *j)
{
	const char *list = NULL;

	for (size_t i = 0; i < j->w->file->nsite; i++) {
		double space = j->w->site[i].space_mm;
		if (space >= SPACE_MIN_HYBRID_mm - SPACE_SLACK_mm)
			continue;
		list = arena_format(j->a, "%s%ssite %s %.1f mm", list ? list : "", list ? ", " : "",
			tooth(j, i), space);
		if (!list) {
			j->out = true;
			break;
		}
	}
	return list;
}

static void judge_thickness(struct judge *j)
{
	struct work_result *w = j->w;

	if (!w->fits)
		refer(j,
			"no stock fits: site %s leaves %.2f mm for the bar, %.2f mm too little for "
			"the thinnest stock that may be used",
			tooth(j, w->governing), w->available_mm, w->shortfall_mm);
	const char *list = low_sites(j);
	if (list)
		caution(j,
			"less than the 15 mm published for screw-retained hybrids (Carpentieri, "
			"Greenstein, Cavallaro, JADA 2019; they count to the opposing surface) "
			"from platform to matrix: %s",
			list);
}

static void judge_cantilevers(struct judge *j)
{
	struct work_result *w = j->w;

	w->cantilever_ok = w->side[0].ok && w->side[1].ok;
	for (int end = 0; end < 2; end++) {
		const struct work_side *s = &w->side[end];
		if (!s->ok)
			refer(j, "the %s extension of %.1f mm is %.2f mm over its limit of %.2f mm",
				end == ARCH_RIGHT ? "right" : "left", s->actual_mm, s->trim_mm,
				s->limit_mm);
	}
	if (w->side[0].actual_mm > 0 || w->side[1].actual_mm > 0)
		caution(j, "factor times spread was never validated prospectively (Walter and "
			   "Greenstein, JADA 2020;151(10):790-795); longer distal extensions "
			   "seemed to worsen the outlook of fibre-reinforced full-arch "
			   "prostheses (cohort of 29, doi 10.30476/dentjods.2023.98022.2047)");
}

static void judge_engagement(struct judge *j)
{
	struct work_result *w = j->w;
	double wanted = w->file->engagement_mm;

	w->engagement_ok = true;
	for (size_t i = 0; i < w->file->nsite && w->fits; i++) {
		const struct work_site *s = &w->site[i];
		if (s->build_up_mm <= 0)
			continue;
		w->engagement_ok = false;
		if (s->can_build_up)
			caution(j,
				"site %s engages %.2f of %.1f mm: build the bar up by %.2f mm at "
				"the sleeve",
				tooth(j, i), s->cut.engaged_mm, wanted, s->build_up_mm);
		else
			refer(j, "site %s engages %.2f of %.1f mm and cannot be built up there",
				tooth(j, i), s->cut.engaged_mm, wanted);
	}
}

static void judge_cuts(struct judge *j)
{
	struct work_result *w = j->w;

	for (size_t i = 0; i < w->file->nsite && w->fits; i++) {
		const struct space_cut *cut = &w->site[i].cut;
		if (cut->is_covered)
			caution(j,
				"site %s: the cover of %.1f mm, not the bar's top, decides where "
				"the cylinder is cut",
				tooth(j, i), w->file->layers.cover_mm);
		if (cut->is_too_short)
			caution(j, "site %s: the cylinder as supplied does not reach the bar's top",
				tooth(j, i));
		if (fabs(w->file->site[i].space.tilt_rad) > 1e-6)
			caution(j,
				"site %s is tilted: cut along its axis, and check the lowest side "
				"of the cut first",
				tooth(j, i));
	}
}

/* "site 33 (90 N), site 41 (81 N)": the sites whose pull is or is not more than the cement is counted
 * on for; null when there is none. */
static const char *pulled(struct judge *j, bool beyond, size_t *n)
{
	const struct case_file *c = j->w->file;
	const char *list = "";

	*n = 0;
	for (size_t i = 0; i < c->nsite && list; i++) {
		const struct work_site *s = &j->w->site[i];
		bool more = c->has_joint && s->holds_N > 0 && s->pull_N > s->holds_N;
		if (s->pull_N < 1 || more != beyond)
			continue;
		list = arena_format(
			j->a, "%s%s%s (%.0f N)", list, *n ? ", " : "", tooth(j, i), s->pull_N);
		++*n;
	}
	if (!list)
		j->out = true;
	return *n ? list : NULL;
}

static void judge_pulls(struct judge *j)
{
	size_t n;
	const char *list;

	if (j->w->tips_over)
		caution(j, "a load stands outside the outline of the sites: at least one site is "
			   "pulled up, however stiff bar and sites are");
	if ((list = pulled(j, false, &n)))
		caution(j, "pulled in %s: site%s %s; screw and cement must hold that",
			j->w->fits ? "one of the two models" : "the rigid model", n == 1 ? "" : "s",
			list);
	if ((list = pulled(j, true, &n)))
		caution(j, "pulled more than the cement is counted on for: site%s %s",
			n == 1 ? "" : "s", list);
}

/* 1.5 mm beside a hole: common practice of the trade. */
#define WALL_mm 1.5

static void judge_walls(struct judge *j)
{
	const struct case_file *c = j->w->file;

	for (size_t i = 0; i < c->nsite; i++) {
		double wall = (c->width_mm - case_hole_mm(c, i)) / 2;
		if (wall < WALL_mm - 1e-9)
			caution(j,
				"site %s: %.2f mm of the bar stand on each side of its hole, at "
				"least "
				"%.1f mm are wanted (common practice): widen the bar there",
				tooth(j, i), wall, WALL_mm);
	}
}

static void judge_fibres(struct judge *j)
{
	static const char flat[] =
		"strength and stiffness count along the fibres only: a curved bar cut from a flat "
		"sheet has parts whose fibres run across it";
	const struct safety_row *across =
		safety_row_find(GRADE_LAMINATE_CROSSWISE, SAFETY_FLEXURAL_STRENGTH);

	if (j->w->file->strength_MPa > across->low)
		caution(j,
			"%s; there, tables for glass laminate sheet promise %.0f MPa (NEMA LI-1, "
			"quoted), less than the %.0f MPa of this case",
			flat, across->low, j->w->file->strength_MPa);
	else
		caution(j, "%s", flat);
}

/* Loads that no patient keeps below. */
static void judge_bites(struct judge *j)
{
	const struct case_file *c = j->w->file;
	const struct safety_force bite = safety_bite_force(SAFETY_BITE_FULL_ARCH);
	double most = 0;

	for (size_t i = 0; i < c->nload; i++)
		most = fmax(most, c->load[i].force_N);
	if (most >= bite.high_N)
		return;
	caution(j,
		"the greatest load is %.0f N; patients with a lower full-arch prosthesis bit with "
		"%.0f to %.0f N after 3 to 5 years (J Prosthodont 2018;27:523-527, abstract)",
		most, bite.low_N, bite.high_N);
}

static void judge_bar(struct judge *j)
{
	struct work_result *w = j->w;
	const struct work_bar *b = &w->bar;
	const struct case_file *c = w->file;

	w->safety_ok = true;
	if (!w->fits || !w->has_loads)
		return;
	w->safety_ok = b->safety.peak_ok && b->safety.everyday_ok;
	if (!b->safety.peak_ok)
		refer(j, "wet, the bar holds %.2f times the loads where %.2f are wanted",
			b->safety.peak, c->safety);
	if (!b->safety.everyday_ok)
		refer(j,
			"after a million times the everyday load the bar holds %.2f times as much "
			"where %.2f are wanted",
			b->safety.everyday, c->everyday_safety);
	judge_fibres(j);
	judge_bites(j);
	caution(j, "a polymer bar bends: go by the flexible loads; the rigid ones put the pull on "
		   "other sites and make the pressure on the terminal site too small");
}

static void judge_always(struct judge *j)
{
	caution(j,
		"cutting and grinding laminate sets free glass fibres and fine dust: extraction, "
		"eye protection, respirator and gloves as local rules and the safety data sheet "
		"say");
	caution(j, "this result is a model's and does not replace the prescription, the suppliers' "
		   "instructions, local rules or licensed practice");
}

enum bad work_judge(struct arena *a, struct work_result *w)
{
	struct judge j = {a, w, false};

	judge_thickness(&j);
	judge_cantilevers(&j);
	judge_engagement(&j);
	judge_cuts(&j);
	judge_pulls(&j);
	judge_walls(&j);
	judge_bar(&j);
	judge_always(&j);
	return j.out ? BAD_MEMORY : FINE;
}
