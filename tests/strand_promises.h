/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A run of a program that writes a strand, what it was promised, and whether that holds. Include after
 * strand_fixture.h; the learner is l-1. */
#ifndef BARWRIGHT_TESTS_STRAND_PROMISES_H
#define BARWRIGHT_TESTS_STRAND_PROMISES_H

enum { TORN = 100 };
static unsigned run_lines = 4;
/* The hashes tell what was lost; signatures are looked at elsewhere. */
static const struct strand_check by_hashes = {.hashes_only = true};

static struct sign_pair machine;

static char strand_file[256];

static inline int begin(void **state)
{
	char id[STRAND_ID + 1];
	struct arena a = {0};
	machine = pair_of(test_1);
	int bad = work_begin(state);
	strand_id("l-1", machine.open, id);
	snprintf(strand_file, sizeof strand_file, "%s", strand_path(work_folder, id, &a));
	arena_release(&a);
	return bad;
}

/* What was acknowledged: the hash of line n. */
struct promises {
	struct hash hash[16];
	bool made[16];
};

static inline void promise(struct promises *p, const struct strand *s)
{
	uint64_t n = strand_count(s) - 1;
	p->hash[n] = strand_head(s);
	p->made[n] = true;
}

/* One run of the program: it goes on trying after failures. */
static inline enum bad run(struct promises *p)
{
	struct strand *s;
	enum bad first = strand_open(work_folder, "l-1", &machine, &s, NULL);
	if (first)
		return first;
	for (unsigned i = 0; i < run_lines; i++) {
		enum bad code = add_some(s, 1);
		if (!code)
			promise(p, s);
		else if (!*strand_why(s))
			fail_msg("a failure without words: %s", bad_word(code));
		first = first ? first : code;
	}
	strand_close(s);
	return first;
}

static inline enum bad keep_promise(void *context, const struct strand_line *line)
{
	struct promises *p = context;
	if (line->n < 16 && p->made[line->n] && hash_is_equal(&p->hash[line->n], &line->hash))
		p->made[line->n] = false;
	return FINE;
}

/* Everything promised stands at its place; what was left is whole lines and perhaps a torn one. */
static inline void promises_hold(const char *what, const struct promises *given)
{
	struct promises p = *given;
	struct strand_sum sum = {0};
	if (file_kind(strand_file) == FILE_PLAIN) {
		struct source s = load(strand_file);
		enum bad code = strand_read(&s, &by_hashes, keep_promise, &p, &sum, NULL);
		unload(&s);
		if (code && code != BAD_TORN)
			fail_msg("%s: the strand is left %s", what, bad_word(code));
	}
	for (unsigned n = 0; n < 16; n++)
		if (p.made[n])
			fail_msg("%s: line %u was acknowledged and is lost", what, n);
}

/* The next run opens it, adds to it, and then all of it verifies. */
static inline void next_run_goes_on(const char *what, const struct promises *given)
{
	struct promises p = *given;
	struct strand *s;
	struct strand_sum sum;
	enum bad code = strand_open(work_folder, "l-1", &machine, &s, NULL);
	if (code)
		fail_msg("%s: the next run cannot open it: %s", what, bad_word(code));
	code_is(add_some(s, 1), FINE);
	strand_close(s);
	struct source bytes = load(strand_file);
	code = strand_read(&bytes, &by_hashes, keep_promise, &p, &sum, NULL);
	if (code)
		fail_msg("%s: after the next run the strand is %s", what, bad_word(code));
	unload(&bytes);
}

#endif
