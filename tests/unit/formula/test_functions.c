/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every function against a value from outside this program: a published result, a geometry or
 * sum done by hand, or, where it says "computed", another program's arithmetic on the published
 * formula. What is compared is what an author would write, units and all. */
#include "compiled.h"

#include <stdlib.h>

#include <barwright/base/file.h>

struct function_case {
	const char *text;
	double want, tolerance;
	const char *source;
};

#define HAND     "by hand"
#define COMPUTED "computed elsewhere from the published formula"
/* The arch used in several rows: symmetric five, and the unsymmetric one. */
#define FIVE_X "[-16 mm, -9 mm, 0 mm, 9 mm, 16 mm]"
#define FIVE_Y "[-11 mm, -3 mm, 0 mm, -3 mm, -11 mm]"
#define SKEW_X "[-17 mm, -8 mm, 1 mm, 11 mm, 19 mm]"
#define SKEW_Y "[-9 mm, -2 mm, 0 mm, -4 mm, -14 mm]"
#define LINE_X "[0 mm, 10 mm, 22 mm]"
#define LINE_Y "[0 mm, 0 mm, 0 mm]"
#define BAR_EI "20 GPa * bar_inertia(5 mm, 4 mm)"
#define BAR_GJ "4 GPa * bar_twist_constant(5 mm, 4 mm)"

static const struct function_case plain[] = {
	{"min([3 mm, 1 mm, 2 mm])", 1, 0, HAND},
	{"min(3 mm, 1 mm, 2 mm)", 1, 0, HAND},
	{"max([3 mm, -1 mm, 2 mm])", 3, 0, HAND},
	{"max(-3, -1, -2)", -1, 0, HAND},
	{"sum(max(heights - 14 mm, 0 mm))", 3.8, 1e-14, HAND}, /* 2 + 0.6 + 0 + 1.2 */
	{"sum(min(15 mm, heights))", 58.5, 1e-14, HAND},       /* 15 + 14.6 + 13.9 + 15 */
	{"at(max([1, 5, 3], [2, 4, 3]), 2)", 5, 0, HAND},
	{"max(max(heights, 15 mm))", 16, 0, HAND},
	{"abs(-2.5 mm)", 2.5, 0, HAND},
	{"sum(abs(heights - 14 mm))", 3.9, 1e-14, HAND},
	{"sqrt(2)", 1.4142135623730951, 0, "IEEE 754 square root"},
	{"sqrt(9 mm2)", 3, 0, HAND},
	{"round(2.5)", 3, 0, HAND},
	{"round(-2.5)", -3, 0, HAND},
	{"round(2.4999)", 2, 0, HAND},
	{"round(3.25 mm, 0.1 mm)", 3.3, 0, HAND}, /* 3.25/0.1 is 32.499999999999996 */
	{"round(0.7 mm, 0.1 mm)", 0.7, 0, HAND},
	{"round(13.44066 mm, 0.05 mm)", 13.45, 1e-15, HAND},
	{"round(-13.44066 mm, 0.05 mm)", -13.45, 1e-15, HAND},
	{"floor(2.9)", 2, 0, HAND},
	{"floor(-2.1)", -3, 0, HAND},
	{"floor(0.3 / 0.1)", 3, 0, HAND}, /* 2.9999999999999996 */
	{"ceiling(2.1)", 3, 0, HAND},
	{"ceiling(3 * 1.1 / 1.1)", 3, 0, HAND}, /* 3.0000000000000004 */
	{"round_down(4.6 mm, 0.5 mm)", 4.5, 0, HAND},
	{"round_up(4.6 mm, 0.5 mm)", 5, 0, HAND},
	{"round_up(4.5 mm, 0.5 mm)", 4.5, 0, HAND},
	{"hypot(3 mm, -4 mm)", 5, 0, HAND},
	{"hypot(0, 0)", 0, 0, HAND},
	{"hypot(1e200, 1e200)", 1.4142135623730951e200, 1e185, HAND},
	{"exp(1)", 2.7182818284590452, 1e-15, "e"},
	{"ln(10)", 2.3025850929940457, 1e-15, "ln 10"},
	{"log10(1e6)", 6, 1e-15, HAND},
	{"sin(30 deg)", 0.5, 1e-15, HAND},
	{"cos(60 deg)", 0.5, 1e-15, HAND},
	{"tan(45 deg)", 1, 1e-15, HAND},
	{"asin(0.5) / (1 deg)", 30, 1e-13, HAND},
	{"acos(0.5) / (1 deg)", 60, 1e-13, HAND},
	{"atan(1) / (1 deg)", 45, 1e-13, HAND},
	{"atan2(-1 mm, -1 mm) / (1 deg)", -135, 1e-13, HAND},
	{"asin(0.1 + 0.2 + 0.7) / (1 deg)", 90, 1e-5, HAND},
	{"radians(180 deg)", 3.14159265358979323846, 1e-15, HAND},
	{"from_radians(pi) / (1 deg)", 180, 1e-13, HAND},
	{"is_nothing(nothing)", 1, 0, HAND},
	{"or_else(nothing, 3)", 3, 0, HAND},
	{"count([5, 6, 7])", 3, 0, HAND},
	{"sum([5 mm, 6 mm, 7 mm])", 18, 0, HAND},
	{"product([0.98, 0.95, 0.97, 0.99])", 0.8940393, 1e-7, HAND},
	{"mean(heights)", 14.925, 1e-14, HAND},
	{"median([5, 1, 3])", 3, 0, HAND},
	{"median([5, 1, 3, 2])", 2.5, 0, HAND},
	{"range([3.52 mm, 3.47 mm, 3.50 mm])", 0.05, 1e-15, HAND},
	{"standard_deviation([2, 4, 4, 4, 5, 5, 7, 9])", 2.1380899352993950, 1e-15,
		"sqrt(32/7), by hand"},
	{"weighted_mean([75, 40, 100], [6 g, 6 g, 8 g])", 74.5, 1e-12, HAND},
	{"sum_of_products([2 N, 3 N], [10 mm, 20 mm])", 80, 0, HAND},
	{"first(heights)", 16, 0, HAND},
	{"last(heights)", 15.2, 0, HAND},
	{"at(heights, 3)", 13.9, 0, HAND},
	{"at(heights, 0.1 * 30)", 13.9, 0, HAND}, /* 3.0000000000000004 */
	{"sum(without(heights, 1))", 43.7, 1e-14, HAND},
	{"at(sorted(heights), 2)", 14.6, 0, HAND},
	{"first(reversed(heights))", 15.2, 0, HAND},
	{"index_of_min(heights)", 3, 0, HAND},
	{"index_of_max([1, 3, 3])", 2, 0, HAND},
	{"index_of([0.1, 0.3, 0.5], 0.1 + 0.2)", 2, 0, HAND},
	{"largest_up_to([3.5 mm, 6 mm, 4.5 mm], 5 mm)", 4.5, 0, HAND},
	{"largest_up_to([0.1, 0.3, 0.5], 0.1 + 0.2)", 0.3, 0, HAND},
	{"smallest_from([3.5 mm, 6 mm, 4.5 mm], 4 mm)", 4.5, 0, HAND},
	{"smallest_from([0.1, 0.3, 0.5], 0.1 + 0.2)", 0.3, 0, HAND},
	{"nearest_of([3.5 mm, 4 mm, 4.5 mm], 4.2 mm)", 4, 0, HAND},
	{"how_many_below([1, 2, 2, 3], 2)", 1, 0, HAND},
	{"how_many_up_to([1, 2, 2, 3], 2)", 3, 0, HAND},
	{"how_many_from([1, 2, 2, 3], 2)", 3, 0, HAND},
	{"how_many_above([1, 2, 2, 3], 2)", 1, 0, HAND},
};

