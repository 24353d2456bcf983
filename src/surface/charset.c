/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "surface/charset.h"

#include <langinfo.h>
#include <locale.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include <barwright/base/utf8.h>

/* ---- the locale ---------------------------------------------------------------------------- */

/* The locale that the environment asks for, by the rules of POSIX (Base Definitions, 8.2). */
static const char *wanted_locale(void)
{
	static const char *const name[] = {"LC_ALL", "LC_CTYPE", "LANG"};
	for (size_t i = 0; i < sizeof name / sizeof *name; i++) {
		const char *value = getenv(name[i]);
		if (value && *value)
			return value;
	}
	return "C";
}

void charset_start(void)
{
	if (setlocale(LC_CTYPE, ""))
		return;
	const char *charset = strchr(wanted_locale(), '.');
	if (!charset || strncasecmp(charset, ".utf", 4) == 0)
		setlocale(LC_CTYPE, "C.UTF-8");
}

bool charset_is_utf8(void)
{
	const char *name = nl_langinfo(CODESET);
	return strcasecmp(name, "UTF-8") == 0 || strcasecmp(name, "UTF8") == 0;
}

char charset_decimal(void)
{
	locale_t numeric = newlocale(LC_NUMERIC_MASK, "", (locale_t)0);
	if (!numeric)
		return '.';
	char sign = *nl_langinfo_l(RADIXCHAR, numeric);
	freelocale(numeric);
	return sign == ',' ? ',' : '.';
}

/* ---- what stands in in ASCII --------------------------------------------------------------- */

/* Code points in a row, one character each. */
struct run {
	uint32_t from;
	const char *cells;
};

static const struct run runs[] = {
	{0xC0, "AAAAAAACEEEEIIIIDNOOOOOxOUUUUYTsaaaaaaaceeeeiiiidnooooo/ouuuuyty"},
	{0x100, "AaAaAaCcCcCcCcDdDdEeEeEeEeEeGgGgGgGgHhHhIiIiIiIiIiIiJjKkkLlLlLlLlLlNnNnNnnNn"
		"OoOoOoOoRrRrRrSsSsSsSsTtTtTtUuUuUuUuUuUuWwYyYZzZzZzs"},
	{0x391, "ABGDEZHQIKLMNXOPR?STUFCYWIUaeniuabgdezhqiklmnxoprsstufcyw"},
	{0x2010, "------||''''\"\"\"\"++*>...."},
	{0x2080, "0123456789+-=()"},
	{0x2190, "<^>v-|\\//\\"},
	{0x2500, "-=||-=::-=::++++++++++++++++++++++++++++++++++++++++++++++++++++++++++++++++-=::"
		 "=|+++++++++++++++++++++++++++..''/\\X-|-|=|=|-|=|"},
	{0x2580, "\"___=#######|||||.%#\"|##########"},
	{0x25A0, "#oo#=|#%%%#o=-#o//^^^^>>>>>>vvvv<<<<<<*o*@oooo@*oooooooo##oooooooo/\\/\\o##//"
		 "#^^^Ooooooooo"
		 "/\\\\o#"},
};

/* What needs more than one character in running text, or is not in a run. */
struct stand_in {
	uint32_t code;
	char cell;
	const char *spelt;
};

