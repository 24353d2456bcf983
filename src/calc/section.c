/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/calc/section.h>

#include <math.h>

#include "calc/numbers.h"

/* beta = 1/3 [1 - 192/pi^5 (b/a) sum over odd n of tanh(n pi a/2b)/n^5]. Taken as it stands the
 * sum still errs by 3e-8 after 20 terms. With tanh u = 1 - 2/(e^2u + 1) and the sum of 1/n^5 =
 * (31/32) zeta(5) what is left falls off like e^(-n pi): 1e-15 after 6 terms. */
static double twist_beta(double ratio)
{
	static const double zeta5 = 1.0369277551433699;
	double sum = zeta5 * 31 / 32;
	for (int n = 1; n <= 11; n += 2)
		sum -= 2 / (pow(n, 5) * (exp(n * pi * ratio) + 1));
	return (1 - 192 / pow(pi, 5) / ratio * sum) / 3;
}

/* alpha = beta/{1 - 8/pi^2 sum over odd n of 1/[n^2 cosh(n pi a/2b)]}. cosh overflows to
 * infinity far out, where the term is nothing. */
static double twist_alpha(double ratio, double beta)
{
	double sum = 0;
	for (int n = 1; n <= 27; n += 2)
		sum += 1 / (n * n * cosh(n * pi * ratio / 2));
	return beta / (1 - 8 / (pi * pi) * sum);
}

enum bad section_rectangle(double width_mm, double height_mm, struct profile *out)
{
	double w = width_mm, h = height_mm;
	if (!is_above_0(w) || !is_above_0(h))
		return BAD_RANGE;
	double a = fmax(w, h), b = fmin(w, h);
	double ratio = a / b;
	if (!is_above_0(ratio))
		return BAD_RANGE;
	double beta = twist_beta(ratio), alpha = twist_alpha(ratio, beta);
	struct profile s = {
		.area_mm2 = w * h,
		.inertia_mm4 = w * h * h * h / 12,
		.modulus_mm3 = w * h * h / 6,
		.side_inertia_mm4 = h * w * w * w / 12,
		.twist_mm4 = beta * a * b * b * b,
		.twist_modulus_mm3 = alpha * a * b * b,
	};
	if (!is_above_0(s.inertia_mm4) || !is_above_0(s.side_inertia_mm4) ||
		!is_above_0(s.twist_mm4))
		return BAD_RANGE;
	*out = s;
	return FINE;
}

enum bad section_net_modulus(double width_mm, double height_mm, double hole_mm, double *modulus_mm3)
{
	if (!is_above_0(width_mm) || !is_above_0(height_mm) || !(hole_mm >= 0) ||
		!(hole_mm < width_mm))
		return BAD_RANGE;
	return result_give((width_mm - hole_mm) * height_mm * height_mm / 6, modulus_mm3);
}

enum bad section_shear_cowper(double poisson, double *factor)
{
	if (!(poisson > -1) || !(poisson <= 0.5))
		return BAD_RANGE;
	return result_give(10 * (1 + poisson) / (12 + 11 * poisson), factor);
}

enum bad section_layered(const struct layer *layer, size_t n, struct layered *out)
{
	double pull_N = 0, first_Nmm = 0, bottom_mm = 0;
	struct layered s = {0};
	if (n < 1)
		return BAD_COUNT;
	for (size_t i = 0; i < n; i++) {
		const struct layer *l = &layer[i];
		if (!is_above_0(l->width_mm) || !is_above_0(l->height_mm) ||
			!is_above_0(l->modulus_MPa))
			return BAD_RANGE;
		double ea = l->modulus_MPa * l->width_mm * l->height_mm;
		pull_N += ea;
		first_Nmm += ea * (bottom_mm + l->height_mm / 2);
		bottom_mm += l->height_mm;
		s.loose_Nmm2 += ea * l->height_mm * l->height_mm / 12;
	}
	s.axis_mm = first_Nmm / pull_N;
	s.bend_Nmm2 = s.loose_Nmm2;
	bottom_mm = 0;
	for (size_t i = 0; i < n; i++) {
		const struct layer *l = &layer[i];
		double arm = bottom_mm + l->height_mm / 2 - s.axis_mm;
		s.bend_Nmm2 += l->modulus_MPa * l->width_mm * l->height_mm * arm * arm;
		bottom_mm += l->height_mm;
	}
	if (!is_above_0(s.bend_Nmm2))
		return BAD_RANGE;
	*out = s;
	return FINE;
}

double section_layered_stress_MPa(
	const struct layered *s, double modulus_MPa, double moment_Nmm, double y_mm)
{
	return modulus_MPa * moment_Nmm * (s->axis_mm - y_mm) / s->bend_Nmm2;
}

double section_bending_MPa(const struct profile *s, double moment_Nmm)
{
	return fabs(moment_Nmm) / s->modulus_mm3;
}

double section_shear_MPa(const struct profile *s, double shear_N, double torque_Nmm)
{
	return 1.5 * fabs(shear_N) / s->area_mm2 + fabs(torque_Nmm) / s->twist_modulus_mm3;
}