static const struct function_case design[] = {
	{"spread_to_distal(1 mm, 0, -17 mm, -9 mm, 1.75 mm, 19 mm, -14 mm, 2.4 mm)", 13.43555, 1e-5,
		COMPUTED},
	{"spread_to_distal(0, 0, -16 mm, -11 mm, 2.05 mm, 16 mm, -11 mm, 2.05 mm)", 13.05, 1e-12,
		HAND},
	{"spread_to_centres(1 mm, 0, -17 mm, -9 mm, 19 mm, -14 mm)", 11.3907, 5e-5, COMPUTED},
	{"spread_to_distal(" SKEW_X ", " SKEW_Y ", 2.05 mm)", 13.44066, 1e-5, COMPUTED},
	{"spread_to_distal([-18 mm, -6 mm, 7 mm, 19 mm], [-12 mm, 0 mm, -1 mm, -14 mm], [2.05 mm, "
	 "2.05 mm, 2.05 mm, 2.05 mm])",
		14.53178, 1e-5, COMPUTED},
	{"spread_to_centres(" FIVE_X ", " FIVE_Y ")", 11, 1e-12, HAND},
	{"anterior_site(" SKEW_X ", " SKEW_Y ")", 3, 0, HAND},
	{"cantilever_limit(1.5, 13.05 mm, 15 mm)", 15, 0, HAND},
	{"cantilever_limit(1.5, 13.05 mm)", 19.575, 1e-12, HAND},
	{"cantilever_from_reading(18.4 mm, 4.5 mm)", 16.15, 1e-12, HAND},
	{"cantilever_trim(16.15 mm, 15 mm)", 1.15, 1e-12, HAND},
	{"cantilever_ratio_three(143 N, 200 N)", 0.797203, 1e-6, COMPUTED},
	{"cantilever_ratio_four(143 N, 200 N, 8 mm, 16 mm)", 0.99720, 1e-5, COMPUTED},
	{"arc_chord(25 mm, 15 mm)", 14.77601, 1e-5, COMPUTED},
	{"arc_bending_arm(25 mm, 15 mm)", 14.11606, 1e-5, COMPUTED},
	{"arc_torsion_arm(25 mm, 15 mm)", 4.36661, 1e-5, COMPUTED},
	{"arc_angle(25 mm, 15 mm) / (1 deg)", 34.3775, 5e-5, COMPUTED},
	{"arc_along(25 mm, 90 deg)", 39.269908, 1e-6, HAND},
	{"bar_length(" LINE_X ", " LINE_Y ")", 22, 1e-9, HAND},
	{"span_along(" LINE_X ", " LINE_Y ", 2)", 12, 1e-9, HAND},
	{"span_clear(" LINE_X ", " LINE_Y ", 2 mm, 1)", 6, 1e-9, HAND},
	{"right_end_x(" LINE_X ", " LINE_Y ", 2 mm, 5 mm)", -7, 1e-9, HAND},
	{"right_end_y(" LINE_X ", " LINE_Y ", 2 mm, 5 mm)", 0, 1e-9, HAND},
	{"left_end_x(" LINE_X ", " LINE_Y ", 2 mm, 5 mm)", 29, 1e-9, HAND},
	{"left_end_y(" LINE_X ", " LINE_Y ", 2 mm, 5 mm)", 0, 1e-9, HAND},
	{"bar_underside(2.5 mm, 1.5 mm)", 4, 0, HAND},
	{"space_for_bar(16 mm, 2 mm, 0.3 mm, 2 mm, 5 mm)", 6.7, 1e-12, HAND},
	{"stock_choice([3.5 mm, 4 mm, 4.5 mm, 5 mm, 6 mm, 8 mm], 6.7 mm, 3.5 mm)", 6, 0, HAND},
	{"stock_choice([3.5 mm, 4 mm, 4.5 mm], 16 mm - 5 mm - 2 mm - 0.3 mm - 4.2 mm, 3.5 mm)", 4.5,
		0, HAND},
	{"stock_shortfall([3.5 mm, 4 mm], 3.1 mm, 3.5 mm)", 0.4, 1e-12, HAND},
	{"space_margin(16.4 mm, 15 mm)", 1.4, 1e-12,
		"minimum 15 mm: Carpentieri, Greenstein, Cavallaro, JADA 2019"},
	{"along_tilt(7 mm, 17 deg)", 7.3198, 5e-5, COMPUTED},
	{"cut_down(12 mm, 2 mm, 4.5 mm, 0.5 mm)", 5, 1e-12, HAND},
	{"cut_down(12 mm, 4 mm, 4.5 mm, 0.5 mm, 0 deg)", 3, 1e-12, HAND},
	{"cut_down(12 mm, 2 mm, 4.5 mm, 0.5 mm, 17 deg)", 12 - 7.3198, 5e-5, COMPUTED},
	{"first_cut(5 mm, 0.4 mm)", 4.6, 1e-12, HAND},
	{"cover_limit(14 mm, 2 mm)", 12, 0, HAND},
	{"cover_margin(11 mm, 14 mm, 2 mm)", 1, 1e-12, HAND},
	{"engaged_height(6 mm, 2 mm, 4.5 mm)", 4, 1e-12, HAND},
	{"build_up(4 mm, 3.5 mm)", 0.5, 1e-12, HAND},
	{"hole_diameter(4.5 mm, 0.1 mm)", 4.7, 1e-12, HAND},
	{"hole_diameter(4.5 mm, 0.1 mm, 4.5 mm, 5 deg)", 5.1109, 5e-5, COMPUTED},
	{"wall_near(9 mm, 4.7 mm, 0.4 mm)", 1.75, 1e-12, HAND},
	{"wall_far(9 mm, 4.7 mm, 0.4 mm)", 2.55, 1e-12, HAND},
	{"bar_width(4.7 mm, 1.5 mm, 0.4 mm)", 8.5, 1e-12, HAND},
	{"ligament(8 mm, 4.7 mm, 4.7 mm)", 3.3, 1e-12, HAND},
	{"hole_offset(1.55 mm, 2.45 mm)", 0.45, 1e-12, HAND},
	{"hole_residual(4.7 mm, 2.3 mm)", 1.2, 1e-12, HAND},
	{"hole_volume(4.7 mm, 4.5 mm)", 78.07, 5e-3, HAND},
	{"at(load_shares([3 mm, 3 mm, -3 mm, -3 mm], [2 mm, -2 mm, -2 mm, 2 mm], 100 N, 2 mm, 1 "
	 "mm), 1)",
		54, 0.5, "a public engineering answer, 54, 29, -4, 21 of 100 tons on four piers"},
	{"at(load_shares(" SKEW_X ", " SKEW_Y ", 150 N, 20 mm, -26 mm), 5)", 227.6941, 1e-3,
		COMPUTED},
	{"at(load_shares(" FIVE_X ", " FIVE_Y ", [2 N/mm, 2 N/mm, 1 N/mm, 2 N/mm, 2 N/mm], 200 N, "
	 "16 mm, -25.05 mm), 3)",
		-114.3523, 1e-3, COMPUTED},
	{"sum(load_shares(" FIVE_X ", " FIVE_Y ", 200 N, 16 mm, -25.05 mm))", 200, 1e-9, "balance"},
	{"at(push_shares_x(" FIVE_X ", " FIVE_Y ", 40 N, 0, 16 mm, -25.05 mm), 5)", 13.4056, 5e-5,
		COMPUTED},
	{"at(push_shares_y(" FIVE_X ", " FIVE_Y ", 40 N, 0, 16 mm, -25.05 mm), 5)", 16.0165, 5e-5,
		COMPUTED},
	{"is_within_sites(" FIVE_X ", " FIVE_Y ", 0 mm, -5 mm)", 1, 0, HAND},
	{"is_within_sites(" FIVE_X ", " FIVE_Y ", 16 mm, -25.05 mm)", 0, 0, HAND},
	{"bar_inertia(5 mm, 4 mm)", 26.66667, 1e-5, HAND},
	{"bar_section_modulus(5 mm, 4 mm)", 13.33333, 1e-5, HAND},
	{"bar_twist_constant(5 mm, 4 mm)", 54.95441, 1e-5, COMPUTED},
	{"1000 N mm / bar_twist_modulus(5 mm, 4 mm)", 56.50799, 1e-5, COMPUTED},
	{"net_section_modulus(5 mm, 4 mm, 4 mm)", 16.0 / 6, 1e-12, HAND},
	{"bar_bending_stress(200 N * 10 mm, 5 mm, 3.5 mm)", 195.918367, 1e-6, HAND},
	{"bar_shear_stress(200 N, 0, 5 mm, 4 mm)", 15, 1e-9, HAND},
	{"layered_axis([5 mm, 8 mm], [4 mm, 6 mm], [20 GPa, 2500 MPa])", 3.15385, 1e-5, COMPUTED},
	{"layered_bending([5 mm, 8 mm], [4 mm, 6 mm], [20 GPa, 2500 MPa])", 3201025.641, 1e-3,
		COMPUTED},
	{"loose_bending([5 mm, 8 mm], [4 mm, 6 mm], [20 GPa, 2500 MPa]) / (" BAR_EI ")", 1.675,
		5e-5, COMPUTED},
	{"layered_stress([5 mm, 8 mm], [4 mm, 6 mm], [20 GPa, 2500 MPa], 2000 N mm, 1, 0 mm)",
		39.4104, 1e-4, COMPUTED},
	{"layered_stress([5 mm, 8 mm], [4 mm, 6 mm], [20 GPa, 2500 MPa], 2000 N mm, 2, 10 mm)",
		-10.6937, 1e-4, COMPUTED},
	{"shear_factor(0.3)", 0.849673, 1e-6, "Cowper 1966 (equation from memory): 13 / 15.3"},
	{"cantilever_drop(200 N, 10 mm, " BAR_EI ")", 0.125, 1e-9, "Roark table 8.1 (from memory)"},
	{"cantilever_moment(200 N, 10 mm)", 2000, 1e-9, HAND},
	{"cantilever_uniform_drop(20 N/mm * 10 mm, 10 mm, " BAR_EI ")", 0.046875, 1e-9,
		"Roark table 8.1 (from memory)"},
	{"cantilever_uniform_moment(200 N, 10 mm)", 1000, 1e-9, HAND},
	{"span_drop(200 N, 20 mm, " BAR_EI ")", 0.0625, 1e-9, "AISC beam tables (from memory)"},
	{"span_moment(200 N, 20 mm)", 1000, 1e-9, HAND},
	{"span_uniform_drop(200 N, 20 mm, " BAR_EI ")", 0.0390625, 1e-9,
		"AISC beam tables (from memory)"},
	{"span_uniform_moment(200 N, 20 mm)", 500, 1e-9, HAND},
	{"fixed_span_drop(200 N, 20 mm, " BAR_EI ")", 0.015625, 1e-9,
		"AISC beam tables (from memory)"},
	{"fixed_span_moment(200 N, 20 mm)", 500, 1e-9, "AISC beam tables (from memory)"},
	{"fixed_span_uniform_drop(200 N, 20 mm, " BAR_EI ")", 0.0078125, 1e-9,
		"AISC beam tables (from memory)"},
	{"fixed_span_uniform_moment(200 N, 20 mm)", 333.333, 1e-3,
		"AISC beam tables (from memory)"},
	{"propped_span_drop(200 N, 20 mm, " BAR_EI ")", 0.0279508, 1e-7,
		"AISC beam tables (from memory)"},
	{"propped_span_moment(200 N, 20 mm)", 750, 1e-9, "AISC beam tables (from memory)"},
	{"propped_span_uniform_drop(200 N, 20 mm, " BAR_EI ")", 0.016248, 1e-6,
		"AISC beam tables (from memory)"},
	{"propped_span_uniform_moment(200 N, 20 mm)", 500, 1e-9, "AISC beam tables (from memory)"},
	{"drop_change(2, 1, 1, 1)", 8, 1e-12, "Rodriguez, Aquilino, Lund, J Prosthodont 1994;3:41"},
	{"drop_change(1, 0.5, 1, 1)", 8, 1e-12,
		"Rodriguez, Aquilino, Lund, J Prosthodont 1994;3:41"},
	{"stress_change(1, 3 / 3.5, 1)", 1.361111, 1e-6, HAND},
	{"height_for_strength(200 N, 10 mm, 5 mm, 379.212 MPa, 1.5)", 3.0811, 5e-5, COMPUTED},
	{"height_for_drop(200 N, 10 mm, 5 mm, 20 GPa, 0.1 mm)", 4.308869, 1e-6, COMPUTED},
	{"length_for_strength(200 N, 5 mm, 3.5 mm, 110.7298 MPa, 1.5)", 3.7679, 5e-5, COMPUTED},
	{"height_as_stiff(4 mm, 110 GPa, 20 GPa)", 7.0607, 5e-5, COMPUTED},
	{"three_springs_end(100 N, 15 mm, " BAR_EI ", 5000 N/mm)", 7.38178, 1e-5, COMPUTED},
	{"three_springs_middle(100 N, 15 mm, " BAR_EI ", 5000 N/mm)", 85.23645, 1e-5, COMPUTED},
	{"bed_drop(100 N, " BAR_EI ", 200 MPa)", 0.0246, 5e-6, COMPUTED},
	{"bed_moment(100 N, " BAR_EI ", 200 MPa)", 254.066374, 1e-5, COMPUTED},
	{"at(continuous_reactions([10 mm, 10 mm], [0 N, 1 N]), 1)", -3.0 / 32, 1e-9,
		"Lindeburg, Civil Engineering Reference Manual, 15th ed."},
	{"at(continuous_uniform_reactions([1 mm, 1 mm, 1 mm], [1 N, 1 N, 1 N]), 2)", 1.1, 1e-9,
		"Hicks, Civil Engineering Formulas, table 2.1"},
	{"at(continuous_moments([1 mm, 1 mm], [1 N, 1 N]), 2)", -0.1875, 1e-9, COMPUTED},
	{"at(continuous_uniform_moments([1 mm, 1 mm], [1 N, 1 N]), 2)", -0.125, 1e-9,
		"Hicks, Civil Engineering Formulas, table 2.1"},
	{"arc_cantilever_drop(100 N, 20 mm, 90 deg, " BAR_EI ", " BAR_GJ ")", 2.47442, 1e-5,
		COMPUTED},
	{"half_circle_drop(100 N, 20 mm, " BAR_EI ", " BAR_GJ ")", 0.419254, 1e-6, COMPUTED},
	{"ring_support_moment(10 N/mm, 20 mm, 6)", 0.093 * 4000, 2,
		"Hassoun, Structural Concrete, table 21.1: 0.093"},
	{"ring_midway_moment(10 N/mm, 20 mm, 6)", 0.047 * 4000, 2,
		"Hassoun, Structural Concrete, table 21.1: 0.047"},
	{"ring_torque(10 N/mm, 20 mm, 6)", 0.0094 * 4000, 0.4,
		"Hassoun, Structural Concrete, table 21.1: 0.0094"},
	{"wet_strength(379.212 MPa, 73 %)", 276.8245, 1e-3, COMPUTED},
	{"fatigue_strength(276.8245 MPa, 0.1, 1e6)", 110.7298, 1e-3, COMPUTED},
	{"safety_factor(276.825 MPa, 150 MPa)", 1.8455, 5e-5, COMPUTED},
	{"allowed_stress(110.7298 MPa, 1.5)", 73.8199, 1e-3, COMPUTED},
};

