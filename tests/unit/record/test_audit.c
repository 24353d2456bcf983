/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include "file_fault.h"
#include "strand_fixture.h"

#include <barwright/record/audit.h>

static struct sign_pair machine;
static struct audit audit;
static struct text out;

static int begin(void **state)
{
	machine = pair_of(test_1);
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
	if (!strstr(out.at, words))
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
	out_has("FAULT in line 3 of the file; the 2 lines before it stand in order");
	out_has("this line was changed after it was written");
	out_has("The last line is not complete and does not count; the 3 lines before it");
	out_has("which is known here");
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
	code_is(file_replace(path, bytes.text, bytes.len - 1, true), FINE);
	unload(&bytes);
	strand_close(begin_strand("l-1"));
	code_is(audit_path(&audit, path, &how), FINE);
	assert_int_equal(audit.erased, 1);
	assert_int_equal(audit.count.recovered, 1);
	audit_tell(&audit, &out);
	out_has("1 line was erased on request; the place in the order is kept.");
	out_has("Interrupted writing was put in order 1 time.");
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
		T(the_json_says_the_same),
		T(only_so_many_remarks_are_kept),
		T(running_out_of_memory_is_an_ordinary_answer),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
