/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/measure/evidence.h>

#include <math.h>

/* Below this a belief is not let fall: it could not come back. */
#define LEAST_BELIEF 1e-300

enum bad evidence_separation(const double *answer, const double *tolerance, size_t n, double *out)
{
	double least = INFINITY;
	if (n < 2)
		return BAD_COUNT;
	for (size_t k = 0; k < n; k++) {
		if (!(tolerance[k] > 0))
			return BAD_RANGE;
		for (size_t j = 0; j < k; j++) {
			double gap = fabs(answer[k] - answer[j]) / (tolerance[k] + tolerance[j]);
			if (gap < least) /* never with NaN */
				least = gap;
		}
	}
	*out = least;
	return FINE;
}

static bool is_like(const double *answer, const double *tolerance, size_t a, size_t b)
{
	if (isnan(answer[a]) || isnan(answer[b]))
		return isnan(answer[a]) && isnan(answer[b]);
	return fabs(answer[a] - answer[b]) < tolerance[a] + tolerance[b];
}

/* The sum of the beliefs of the class that k begins; 0 when an earlier one began it. */
static double class_belief(
	const double *belief, const double *answer, const double *tolerance, size_t n, size_t k)
{
	double sum = belief[k];
	for (size_t j = 0; j < k; j++)
		if (is_like(answer, tolerance, j, k))
			return 0;
	for (size_t j = k + 1; j < n; j++)
		if (is_like(answer, tolerance, k, j))
			sum += belief[j];
	return sum;
}

enum bad evidence_information(
	const double *belief, const double *answer, const double *tolerance, size_t n, double *out)
{
	double sum = 0, bits = 0;
	if (!n)
		return BAD_COUNT;
	for (size_t k = 0; k < n; k++) {
		if (!(belief[k] >= 0))
			return BAD_RANGE;
		sum += belief[k];
	}
	if (!(fabs(sum - 1) <= 1e-9))
		return BAD_RANGE;
	for (size_t k = 0; k < n; k++) {
		double p = class_belief(belief, answer, tolerance, n, k);
		bits -= p > 0 ? p * log2(p) : 0;
	}
	*out = bits;
	return FINE;
}

void evidence_prior(double *belief, size_t n)
{
	belief[0] = n > 1 ? 0.5 : 1;
	for (size_t k = 1; k < n; k++)
		belief[k] = 0.5 / (double)(n - 1);
}

enum bad evidence_update(double *belief, const bool *fits, size_t n)
{
	double sum = 0;
	if (!n)
		return BAD_COUNT;
	for (size_t k = 0; k < n; k++) {
		belief[k] *= fits[k] ? 1 - EVIDENCE_STRAY : EVIDENCE_STRAY / EVIDENCE_VALUES;
		sum += belief[k];
	}
	for (size_t k = 0; k < n; k++)
		belief[k] = fmax(belief[k] / sum, LEAST_BELIEF);
	return FINE;
}

bool evidence_is_enough(double belief, unsigned long answers, unsigned long sittings)
{
	return belief >= EVIDENCE_SURE && answers >= EVIDENCE_ANSWERS &&
	       sittings >= EVIDENCE_SITTINGS;
}
