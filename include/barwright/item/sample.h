/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Trying a problem out: many draws under one key, so that an author learns what no single look at the
 * file shows. The same problem gives the same sample on every machine. Does no I/O. */
#ifndef BARWRIGHT_ITEM_SAMPLE_H
#define BARWRIGHT_ITEM_SAMPLE_H

#include <stdbool.h>
#include <stddef.h>

#include <barwright/base/bad.h>
#include <barwright/base/diag.h>
#include <barwright/base/mem.h>
#include <barwright/item/instance.h>

enum { SAMPLE_OBSTACLES = 16 };

/* Something that stood in the way of a fair draw, and how often. */
struct obstacle {
	struct unfair_at at;
	unsigned long n;
};

/* Of one ask, counted over the fair draws. */
struct sample_ask {
	unsigned long *slip; /* in how many each slip gave a number */
	unsigned long *same; /* nslip * nslip: in how many slip n gave the number of slip m < n */
	struct slip_pair *pair; /* pairs of slips: their names ... */
	unsigned long *unclear; /* ... and in how many each could not be told from something else */
	size_t npair;
	unsigned long *right; /* in how many each option was right */
	unsigned long *step;  /* in how many each step gave no result */
	unsigned long
		last_off; /* in how many the last step came to something else than the answer */
	double *answer;   /* of the fair draws, in the unit asked for; numbers and times only */
	size_t nanswer;
};

struct sample {
	const struct problem *problem;
	unsigned long tries, fair;
	unsigned long all_clear; /* fair draws in which pairs of slips can be told apart too */
	struct obstacle obstacle[SAMPLE_OBSTACLES]; /* the most frequent first */
	size_t nobstacle;
	struct sample_ask *ask;
	double different; /* how many draws there are at most; may be infinite */
};

/* Draws until `fair` fair ones are found or `tries` are made. All in `a`; BAD_MEMORY. */
enum bad sample_take(struct arena *a, const struct problem *p, unsigned long fair,
	unsigned long tries, struct sample *out);
/* What its author should know, as errors and warnings with their places. */
void sample_tell(const struct sample *s, struct diags *d);
/* Both, for struct check (course/check.h); `to` is not used. */
enum bad sample_check(void *to, const struct problem *p, struct diags *d);

#endif
