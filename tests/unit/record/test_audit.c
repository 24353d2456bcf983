/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include "file_fault.h"
#include "strand_fixture.h"
#include "seal_fixture.h"

#include <barwright/record/audit.h>

static struct audit audit;
static struct text out;

static int begin(void **state)
{
	people_make();
	clock_stop();
	audit_init(&audit);
	text_init(&out);
	return work_begin(state);
}

static int end(void **state)
{
	audit_release(&audit);
	audit_release(&audit);
	text_release(&out);
	clock_replace(NULL);
	return work_end(state);
}

/* ---- a stand-in for items -------------------------------------------------------------------- */

/* Scores as follows: an answer is right when what was typed is the attempt's number; item "gone" is not
 * there any more. */
struct marker {
	unsigned called, without_draw;
	enum bad fails;
};

static enum bad mark(void *context, const struct audit_case *what, struct audit_finding *f)
{
	struct marker *m = context;
	char number[24];
	m->called++;
	assert_string_equal(what->open->course, "demo");
	if (m->fails)
		return m->fails;
	if (!what->draw) {
		m->without_draw++;
		f->result = AUDIT_DIFFERS;
		snprintf(f->words, sizeof f->words, "no draw");
		return FINE;
	}
	assert_string_equal(what->draw->item, what->answer->item);
	assert_int_equal(what->draw->attempt, what->answer->attempt);
	if (strcmp(what->answer->item, "gone") == 0) {
		f->result = AUDIT_NOT_MADE;
		snprintf(f->words, sizeof f->words, "the item is not here any more");
		return FINE;
	}
	snprintf(number, sizeof number, "%llu", (unsigned long long)what->answer->attempt);
	const char *outcome = strcmp(number, what->answer->typed) == 0 ? "right" : "wrong";
	bool same = strcmp(outcome, what->answer->outcome) == 0;
	f->result = same ? AUDIT_EQUAL : AUDIT_DIFFERS;
	if (!same)
		snprintf(f->words, sizeof f->words, "recorded %s, scored again %s",
			what->answer->outcome, outcome);
	return FINE;
}

static void sit_open(struct strand *s)
{
	code_is(line_open_append(s, &an_open), FINE);
}

static void draw(struct strand *s, const char *item, uint64_t attempt)
{
	struct line_draw d = {.item = item, .attempt = attempt};
	code_is(line_draw_append(s, &d), FINE);
}

static void answer(struct strand *s, const char *item, uint64_t attempt, const char *typed,
	const char *outcome)
{
	struct line_answer a = an_answer(0);
	a.item = item;
	a.attempt = attempt;
	a.typed = typed;
	a.outcome = outcome;
	code_is(line_answer_append(s, &a), FINE);
}

static void sit_close(struct strand *s)
{
	struct line_close c = {.reason = "done"};
	code_is(line_close_append(s, &c), FINE);
}

static struct strand *begin_strand(const char *who)
{
	struct strand *s;
	code_is(strand_open(work_folder, who, &machine, &s, NULL), FINE);
	return s;
}

static void out_has(const char *words)
{
	if (!says(out.at, words))
		fail_msg("want \"%s\" in:\n%s", words, out.at);
}

/* ---- tests ----------------------------------------------------------------------------------- */

