/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What judges think that somebody just good enough gets right, as a reason for a cut score. */
#include <math.h>

#include <barwright/measure/cut_score.h>

#include "course/assessment_parts.h"

static size_t rows_of(const struct assessment *a)
{
	size_t n = 0;
	for (size_t i = 0; i < a->nsection; i++)
		n += a->section[i].nrow;
	return n;
}

static void judge_read(
	struct doc *c, struct tree *t, const struct assessment *a, struct assessment_judge *out)
{
	struct tree *shares = tree_need(t, "right", c->diags);
	struct tree *child = doc_children(c, shares, TREE_LIST);
	size_t n = child ? shares->count : 0;
	double *share = doc_many(c, n, double);
	out->name = doc_line(c, tree_need(t, "judge", c->diags));
	for (; share && child; child = child->next)
		share[out->n++] = share_read(c, child, 0);
	out->share = share;
	tree_unknown(t, c->diags);
	if (n && n != rows_of(a))
		tree_fault(shares, c->diags, BAD_COUNT,
			"the sections have %zu lines, and here stand %zu shares: one for each line",
			rows_of(a), n);
}

/* Each line counts as often as it has places. */
static double *by_place(struct doc *c, const struct assessment *a)
{
	size_t places = assessment_places(a), at = 0;
	double *judged = doc_many(c, places * a->njudge, double);
	for (size_t j = 0; judged && j < a->njudge; j++) {
		size_t line = 0;
		for (size_t i = 0; i < a->nsection; i++)
			for (size_t k = 0; k < a->section[i].nrow; k++, line++)
				for (int n = 0; n < a->section[i].row[k].items; n++)
					judged[at++] = a->judge[j].share[line];
	}
	return judged;
}

static void cut_compare(struct doc *c, struct tree *t, const struct assessment *a)
{
	struct cut_angoff cut;
	size_t places = assessment_places(a);
	const double *judged = by_place(c, a);
	if (!judged || cut_angoff(judged, a->njudge, places, &cut))
		return;
	double error = cut.se_items / (double)places;
	if (fabs(cut.share - a->share) <= error)
		return;
	diag_warn(c->diags, BAD_RANGE, t->key_place, t->key_span,
		"'pass' is %.4g %%, and what the judges think comes to %.3g %%, with a standard "
		"error of %.2g %%",
		100 * a->share, 100 * cut.share, 100 * error);
	diag_hint(c->diags, "say in 'about' why the line is drawn elsewhere, or move it");
}

void judges_read(struct doc *c, struct tree *t, struct assessment *out)
{
	size_t before = c->diags->nerror;
	struct tree *child = t ? doc_children(c, t, TREE_LIST) : NULL;
	struct assessment_judge *judge = doc_many(c, child ? t->count : 0, struct assessment_judge);
	for (; judge && child; child = child->next)
		judge_read(c, child, out, &judge[out->njudge++]);
	out->judge = judge;
	if (t && out->njudge == 1)
		tree_fault(t, c->diags, BAD_COUNT, "one judge is none: at least two are needed");
	if (out->njudge > 1 && !c->out && c->diags->nerror == before && rows_of(out))
		cut_compare(c, t, out);
}
