/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/measure/cut_score.h>

#include <math.h>

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