static void answers_meet_their_draws(void **state)
{
	struct marker m = {0};
	struct audit_how how = {.replay = mark, .context = &m};
	struct strand *s = begin_strand("l-1");
	(void)state;
	sit_open(s);
	draw(s, "a", 1);
	draw(s, "a", 2);
	answer(s, "a", 2, "2", "right");
	answer(s, "a", 1, "7", "wrong");
	answer(s, "a", 1, "1", "right");
	sit_close(s);
	sit_open(s);
	answer(s, "a", 1, "1", "right"); /* drawn in another sitting */
	draw(s, "gone", 3);
	answer(s, "gone", 3, "3", "right");
	draw(s, "a", 4);
	answer(s, "a", 4, "5", "right"); /* it was not */
	char path[256];
	snprintf(path, sizeof path, "%s", strand_own_path(s));
	strand_close(s);
	code_is(audit_path(&audit, path, &how), FINE);
	assert_int_equal(m.called, 6);
	assert_int_equal(m.without_draw, 1);
	assert_int_equal(audit.strands, 1);
	assert_int_equal(audit.lines, 13);
	assert_int_equal(audit.count.sittings, 2);
	assert_int_equal(audit.count.unclosed, 1);
	assert_int_equal(audit.count.draws, 4);
	assert_int_equal(audit.count.answers, 6);
	assert_int_equal(audit.count.right, 5);
	assert_int_equal(audit.count.equal, 3);
	assert_int_equal(audit.count.differs, 2);
	assert_int_equal(audit.count.not_made, 1);
	assert_int_equal(audit.nremark, 3);
	assert_int_equal(audit.remark->n, 8);
	assert_false(audit_is_clean(&audit));
	audit_tell(&audit, &out);
	out_has("2 sittings, 4 tasks drawn, 6 answers, 5 right.");
	out_has("Made and scored again: 3 the same, 2 different, 1 could not be made again.");
	out_has("line 13, a: recorded right, scored again wrong");
	out_has("not made   ");
	out_has("1 sitting did not end in order.");
	out_has("2 answers scored differently");
	out_has("Every line stands in order and as it was written.");
	out_has("Written by the machine with the key 21fe31dfa154a261.");
	out_has("What this does not show: A strand that was cut off at the end of a line looks\n"
		"  "
		"whole");
}

static void without_a_marker_answers_are_counted_only(void **state)
{
	struct audit_how how = {0};
	struct strand *s = begin_strand("l-1");
	(void)state;
	sit_open(s);
	draw(s, "a", 1);
	answer(s, "a", 1, "1", "right");
	code_is(audit_path(&audit, strand_own_path(s), &how), FINE);
	strand_close(s);
	assert_int_equal(audit.count.not_made, 1);
	assert_int_equal(audit.nremark, 0);
	assert_true(audit_is_clean(&audit));
	audit_tell(&audit, &out);
	out_has("The answers were not made and scored again.");
	out_has("nothing was changed.");
}

static void a_marker_that_fails_ends_the_audit(void **state)
{
	struct marker m = {.fails = BAD_STOPPED};
	struct audit_how how = {.replay = mark, .context = &m};
	struct strand *s = begin_strand("l-1");
	(void)state;
	sit_open(s);
	draw(s, "a", 1);
	answer(s, "a", 1, "1", "right");
	code_is(audit_path(&audit, strand_own_path(s), &how), BAD_STOPPED);
	strand_close(s);
}

static void a_folder_is_audited_in_the_order_of_names(void **state)
{
	struct marker m = {0};
	struct key_known known = {.name = "this machine"};
	struct key_ring ring = {&known, 1};
	struct audit_how how = {.replay = mark, .context = &m, .known = &ring};
	char path[3][256];
	(void)state;
	memcpy(known.open, machine.open, SIGN_PUBLIC);
	for (int i = 0; i < 3; i++) {
		char who[16];
		snprintf(who, sizeof who, "l-%d", i);
		struct strand *s = begin_strand(who);
		sit_open(s);
		draw(s, "a", 1);
		answer(s, "a", 1, "1", "right");
		sit_close(s);
		snprintf(path[i], sizeof path[i], "%s", strand_own_path(s));
		strand_close(s);
	}
	/* one is changed, one is torn; other files are passed over */
	struct source bytes = load(path[0]);
	char *text = (char *)(uintptr_t)bytes.text;
	strstr(text, "12.350")[0] = '2';
	code_is(file_replace(path[0], text, bytes.len, true), FINE);
	unload(&bytes);
	bytes = load(path[1]);
	code_is(file_replace(path[1], bytes.text, bytes.len - 3, true), FINE);
	unload(&bytes);
	code_is(file_replace(work_path("strands/note.txt"), "x", 1, false), FINE);
	code_is(folder_make(work_path("strands/x.jsonl")), FINE);
	code_is(audit_path(&audit, work_path("strands"), &how), FINE);
	assert_int_equal(audit.strands, 3);
	assert_int_equal(audit.faulty, 1);
	assert_int_equal(audit.torn, 1);
	assert_int_equal(audit.lines, 2 + 3 + 4);
	assert_int_equal(audit.diags.nerror, 1);
	assert_int_equal(audit.diags.nwarning, 1);
	assert_int_equal(audit.count.equal, 2);
	assert_false(audit_is_clean(&audit));
	for (const struct audit_strand *s = audit.first; s && s->next; s = s->next)
		assert_true(strcmp(s->path, s->next->path) < 0);
	audit_tell(&audit, &out);
	out_has("FAULT in line 3 of the file; nothing from there on was read; the 2 lines before "
		"it stand in order");
	out_has("this line was changed after it was written");
	out_has("The last line is not complete and does not count; the 3 lines before it");
	out_has("known here as this machine");
	out_has("1 strand is at fault, 0 answers scored differently.");
}

