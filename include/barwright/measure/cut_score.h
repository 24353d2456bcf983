/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the line between passing and not passing is drawn, by three published methods.
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

/* A line through score against global grade; the cut is its value at the borderline grade. */
struct cut_borderline {
	double slope, intercept, cut;
	double residual; /* standard deviation about the line, n - 2 */
	double se;       /* of the cut */
	double r2;
};
/* BAD_COUNT: fewer than 3; BAD_SINGULAR: all grades alike; BAD_ORDER: the score does not rise with the
 * grade, so no line can be drawn from it. A. Kramer et al., Med. Educ. 37 (2003); T. J. Wood,
 * S. M. Humphrey-Murto, G. R. Norman, Adv. Health Sci. Educ. 11 (2006). */
enum bad cut_borderline(const double *grade, const double *score, size_t n, double borderline,
	struct cut_borderline *out);

/* A compromise between what judges want and what it does: they name the lowest and highest cut they
 * would stand for, and the lowest and highest share that may fail. */
struct cut_hofstee {
	double lowest, highest; /* cut */
	double fewest, most;    /* share of fails, 0 to 1 */
};
enum cut_hofstee_how {
	HOFSTEE_CROSSED,
	HOFSTEE_ALL_BELOW, /* fewer fail than anybody asked for: the highest cut */
	HOFSTEE_ALL_ABOVE  /* more fail than anybody would stand for: the lowest cut */
};
/* fails[s]: share of candidates with a score below s, s = 0 to `most_score`, never falling; between
 * two scores the line joins them. BAD_ORDER: limits the wrong way round or outside the scores, or
 * `fails` falls. W. K. B. Hofstee, in On Educational Testing, 1983. */
enum bad cut_hofstee(const double *fails, size_t most_score, const struct cut_hofstee *limits,
	double *cut, double *share, enum cut_hofstee_how *how);

#endif
