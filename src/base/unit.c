/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/base/unit.h>

#include <stdio.h>
#include <math.h>
#include <string.h>

#include <barwright/base/nearest.h>

#define L .power[DIM_LENGTH]
#define M .power[DIM_MASS]
#define T .power[DIM_TIME]
#define A .power[DIM_ANGLE]
#define K .power[DIM_TEMPERATURE]
#define N .power[DIM_AMOUNT]
#define C .power[DIM_MONEY]

/* Factors to mm, tonne, s, rad, K, mol; so force in N, stress in MPa. "exact" where the defining
 * document makes it so: SI Brochure 9th ed. tables 4, 7, 8; NIST SP 811 (2008) appendix B for in,
 * ft, lbf, psi (inch 25.4 mm, pound 0.45359237 kg, standard gravity 9.80665 m/s2: exact). */
static const struct {
	const char *name;
	struct unit unit;
} units[] = {
	{"mm", {1, 0, {L = 1}}},
	{"cm", {10, 0, {L = 1}}},
	{"m", {1000, 0, {L = 1}}},
	{"um", {1e-3, 0, {L = 1}}},
	{"\xC2\xB5m", {1e-3, 0, {L = 1}}}, /* micro sign */
	{"\xCE\xBCm", {1e-3, 0, {L = 1}}}, /* Greek mu */
	{"nm", {1e-6, 0, {L = 1}}},
	{"in", {25.4, 0, {L = 1}}},
	{"ft", {304.8, 0, {L = 1}}},
	{"mL", {1e3, 0, {L = 3}}},
	{"ml", {1e3, 0, {L = 3}}},
	{"L", {1e6, 0, {L = 3}}},
	{"l", {1e6, 0, {L = 3}}},
	{"ug", {1e-12, 0, {M = 1}}},
	{"\xC2\xB5g", {1e-12, 0, {M = 1}}},
	{"\xCE\xBCg", {1e-12, 0, {M = 1}}},
	{"mg", {1e-9, 0, {M = 1}}},
	{"g", {1e-6, 0, {M = 1}}},
	{"kg", {1e-3, 0, {M = 1}}},
	{"t", {1, 0, {M = 1}}},
	{"lb", {0.45359237e-3, 0, {M = 1}}},
	{"s", {1, 0, {T = 1}}},
	{"ms", {1e-3, 0, {T = 1}}},
	{"min", {60, 0, {T = 1}}},
	{"h", {3600, 0, {T = 1}}},
	{"d", {86400, 0, {T = 1}}},
	{"rpm", {0.10471975511965977, 0, {A = 1, T = -1}}}, /* 2 pi / 60 rad/s */
	{"N", {1, 0, {M = 1, L = 1, T = -2}}},
	{"mN", {1e-3, 0, {M = 1, L = 1, T = -2}}},
	{"kN", {1e3, 0, {M = 1, L = 1, T = -2}}},
	{"kgf", {9.80665, 0, {M = 1, L = 1, T = -2}}},
	{"lbf", {4.4482216152605, 0, {M = 1, L = 1, T = -2}}},
	{"Pa", {1e-6, 0, {M = 1, L = -1, T = -2}}},
	{"kPa", {1e-3, 0, {M = 1, L = -1, T = -2}}},
	{"MPa", {1, 0, {M = 1, L = -1, T = -2}}},
	{"GPa", {1e3, 0, {M = 1, L = -1, T = -2}}},
	{"bar", {0.1, 0, {M = 1, L = -1, T = -2}}},
	{"psi", {0.006894757293168361, 0, {M = 1, L = -1, T = -2}}},
	{"mmHg", {1.33322387415e-4, 0, {M = 1, L = -1, T = -2}}},
	{"J", {1e3, 0, {M = 1, L = 2, T = -2}}},
	{"kJ", {1e6, 0, {M = 1, L = 2, T = -2}}},
	{"cal", {4184, 0, {M = 1, L = 2, T = -2}}}, /* thermochemical */
	{"kcal", {4184e3, 0, {M = 1, L = 2, T = -2}}},
	{"rad", {1, 0, {A = 1}}},
	{"deg", {0.017453292519943295, 0, {A = 1}}},
	{"\xC2\xB0", {0.017453292519943295, 0, {A = 1}}},
	{"K", {1, 0, {K = 1}}},
	{"degC", {1, 273.15, {K = 1}}},
	{"\xC2\xB0"
	 "C",
		{1, 273.15, {K = 1}}},
	{"degF", {1 / 1.8, 459.67 / 1.8, {K = 1}}},
	{"\xC2\xB0"
	 "F",
		{1 / 1.8, 459.67 / 1.8, {K = 1}}},
	{"mol", {1, 0, {N = 1}}},
	{"money", {1, 0, {C = 1}}},
	{"%", {0.01, 0, {{0}}}},
	{"ppm", {1e-6, 0, {{0}}}},
	{"x", {1, 0, {{0}}}},
};
enum { UNITS = sizeof units / sizeof *units };