static void a_torn_strand_is_not_a_no(void **state)
{
	struct audit_how how = {0};
	char path[256];
	(void)state;
	snprintf(path, sizeof path, "%s", strand_make(&machine, "l-1", 3));
	struct source bytes = load(path);
	code_is(file_replace(path, bytes.text, bytes.len - 1, true), FINE);
	unload(&bytes);
	code_is(audit_path(&audit, path, &how), FINE);
	assert_true(audit_is_clean(&audit));
	audit_tell(&audit, &out);
	out_has("nothing was changed; an interrupted line is left out.");
}

static void a_strand_that_is_there_twice_is_noticed(void **state)
{
	struct audit_how how = {0};
	const char *path = strand_make(&machine, "l-1", 3);
	(void)state;
	code_is(audit_path(&audit, path, &how), FINE);
	assert_true(audit_is_clean(&audit));
	code_is(audit_path(&audit, path, &how), FINE);
	assert_false(audit_is_clean(&audit));
	code_is(audit.last->sum.fault, BAD_REPEATED);
}

static void what_cannot_be_read_is_told(void **state)
{
	struct audit_how how = {0};
	(void)state;
	code_is(audit_path(&audit, work_path("none"), &how), BAD_ABSENT);
	code_is(folder_make(work_path("strands")), FINE);
	code_is(audit_path(&audit, work_path("strands"), &how), FINE);
	audit_tell(&audit, &out);
	out_has("there was nothing to check");
	strand_make(&machine, "l-1", 3);
	fault_plan(1u << CALL_READ, 1, true, EIO);
	enum bad code = audit_path(&audit, work_path("strands"), &how);
	fault_end();
	code_is(code, FINE);
	code_is(audit.last->sum.fault, BAD_IO);
	assert_false(audit_is_clean(&audit));
	text_clear(&out);
	audit_tell(&audit, &out);
	out_has("FAULT: it could not be read.");
}

/* The worked strand is of a program with other bodies: whole, but nothing here to be used. */
static void lines_of_other_programs_are_counted_as_odd(void **state)
{
	struct sign_pair two = pair_of(test_2);
	struct key_known known = {.name = "instructor"};
	struct key_ring ring = {&known, 1};
	struct audit_how how = {.known = &ring};
	(void)state;
	memcpy(known.open, two.open, SIGN_PUBLIC);
	code_is(audit_path(&audit, "tests/data/record/strand.jsonl", &how), FINE);
	assert_true(audit_is_clean(&audit));
	assert_int_equal(audit.lines, 3);
	assert_int_equal(audit.count.odd, 2);
	audit_tell(&audit, &out);
	out_has("2 lines could not be used by this program.");
	out_has("which is NOT known here");
}

