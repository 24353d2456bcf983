/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Keys, a clock that stands still, and strands to test with. Include after near.h and file_fault.h. */
#ifndef BARWRIGHT_TESTS_STRAND_FIXTURE_H
#define BARWRIGHT_TESTS_STRAND_FIXTURE_H

#include <barwright/base/clock.h>
#include <barwright/record/lines.h>
#include <barwright/record/strand.h>

/* RFC 8032, 7.1: secret keys of TEST 1 and TEST 2. */
static const char test_1[] = "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60";
static const char test_2[] = "4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb";

static inline struct sign_pair pair_of(const char *seed_hex)
{
	unsigned char seed[SIGN_SEED];
	struct sign_pair pair;
	code_is(cipher_start(), FINE);
	code_is(hex_read(seed_hex, 64, seed, SIGN_SEED), FINE);
	sign_pair_from_seed(seed, &pair);
	return pair;
}

static int64_t fixed_now = INT64_C(1795599015000); /* 2026-11-25T09:30:15.000Z */
static inline int64_t clock_fixed(void)
{
	return fixed_now;
}
static inline int64_t clock_five(void)
{
	return 5;
}
static inline void clock_stop(void)
{
	static const struct clock_source source = {clock_fixed, clock_five};
	clock_replace(&source);
}

static const struct line_open an_open = {.mode = "drill",
	.program = "barwright 0.1.0",
	.course = "demo",
	.sitting = "0123456789abcdef"};

static inline struct line_answer an_answer(unsigned i)
{
	return (struct line_answer){.item = "spread",
		.attempt = 1 + i / 2,
		.ask = 1 + i % 2,
		.turn = 1,
		.took_ms = 12345,
		.typed = " 12,35 mm",
		.read_as = "12.35 mm",
		.outcome = i % 2 ? "slip" : "right",
		.slip = i % 2 ? "by-centres" : "",
		.expected = "12.350",
		.tolerance = "0.071",
		.unit = "mm"};
}

/* Adds `open` to an empty strand, answers to any other. */
static inline enum bad add_some(struct strand *s, unsigned n)
{
	enum bad code = FINE;
	for (unsigned i = 0; i < n && !code; i++) {
		struct line_answer answer = an_answer(i);
		code = strand_count(s) ? line_answer_append(s, &answer)
				       : line_open_append(s, &an_open);
	}
	return code;
}

/* A strand of n lines in the work folder's data folder; its path. */
static inline const char *strand_make(const struct sign_pair *pair, const char *who, unsigned n)
{
	static char path[256];
	struct strand *s;
	code_is(strand_open(work_folder, who, pair, &s, NULL), FINE);
	code_is(add_some(s, n), FINE);
	snprintf(path, sizeof path, "%s", strand_own_path(s));
	strand_close(s);
	return path;
}

static inline struct source load(const char *path)
{
	struct source s = {path, NULL, 0};
	char *bytes;
	code_is(file_read(path, STRAND_MOST, NULL, &bytes, &s.len), FINE);
	s.text = bytes;
	return s;
}

static inline void unload(struct source *s)
{
	mem_drop((char *)(uintptr_t)s->text);
}

/* Is it said, wherever lines were broken? */
static inline bool says(const char *text, const char *words)
{
	for (; *text; text++) {
		const char *t = text, *w = words;
		while (*w && (*w == *t || (*w == ' ' && *t == '\n'))) {
			bool blank = *w++ == ' ';
			t++;
			while (blank && (*t == ' ' || *t == '\n'))
				t++;
			while (blank && *w == ' ')
				w++;
		}
		if (!*w)
			return true;
	}
	return false;
}

#endif