static const struct {
	const char *name, *base;
	struct dim dim;
} dimensions[] = {
	{"a plain number", "", {{0}}},
	{"a length", "mm", {L = 1}},
	{"an area", "mm2", {L = 2}},
	{"a volume", "mm3", {L = 3}},
	{"a second moment of area", "mm4", {L = 4}},
	{"a mass", "t", {M = 1}},
	{"a density", "t/mm3", {M = 1, L = -3}},
	{"a time", "s", {T = 1}},
	{"a speed", "mm/s", {L = 1, T = -1}},
	{"a force", "N", {M = 1, L = 1, T = -2}},
	{"a stress or pressure", "MPa", {M = 1, L = -1, T = -2}},
	{"a stiffness", "N/mm", {M = 1, T = -2}},
	{"a moment or energy", "N mm", {M = 1, L = 2, T = -2}},
	{"a bending stiffness", "N mm2", {M = 1, L = 3, T = -2}},
	{"an angle", "rad", {A = 1}},
	{"a rotational speed", "rad/s", {A = 1, T = -1}},
	{"a temperature", "K", {K = 1}},
	{"an amount of substance", "mol", {N = 1}},
	{"a sum of money", "money", {C = 1}},
};

#undef L
#undef M
#undef T
#undef A
#undef K
#undef N
#undef C

bool dim_is_equal(struct dim a, struct dim b)
{
	return memcmp(a.power, b.power, sizeof a.power) == 0;
}

bool dim_is_none(struct dim d)
{
	return dim_is_equal(d, (struct dim){{0}});
}

enum bad dim_times(struct dim a, struct dim b, int sign, struct dim *out)
{
	struct dim made;
	for (int i = 0; i < DIM_COUNT; i++) {
		int power = a.power[i] + sign * b.power[i];
		if (power < -100 || power > 100)
			return BAD_RANGE;
		made.power[i] = (int8_t)power;
	}
	*out = made;
	return FINE;
}

void dim_add_name(struct dim d, struct text *out)
{
	static const char *const base[DIM_COUNT] = {"mm", "t", "s", "rad", "K", "mol", "money"};
	for (size_t i = 0; i < sizeof dimensions / sizeof *dimensions; i++)
		if (dim_is_equal(dimensions[i].dim, d)) {
			text_add(out, dimensions[i].name);
			return;
		}
	text_add(out, "a quantity in");
	for (int i = 0; i < DIM_COUNT; i++)
		if (d.power[i] == 1)
			text_addf(out, " %s", base[i]);
		else if (d.power[i])
			text_addf(out, " %s%d", base[i], d.power[i]);
}

const char *unit_name(size_t i, struct unit *out)
{
	if (i >= UNITS)
		return NULL;
	*out = units[i].unit;
	return units[i].name;
}

static const struct unit *find(const char *s, size_t len)
{
	for (size_t i = 0; i < UNITS; i++)
		if (*units[i].name == *s && strncmp(units[i].name, s, len) == 0 &&
			!units[i].name[len])
			return &units[i].unit;
	return NULL;
}

static size_t spaces(const char *s, size_t len)
{
	size_t i = 0;
	while (i < len && s[i] == ' ')
		i++;
	return i;
}

/* One step of reading "N mm2/s": where we are, which sign the next power has, what stands so far. */
struct reader {
	const char *s;
	size_t len, i;
	int sign;
	struct unit made;
	size_t count;
};

static bool is_name_byte(char c)
{
	return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '%' ||
	       (unsigned char)c >= 0x80;
}

/* The middle dot U+00B7 and the dot operator U+22C5 multiply, as * does. */
static size_t times_sign(const char *s, size_t len)
{
	if (len && *s == '*')
		return 1;
	if (len >= 2 && memcmp(s, "\xC2\xB7", 2) == 0)
		return 2;
	return len >= 3 && memcmp(s, "\xE2\x8B\x85", 3) == 0 ? 3 : 0;
}

/* Raised digits are powers too; by digit, "" where there is none. */
static const char *const raised[10] = {"", "", "\xC2\xB2", "\xC2\xB3", "\xE2\x81\xB4",
	"\xE2\x81\xB5", "\xE2\x81\xB6", "\xE2\x81\xB7", "\xE2\x81\xB8", "\xE2\x81\xB9"};

static int superscript(const char *s, size_t len)
{
	for (int digit = 2; digit < 10; digit++) {
		size_t n = strlen(raised[digit]);
		if (n <= len && memcmp(s, raised[digit], n) == 0)
			return digit;
	}
	return 0;
}

static size_t name_end(const struct reader *r)
{
	size_t end = r->i;
	while (end < r->len && is_name_byte(r->s[end]) && !times_sign(r->s + end, r->len - end) &&
		!superscript(r->s + end, r->len - end))
		end++;
	return end;
}

