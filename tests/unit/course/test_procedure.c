/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the author of a procedure is told: each fault, put into a sound one in turn, must be found with
 * its code, at its line. What is wanted is what check promises of a procedure: unreachable steps, circles, faults
 * that show before they are made or never, unknown names, unit clashes, what nobody uses. */
#include "author.h"

#include "course/procedure.h"
#include "small_procedure.h"

/* The sound text with one piece of it replaced. */
static char *changed(const char *from, const char *to)
{
	const char *at = strstr(small_procedure, from);
	assert_non_null(at);
	size_t len = sizeof small_procedure + strlen(to);
	char *made = malloc(len);
	assert_non_null(made);
	snprintf(made, len, "%.*s%s%s", (int)(at - small_procedure), small_procedure, to,
		at + strlen(from));
	return made;
}

static void a_sound_procedure_is_read_without_a_word(void **state)
{
	struct author w;
	struct procedure p;
	(void)state;
	author_writes(&w, small_procedure);
	code_is(procedure_read(&w.arena, &w.source, w.file.root, &w.diags, &p), FINE);
	told_nothing("the sound one", &w.diags);
	same_whole("steps", p.nstep, 3);
	same_whole("faults", p.nfault, 2);
	same_whole("what stands before C", p.step[2].before, 3);
	same_whole("sites of the case", p.cases[0].nsite, 2);
	same_whole("F2 shows in service", p.fault[1].shows, AT_SERVICE);
	near("reading that tells", p.fault[0].below, 19.5, 1e-12);
	near("wait", p.stuff[0].wait_s, 3600, 1e-9);
	near("half an hour at most", p.window[0].most_s, 1800, 1e-9);
	author_ends(&w);
}

static const struct {
	const char *why, *from, *to, *told; /* told: must stand in what the author is told */
} faults[] = {
	{"a circle", "    after: [A]\n", "    after: [A, C]\n",
		"has to be done before itself [wrong-order]"},
	{"a step after itself", "    after: [B]\n", "    after: [B, C]\n",
		"C has to be done before itself [wrong-order]"},
	{"a later step wanted first", "    undoes: [B]\n", "    undoes: [B]\n    after: [C]\n",
		"[wrong-order]"},
	{"an unknown step", "after: [A]", "after: [AA]", "no step is called 'AA' [unknown-name]"},
	{"an unknown property", "does: {length: cut_to}", "does: {lenght: cut_to}",
		"'lenght' is no property of the work that can be set [unknown-name]"},
	{"its nearest", "does: {length: cut_to}", "does: {lenght: cut_to}",
		"did you mean 'length'?"},
	{"an unknown name in a condition", "when: missing > 0.5 mm", "when: mising > 0.5 mm",
		"[unknown-name]"},
	{"a unit clash in a condition", "when: missing > 0.5 mm", "when: missing > 0.5 MPa",
		"[unit-clash]"},
	{"a unit clash in what is set", "does: {length: cut_to}", "does: {length: 3 N}",
		"[unit-clash]"},
	{"a time that is a length", "    time: 10 min\n", "    time: 10 mm\n",
		"the time is a length where a time is needed [unit-clash]"},
	{"a wait that is a length", "    time: 10 min\n",
		"    time: 10 min\n    wait: {time: 10 mm}\n", "[unit-clash]"},
	{"a wait without a time", "    time: 10 min\n", "    time: 10 min\n    wait: {for: tea}\n",
		"'time' is missing in 'wait' [missing]"},
	{"a number of a fault without a limit", "    unnoticed: useless\n",
		"    unnoticed: useless\n    number: {about: rod, is: length, unit: mm}\n",
		"'least' or 'most' is needed [missing]"},
	{"a limit of a fault in another unit", "    unnoticed: useless\n",
		"    unnoticed: useless\n"
		"    number: {about: rod, is: length, least: 3 N, unit: mm}\n",
		"[unit-clash]"},
	{"a reason with a name that is not there", "    unnoticed: useless\n",
		"    unnoticed: useless\n"
		"    number: {about: rod, is: length, least: 3 mm, unit: mm, for: 'of {wood}'}\n",
		"'wood' [unknown-name]"},
	{"a number of a fault that is no list", "    unnoticed: useless\n",
		"    unnoticed: useless\n"
		"    number: {about: rod, is: length, each: site, least: 3 mm, unit: mm}\n",
		"[wrong-type]"},
	{"a tool for another quantity", "reads: length, time: 2 min", "reads: bite_N_, time: 2 min",
		"[unknown-name]"},
	{"a reading in another unit", "reads: mm, resolution: 0.05 mm, error: 0.02 mm",
		"reads: N, resolution: 1 N, error: 1 N",
		"'caliper' reads a force, but this is a length [unit-clash]"},
	{"a limit in another unit", "below: 19.5 mm", "below: 19.5 N", "[unit-clash]"},
	{"a limit of a look that reads nothing", "look: hole, sign: chips",
		"look: hole, below: 1 mm, sign: chips", "this look reads no number [wrong-type]"},
	{"no limit of a look that reads", "below: 19.5 mm, ", "", "'below' or 'above' [missing]"},
	{"shown before it is made", "made: B\n", "made: C\n",
		"before it is made at C [wrong-order]"},
	{"shown at an earlier step", "at: service, seen", "at: A, seen",
		"F2 shows at A, before it is made at B [wrong-order]"},
	{"checked before it is made", "check: {at: B", "check: {at: A",
		"F2 is checked at A, before it is made at B [wrong-order]"},
	{"always there", "when: missing > 0.5 mm", "when: 1 mm > 0.5 mm", "hangs on no number"},
	{"a condition that is a number", "when: missing > 0.5 mm", "when: missing",
		"gives a number where a truth (yes or no) is needed [wrong-type]"},
	{"an unused property", "  length: {",
		"  idle: {unit: mm, start: 1 mm, about: nothing}\n  length: {",
		"'idle' is never used [unused]"},
	{"a property nothing gives a value", "does: {length: cut_to}",
		"does: {length: cut_to + idle}", "[unknown-name]"},
	{"an unused look", "faults:\n", "faults:\n", ""},
	{"a choice without a value", "{choice: fast, title: fast, value: 2}",
		"{choice: fast, title: fast}", "[missing]"},
	{"a range upside down", "from: 5 mm, to: 50 mm", "from: 50 mm, to: 5 mm",
		"'to' is not above 'from' [wrong-order]"},
	{"a hand in another unit", "hand: 0.1 mm", "hand: 0.1 N", "[unit-clash]"},
	{"no usual answer", ", hand: 0.1 mm, usual: wanted", ", hand: 0.1 mm", "[missing]"},
	{"an unknown material", "uses: {rods: 1}", "uses: {bars: 1}",
		"no material is called 'bars' [unknown-name]"},
	{"no values where sites are needed", "values: {site_x: [0 mm, 10 mm]}}",
		"values: {length: 1 mm}}", "a case needs site_x for 2 to 8 sites [wrong-count]"},
	{"too many values in a case", "site_x: [0 mm, 10 mm]", "site_x: [0 mm]",
		"a case needs site_x for 2 to 8 sites [wrong-count]"},
	{"a way back that does not take its step back", "undoes: [A, B], then", "undoes: [B], then",
		"'new-rod' goes on at A but does not take it back [wrong-order]"},
	{"a remedy that is no way back", "back: new-rod}", "back: old-rod}",
		"no way back is called 'old-rod' [unknown-name]"},
	{"a step twice", "  - step: B\n", "  - step: A\n",
		"a step is called 'A' already [repeated]"},
	{"a word twice", "    word: bore\n", "    word: cut\n",
		"'cut' is typed for another step already [repeated]"},
	{"a fault twice", "  - fault: F2\n", "  - fault: F1\n",
		"a fault is called 'F1' already [repeated]"},
	{"a name twice", "{ask: bore,", "{ask: length,", "'length' is there already [repeated]"},
	{"a misspelt key", "    station: s\n    competency: K2\n",
		"    station: s\n    competnecy: K2\n", "[missing]"},
	{"an end without words", "  returned: back\n", "", "'returned'"},
	{"loads without a bar", "when: missing > 0.5 mm", "when: max(rigid_load) > 1 N",
		"for which a property 'site_y' is needed [missing]"},
	{"a part that ends before it begins", "from: A, to: C}", "from: C, to: A}",
		"this step stands before the one where the part begins [wrong-order]"},
};

