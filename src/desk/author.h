/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Instances and samples as their authors want to see them: with answer, tolerance, slips and pairs
 * of slips, and what many draws look like. */
#ifndef BARWRIGHT_DESK_AUTHOR_H
#define BARWRIGHT_DESK_AUTHOR_H

#include <barwright/item/instance.h>
#include <barwright/item/sample.h>

#include "surface/page.h"

/* All of one instance. */
void author_instance(struct page *p, const struct instance *i, int columns, char sign);
/* How many draws are fair and what stood in the way of the others; answers as a histogram. */
void author_sample(struct page *p, const struct sample *s, char sign);

enum { AUTHOR_BINS = 12 };
/* Equal parts of the range of some values: how many stand in each. */
struct histogram {
	double low, high;
	unsigned long count[AUTHOR_BINS];
	unsigned long most; /* of one part */
};
/* n at least 1. All values the same: all in the first part, low = high. */
void histogram_make(const double *value, size_t n, struct histogram *out);

#endif
