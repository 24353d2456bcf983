/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A packed flask in the water bath: how warm the resin becomes, how far it cures. K, s, mm; pure.
 *
 * A model of our own, with course values, that shows what the published accounts agree on: the mould
 * follows the bath with a lag; the resin of a thick part follows the mould more slowly, by heat
 * conduction through its thickness, while its own heat of polymerization warms it. So thin parts
 * stay at the bath's temperature, a slow rise leaves no spike (two-stage processing: J Dent
 * 1995;23:245-253, abstract), and a plunge into boiling water takes thick parts past the boiling
 * point of the monomer, 100.8 degrees C, before they are cured (textbooks, second-hand; porosity of
 * that regime: Int J Dent Sci Res 2015;3(3), abstract). The rise without any loss of heat is that of
 * calc/processing.h. */
#ifndef BARWRIGHT_BENCH_CURE_H
#define BARWRIGHT_BENCH_CURE_H

#include <stdbool.h>

#include <barwright/base/bad.h>

struct cure_bath {
	double start_K, rise_K_per_s, hold_K;
	double hold_s, boil_s; /* boil 0: no terminal boil */
	double thick_mm;       /* the thickest part of the resin */
	double monomer_share;  /* of the mix, by mass */
};

struct cure_end {
	double peak_K;   /* hottest while less than nine tenths were cured */
	double cured;    /* conversion at the end, 0 to 1 */
	double residual; /* monomer left, share of the mass */
	double total_s;
};

/* BAD_RANGE: a time below 0 or above two days, a rise or thickness not above 0, temperatures
 * outside 270 to 400 K, a share outside 0 to 1. */
enum bad cure_bath_run(const struct cure_bath *b, struct cure_end *out);

#endif