static void each_fault_is_told(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof faults / sizeof *faults; i++) {
		struct author w;
		struct procedure p;
		struct text got;
		char *text = changed(faults[i].from, faults[i].to);
		text_init(&got);
		author_writes(&w, text);
		code_is(procedure_read(&w.arena, &w.source, w.file.root, &w.diags, &p), FINE);
		diags_print(&w.diags, &got);
		if (!strstr(got.at, faults[i].told)) {
			print_error(
				"%s: want\n%s\nin\n%s\n", faults[i].why, faults[i].told, got.at);
			fail();
		}
		text_release(&got);
		author_ends(&w);
		free(text);
	}
}

/* Every prefix and every line left out: told, or read, but never a crash. */
static void what_is_left_out_never_hurts(void **state)
{
	(void)state;
	for (const char *line = small_procedure; *line;) {
		const char *next = strchr(line, '\n') + 1;
		size_t before = (size_t)(line - small_procedure), len = (size_t)(next - line);
		char *text = malloc(sizeof small_procedure);
		struct author w;
		struct procedure p;
		assert_non_null(text);
		memcpy(text, small_procedure, before);
		memcpy(text + before, next, sizeof small_procedure - before - len);
		author_writes(&w, text);
		if (w.file.root)
			code_is(procedure_read(&w.arena, &w.source, w.file.root, &w.diags, &p),
				FINE);
		author_ends(&w);
		memcpy(text, small_procedure, before + len / 2);
		text[before + len / 2] = 0;
		author_writes(&w, text);
		if (w.file.root)
			code_is(procedure_read(&w.arena, &w.source, w.file.root, &w.diags, &p),
				FINE);
		author_ends(&w);
		free(text);
		line = next;
	}
}

static void running_out_of_memory_is_an_ordinary_code(void **state)
{
	char path[] = "/tmp/barwright-procedure-XXXXXX";
	int fd = mkstemp(path), failed = 1;
	(void)state;
	assert_true(fd >= 0);
	close(fd);
	code_is(file_replace(path, small_procedure, sizeof small_procedure - 1, false), FINE);
	for (unsigned long n = 1; failed; n++) {
		struct arena a = {0};
		struct diags d = {.arena = &a};
		struct procedure p;
		mem_fail_at(n, 1);
		enum bad code = procedure_load(path, &p, &d);
		failed = mem_failed();
		mem_fail_at(0, 0);
		/* what is kept for a suggestion only may be missing */
		if (!failed || code)
			code_is(code, failed ? BAD_MEMORY : FINE);
		else
			assert_true(p.nstep == 3 && p.nfault == 2 && !d.nerror);
		if (!code)
			procedure_release(&p);
		arena_release(&a);
	}
	unlink(path);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_sound_procedure_is_read_without_a_word),
		cmocka_unit_test(each_fault_is_told),
		cmocka_unit_test(what_is_left_out_never_hurts),
		cmocka_unit_test(running_out_of_memory_is_an_ordinary_code),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