/* Three sites 15 mm apart, the load over the middle one, shares 7.38178, 85.23645, 7.38178; the same
 * across the corner of the mouth: a straight bar rolls nowhere. Two spans of 10 mm on hard supports, 1 N in the
 * middle of the second: -3/32, 22/32, 13/32 and, by the three moments, 30/32 N mm over the middle.
 * Four piers under a rigid block, as above. */
#define ROW_OF_3 "[0 mm, 15 mm, 30 mm], [0 mm, 0 mm, 0 mm]"
#define ASLANT   "[0 mm, 9 mm, 18 mm], [0 mm, 12 mm, 24 mm]"
#define ON_3     "[5000 N/mm, 5000 N/mm, 5000 N/mm], [0 N, 100 N, 0 N], " BAR_EI ", " BAR_GJ
#define SPANS_2 \
	"[0 mm, 10 mm, 15 mm, 20 mm], [0 mm, 0 mm, 0 mm, 0 mm], [1e9 N/mm, 1e9 N/mm, 0 N/mm, 1e9 " \
	"N/mm], [0 N, 0 N, 1 N, 0 N], " BAR_EI ", " BAR_GJ
#define PIERS_4 \
	"[2 mm, 3 mm, 3 mm, -3 mm, -3 mm], [1 mm, 2 mm, -2 mm, -2 mm, 2 mm], [0 N/mm, 1 N/mm, 1 " \
	"N/mm, 1 N/mm, 1 N/mm], [100 N, 0 N, 0 N, 0 N, 0 N], 1e9 N mm2, 1e9 N mm2"