static const struct stand_in stand_ins[] = {
	{0xA0, ' ', " "},
	{0xA1, '!', "!"},
	{0xA2, 'c', "c"},
	{0xA3, 'L', "GBP"},
	{0xA5, 'Y', "JPY"},
	{0xA6, '|', "|"},
	{0xA7, 'S', "section "},
	{0xA9, 'c', "(c)"},
	{0xAB, '"', "\""},
	{0xAE, 'r', "(r)"},
	{0xB0, 'd', " deg"},
	{0xB1, '~', "+/-"},
	{0xB2, '2', "^2"},
	{0xB3, '3', "^3"},
	{0xB4, '\'', "'"},
	{0xB5, 'u', "u"},
	{0xB7, '.', "."},
	{0xB9, '1', "^1"},
	{0xBB, '"', "\""},
	{0xBC, '?', " 1/4"},
	{0xBD, '?', " 1/2"},
	{0xBE, '?', " 3/4"},
	{0xBF, '?', "?"},
	{0xC6, 'A', "AE"},
	{0xD7, 'x', "*"},
	{0xDE, 'T', "Th"},
	{0xDF, 's', "ss"},
	{0xE6, 'a', "ae"},
	{0xFE, 't', "th"},
	{0x152, 'O', "OE"},
	{0x153, 'o', "oe"},
	{0x394, 'D', "Delta "},
	{0x3A3, 'S', "Sum "},
	{0x3A9, 'W', "Ohm"},
	{0x3B1, 'a', "alpha"},
	{0x3B2, 'b', "beta"},
	{0x3B3, 'g', "gamma"},
	{0x3B4, 'd', "delta"},
	{0x3B5, 'e', "epsilon"},
	{0x3B8, 'q', "theta"},
	{0x3BA, 'k', "kappa"},
	{0x3BB, 'l', "lambda"},
	{0x3BC, 'u', "u"},
	{0x3BD, 'n', "nu"},
	{0x3C0, 'p', "pi"},
	{0x3C1, 'r', "rho"},
	{0x3C3, 's', "sigma"},
	{0x3C4, 't', "tau"},
	{0x3C6, 'f', "phi"},
	{0x3C9, 'w', "omega"},
	{0x2009, ' ', " "},
	{0x2026, '~', "..."},
	{0x202F, ' ', " "},
	{0x2030, '%', " per mille"},
	{0x2032, '\'', "'"},
	{0x2033, '"', "\""},
	{0x2070, '0', "^0"},
	{0x2074, '4', "^4"},
	{0x2075, '5', "^5"},
	{0x2076, '6', "^6"},
	{0x2077, '7', "^7"},
	{0x2078, '8', "^8"},
	{0x2079, '9', "^9"},
	{0x207B, '-', "^-"},
	{0x20AC, 'E', "EUR"},
	{0x2190, '<', "<-"},
	{0x2192, '>', "->"},
	{0x2194, '-', "<->"},
	{0x21A6, '>', "->"},
	{0x21D0, '<', "<="},
	{0x21D2, '>', "=>"},
	{0x2205, 'd', "diameter "},
	{0x2208, '?', " in "},
	{0x2211, 'S', "sum "},
	{0x2212, '-', "-"},
	{0x2215, '/', "/"},
	{0x221A, 'V', "sqrt"},
	{0x221E, '8', "infinity"},
	{0x2220, '<', "angle "},
	{0x2248, '~', "~"},
	{0x2260, '#', "!="},
	{0x2264, '<', "<="},
	{0x2265, '>', ">="},
	{0x22C5, '.', "*"},
	{0x2300, 'd', "diameter "},
	{0x2713, 'v', "[ok]"},
	{0x2717, 'x', "[not ok]"},
};

static const struct stand_in *stand_in_of(uint32_t code)
{
	size_t low = 0, high = sizeof stand_ins / sizeof *stand_ins;
	while (low < high) {
		size_t mid = low + (high - low) / 2;
		if (stand_ins[mid].code == code)
			return &stand_ins[mid];
		if (stand_ins[mid].code < code)
			low = mid + 1;
		else
			high = mid;
	}
	return NULL;
}

char charset_cell(uint32_t code)
{
	if (code >= 0x20 && code < 0x7F)
		return (char)code;
	const struct stand_in *s = stand_in_of(code);
	if (s)
		return s->cell;
	for (size_t i = 0; i < sizeof runs / sizeof *runs; i++)
		if (code >= runs[i].from && code - runs[i].from < strlen(runs[i].cells))
			return runs[i].cells[code - runs[i].from];
	return '?';
}

/* Text that is safe already, spelt in ASCII. */
static void add_spelt(struct text *out, const char *s, size_t len)
{
	uint32_t code = 0;
	for (size_t i = 0; i < len;) {
		size_t n = utf8_read(s + i, len - i, &code);
		const struct stand_in *known = n > 1 ? stand_in_of(code) : NULL;
		bool blank = out->len && out->at[out->len - 1] == ' ';
		if (known) /* "74 deg C", not two blanks */
			text_add(out, known->spelt + (blank && known->spelt[0] == ' '));
		else
			text_add_char(out, n > 1 ? charset_cell(code) : s[i]);
		i += n ? n : 1;
	}
}

void charset_add(struct text *out, const char *s, size_t len, bool lines, bool utf8)
{
	if (utf8) {
		text_add_safe(out, s, len, lines);
		return;
	}
	struct text safe;
	text_init(&safe);
	text_add_safe(&safe, s, len, lines);
	add_spelt(out, safe.at, safe.len);
	if (safe.out)
		out->out = true;
	text_release(&safe);
}
