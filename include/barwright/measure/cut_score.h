/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the line between passing and not passing is drawn: a cut score from the judgements of several people.
 *
 * Pure: no state, no memory, no input or output. BAD_RANGE for a number that is not finite or
 * outside its range; results are left alone by a function that fails. */
#ifndef BARWRIGHT_MEASURE_CUT_SCORE_H
#define BARWRIGHT_MEASURE_CUT_SCORE_H

#include <stddef.h>

#include <barwright/base/bad.h>

/* Each judge says, for each item, how likely somebody just good enough is to get it right (0 to 1).
 * The cut is the mean of the judges' sums. */
struct cut_angoff {
	double cut, share;        /* in items, and of all items */
	double deviation, se;     /* of the judges' sums (n - 1), and of their mean */
	double se_items;          /* if the items too were drawn from many */
	double judge, item, rest; /* variance components; an estimate below 0 counts as 0 */
};
/* judged[j*items + i]; at least 2 judges and 2 items for errors, else BAD_COUNT. W. H. Angoff, in
 * Educational Measurement, 2nd ed. 1971; errors: R. L. Brennan, R. E. Lockwood, Appl. Psychol. Meas.
 * 4 (1980). */
enum bad cut_angoff(const double *judged, size_t judges, size_t items, struct cut_angoff *out);

#endif