#define PIERS "a public engineering answer, 54, 29, -4, 21 of 100 tons on four piers"

static const struct function_case frame[] = {
	{"at(flexible_shares(" ROW_OF_3 ", " ON_3 "), 1)", 7.38178, 1e-5, COMPUTED},
	{"at(flexible_shares(" ASLANT ", " ON_3 "), 2)", 85.23645, 1e-5, COMPUTED},
	{"at(flexible_drops(" ASLANT ", " ON_3 "), 2)", 85.23645 / 5000, 1e-8,
		"what a spring carries over its stiffness"},
	{"flexible_moment(" ROW_OF_3 ", " ON_3 ")", 7.38178 * 15, 1e-3, "statics"},
	{"at(flexible_shares(" SPANS_2 "), 1)", -3.0 / 32, 1e-6,
		"Lindeburg, Civil Engineering Reference Manual, 15th ed."},
	{"at(flexible_shares(" SPANS_2 "), 4)", 13.0 / 32, 1e-6, "Clapeyron 1857, by hand"},
	{"flexible_moment(" SPANS_2 ")", 65.0 / 32, 1e-5, "13/32 N on an arm of 5 mm"},
	{"at(flexible_shares(" PIERS_4 "), 2)", 54, 0.5, PIERS},
	{"at(flexible_shares(" PIERS_4 "), 3)", 29, 0.5, PIERS},
	{"at(flexible_shares(" PIERS_4 "), 4)", -4, 0.5, PIERS},
	{"at(flexible_shares(" PIERS_4 "), 5)", 21, 0.5, PIERS},
	{"sum(flexible_shares(" PIERS_4 "))", 100, 1e-6, "balance"},
};

/* The week of a case, from investing to release; ready on Friday 15:00, day 5. Worked by hand: pack
 * from Tuesday 15:30 to 17:00, rest, cure and cooling in the night, trimming left overnight. */
#define WEEK \
	"[150 min, 60 min, 150 min, 90 min, 60 min, 531 min, 45 min, 60 min, 180 min, 240 min, " \
	"60 " \
	"min], [1, 0, 1, 1, 0, 0, 0, 1, 1, 1, 1]"
#define OPEN     "480 min, 1020 min, 5"
#define FRIDAY   "4 d + 900 min, " OPEN
#define DAY(day) " - " #day " * 24 * 60 min + 1 d) / (1 min)"

