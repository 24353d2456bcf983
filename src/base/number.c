/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/base/number.h>

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#include <barwright/base/utf8.h>

enum { MOST_DIGITS = 15 };

static const int64_t ten_to[] = {1, 10, 100, 1000, 10000, 100000, 1000000, 10000000, 100000000,
	1000000000, 10000000000, 100000000000, 1000000000000, 10000000000000, 100000000000000,
	1000000000000000};

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

/* Sign, digits, and after `point` more digits; *used tells how far it went. */
static enum bad scan(const char *s, size_t len, char point, struct decimal *out, size_t *used)
{
	struct decimal d = {0};
	size_t i = 0, ndigit = 0;
	bool minus = false, after = false, any = false;
	if (i < len && (s[i] == '-' || s[i] == '+'))
		minus = s[i++] == '-';
	for (; i < len; i++) {
		if (s[i] == point && any && !after && i + 1 < len && is_digit(s[i + 1])) {
			after = true;
			continue;
		}
		if (!is_digit(s[i]))
			break;
		any = true;
		if (ndigit || s[i] != '0')
			ndigit++;
		if (ndigit > MOST_DIGITS || d.places == DECIMAL_PLACES)
			return BAD_SIZE;
		d.digits = d.digits * 10 + (s[i] - '0');
		d.places += after;
	}
	if (!any)
		return BAD_SYNTAX;
	if (minus)
		d.digits = -d.digits;
	*out = d;
	*used = i;
	return FINE;
}

enum bad decimal_read(const char *s, size_t len, struct decimal *out)
{
	struct decimal d;
	size_t used;
	enum bad code = scan(s, len, '.', &d, &used);
	if (code)
		return code;
	if (used != len)
		return BAD_SYNTAX;
	*out = d;
	return FINE;
}

double decimal_value(struct decimal d)
{
	return (double)d.digits / (double)ten_to[d.places];
}

enum bad decimal_scale(struct decimal *d, int places)
{
	if (places < d->places || places > DECIMAL_PLACES)
		return BAD_SIZE;
	int64_t by = ten_to[places - d->places];
	if (d->digits >= ten_to[MOST_DIGITS] / by || d->digits <= -ten_to[MOST_DIGITS] / by)
		return BAD_SIZE;
	d->digits *= by;
	d->places = places;
	return FINE;
}

void decimal_add_to(struct decimal d, char sign, struct text *out)
{
	int64_t whole = d.digits / ten_to[d.places], rest = d.digits % ten_to[d.places];
	if (d.digits < 0)
		text_add_char(out, '-');
	text_addf(out, "%lld", (long long)(whole < 0 ? -whole : whole));
	if (d.places)
		text_addf(out, "%c%0*lld", sign, d.places, (long long)(rest < 0 ? -rest : rest));
}

/* The double nearest to a written 1.005 lies a little below it; a nudge of a few units in the
 * last place makes it round as the person who reads 1.005 expects. */
static double rounded(double value, int places)
{
	double scaled = value * (double)ten_to[places];
	return round(scaled + copysign(fabs(scaled) * 0x1p-50, scaled));
}

void number_add_to(double value, int places, char sign, struct text *out)
{
	places = places < 0 ? 0 : places > DECIMAL_PLACES ? DECIMAL_PLACES : places;
	if (!isfinite(value)) {
		text_add(out, "none");
		return;
	}
	double scaled = rounded(value, places);
	if (fabs(scaled) < (double)ten_to[MOST_DIGITS]) {
		decimal_add_to((struct decimal){(int64_t)scaled, places}, sign, out);
		return;
	}
	size_t start = out->len;
	text_addf(out, "%.6e", value);
	char *point = strchr(out->at + start, '.');
	if (point) /* not when memory ran out */
		*point = sign;
}

/* Bytes of the blank at s: space, tab, no-break, thin and narrow no-break space; 0 if it is none. */
static size_t blank(const char *s, size_t len)
{
	uint32_t code;
	size_t n = utf8_read(s, len, &code);
	bool is = n &&
		  (code == ' ' || code == '\t' || code == 0xA0 || code == 0x2009 || code == 0x202F);
	return is ? n : 0;
}

