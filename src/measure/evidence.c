/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/measure/evidence.h>

#include <math.h>

/* Below this a belief is not let fall: it could not come back. */
#define LEAST_BELIEF 1e-300

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