static const struct function_case planning[] = {
	{"(at(latest_starts(" WEEK ", " FRIDAY "), 11)" DAY(5), 14 * 60, 1e-9, HAND},
	{"(at(latest_starts(" WEEK ", " FRIDAY "), 10)" DAY(5), 10 * 60, 1e-9, HAND},
	{"(at(latest_starts(" WEEK ", " FRIDAY "), 9)" DAY(4), 16 * 60, 1e-9, HAND},
	{"(at(latest_ends(" WEEK ", " FRIDAY "), 9)" DAY(5), 10 * 60, 1e-9, HAND},
	{"(at(latest_starts(" WEEK ", " FRIDAY "), 7)" DAY(4), 14 * 60 + 15, 1e-9, HAND},
	{"(at(latest_starts(" WEEK ", " FRIDAY "), 6)" DAY(4), 5 * 60 + 24, 1e-9, HAND},
	{"(at(latest_starts(" WEEK ", " FRIDAY "), 4)" DAY(3), 15 * 60 + 30, 1e-9, HAND},
	{"(at(latest_ends(" WEEK ", " FRIDAY "), 4)" DAY(3), 17 * 60, 1e-9, HAND},
	{"(at(latest_starts(" WEEK ", " FRIDAY "), 1)" DAY(3), 9 * 60 + 30, 1e-9, HAND},
	/* Monday 9:00 less 180 min is Friday 15:00 of the week before, day -2 */
	{"(first(latest_starts([180 min], [1], 540 min, 480 min, 1020 min, 5))" DAY(-2), 15 * 60,
		1e-9, HAND},
	{"(first(latest_starts([180 min], [1], 540 min, 480 min, 1020 min, 7))" DAY(0), 15 * 60,
		1e-9, HAND},
	{"(first(latest_starts([180 min], [0], 540 min, 480 min, 1020 min, 5))" DAY(1), 6 * 60,
		1e-9, HAND},
	/* in the tank at 16:30 of day 3 for 531 min: out after midnight, deflasked in the morning */
	{"(first(earliest_ends([531 min, 60 min], [0, 1], 2 d + 990 min, 480 min, 1020 min, "
	 "5))" DAY(4),
		60 + 21, 1e-9, HAND},
	{"(last(earliest_starts([531 min, 60 min], [0, 1], 2 d + 990 min, 480 min, 1020 min, "
	 "5))" DAY(4),
		8 * 60, 1e-9, HAND},
	/* four hours from Friday 15:00: two of them on Monday, day 8 */
	{"(last(earliest_ends([240 min], [1], 4 d + 900 min, 480 min, 1020 min, 5))" DAY(8),
		10 * 60, 1e-9, HAND},
	/* packed by Tuesday 17:00, an hour under the clamp: into the tank at 18:00 of day 3 */
	{"(at(kept_starts(" WEEK ", " FRIDAY ", 4, 6, 360 min), 6)" DAY(3), 18 * 60, 1e-9, HAND},
	{"(at(kept_ends(" WEEK ", " FRIDAY ", 4, 6, 60 min), 6)" DAY(4), 2 * 60 + 51, 1e-9, HAND},
	{"(at(kept_starts(" WEEK ", " FRIDAY ", 4, 6, 744 min), 6)" DAY(4), 5 * 60 + 24, 1e-9,
		HAND},
	{"can_keep(" WEEK ", " FRIDAY ", 4, 6, 60 min)", 1, 0, HAND},
	{"can_keep(" WEEK ", " FRIDAY ", 4, 6, 59 min)", 0, 0, HAND},
};

