/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The only door to GSL: the banded Cholesky decomposition (GSL 2.7, linalg) on memory of the
 * caller, and quantiles (cdf).
 *
 * GSL ends the program on the first error unless its handler is turned off, and a matrix that is
 * not positive definite is an error to it: that can be known only by trying. The handler is one
 * for the whole process, so it is turned off for the length of the call and put back: no caller
 * has to remember to start anything, and nothing is left changed. Two threads at once must not
 * do this; the program has one. */
#ifndef BARWRIGHT_CALC_GSL_DOOR_H
#define BARWRIGHT_CALC_GSL_DOOR_H

#include <math.h>
#include <stddef.h>

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>

#include <barwright/base/bad.h>

/* Below which value lies the share p (0 < p < 1) of Student's t with these degrees of freedom,
 * at least 1; INFINITY gives the standard normal distribution. (calc/metrology.c) */
static inline double student_quantile(double p, double degrees)
{
	gsl_error_handler_t *before = gsl_set_error_handler_off();
	double x = isinf(degrees) ? gsl_cdf_ugaussian_Pinv(p) : gsl_cdf_tdist_Pinv(p, degrees);
	gsl_set_error_handler(before);
	return x;
}

/* A symmetric matrix of n rows with `width` diagonals (1 <= width <= n, the main one and those
 * below) as GSL keeps it: band[i * width + d] is element (i + d, i). It is replaced by its
 * factor L in the same places. BAD_SINGULAR, with it spoilt, when it is not positive definite. */
static inline enum bad band_factor(double *band, size_t n, size_t width)
{
	gsl_error_handler_t *before = gsl_set_error_handler_off();
	gsl_matrix_view a = gsl_matrix_view_array(band, n, width);
	int bad = gsl_linalg_cholesky_band_decomp(&a.matrix);
	gsl_set_error_handler(before);
	return bad ? BAD_SINGULAR : FINE;
}

/* Replaces the right side x by the solution, with the factor that band_factor left. Cannot fail:
 * only sizes that do not fit are an error here. */
static inline void band_solve(const double *band, size_t n, size_t width, double *x)
{
	gsl_matrix_const_view a = gsl_matrix_const_view_array(band, n, width);
	gsl_vector_view b = gsl_vector_view_array(x, n);
	gsl_linalg_cholesky_band_svx(&a.matrix, &b.vector);
}

#endif
