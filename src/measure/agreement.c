/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/measure/agreement.h>

#include <math.h>
#include <stdbool.h>

static bool counts_are_good(const double *counts, size_t n, double *sum)
{
	double all = 0;
	for (size_t i = 0; i < n; i++) {
		if (!isfinite(counts[i]) || counts[i] < 0)
			return false;
		all += counts[i];
	}
	*sum = all;
	return true;
}

/* ---- two raters ------------------------------------------------------------------------------ */

/* A table as shares, with agreement weights: 1 on the diagonal, 0 for the worst disagreement. */
struct table {
	size_t k;
	double n;
	double share[AGREEMENT_CATEGORIES][AGREEMENT_CATEGORIES];
	double credit[AGREEMENT_CATEGORIES][AGREEMENT_CATEGORIES];
	double row[AGREEMENT_CATEGORIES], column[AGREEMENT_CATEGORIES];
};

static enum bad credit_fill(struct table *t, const double *weight)
{
	double worst = 0;
	for (size_t i = 0; weight && i < t->k * t->k; i++) {
		if (!isfinite(weight[i]) || weight[i] < 0 || (i % (t->k + 1) == 0 && weight[i] > 0))
			return BAD_RANGE;
		worst = fmax(worst, weight[i]);
	}
	if (weight && worst <= 0)
		return BAD_RANGE;
	for (size_t i = 0; i < t->k; i++)
		for (size_t j = 0; j < t->k; j++)
			t->credit[i][j] = weight ? 1 - weight[i * t->k + j] / worst : i == j;
	return FINE;
}

static enum bad table_fill(struct table *t, const double *counts, size_t k, const double *weight)
{
	if (k < 2 || k > AGREEMENT_CATEGORIES)
		return BAD_COUNT;
	t->k = k;
	if (!counts_are_good(counts, k * k, &t->n))
		return BAD_RANGE;
	if (t->n <= 0)
		return BAD_NOTHING;
	for (size_t i = 0; i < k; i++)
		for (size_t j = 0; j < k; j++) {
			t->share[i][j] = counts[i * k + j] / t->n;
			t->row[i] += t->share[i][j];
			t->column[j] += t->share[i][j];
		}
	return credit_fill(t, weight);
}

/* Mean credit of a row over the second rater's margin, and of a column over the first's. */
static void mean_credits(const struct table *t, double *row, double *column)
{
	for (size_t i = 0; i < t->k; i++)
		for (size_t j = 0; j < t->k; j++) {
			row[i] += t->credit[i][j] * t->column[j];
			column[j] += t->credit[i][j] * t->row[i];
		}
}

static void errors_fill(const struct table *t, struct agreement *out)
{
	double row[AGREEMENT_CATEGORIES] = {0}, column[AGREEMENT_CATEGORIES] = {0};
	double sum = 0, null = 0, rest = 1 - out->kappa, chance = 1 - out->expected;
	mean_credits(t, row, column);
	for (size_t i = 0; i < t->k; i++)
		for (size_t j = 0; j < t->k; j++) {
			double mean = row[i] + column[j];
			double part = t->credit[i][j] - mean * rest, apart = t->credit[i][j] - mean;
			sum += t->share[i][j] * part * part;
			null += t->row[i] * t->column[j] * apart * apart;
		}
	double centre = out->kappa - out->expected * rest;
	out->se = sqrt(fmax(0, sum - centre * centre) / t->n) / chance;
	out->se_null = sqrt(fmax(0, null - out->expected * out->expected) / t->n) / chance;
}

enum bad agreement_kappa(const double *counts, size_t k, const double *weight,
	struct agreement *out, double *observed)
{
	struct table t = {0};
	struct agreement made = {0};
	enum bad code = table_fill(&t, counts, k, weight);
	if (code)
		return code;
	for (size_t i = 0; i < k; i++)
		for (size_t j = 0; j < k; j++) {
			made.observed += t.share[i][j] * t.credit[i][j];
			made.expected += t.row[i] * t.column[j] * t.credit[i][j];
		}
	if (observed)
		*observed = made.observed;
	if (1 - made.expected < 1e-12)
		return BAD_SINGULAR;
	made.n = t.n;
	made.kappa = (made.observed - made.expected) / (1 - made.expected);
	errors_fill(&t, &made);
	made.low = made.kappa - 1.959963984540054 * made.se;
	made.high = made.kappa + 1.959963984540054 * made.se;
	double same = 0;
	for (size_t i = 0; i < k; i++)
		same += t.share[i][i];
	made.pabak = ((double)k * same - 1) / ((double)k - 1);
	*out = made;
	return FINE;
}

void agreement_weights(size_t k, int power, double *weight)
{
	for (size_t i = 0; i < k; i++)
		for (size_t j = 0; j < k; j++) {
			double apart = fabs((double)i - (double)j);
			weight[i * k + j] = power == 1 ? apart : apart * apart;
		}
}

/* ---- intraclass correlation ------------------------------------------------------------------ */

static double row_sum(const double *row, size_t k)
{
	double sum = 0;
	for (size_t j = 0; j < k; j++)
		sum += row[j];
	return sum;
}

static double column_mean(const double *rating, size_t n, size_t k, size_t j)
{
	double sum = 0;
	for (size_t i = 0; i < n; i++)
		sum += rating[i * k + j];
	return sum / (double)n;
}

static void mean_squares(const double *rating, size_t n, size_t k, struct agreement_icc *out)
{
	double rows = (double)n, columns = (double)k, grand = 0, within = 0;
	for (size_t j = 0; j < k; j++)
		grand += column_mean(rating, n, k, j) / columns;
	for (size_t j = 0; j < k; j++) {
		double off = column_mean(rating, n, k, j) - grand;
		out->raters += rows * off * off / (columns - 1);
	}
	for (size_t i = 0; i < n; i++) {
		double mean = row_sum(rating + i * k, k) / columns;
		out->between += columns * (mean - grand) * (mean - grand) / (rows - 1);
		for (size_t j = 0; j < k; j++)
			within += (rating[i * k + j] - mean) * (rating[i * k + j] - mean);
	}
	out->within = within / (rows * (columns - 1));
	out->rest = fmax(0, within - out->raters * (columns - 1)) / ((rows - 1) * (columns - 1));
}

enum bad agreement_icc(const double *rating, size_t n, size_t k, struct agreement_icc *out)
{
	struct agreement_icc s = {0};
	double rows = (double)n, columns = (double)k;
	if (n < 2 || k < 2)
		return BAD_COUNT;
	for (size_t i = 0; i < n * k; i++)
		if (!isfinite(rating[i]))
			return BAD_RANGE;
	mean_squares(rating, n, k, &s);
	if (s.between <= 0)
		return BAD_SINGULAR;
	double b = s.between, w = s.within, j = s.raters, e = s.rest;
	s.single[ICC_ANY] = (b - w) / (b + (columns - 1) * w);
	s.single[ICC_RANDOM] = (b - e) / (b + (columns - 1) * e + columns * (j - e) / rows);
	s.single[ICC_FIXED] = (b - e) / (b + (columns - 1) * e);
	s.mean[ICC_ANY] = (b - w) / b;
	s.mean[ICC_RANDOM] = (b - e) / (b + (j - e) / rows);
	s.mean[ICC_FIXED] = (b - e) / b;
	*out = s;
	return FINE;
}
