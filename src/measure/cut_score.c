/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/measure/cut_score.h>

#include <math.h>

/* ---- Angoff ---------------------------------------------------------------------------------- */

static double mean_of_judge(const double *judged, size_t items, size_t judge)
{
	double sum = 0;
	for (size_t i = 0; i < items; i++)
		sum += judged[judge * items + i];
	return sum / (double)items;
}

static double mean_of_item(const double *judged, size_t judges, size_t items, size_t item)
{
	double sum = 0;
	for (size_t j = 0; j < judges; j++)
		sum += judged[j * items + item];
	return sum / (double)judges;
}

/* Judges crossed with items, one judgement in each cell. */
static void components(
	const double *judged, size_t judges, size_t items, double grand, struct cut_angoff *out)
{
	double rows = (double)judges, columns = (double)items, by_judge = 0, by_item = 0, rest = 0;
	for (size_t j = 0; j < judges; j++) {
		double own = mean_of_judge(judged, items, j);
		by_judge += columns * (own - grand) * (own - grand) / (rows - 1);
		for (size_t i = 0; i < items; i++) {
			double off = judged[j * items + i] - own -
				     mean_of_item(judged, judges, items, i) + grand;
			rest += off * off / ((rows - 1) * (columns - 1));
		}
	}
	for (size_t i = 0; i < items; i++) {
		double own = mean_of_item(judged, judges, items, i);
		by_item += rows * (own - grand) * (own - grand) / (columns - 1);
	}
	out->rest = rest;
	out->judge = fmax(0, (by_judge - rest) / columns);
	out->item = fmax(0, (by_item - rest) / rows);
}

enum bad cut_angoff(const double *judged, size_t judges, size_t items, struct cut_angoff *out)
{
	struct cut_angoff made = {0};
	double rows = (double)judges, columns = (double)items, squares = 0;
	if (judges < 2 || items < 2)
		return BAD_COUNT;
	for (size_t k = 0; k < judges * items; k++)
		if (!(judged[k] >= 0 && judged[k] <= 1))
			return BAD_RANGE;
	for (size_t j = 0; j < judges; j++)
		made.share += mean_of_judge(judged, items, j) / rows;
	made.cut = made.share * columns;
	for (size_t j = 0; j < judges; j++) {
		double off = mean_of_judge(judged, items, j) * columns - made.cut;
		squares += off * off;
	}
	made.deviation = sqrt(squares / (rows - 1));
	made.se = made.deviation / sqrt(rows);
	components(judged, judges, items, made.share, &made);
	made.se_items = columns * sqrt(made.judge / rows + made.item / columns +
					  made.rest / (rows * columns));
	*out = made;
	return FINE;
}

/* ---- borderline regression ------------------------------------------------------------------- */

enum bad cut_borderline(const double *grade, const double *score, size_t n, double borderline,
	struct cut_borderline *out)
{
	struct cut_borderline made = {0};
	double x = 0, y = 0, xx = 0, xy = 0, yy = 0, count = (double)n;
	if (n < 3)
		return BAD_COUNT;
	for (size_t i = 0; i < n; i++) {
		if (!isfinite(grade[i]) || !isfinite(score[i]) || !isfinite(borderline))
			return BAD_RANGE;
		x += grade[i] / count;
		y += score[i] / count;
	}
	for (size_t i = 0; i < n; i++) {
		xx += (grade[i] - x) * (grade[i] - x);
		xy += (grade[i] - x) * (score[i] - y);
		yy += (score[i] - y) * (score[i] - y);
	}
	if (xx <= 0)
		return BAD_SINGULAR;
	if (xy <= 0)
		return BAD_ORDER;
	made.slope = xy / xx;
	made.intercept = y - made.slope * x;
	made.cut = made.intercept + made.slope * borderline;
	made.r2 = xy * xy / (xx * yy);
	made.residual = sqrt(fmax(0, yy - made.slope * xy) / (count - 2));
	made.se = made.residual * sqrt(1 / count + (borderline - x) * (borderline - x) / xx);
	*out = made;
	return FINE;
}

/* ---- Hofstee --------------------------------------------------------------------------------- */

static double fails_at(const double *fails, size_t most, double score)
{
	size_t below = (size_t)floor(score);
	if (below >= most)
		return fails[most];
	return fails[below] + (fails[below + 1] - fails[below]) * (score - (double)below);
}

static double wanted_at(const struct cut_hofstee *l, double score)
{
	return l->most - (l->most - l->fewest) * (score - l->lowest) / (l->highest - l->lowest);
}

static enum bad limits_are_good(const double *fails, size_t most_score, const struct cut_hofstee *l)
{
	for (size_t s = 0; s <= most_score; s++) {
		if (!(fails[s] >= 0 && fails[s] <= 1))
			return BAD_RANGE;
		if (s && fails[s] < fails[s - 1])
			return BAD_ORDER;
	}
	if (!isfinite(l->lowest) || !isfinite(l->highest) || !(l->fewest >= 0) || !(l->most <= 1))
		return BAD_RANGE;
	return l->lowest >= 0 && l->lowest < l->highest && l->highest <= (double)most_score &&
			       l->fewest < l->most
		       ? FINE
		       : BAD_ORDER;
}

enum bad cut_hofstee(const double *fails, size_t most_score, const struct cut_hofstee *limits,
	double *cut, double *share, enum cut_hofstee_how *how)
{
	enum bad code = limits_are_good(fails, most_score, limits);
	if (code)
		return code;
	double from = limits->lowest, to = limits->highest;
	if (fails_at(fails, most_score, to) < wanted_at(limits, to)) {
		*how = HOFSTEE_ALL_BELOW;
		from = to;
	} else if (fails_at(fails, most_score, from) > wanted_at(limits, from)) {
		*how = HOFSTEE_ALL_ABOVE;
		to = from;
	} else {
		*how = HOFSTEE_CROSSED;
	}
	/* One curve falls, the other does not: they cross once. Halving to the last bit. */
	for (int i = 0; i < 200 && to > from; i++) {
		double middle = from + (to - from) / 2;
		if (middle <= from || middle >= to)
			break;
		if (fails_at(fails, most_score, middle) < wanted_at(limits, middle))
			from = middle;
		else
			to = middle;
	}
	*cut = to;
	*share = fails_at(fails, most_score, to);
	return FINE;
}