static void erased_and_recovered_lines_are_told(void **state)
{
	struct sign_pair two = pair_of(test_2);
	struct key_known known = {.name = "instructor"};
	struct key_ring ring = {&known, 1};
	struct audit_how how = {.known = &ring};
	char path[256];
	(void)state;
	memcpy(known.open, two.open, SIGN_PUBLIC);
	code_is(audit_path(&audit, "tests/data/record/strand-erased.jsonl", &how), FINE);
	snprintf(path, sizeof path, "%s", strand_make(&machine, "l-1", 3));
	struct source bytes = load(path);
	const char *last = memchr(bytes.text, '\n', bytes.len);
	last = (const char *)memchr(last + 1, 0x0a, (size_t)(bytes.text + bytes.len - last - 1)) +
	       1;
	size_t torn = (size_t)(bytes.text + bytes.len - 1 - last); /* the third line, without LF */
	code_is(file_replace(path, bytes.text, bytes.len - 1, true), FINE);
	unload(&bytes);
	strand_close(begin_strand("l-1"));
	code_is(audit_path(&audit, path, &how), FINE);
	assert_int_equal(audit.erased, 1);
	assert_int_equal(audit.count.recovered, 1);
	assert_int_equal(audit.count.set_aside, torn);
	audit_tell(&audit, &out);
	out_has("1 line was erased; the place in the order is kept.");
	out_has("Interrupted writing was put in order 1 time: ");
}

/* As anybody can who may write the file: the payload of one line, by its place, becomes null. */
static void take_out(const char *path, unsigned n)
{
	struct source bytes = load(path);
	struct text t;
	const char *at = bytes.text, *end = at + bytes.len, *stop;
	text_init(&t);
	for (unsigned i = 0; at < end; at = stop + 1, i++) {
		stop = memchr(at, '\n', (size_t)(end - at));
		if (i == n) {
			text_add(&t, "[null");
			at = stop - CHAIN_SUFFIX;
		}
		text_add_bytes(&t, at, (size_t)(stop + 1 - at));
	}
	code_is(file_replace(path, t.at, t.len, true), FINE);
	text_release(&t);
	unload(&bytes);
}

static void what_is_erased_without_a_note_is_a_no(void **state)
{
	struct key_known known = {.name = "this machine"};
	struct key_ring ring = {&known, 1};
	struct audit_how how = {.known = &ring};
	struct erase_how erase = {.machine = &machine};
	struct erase_sum sum;
	char path[256];
	(void)state;
	memcpy(known.open, machine.open, SIGN_PUBLIC);
	snprintf(path, sizeof path, "%s", strand_make(&machine, "l-1", 3));
	take_out(path, 1);
	code_is(audit_path(&audit, work_path(""), &how), FINE);
	assert_int_equal(audit.faulty, 0);
	assert_int_equal(audit.unnoted, 1);
	assert_false(audit_is_clean(&audit));
	audit_tell(&audit, &out);
	out_has("1 line was ERASED WITHOUT A NOTE");
	out_has("1 line was erased without a note.");
	audit_release(&audit);
	audit_init(&audit);
	code_is(erase_learner(work_path(""), "l-1", &erase, &sum, NULL), FINE);
	code_is(audit_path(&audit, work_path(""), &how), FINE);
	assert_true(audit.erased >= 1);
	assert_int_equal(audit.unnoted, 0);
	assert_true(audit_is_clean(&audit));
	audit_release(&audit);
	audit_init(&audit);
	known.open[0] ^= 1; /* whose notes count, the reader says */
	code_is(audit_path(&audit, work_path(""), &how), FINE);
	assert_int_equal(audit.unnoted, audit.erased);
	assert_false(audit_is_clean(&audit));
}

static void the_json_says_the_same(void **state)
{
	struct marker m = {0};
	struct audit_how how = {.replay = mark, .context = &m};
	struct strand *s = begin_strand("l-1");
	(void)state;
	sit_open(s);
	draw(s, "a\"\\", 1);
	answer(s, "a\"\\", 1, "1", "wrong");
	char path[256];
	snprintf(path, sizeof path, "%s", strand_own_path(s));
	strand_close(s);
	struct source bytes = load(path);
	code_is(file_replace(path, bytes.text, bytes.len - 1, true), FINE);
	unload(&bytes);
	strand_close(begin_strand("l-1"));
	code_is(audit_path(&audit, path, &how), FINE);
	s = begin_strand("l-2");
	sit_open(s);
	draw(s, "a\"\\\x1b", 1);
	answer(s, "a\"\\\x1b", 1, "1", "wrong");
	code_is(audit_path(&audit, strand_own_path(s), &how), FINE);
	strand_close(s);
	audit_json(&audit, &out);
	assert_int_equal(out.at[out.len - 1], '\n');
	out_has("{\"clean\":false,\"signatures_checked\":true,\"made_again\":true,\"strands\":[{");
	out_has("\"lines\":3,");
	out_has("\"fault\":\"fine\",\"fault_line\":0,");
	out_has("\"answers\":1,\"right\":0,\"equal\":0,\"different\":1,\"not_made\":0");
	out_has("\"item\":\"a\\\"\\\\<U+001B>\"");
	out_has("\"result\":\"different\",\"words\":\"recorded wrong, scored again right\"");
	out_has("\"not_shown\":\"A strand that was cut off");
}