static const struct function_case bench[] = {
	{"cement_film(4.62 mm, 4.5 mm) / (1 um)", 60, 1e-9, HAND},
	{"cement_volume(4.7 mm, 4.5 mm, 4.5 mm, 5, 100 %) / (1 mL)", 0.0650, 5e-5, HAND},
	{"cement_area(4 mm, 4 mm)", 50.26548, 1e-5, HAND},
	{"cement_area_lost(4.5 mm, 4 mm)", 0.1111, 5e-5, HAND},
	{"cement_shear(171.0853 N, 4 mm, 4 mm)", 3.40363, 1e-5, COMPUTED},
	{"cement_capacity(4.5 mm, 4.5 mm, 5 MPa, 1)", 318.1, 0.05, HAND},
	{"cement_torque(4 mm, 4 mm, 10 MPa, 1)", 1005.31, 5e-3, COMPUTED},
	{"engaged_height_for(150 N, 2, 4 mm, 10 MPa, 0.5)", 4.774648, 1e-6, COMPUTED},
	{"blast_area(4.7 mm, 4.5 mm, 4.5 mm, 5) / (1 cm2)", 6.503, 5e-4, HAND},
	{"blast_time(blast_area(4.7 mm, 4.5 mm, 4.5 mm, 5), 10 s/cm2)", 65.03, 5e-3, HAND},
	{"cement_peak_at_sleeve(4 mm, 4 mm, 0.05 mm, 1500 MPa, 798279 N, 468673 N)", 1.73432, 1e-5,
		COMPUTED},
	{"cement_peak_at_bar(4 mm, 4 mm, 0.05 mm, 1500 MPa, 798279 N, 468673 N)", 2.88477, 1e-5,
		COMPUTED},
	{"tube_stiffness(110 GPa, 4 mm, 2.6 mm)", 798279, 1, COMPUTED},
	{"block_stiffness(20 GPa, 6 mm, 6 mm, 4 mm)", 468673, 1, COMPUTED},
	{"screw_preload(25 N cm, 0.37890, 2 mm)", 329.9, 0.01,
		"Int J Implant Dent 2023, doi 10.1186/s40729-023-00473-3"},
	{"screw_nut_factor(25 N cm, 329.9 N, 2 mm)", 0.37890, 1e-5, COMPUTED},
	{"screw_opening_load(200 N, 200 N, 171.085 N)", 233.8, 0.05, COMPUTED},
	{"screw_preload_loss(329.9 N, 253.7 N)", 0.23098, 1e-5,
		"Int J Implant Dent 2023, doi 10.1186/s40729-023-00473-3 (23.10 %)"},
	{"gypsum_water(300 g, 0.28) / (1 mL)", 84, 1e-9, HAND},
	{"gypsum_ratio(300 g, 100 mL)", 0.3333, 5e-5, HAND},
	{"gypsum_slurry(300 g, 2.76 g/cm3, 84 mL) / (1 cm3)", 192.70, 5e-3, HAND},
	{"gypsum_powder(250 cm3, 10 %, 0.28, 2.76 g/cm3) / (1 g)", 428.1, 0.05, HAND},
	{"gypsum_expansion(60 mm, 0.30 %)", 0.18, 1e-12, HAND},
	{"gypsum_excess(0.28)", 0.0938, 5e-5, "stoichiometry, molar masses 145.15 and 18.015"},
	{"gypsum_dihydrate(100 g) / (1 g)", 118.62, 5e-3, "stoichiometry, molar masses"},
	{"resin_total(22 cm3, 15 %, 2.5, 1.19 g/cm3, 0.94 g/cm3) / (1 g)", 30.107, 5e-4, HAND},
	{"resin_polymer(22 cm3, 15 %, 2.5, 1.19 g/cm3, 0.94 g/cm3) / (1 g)", 21.505, 5e-4, HAND},
	{"resin_monomer(22 cm3, 15 %, 2.5, 1.19 g/cm3, 0.94 g/cm3) / (1 g)", 8.602, 5e-4, HAND},
	{"resin_monomer_volume(22 cm3, 15 %, 2.5, 1.19 g/cm3, 0.94 g/cm3) / (1 mL)", 9.151, 5e-4,
		HAND},
	{"resin_powder_volume(9 mL, 3) / (1 mL)", 27, 1e-9, HAND},
	{"resin_ratio_by_mass(3, 0.7833 g/mL, 0.94 g/mL)", 2.5, 5e-4, HAND},
	{"resin_bulk_density(3, 2.5, 0.94 g/mL) / (1 g/mL)", 0.7833, 5e-5, HAND},
	{"resin_mix_shrinkage(resin_monomer_share(2.5, 0.94 g/mL, 1.19 g/mL), 0.94 g/mL, 1.19 "
	 "g/mL)",
		0.07062, 5e-6, COMPUTED},
	{"resin_monomer_shrinkage(0.94 g/mL, 1.19 g/mL)", 0.21008, 5e-6, COMPUTED},
	{"resin_linear(7.062 %)", 0.02412, 5e-6, COMPUTED},
	{"resin_movement(50 mm, 0.42 %)", 0.21, 1e-12,
		"J Prosthet Dent 1999;81:300-304 for 0.42 %"},
	{"resin_cooling(81e-6 K^-1, 75 degC, 20 degC)", 0.00446, 5e-6, HAND},
	{"resin_residual(26.2 g, 2.2 %) / (1 g)", 0.576, 5e-4, HAND},
	{"resin_uptake(22 cm3, 32 ug/mm3) / (1 g)", 0.704, 1e-9, HAND},
	{"resin_uptake_share(32 ug/mm3, 1.19 g/cm3)", 0.02689, 5e-6, HAND},
	{"vapour_concentration(100 ppm, 100.12 g/mol) / (1 mg/m3)", 410, 1,
		"OSHA chemical sampling page, methyl methacrylate: 100 ppm, 410 mg/m3"},
	{"vapour_concentration(50 ppm, 100.12 g/mol, 24.45 L/mol) / (1 mg/m3)", 204.7, 0.05, HAND},
	{"vapour_share(vapour_spill(5 mL, 0.94 g/mL, 60 m3), 100.12 g/mol) / (1 ppm)", 19.13, 5e-3,
		COMPUTED},
	{"vapour_share(410 mg/m3, 100.12 g/mol, 24.45 L/mol) / (1 ppm)", 100.12, 0.01, HAND},
	{"vapour_saturated(28 mmHg, 760 mmHg) / (1 ppm)", 36842, 0.5, HAND},
	{"ramp_time(23 degC, 74 degC, 1 K/min) / (1 min)", 51, 1e-9, HAND},
	{"cure_time(23 degC, [74 degC], [51 min], [480 min]) / (1 min)", 531, 1e-9, HAND},
	{"cure_time(23 degC, [74 degC, 100 degC, 40 degC, 23 degC], [30 min, 30 min, 30 min, 15 "
	 "min], [120 min, 60 min, 0 min, 0 min]) / (1 min)",
		285, 1e-9, HAND},
	{"cure_is_allowed(23 degC, [74 degC], [51 min], [480 min])", 1, 0,
		"74 degC for 8 h: public teaching notes, second-hand"},
	{"cure_is_allowed(23 degC, [100 degC], [0 min], [30 min])", 0, 0,
		"a plunge into boiling water gave most porosity: Int J Dent Sci Res 2015;3(3)"},
	{"exotherm_rise(12.9 kcal/mol, 100.12 g/mol, 1 / 3.5, 1.47 J/g/K)", 104.8, 0.05, COMPUTED},
	{"heat_to_leave(74 degC, 104.8 K, 100.8 degC)", 0.744, 5e-4, COMPUTED},
	{"press_force(3500 psi, 40 mm) / (1 kN)", 30.325, 5e-4, COMPUTED},
	{"flask_pressure(30.325 kN, 100 mm * 100 mm)", 3.0325, 1e-9, HAND},
	{"flask_area(14.71 kN, 20 bar)", 7355, 0.5, HAND},
	{"rim_speed(2.3 mm, 20000 rpm) / (1 m/s)", 2.409, 5e-4, COMPUTED},
	{"dilution_stock(5.25 %, 0.525 %, 1000 mL) / (1 mL)", 100, 1e-9, HAND},
	{"dilution_water(5.25 %, 0.525 %, 1000 mL) / (1 mL)", 900, 1e-9, HAND},
	{"blanks(300 mm, 200 mm, 60 mm, 50 mm, 2 mm)", 15, 0, HAND},
	{"sheet_use(95 mm * 8 mm, 15, 300 mm * 200 mm)", 0.19, 1e-12, HAND},
	{"cost_per_piece(180 money, 15, 2)", 13.85, 5e-3, HAND},
	{"rolled_yield([0.98, 0.95, 0.97, 0.99])", 0.8940, 5e-5, HAND},
	{"starts_needed(10, 0.894)", 12, 0, HAND},
	{"vernier(12 mm, 7, 0.05 mm)", 12.35, 1e-12, HAND},
	{"corrected(12.35 mm, 0.05 mm)", 12.3, 1e-12, HAND},
	{"rectangular(0.005 mm)", 0.00288675, 1e-8, "JCGM 100:2008, 4.3.7"},
	{"mean_uncertainty([3.52 mm, 3.47 mm, 3.50 mm])", 0.014530, 5e-7, "JCGM 100:2008, 4.2.3"},
	{"combined([3 um, 4 um]) / (1 um)", 5, 1e-9, HAND},
	{"effective_degrees([25 nm, 9.7 nm, 2.9 nm, 16.675 nm], [18, 25.6, 50, 2])", 16.656, 1e-2,
		"JCGM 100:2008, H.1.6, with unrounded inputs"},
	{"coverage_factor(99 %, 16.7)", 2.92, 5e-3, "JCGM 100:2008, table G.2"},
	{"coverage_factor(95 %, 4)", 2.78, 5e-3, "JCGM 100:2008, table G.2"},
	{"coverage_factor(95 %)", 1.960, 5e-4, "JCGM 100:2008, table G.1"},
	{"probability_within(1.68 mm, 0.0192504 mm, 1.50 mm, 1.70 mm)", 0.8505839, 2e-6, COMPUTED},
	{"probability_above(3.5 mm + guard_band(0.02 mm, 90 %), 0.02 mm, 3.5 mm)", 0.90, 1e-9,
		"at the guard for 90 % it is 90 %"},
	{"probability_below(-5.47 mm, 0.05 mm, -5.40 mm)", 0.92, 5e-3,
		"JCGM 106:2012, 7.5 (from memory)"},
	{"guard_band(0.01 mm, 95 %)", 0.01644854, 1e-8, "normal quantile 1.644854"},
	{"is_accepted(3.53 mm, 3.5 mm, 10 mm, 0.03 mm)", 1, 0, HAND},
	{"is_accepted(3.52 mm, 3.5 mm, 10 mm, 0.03 mm)", 0, 0, HAND},
	{"is_rejected(3.46 mm, 3.5 mm, 10 mm, 0.03 mm)", 1, 0, HAND},
};

static void all_are(const struct function_case *cases, size_t n)
{
	for (size_t i = 0; i < n; i++)
		near(cases[i].text, compiled_number(cases[i].text), cases[i].want,
			cases[i].tolerance);
}

static void mathematics_and_lists(void **state)
{
	(void)state;
	all_are(plain, sizeof plain / sizeof *plain);
}