static size_t skip_blanks(const char *s, size_t len)
{
	size_t i = 0, n;
	while (i < len && (n = blank(s + i, len - i)))
		i += n;
	return i;
}

static size_t trim_end(const char *s, size_t len)
{
	for (size_t from = len; from > 0;) {
		do
			from--;
		while (from > 0 && ((unsigned char)s[from] & 0xC0) == 0x80);
		if (blank(s + from, len - from) != len - from)
			break;
		len = from;
	}
	return len;
}

static enum bad refused(const char **why, const char *words)
{
	*why = words;
	return BAD_SYNTAX;
}

/* The digits may hold one point or one comma, not both and not two. */
static enum bad find_sign(const char *s, size_t len, char *sign, const char **why)
{
	size_t points = 0, commas = 0;
	for (size_t i = 0; i < len; i++) {
		points += s[i] == '.';
		commas += s[i] == ',';
	}
	if (points && commas)
		return refused(why, "point and comma together leave open what is meant; write one "
				    "of them, between whole and fraction");
	if (points > 1 || commas > 1)
		return refused(why, "there is more than one decimal sign");
	*sign = commas ? ',' : '.';
	return FINE;
}

/* Where the digits, signs, points and commas at the start of s end. */
static size_t number_end(const char *s, size_t len)
{
	size_t i = 0;
	while (i < len &&
		(is_digit(s[i]) || s[i] == '.' || s[i] == ',' || s[i] == '+' || s[i] == '-'))
		i++;
	return i;
}

/* The true minus sign U+2212 is read as a hyphen. */
static size_t true_minus(const char *s, size_t len)
{
	return len >= 3 && memcmp(s, "\xE2\x88\x92", 3) == 0 ? 3 : 0;
}

static bool has_digit(const char *s, size_t len)
{
	size_t i = 0;
	while (i < len && !is_digit(s[i]))
		i++;
	return i < len;
}

/* The number itself: sign and digits into d. A leading or trailing decimal sign is allowed. */
static enum bad read_digits(
	const char *s, size_t len, bool minus, struct decimal *d, const char **why)
{
	char room[40], sign;
	size_t n = 0, used;
	enum bad code = find_sign(s, len, &sign, why);
	if (code)
		return code;
	if (len > 30)
		return refused(why, "the number is too long");
	if (!has_digit(s, len))
		return refused(why, "this is not a number");
	size_t at = len && (s[0] == '+' || s[0] == '-');
	if (at)
		room[n++] = s[0];
	if (at < len && s[at] == sign)
		room[n++] = '0';
	memcpy(room + n, s + at, len - at);
	n += len - at;
	if (n && room[n - 1] == sign)
		n--;
	code = scan(room, n, sign, d, &used);
	if (code == BAD_SIZE)
		return refused(why, "the number has too many digits");
	if (code || used != n)
		return refused(why, "this is not a number");
	if (minus)
		d->digits = -d->digits;
	return FINE;
}

enum bad typed_read(const char *s, size_t len, struct typed *out, const char **why)
{
	struct typed made = {0};
	size_t i = skip_blanks(s, len);
	len = trim_end(s, len);
	if (i >= len)
		return refused(why, "nothing was typed");
	size_t minus = true_minus(s + i, len - i);
	i += minus;
	size_t end = number_end(s + i, len - i);
	if (minus && end && (s[i] == '-' || s[i] == '+'))
		return refused(why, "there are two signs before the number");
	if (!end)
		return refused(why, "a number has to come first, then the unit if you write one");
	enum bad code = read_digits(s + i, end, minus > 0, &made.value, why);
	if (code)
		return code;
	i += end;
	i += skip_blanks(s + i, len - i);
	made.unit = s + i;
	made.unit_len = len - i;
	if (made.unit_len && is_digit(*made.unit))
		return refused(why, "there are two numbers; write one");
	*out = made;
	return FINE;
}