static void only_so_many_remarks_are_kept(void **state)
{
	struct marker m = {0};
	struct audit_how how = {.replay = mark, .context = &m, .hashes_only = true};
	struct strand *s = begin_strand("l-1");
	(void)state;
	sit_open(s);
	draw(s, "a", 1);
	for (int i = 0; i < AUDIT_REMARKS + 5; i++)
		answer(s, "a", 1, "1", "wrong");
	code_is(audit_path(&audit, strand_own_path(s), &how), FINE);
	strand_close(s);
	assert_int_equal(audit.nremark, AUDIT_REMARKS + 5);
	audit_tell(&audit, &out);
	out_has("... and 5 more");
	out_has("Who wrote the lines was not checked");
}

static void running_out_of_memory_is_an_ordinary_answer(void **state)
{
	struct marker m = {0};
	struct audit_how how = {.replay = mark, .context = &m};
	struct strand *s = begin_strand("l-1");
	(void)state;
	sit_open(s);
	draw(s, "a", 1);
	answer(s, "a", 1, "1", "wrong");
	strand_close(s);
	for (int ever = 0; ever < 2; ever++)
		for (unsigned long n = 1;; n++) {
			assert_true(n < 200);
			mem_fail_at(n, ever);
			enum bad code = audit_path(&audit, work_path("strands"), &how);
			if (!code)
				audit_tell(&audit, &out);
			if (!code && (out.out || audit.diags.out))
				code = BAD_MEMORY;
			int failed = mem_failed();
			mem_fail_at(0, 0);
			code_is(code, failed ? BAD_MEMORY : FINE);
			audit_release(&audit);
			text_release(&out);
			if (!failed)
				break;
		}
}

/* ---- seals ----------------------------------------------------------------------------------- */

/* A watched sitting under a seal, practice before and after it. */
static const char *sealed_strand(struct arena *a, struct line_seal *seal)
{
	static char path[256];
	struct strand *s = begin_strand("l-1");
	sit_through(s, "home", "drill", 1);
	sit_through(s, "watched", "sit", 3);
	*seal = seal_it(s, "watched", NULL, a);
	sit_through(s, "later", "drill", 2);
	snprintf(path, sizeof path, "%s", strand_own_path(s));
	strand_close(s);
	return path;
}

static void only_what_was_watched_counts_as_assessed(void **state)
{
	struct audit_how how = {.assessors = &assessors};
	struct arena a = {0};
	struct line_seal seal;
	(void)state;
	code_is(audit_path(&audit, sealed_strand(&a, &seal), &how), FINE);
	assert_true(audit_is_clean(&audit));
	assert_int_equal(audit.seals_hold, 1);
	assert_int_equal(audit.count.answers, 6);
	assert_int_equal(audit.count.assessed, 3);
	assert_int_equal(audit.count.assessed_right, 2);
	audit_tell(&audit, &out);
	out_has("SEALED by D. Ruiz on 2026-11-25 at 09:30 UTC: the 11 lines before it; watched: "
		"sitting watched; identity: photo-card.");
	out_has("ASSESSED: 3 answers, 2 right");
	out_has("Practice, which nobody vouches for: 3 answers, 2 right");
	out_has("1 seal holds. Assessed: 3 answers");
	out_has("- Who sat at the keyboard: only the assessor's word");
	text_clear(&out);
	audit_json(&audit, &out);
	out_has("\"assessed\":{\"answers\":3,\"right\":2,");
	out_has("\"practice\":{\"answers\":3,\"right\":2,");
	out_has("\"fixed_lines\":11,\"seals\":[{\"n\":11,\"worth\":\"holds\"");
	arena_release(&a);
}