static enum bad read_power(struct reader *r, int *power)
{
	int minus = 1, value = superscript(r->s + r->i, r->len - r->i);
	*power = 1;
	if (value) {
		r->i += strlen(raised[value]);
		*power = value;
		return FINE;
	}
	bool caret = r->i < r->len && r->s[r->i] == '^';
	r->i += caret;
	if (r->i < r->len && r->s[r->i] == '-') {
		minus = -1;
		r->i++;
		caret = true;
	}
	if (r->i < r->len && r->s[r->i] >= '1' && r->s[r->i] <= '9')
		*power = minus * (r->s[r->i++] - '0');
	else if (caret)
		return BAD_SYNTAX;
	return FINE;
}

static enum bad multiply_in(struct reader *r, const struct unit *one, int power)
{
	int sign = power * r->sign > 0 ? 1 : -1, times = power < 0 ? -power : power;
	for (int n = 0; n < times; n++) {
		enum bad code = dim_times(r->made.dim, one->dim, sign, &r->made.dim);
		if (code)
			return code;
		r->made.factor =
			sign > 0 ? r->made.factor * one->factor : r->made.factor / one->factor;
	}
	r->made.offset = one->offset;
	return FINE;
}

static enum bad read_one(struct reader *r, size_t *fault, size_t *fault_len)
{
	size_t end = name_end(r);
	int power;
	*fault = r->i;
	*fault_len = end > r->i ? end - r->i : 1;
	if (end == r->i)
		return BAD_SYNTAX;
	const struct unit *one = find(r->s + r->i, end - r->i);
	if (!one)
		return BAD_UNKNOWN;
	r->i = end;
	enum bad code = read_power(r, &power);
	if (code)
		return code;
	if (one->offset != 0 && (r->count || power != 1 || r->sign < 0 || r->i < r->len))
		return BAD_SYNTAX; /* a point on a scale stands alone */
	r->count++;
	return multiply_in(r, one, power);
}

/* Between two names: a blank, a times sign or one stroke. A sign wants a name behind it. */
static enum bad read_between(struct reader *r)
{
	size_t before = r->i;
	r->i += spaces(r->s + r->i, r->len - r->i);
	size_t n = times_sign(r->s + r->i, r->len - r->i);
	r->sign = 1;
	if (!n && r->i < r->len && r->s[r->i] == '/') {
		r->sign = -1;
		n = 1;
	}
	r->i += n;
	r->i += spaces(r->s + r->i, r->len - r->i);
	return r->i == before || (n && r->i == r->len) ? BAD_SYNTAX : FINE;
}

enum bad unit_read(const char *s, size_t len, struct unit *out, size_t *fault, size_t *fault_len)
{
	struct reader r = {s, len, spaces(s, len), 1, {1, 0, {{0}}}, 0};
	*fault = 0;
	*fault_len = len;
	while (r.i < r.len) {
		enum bad code = read_one(&r, fault, fault_len);
		if (!code && r.i < r.len)
			code = read_between(&r);
		if (code)
			return code;
	}
	*out = r.made;
	return FINE;
}

/* ---- printing -------------------------------------------------------------------------------- */

static const struct {
	const char *name, *printed;
} signs[] = {{"um", "\xC2\xB5m"}, {"ug", "\xC2\xB5g"}, {"deg", "\xC2\xB0"},
	{"degC", "\xC2\xB0"
		 "C"},
	{"degF", "\xC2\xB0"
		 "F"}};

static void name_add_printed(const char *name, size_t len, struct text *out)
{
	for (size_t i = 0; i < sizeof signs / sizeof *signs; i++)
		if (strlen(signs[i].name) == len && memcmp(signs[i].name, name, len) == 0) {
			text_add(out, signs[i].printed);
			return;
		}
	text_add_bytes(out, name, len);
}

void unit_add_printed(const char *s, size_t len, struct text *out)
{
	struct reader r = {.s = s, .len = len};
	while (r.i < len) {
		size_t end = name_end(&r);
		bool name = end > r.i;
		name_add_printed(s + r.i, end - r.i, out);
		r.i = end;
		size_t caret = r.i < len && s[r.i] == '^';
		char digit = r.i + caret < len ? s[r.i + caret] : 0;
		if (name && digit >= '2' && digit <= '9') {
			text_add(out, raised[digit - '0']);
			r.i += caret + 1;
		} else if (r.i < len) {
			text_add_char(out, s[r.i++]);
		}
	}
}

bool unit_is_same(const struct unit *a, const struct unit *b)
{
	return dim_is_equal(a->dim, b->dim) &&
	       fabs(a->factor - b->factor) < 1e-12 * fabs(b->factor) &&
	       fabs(a->offset - b->offset) <= 1e-12 * fabs(b->offset);
}

bool unit_is_close(const char *text)
{
	return strcmp(text, "deg") == 0 || strcmp(text, "\xC2\xB0") == 0;
}

const char *unit_nearest(const char *s, size_t len)
{
	struct nearest near = {.wanted = s, .len = len};
	for (size_t i = 0; i < UNITS; i++)
		nearest_offer(&near, units[i].name, strlen(units[i].name));
	return near.word;
}
