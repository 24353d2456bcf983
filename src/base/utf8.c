/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/base/utf8.h>

#include <string.h>
#include <wchar.h>

size_t utf8_read(const char *s, size_t len, uint32_t *out)
{
	static const uint32_t least[5] = {0, 0, 0x80, 0x800, 0x10000};
	const unsigned char *u = (const unsigned char *)s;
	if (!len)
		return 0;
	if (u[0] < 0x80) {
		*out = u[0];
		return 1;
	}
	size_t n = u[0] >= 0xF0 ? 4 : u[0] >= 0xE0 ? 3 : 2;
	if (u[0] < 0xC2 || u[0] > 0xF4 || n > len)
		return 0;
	uint32_t code = u[0] & (0xFFu >> (n + 1));
	for (size_t i = 1; i < n; i++) {
		if ((u[i] & 0xC0) != 0x80)
			return 0;
		code = code << 6 | (u[i] & 0x3F);
	}
	if (code < least[n] || code > 0x10FFFF || (code >= 0xD800 && code <= 0xDFFF))
		return 0;
	*out = code;
	return n;
}

size_t utf8_step(const char *s, size_t len)
{
	uint32_t code;
	size_t n = utf8_read(s, len, &code);
	return n ? n : 1;
}

size_t utf8_write(uint32_t code, char out[static 4])
{
	if (code < 0x80) {
		out[0] = (char)code;
		return 1;
	}
	if (code > 0x10FFFF || (code >= 0xD800 && code <= 0xDFFF))
		return 0;
	size_t n = code < 0x800 ? 2 : code < 0x10000 ? 3 : 4;
	for (size_t i = n - 1; i > 0; i--) {
		out[i] = (char)(0x80 | (code & 0x3F));
		code >>= 6;
	}
	out[0] = (char)((0xF00u >> n & 0xF0) | code);
	return n;
}

size_t utf8_valid(const char *s, size_t len)
{
	size_t i = 0;
	uint32_t code;
	while (i < len) {
		size_t n = utf8_read(s + i, len - i, &code);
		if (!n)
			break;
		i += n;
	}
	return i;
}

/* Is each of eight bytes from ' ' to '~'? The first step that a byte which is none makes wrong sets its
 * highest bit: bytes above it may be told wrong, but never that all are well (after H. S. Warren,
 * "Hacker's Delight", 2nd ed. 2012, section 6-1). */
static bool are_plain(const char *s)
{
	const uint64_t ones = 0x0101010101010101, tops = 0x80 * ones;
	uint64_t eight;
	memcpy(&eight, s, sizeof eight);
	return !((eight | (eight - 0x20 * ones) | (eight + ones)) & tops);
}

size_t utf8_plain(const char *s, size_t len)
{
	size_t i = 0;
	while (len - i >= 8 && are_plain(s + i))
		i += 8;
	while (i < len && s[i] >= ' ' && s[i] <= '~')
		i++;
	return i;
}

size_t utf8_count(const char *s, size_t len)
{
	size_t count = 0;
	for (size_t i = 0; i < len; count++)
		i += utf8_step(s + i, len - i);
	return count;
}

struct range {
	uint32_t from, to;
};

static bool in_ranges(uint32_t code, const struct range *list, size_t n)
{
	for (size_t i = 0; i < n; i++)
		if (code >= list[i].from && code <= list[i].to)
			return true;
	return false;
}

bool utf8_is_safe(uint32_t code)
{
	static const struct range unsafe[] = {
		{0x00, 0x1F}, {0x7F, 0x9F},         /* C0, DEL, C1 */
		{0xAD, 0xAD},                       /* soft hyphen */
		{0x61C, 0x61C}, {0x200B, 0x200F},   /* Arabic letter mark; zero width, LRM, RLM */
		{0x2028, 0x202E},                   /* separators, embeddings, overrides */
		{0x2060, 0x206F},                   /* word joiner, isolates */
		{0xFEFF, 0xFEFF}, {0xFFF0, 0xFFFB}, /* byte order mark; interlinear */
		{0xFDD0, 0xFDEF},                   /* noncharacters */
		{0xE0000, 0xE0FFF},                 /* tags and other invisible ones */
	};
	if (code > 0x10FFFF || (code >= 0xD800 && code <= 0xDFFF) || (code & 0xFFFE) == 0xFFFE)
		return false;
	return !in_ranges(code, unsafe, sizeof unsafe / sizeof *unsafe);
}

/* The ranges in which the C library, the tests' terminal and the common terminals agree on one
 * column; everything else is asked of the C library. */
static bool is_one_column(uint32_t code)
{
	static const struct range one[] = {
		{0x20, 0x7E},
		{0xA0, 0xAC},
		{0xAE, 0x24F},
		{0x370, 0x482},
		{0x2010, 0x2027},
		{0x2070, 0x209F},
		{0x2190, 0x22FF},
		{0x2500, 0x25FC},
	};
	return in_ranges(code, one, sizeof one / sizeof *one);
}

int utf8_columns(uint32_t code)
{
	if (is_one_column(code))
		return 1;
	if (!utf8_is_safe(code))
		return -1;
	return wcwidth((wchar_t)code);
}

static size_t escape_width(uint32_t code)
{
	return code > 0xFFFFF ? 10 : code > 0xFFFF ? 9 : 8;
}

size_t utf8_width(const char *s, size_t len)
{
	size_t width = 0;
	uint32_t code;
	for (size_t i = 0; i < len;) {
		size_t n = utf8_read(s + i, len - i, &code);
		if (!n) {
			width += 4;
			i++;
			continue;
		}
		int columns = code == '\t' ? 1 : utf8_columns(code);
		width += columns < 0 ? escape_width(code) : (size_t)columns;
		i += n;
	}
	return width;
}

static void add_code(struct text *out, const char *s, size_t n, uint32_t code, bool lines)
{
	if (code == '\t')
		text_add_char(out, ' ');
	else if (utf8_columns(code) >= 0 || (lines && code == '\n'))
		text_add_bytes(out, s, n);
	else
		text_addf(out, "<U+%04X>", (unsigned)code);
}

void text_add_safe(struct text *out, const char *s, size_t len, bool lines)
{
	uint32_t code;
	for (size_t i = 0; i < len;) {
		size_t n = utf8_read(s + i, len - i, &code);
		if (n)
			add_code(out, s + i, n, code, lines);
		else
			text_addf(out, "<%02X>", (unsigned)(unsigned char)s[i]);
		i += n ? n : 1;
	}
}