/* Whoever has the machine has its key, and can write any line; a seal is what they cannot write. */
static void a_forged_line_is_reported_as_practice(void **state)
{
	struct audit_how how = {.assessors = &assessors};
	struct arena a = {0};
	struct line_seal seal;
	struct strand *s;
	(void)state;
	sealed_strand(&a, &seal);
	s = begin_strand("l-1");
	sit_through(s, "watched", "sit", 40); /* the same code once more, all of it forged */
	char path[256];
	snprintf(path, sizeof path, "%s", strand_own_path(s));
	strand_close(s);
	code_is(audit_path(&audit, path, &how), FINE);
	assert_true(audit_is_clean(&audit));
	assert_int_equal(audit.count.assessed, 3);
	assert_int_equal(audit.count.answers - audit.count.assessed, 3 + 40);
	arena_release(&a);
}

static void a_strangers_seal_counts_for_nothing(void **state)
{
	struct audit_how how = {0};
	struct arena a = {0};
	struct line_seal seal;
	(void)state;
	code_is(audit_path(&audit, sealed_strand(&a, &seal), &how), FINE);
	assert_true(audit_is_clean(&audit));
	assert_int_equal(audit.seals_strange, 1);
	assert_int_equal(audit.count.assessed, 0);
	audit_tell(&audit, &out);
	out_has("A seal in line 12 says it is by D. Ruiz, key 39f713d0a644253f. It counts for "
		"nothing: its key is not one that is accepted here");
	out_has("Nothing here is sealed by an accepted assessor: all of it counts as practice.");
	arena_release(&a);
}

/* Cut at every line's end: with the witness list each one is noticed up to the seal. */
static void every_cut_of_a_sealed_strand_is_noticed_by_the_witness_list(void **state)
{
	struct audit_how how = {.assessors = &assessors};
	struct arena a = {0};
	struct line_seal seal;
	char id[STRAND_ID + 1];
	(void)state;
	const char *path = sealed_strand(&a, &seal), *list = work_path("stick.jsonl");
	struct source whole = load(path);
	strand_id("l-1", machine.open, id);
	code_is(witness_add(list, &assessor_pair, id, &seal, NULL), FINE);
	unsigned line = 0;
	for (const char *stop = whole.text - 1; (stop = strchr(stop + 1, '\n')); line++) {
		code_is(file_replace(path, whole.text, (size_t)(stop + 1 - whole.text), true),
			FINE);
		code_is(audit_path(&audit, path, &how), FINE);
		code_is(audit_witness(&audit, list, &assessors), FINE);
		code_is(audit_compare(&audit), FINE);
		bool want = line >= 11; /* the seal stands in line 11 from 0 */
		if (audit_is_clean(&audit) != want)
			fail_msg("cut behind line %u: clean is %d", line, !want);
		if (line == 10) {
			audit_tell(&audit, &out);
			out_has("1 witness list, 1 seal noted:");
			out_has("LOST  strand ");
			out_has("the seal is missing");
			out_has("1 sealed piece of work lost");
		}
		audit_release(&audit);
	}
	unload(&whole);
	/* all of it gone, where it should be */
	code_is(file_remove(path), FINE);
	code_is(audit_path(&audit, work_path("strands"), &how), FINE);
	code_is(audit_witness(&audit, list, &assessors), FINE);
	code_is(audit_compare(&audit), FINE);
	assert_int_equal(audit.nloss, 1);
	assert_null(audit.loss->strand);
	assert_false(audit_is_clean(&audit));
	text_clear(&out);
	audit_json(&audit, &out);
	out_has("\"lost\":[{\"strand\":\"s-");
	arena_release(&a);
}

/* The seal was cut off and work went on; or the end was written anew, in which case the tree over as many
 * lines is another one. */