static void bar_design(void **state)
{
	(void)state;
	all_are(design, sizeof design / sizeof *design);
}

static void a_flexible_bar(void **state)
{
	(void)state;
	all_are(frame, sizeof frame / sizeof *frame);
}

static void planning_back_and_forward(void **state)
{
	(void)state;
	all_are(planning, sizeof planning / sizeof *planning);
}

static void bench_work(void **state)
{
	(void)state;
	all_are(bench, sizeof bench / sizeof *bench);
}

/* Is "name(" somewhere in the cases, and not as the end of a longer name? */
static bool is_used(const char *name, const struct function_case *cases, size_t n)
{
	size_t len = strlen(name);
	for (size_t i = 0; i < n; i++)
		for (const char *at = cases[i].text; (at = strstr(at, name)) != NULL; at++)
			if (at[len] == '(' && (at == cases[i].text || strchr(" (", at[-1]) != NULL))
				return true;
	return false;
}

static void every_function_stands_in_a_table_above(void **state)
{
	(void)state;
	const char *name, *does, *source;
	for (size_t i = 0; (name = formula_function(i, &does, &source)) != NULL; i++)
		if (!is_used(name, plain, sizeof plain / sizeof *plain) &&
			!is_used(name, design, sizeof design / sizeof *design) &&
			!is_used(name, frame, sizeof frame / sizeof *frame) &&
			!is_used(name, planning, sizeof planning / sizeof *planning) &&
			!is_used(name, bench, sizeof bench / sizeof *bench))
			fail_msg("%s is checked nowhere", name);
}

/* Values they refuse, with the word and the reason that a person is told. */
static void what_cannot_be_is_refused_with_a_reason(void **state)
{
	static const struct {
		const char *text;
		enum bad code;
		const char *word, *why;
	} cases[] = {
		{"1 mm / (h - 4 mm)", BAD_RANGE, "/", "divides by 0"},
		{"sqrt((gap - h) * h)", BAD_RANGE, "sqrt", "takes the root of a negative number"},
		{"ln(n - 3)", BAD_RANGE, "ln", "takes the logarithm of a number not above 0"},
		{"asin(n)", BAD_RANGE, "asin", "is given a ratio beyond 1"},
		{"tan(tilt / tilt * 90 deg)", BAD_RANGE, "tan",
			"takes the tangent of a right angle"},
		{"atan2(h - h, h - h)", BAD_RANGE, "atan2",
			"has no direction from a place to itself"},
		{"round(h, gap - h)", BAD_RANGE, "round", "is given a step that is not above 0"},
		{"(0 - n)^0.5", BAD_RANGE, "^", "takes a root of a negative number"},
		{"(n - 3)^-1", BAD_RANGE, "^", "divides by 0"},
		{"(n * 1e200) * (n * 1e200)", BAD_RANGE, "*", "becomes too large"},
		{"(n * 1e200)^2", BAD_RANGE, "^", "becomes too large"},
		{"exp(n * 1000)", BAD_RANGE, "exp", "becomes too large"},
		{"n * 1e308 + n * 1e308 + n * 1e308 - n * 1e308", BAD_RANGE, "*",
			"becomes too large"},
		{"at(heights, n + 2)", BAD_RANGE, "at",
			"is given a place that the list does not have"},
		{"at(heights, n - 3)", BAD_RANGE, "at",
			"is given a place that the list does not have"},
		{"at(heights, factor)", BAD_RANGE, "at",
			"is given a place that is no whole number"},
		{"mean(without([gap], 1))", BAD_COUNT, "mean", "is given an empty list"},
		{"standard_deviation([gap])", BAD_COUNT, "standard_deviation",
			"needs at least two values"},
		{"heights + [gap, gap]", BAD_COUNT, "+", "is given two lists of unequal length"},
		{"hypot(heights, [gap, gap])", BAD_COUNT, "hypot",
			"is given lists of unequal length"},
		{"weighted_mean(heights, [1, n])", BAD_COUNT, "weighted_mean",
			"is given lists of unequal length"},
		{"none > gap", BAD_NOTHING, ">",
			"meets \"nothing\", which is_nothing(...) should ask for first"},
		{"if none > gap then 1 else 2", BAD_NOTHING, ">",
			"meets \"nothing\", which is_nothing(...) should ask for first"},
		{"without(heights, none / gap)", BAD_NOTHING, "without",
			"meets \"nothing\", which is_nothing(...) should ask for first"},
		{"spread_to_centres(0, 0, h, h, h, h)", BAD_SINGULAR, "spread_to_centres",
			"is given values that do not fix one answer"},
		{"load_shares(heights, heights, load, h, gap)", BAD_SINGULAR, "load_shares",
			"is given values that do not fix one answer"},
		{"first_cut(gap, h)", BAD_ORDER, "first_cut", "is given values in the wrong order"},
		{"cantilever_limit(factor - 1.5, spread, h)", BAD_RANGE, "cantilever_limit",
			"is given a value outside of what is allowed"},
		{"sum(cantilever_limit(factor, heights - h * 4, h))", BAD_RANGE, "cantilever_limit",
			"is given a value outside of what is allowed"},
		{"spread_to_centres(heights, heights * 0, 1 mm, 2 mm, 3 mm, [4 mm, n * 1 mm])",
			BAD_COUNT, "spread_to_centres", "is given lists of unequal length"},
		{"[1, 2, 3] / ([1, n, 0] * n)", BAD_RANGE, "/", "divides by 0"},
		{"spread_to_centres(heights, [gap, h])", BAD_COUNT, "spread_to_centres",
			"is given lists of unequal length"},
		{"bar_length([h, h, h, h, h, h, h, h, h, h, h, h, h, h, h, h, h], [h, h, h, h, h, "
		 "h, h, h, h, h, h, h, h, h, h, h, h])",
			BAD_COUNT, "bar_length", "is given more sites than an arch has"},
		{"span_along(heights, heights, 4)", BAD_RANGE, "span_along",
			"is given a place that has no span behind it"},
		{"load_shares(heights, [gap], load, h, gap)", BAD_COUNT, "load_shares",
			"is given lists of unequal length"},
		{"layered_axis(heights, heights, [strength])", BAD_COUNT, "layered_axis",
			"is given lists of unequal length"},
		{"continuous_reactions(heights, [load])", BAD_COUNT, "continuous_reactions",
			"is given lists of unequal length"},
		{"continuous_reactions(without([h], 1), without([load], 1))", BAD_COUNT,
			"continuous_reactions", "is given no span, or too many"},
		{"continuous_moments(0 * heights, forces)", BAD_RANGE, "continuous_moments",
			"is given a value outside of what is allowed"},
		{"arc_angle(h - 4 mm, gap)", BAD_RANGE, "arc_angle", "divides by 0"},
		{"cure_time(warm, [warm], [5 min], [5 min, 6 min])", BAD_COUNT, "cure_time",
			"is given lists of unequal length"},
		{"max(heights, [gap, gap])", BAD_COUNT, "max", "is given lists of unequal length"},
		{"latest_starts([5 min, 5 min], [n - 2], 540 min, 480 min, 1020 min, 5)", BAD_COUNT,
			"latest_starts", "is given lists of unequal length"},
		{"latest_starts([5 min], [n], 540 min, 480 min, 1020 min, 5)", BAD_RANGE,
			"latest_starts",
			"wants 1 for a task that is attended and 0 for one that runs by itself"},
		{"latest_starts([5 min], [n - 2], 540 min, 1020 min, 480 min, 5)", BAD_RANGE,
			"latest_starts", "is given a bench that shuts before it opens"},
		{"latest_starts([5 min], [n - 2], 540 min, 480 min, 1020 min, n / 2)", BAD_RANGE,
			"latest_starts", "is given no whole number of days from 1 to 7"},
		{"earliest_ends([5 min], [n - 2], 1e300 s, 480 min, 1020 min, 5)", BAD_RANGE,
			"earliest_ends", "is given a value outside of what is allowed"},
		{"earliest_ends([n * 1e9 s], [1], 540 min, 480 min, 1020 min, 5)", BAD_RANGE,
			"earliest_ends", "is given a value outside of what is allowed"},
		{"kept_starts([5 min, 5 min], [0, n - 2], 540 min, 480 min, 1020 min, 5, 1, n, 9 "
		 "min)",
			BAD_RANGE, "kept_starts", "is given a place that the row does not have"},
		{"kept_starts([5 min, 5 min], [0, n - 2], 540 min, 480 min, 1020 min, 5, 2, n - 2, "
		 "9 "
		 "min)",
			BAD_ORDER, "kept_starts",
			"is given a window whose second task is not the later"},
		{"kept_ends([5 min, n * 5 min, 5 min], [1, 0, 1], 540 min, 480 min, 1020 min, 5, "
		 "1, "
		 "3, 9 min)",
			BAD_RANGE, "kept_ends",
			"cannot keep the window, which can_keep(...) asks first"},
		{"can_keep([5 min, 5 min], [0, 0], 540 min, 480 min, 1020 min, 5, 1, 2, n * -1 "
		 "min)",
			BAD_RANGE, "can_keep", "is given a window of no length, or too long a one"},
		{"layered_stress([h], [h], [strength], load * h, n, h)", BAD_RANGE,
			"layered_stress", "is given a layer that is not there"},
		{"layered_stress([h, h], [h, h], [strength, strength], load * h, 2, h / 2)",
			BAD_RANGE, "layered_stress", "is given a height outside of that layer"},
		{"ring_torque(load / h, h, n / 2)", BAD_COUNT, "ring_torque",
			"is given no whole number of supports from 2 on"},
		{"effective_degrees(heights, [n])", BAD_COUNT, "effective_degrees",
			"is given lists of unequal length"},
		{"flexible_shares([h], [h], [n * 1 N/mm], [load], 1 N mm2, 1 N mm2)", BAD_COUNT,
			"flexible_shares", "is given fewer than two places"},
		{"flexible_shares(heights, heights, [n * 1 N/mm], forces, 1 N mm2, 1 N mm2)",
			BAD_COUNT, "flexible_shares", "is given lists of unequal length"},
		{"flexible_drops([h, h], [h, h], [5 N/mm, 5 N/mm], [load, load], 1 N mm2, 1 N mm2)",
			BAD_RANGE, "flexible_drops", "is given a value outside of what is allowed"},
		{"flexible_moment([0 mm, h], [h, h], [0 N/mm, 5 N/mm], [load, load], 9 N mm2, 9 N "
		 "mm2)",
			BAD_SINGULAR, "flexible_moment",
			"is given values that do not fix one answer"},
		{"median(without([h], 1))", BAD_COUNT, "median", "is given an empty list"},
		{"nearest_of(without([h], 1), h)", BAD_COUNT, "nearest_of",
			"is given an empty list"},
		{"without(heights, n + 2)", BAD_RANGE, "without",
			"is given a place that the list does not have"},
		{"weighted_mean(heights, [n, -n, n, -n])", BAD_RANGE, "weighted_mean",
			"is given weights whose sum is 0"},
		{"sum_of_products(heights, [n])", BAD_COUNT, "sum_of_products",
			"is given lists of unequal length"},
		{"rolled_yield(without([n], 1))", BAD_COUNT, "rolled_yield",
			"is given too few or too many values, or lists of unequal length"},
	};
	(void)state;
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct compiled c;
		struct formula_failure failure;
		struct formula_value out = {7, compiled_heights, 2};
		compiled_must(&c, cases[i].text);
		enum bad code = formula_run(c.formula, c.value, &c.work, &out);
		if (code != cases[i].code)
			fail_msg("%s: want %s, got %s", cases[i].text, bad_word(cases[i].code),
				bad_word(code));
		formula_failed(c.formula, &c.work, &failure);
		if (strcmp(failure.word, cases[i].word) != 0 ||
			strcmp(failure.why, cases[i].why) != 0)
			fail_msg("%s: %s %s", cases[i].text, failure.word, failure.why);
		if (!(out.number == 7) || out.list != compiled_heights || out.n != 2)
			fail_msg("%s: the result was touched", cases[i].text);
		compiled_end(&c);
	}
}