static void a_strand_that_went_on_is_told_from_one_written_anew(void **state)
{
	struct audit_how how = {.assessors = &assessors};
	struct arena a = {0};
	struct line_seal seal;
	char id[STRAND_ID + 1];
	(void)state;
	const char *path = sealed_strand(&a, &seal), *list = work_path("stick.jsonl");
	struct source whole = load(path);
	strand_id("l-1", machine.open, id);
	code_is(witness_add(list, &assessor_pair, id, &seal, NULL), FINE);
	for (int kept = 11; kept >= 10; kept--) {
		const char *stop = whole.text;
		struct strand *s;
		for (int i = 0; i < kept; i++)
			stop = strchr(stop, '\n') + 1;
		code_is(file_replace(path, whole.text, (size_t)(stop - whole.text), true), FINE);
		code_is(strand_open(work_folder, "l-1", &machine, &s, NULL), FINE);
		code_is(add_some(s, 4), FINE);
		strand_close(s);
		code_is(audit_path(&audit, path, &how), FINE);
		code_is(audit_witness(&audit, list, &assessors), FINE);
		code_is(audit_compare(&audit), FINE);
		assert_int_equal(audit.nloss, 1);
		text_clear(&out);
		audit_tell(&audit, &out);
		out_has(kept == 11 ? "its lines are as they were sealed, but the seal is missing"
				   : "its lines are not the ones that were sealed");
		audit_release(&audit);
	}
	unload(&whole);
	arena_release(&a);
}

static void clocks_that_were_moved_are_told(void **state)
{
	struct audit_how how = {.assessors = &assessors};
	struct arena a = {0};
	int64_t before = fixed_now;
	struct strand *s = begin_strand("l-1");
	(void)state;
	sit_open(s);
	fixed_now += 3600 * 1000; /* an hour, while the machine counted nothing */
	sit_close(s);
	seal_it(s, NULL, NULL, &a);
	fixed_now -= 60 * 1000;
	sit_open(s);
	code_is(audit_path(&audit, strand_own_path(s), &how), FINE);
	strand_close(s);
	fixed_now = before;
	assert_int_equal(audit.first->sum.set_forward, 1);
	assert_int_equal(audit.first->sum.set_back, 1);
	audit_tell(&audit, &out);
	out_has("The clock was set forward 1 time.");
	out_has("The clock was set back 1 time.");
	out_has("By the assessor's watch it was 2026-11-25T09:30 UTC: the machine's clock was 60 "
		"minutes off.");
	arena_release(&a);
}

static void forks_are_not_clean(void **state)
{
	struct audit_how how = {0};
	(void)state;
	const char *path = strand_make(&machine, "l-1", 3);
	struct source bytes = load(path);
	code_is(folder_make(work_path("forks")), FINE);
	code_is(file_replace(work_path("forks/x.jsonl"), bytes.text, bytes.len, true), FINE);
	unload(&bytes);
	code_is(audit_path(&audit, work_folder, &how), FINE);
	assert_int_equal(audit.strands, 2);
	assert_int_equal(audit.faulty, 0);
	assert_int_equal(audit.forks, 1);
	assert_false(audit_is_clean(&audit));
	audit_tell(&audit, &out);
	out_has("FORK: one of several histories");
	out_has("1 history stands apart");
}

#define T(name) cmocka_unit_test_setup_teardown(name, begin, end)
int main(void)
{
	const struct CMUnitTest tests[] = {
		T(answers_meet_their_draws),
		T(without_a_marker_answers_are_counted_only),
		T(a_marker_that_fails_ends_the_audit),
		T(a_folder_is_audited_in_the_order_of_names),
		T(a_torn_strand_is_not_a_no),
		T(a_strand_that_is_there_twice_is_noticed),
		T(what_cannot_be_read_is_told),
		T(lines_of_other_programs_are_counted_as_odd),
		T(erased_and_recovered_lines_are_told),
		T(what_is_erased_without_a_note_is_a_no),
		T(the_json_says_the_same),
		T(only_so_many_remarks_are_kept),
		T(only_what_was_watched_counts_as_assessed),
		T(a_forged_line_is_reported_as_practice),
		T(a_strangers_seal_counts_for_nothing),
		T(every_cut_of_a_sealed_strand_is_noticed_by_the_witness_list),
		T(a_strand_that_went_on_is_told_from_one_written_anew),
		T(clocks_that_were_moved_are_told),
		T(forks_are_not_clean),
		T(running_out_of_memory_is_an_ordinary_answer),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