static void the_reference_names_every_function(void **state)
{
	(void)state;
	const char *name, *does, *source;
	struct text page;
	text_init(&page);
	formula_reference(&page);
	for (size_t i = 0; (name = formula_function(i, &does, &source)) != NULL; i++) {
		assert_non_null(strstr(page.at, name));
		assert_non_null(strstr(page.at, does));
		if (source)
			assert_non_null(strstr(page.at, source));
	}
	assert_false(page.out);
	text_release(&page);
}

/* With ACCEPT set the page is written anew. */
static void the_page_for_authors_is_the_reference(void **state)
{
	(void)state;
	static const char path[] = "courses/FORMULAS.md";
	struct arena a = {0};
	struct text page;
	char *told;
	size_t len, same = 0;
	text_init(&page);
	formula_reference(&page);
	if (getenv("ACCEPT"))
		assert_int_equal(file_replace(path, page.at, page.len, false), FINE);
	assert_int_equal(file_read(path, 1 << 20, &a, &told, &len), FINE);
	while (same < len && same < page.len && told[same] == page.at[same])
		same++;
	if (same < len || same < page.len)
		fail_msg("%s differs from the tables at byte %zu: \"%.60s\"; write it anew with "
			 "ACCEPT=1 make t T=formula/test_functions",
			path, same, page.at + same);
	arena_release(&a);
	text_release(&page);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(mathematics_and_lists),
		cmocka_unit_test(bar_design),
		cmocka_unit_test(a_flexible_bar),
		cmocka_unit_test(bench_work),
		cmocka_unit_test(planning_back_and_forward),
		cmocka_unit_test(every_function_stands_in_a_table_above),
		cmocka_unit_test(what_cannot_be_is_refused_with_a_reason),
		cmocka_unit_test(the_reference_names_every_function),
		cmocka_unit_test(the_page_for_authors_is_the_reference),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
