/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One sound case, and everything that can be wrong with one: each row changes one text of it. */
#include "near.h"

#include "arena.h"
#include "out_of_memory.h"

#include <string.h>

#include <barwright/base/text.h>

#include "course/case.h"

#define SITE(tooth, x, y) \
	"  - {tooth: " tooth ", x: " x ", y: " y ", diameter: 4.1, platform: 0, tissue: 2.5, " \
	"matrix: 15.5, cylinder: 12"

static const char sound[] =
	"case: five\n"
	"jaw: lower\n"
	"axes: {x: left, y: front}\n"
	"sites:\n" SITE("46", "-16", "-11") "}\n" SITE("44", "-9", "-3") "}\n" SITE(
		"41", "0", "0") "}\n" SITE("34", "9", "-3") ", tilt: 17}\n" SITE("36", "16",
		"-11") "}\n"
		       "space: {clearance: 1.5, opaque: 0.3, resin: 2, tooth: 4, cover: 2}\n"
		       "bar: {stock: [3.5, 5], width: 8, modulus: 20 GPa, shear_modulus: 4 GPa, "
		       "strength: 400 "
		       "MPa}\n"
		       "extension: {right: 10, left: 1.2 cm}\n"
		       "rules: {spread: distal-surface, factor: 1.5, cap: 15, minimum_thickness: "
		       "3.5, engagement: "
		       "4, safety: 2.5}\n"
		       "loads:\n"
		       "  - {force: 200 N, at: left-end}\n"
		       "  - {force: 50 N, at: 41}\n"
		       "  - {force: 30 N, at: {x: -9, y: -2}}\n"
		       "supports: {stiffness: 5000 N/mm}\n";

/* The sound case with the first `old` changed into `new`. */
static const struct source *with(const char *old, const char *new)
{
	struct source *s = arena_new(&arena, struct source);
	const char *at = strstr(sound, old);

	assert_non_null(s);
	if (!at)
		fail_msg("'%s' does not stand in the case", old);
	char *text =
		arena_format(&arena, "%.*s%s%s", (int)(at - sound), sound, new, at + strlen(old));
	assert_non_null(text);
	*s = (struct source){"c.yaml", text, strlen(text)};
	return s;
}

static void sound_case_is_read_into_mm_and_rad(void **state)
{
	(void)state;
	struct diags d = {.arena = &arena};
	struct case_file c;

	code_is(case_read(&arena, with("case", "case"), &d, &c), FINE);
	assert_int_equal(d.nwarning, 0);
	assert_true(c.lower_jaw);
	assert_int_equal(c.nsite, 5);
	assert_string_equal(c.site[3].tooth, "34");
	near("radius", c.site[0].at.radius_mm, 2.05, 1e-12);
	near("tilt, 17 pi/180", c.site[3].space.tilt_rad, 0.29670597283903605, 1e-12);
	near("modulus", c.modulus_MPa, 20000, 1e-9);
	near("left", c.left_mm, 12, 1e-9);
	near("wet, by default", c.wet, 0.73, 0);
	assert_int_equal(c.load[1].site, 2);
	near("the straight end, 12 + 2.05", hypot(c.load[0].x_mm - 16, c.load[0].y_mm + 11), 14.05,
		1e-9);
}

/* The case again with x to the right and y to the back: every x and y has the other sign. */
static char *turned(void)
{
	struct text t;
	text_init(&t);
	for (const char *at = sound; *at; at++) {
		text_add_char(&t, *at);
		bool word = at > sound && (at[-1] == ' ' || at[-1] == '{');
		if (!word || (*at != 'x' && *at != 'y') || at[1] != ':')
			continue;
		text_add(&t, ": ");
		at += 2;
		if (at[1] == '-')
			at++;
		else if (at[1] >= '1' && at[1] <= '9')
			text_add_char(&t, '-');
	}
	char *copy = arena_copy(&arena, t.at, t.len);
	text_release(&t);
	char *axes = strstr(copy, "x: left, y: front}");
	assert_non_null(axes);
	memcpy(axes, "x: right, y: back}", 18);
	return copy;
}

static void axes_to_the_right_and_back_are_turned(void **state)
{
	(void)state;
	struct diags d = {.arena = &arena};
	struct case_file c, other;
	char *text = turned();
	struct source s = {"t.yaml", text, strlen(text)};

	code_is(case_read(&arena, with("case", "case"), &d, &c), FINE);
	code_is(case_read(&arena, &s, &d, &other), FINE);
	for (size_t i = 0; i < 5; i++) {
		near("x", other.site[i].at.x_mm, c.site[i].at.x_mm, 1e-12);
		near("y", other.site[i].at.y_mm, c.site[i].at.y_mm, 1e-12);
	}
	near("load at a point", other.load[2].x_mm, -9, 1e-12);
	near("load at the end", other.load[0].x_mm, c.load[0].x_mm, 1e-12);
}

#define EIGHT    "4, 4, 4, 4, 4, 4, 4, 4, "
#define SUPPORTS "supports: {stiffness: 5000 N/mm}\n"

/* What is changed, and a piece of what must be said; error false: a warning, and the case is read. */
static const struct fault {
	const char *old, *new;
	bool error;
	const char *said;
} faults[] = {
	{"case: five\n", "", true, "error: 'case' is missing [missing]"},
	{"jaw: lower", "jaw: middle", true, "c.yaml:2:6: error: 'jaw' is 'middle'"},
	{"tooth: 46", "tooth: 16", true, "c.yaml:5:13: error: tooth 16 is not in the lower jaw"},
	{"tooth: 46", "tooth: molar", true, "'tooth' is no tooth number of ISO 3950"},
	{"tooth: 44", "tooth: 46", true, "c.yaml:6:13: error: site 46 is there twice [repeated]"},
	{"tooth: 41", "tooth: 45", true,
		"c.yaml:7:13: error: site 45 stands after 44 but comes before it around the arch"},
	{"x: -9, y: -3", "x: 9.5, y: -3", true,
		"error: site 44 belongs to the patient's right, but x puts it on the left"},
	{"x: -9, y: -3", "x: -16, y: -11", true,
		"error: site 44 stands where site 46 stands [no-unique-answer]"},
	{"x: -9, y: -3", "x: -15, y: -8", true, "error: site 44 overlaps site 46"},
	{"x: 0, y: 0", "x: 0, y: -20", true, "error: the sites do not run around an arch"},
	{"diameter: 4.1", "diameter: 0", true, "'diameter' is '0'; it must be from 1 to 12 mm"},
	{"diameter: 4.1", "diameter: 7", false, "warning: 'diameter' is 7 mm, which is unusual"},
	{"matrix: 15.5", "matrix: 155", true, "'matrix' is '155'; it must be from 1 to 60 mm"},
	{"matrix: 15.5", "matrix: 2.4", true, "error: the matrix lies below the tissue at site 46"},
	{"matrix: 15.5", "matrix: 15.5 N", true, "[unit-clash]"},
	{"cylinder: 12, tilt", "cylinder: 12, lean", true, "nothing here is called 'lean'"},
	{"tilt: 17", "tilt: 44", false, "warning: 'tilt' is 44 deg, which is unusual"},
	{"[3.5, 5]", "[]", true, "c.yaml:11:14: error: the stock list is empty [missing]"},
	{"[3.5, 5]", "[3.5, 5 MPa]", true, "error: entry 2 of 'stock' is '5 MPa'"},
	{"[3.5, 5]", "[2.5, 3]", false,
		"warning: no stock reaches the minimum thickness of 3.5 mm"},
	{"width: 8", "width: 0", true, "'width' is '0'; it must be from 1 to 30 mm"},
	{"width: 8", "width: 4", true,
		"error: the bar is 4.0 mm wide and its hole at site 46 4.1 mm: nothing is left"},
	{"modulus: 20 GPa", "modulus: 20 MPa", true, "'modulus' is '20 MPa'; it must be from 0.5"},
	{"modulus: 20 GPa", "modulus: 110 GPa", false, "warning: 'modulus' is 110 GPa"},
	{"strength: 400 MPa", "strength: 400 mm", true, "[unit-clash]"},
	{"right: 10, ", "", true, "error: 'right' is missing in 'extension' [missing]"},
	{"right: 10", "right: 200", true, "'right' is '200'; it must be from 0 to 60 mm"},
	{"right: 10", "right: 25", false, "warning: 'right' is 25 mm, which is unusual"},
	{"distal-surface", "distal", true,
		"'spread' is 'distal'; it can be: distal-surface, centres"},
	{"factor: 1.5", "factor: 3", false, "warning: 'factor' is 3, which is unusual"},
	{"at: left-end", "at: end", true, "error: 'at' names no place on the bar [unknown-name]"},
	{"at: 41", "at: 42", true, "error: there is no site 42 to load [unknown-name]"},
	{"{x: -9, y: -2}", "{x: -9, y: 30}", true, "mm off the bar [out-of-range]"},
	{"{x: -9, y: -2}", "{x: -9, y: 7}", false, "mm beside the bar's centreline"},
	{"force: 200 N", "force: 200 kg", true, "[unit-clash]"},
	{"force: 200 N", "force: 20000 N", true, "it must be from 1 to 3000 N"},
	{"force: 200 N", "force: 0 N", true, "it must be from 1 to 3000 N"},
	{"stiffness: 5000 N/mm", "stiffness: 5000 N", true, "a force, where a stiffness is needed"},
	{"stiffness: 5000 N/mm", "stiffness: 0", true, "it must be from 1 to 1e+07 N/mm"},
	{"supports: {stiffness: 5000 N/mm}\n", "joint: {diameter: 4, bond: 10 MPa}\n", true,
		"error: 'supports' is missing [missing]"},
	{"safety: 2.5", "safety: 2.5, savety: 3", true, "nothing here is called 'savety'"},
	{"loads:\n", "lods:\n", true, "nothing here is called 'lods'"},
	{"{x: left, y: front}", "left", true, "'axes' is a single value where a table is needed"},
	{"{x: left, y: front}", "{x: left, y: up}", true, "'y' is 'up'; it can be: front, back"},
	{"[3.5, 5]", "3.5", true, "'stock' is a single value where a list is needed"},
	{"[3.5, 5]", "[" EIGHT EIGHT EIGHT EIGHT "4]", true,
		"there are 33 thicknesses, more than 32"},
	{"{stiffness: 5000 N/mm}", "5000 N/mm", true, "'supports' is a single value where a table"},
	{"  - {force: 50 N, at: 41}\n", "  - 50 N\n", true,
		"entry 2 of 'loads' is a single value where a table is needed"},
	{SUPPORTS, SUPPORTS "joint: 4 mm\n", true,
		"'joint' is a single value where a table is needed"},
	{SUPPORTS, SUPPORTS "joint: {diameter: 4, bond: 10 MPa, share: 2}\n", true,
		"'share' is '2'; it must be from 0.01 to 1"},
	{SUPPORTS, SUPPORTS "joint: {diameter: 4, bond: 2 MPa}\n", false,
		"warning: 'bond' is 2 MPa, which is unusual"},
};

static void every_fault_is_told_at_its_place(void **state)
{
	(void)state;
	int failed = 0;

	for (size_t i = 0; i < sizeof faults / sizeof *faults; i++) {
		const struct fault *f = &faults[i];
		struct diags d = {.arena = &arena};
		struct case_file c;
		struct text t;
		enum bad code = case_read(&arena, with(f->old, f->new), &d, &c);
		text_init(&t);
		diags_print(&d, &t);
		if (!strstr(t.at, f->said) || (code != FINE) != f->error ||
			(d.nerror != 0) != f->error) {
			failed++;
			fprintf(stderr, "%s -> %s: code %s, wanted '%s', got\n%s\n", f->old, f->new,
				bad_word(code), f->said, t.at);
		}
		text_release(&t);
	}
	assert_int_equal(failed, 0);
}

static void what_is_no_case_at_all_is_told(void **state)
{
	static const struct {
		const char *text;
		enum bad code;
	} rows[] = {
		{"", BAD_MISSING}, {"case", BAD_TYPE}, {"[case, five]", BAD_TYPE},
		{"{case: five", BAD_SYNTAX}, {"sites: 3", BAD_MISSING}, /* 'case' first of all */
	};

	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct diags d = {.arena = &arena};
		struct source s = {"c.yaml", rows[i].text, strlen(rows[i].text)};
		struct case_file c = {.nsite = 7};
		code_is(case_read(&arena, &s, &d, &c), rows[i].code);
		assert_true(d.nerror > 0);
		assert_int_equal(c.nsite, 7);
	}
}

static void too_few_sites_are_told(void **state)
{
	(void)state;
	const char *from = strstr(sound, "  - {tooth: 41"), *to = strstr(sound, "space:");
	struct diags d = {.arena = &arena};
	struct case_file c;
	char *text = arena_format(&arena, "%.*s%s", (int)(from - sound), sound, to);
	struct source s = {"two.yaml", text, strlen(text)};

	code_is(case_read(&arena, &s, &d, &c), BAD_COUNT);
	assert_string_equal(d.first->words, "3 to 16 sites are needed, not 2");
	assert_int_equal(d.first->place.line, 5);
}

/* Whole: the line, the caret, the hint, the other place; the faults after the first one too. */
static void faults_are_shown_with_caret_hint_and_note(void **state)
{
	(void)state;
	struct diags d = {.arena = &arena};
	struct case_file c;
	struct text t;
	static const char want[] =
		"c.yaml:7:20: error: 'x' is '1 kg', a mass, where a length is needed [unit-clash]\n"
		"    7 |   - {tooth: 45, x: 1 kg, y: 0, diameter: 4.1, platform: 0, tissue: 2.5, "
		"matrix: 15.5, cyli\n"
		"      |                    ^~~~\n"
		"hint: write for example 3.5 mm\n"
		"c.yaml:16:23: error: there is no site 41 to load [unknown-name]\n"
		"   16 |   - {force: 50 N, at: 41}\n"
		"      |                       ^~\n"
		"hint: write left-end, right-end, the tooth number of a site or {x: , y: }\n"
		"c.yaml:7:13: error: site 45 stands after 44 but comes before it around the arch "
		"[wrong-order]\n"
		"    7 |   - {tooth: 45, x: 1 kg, y: 0, diameter: 4.1, platform: 0, tissue: 2.5, "
		"matrix: 15.5, cyli\n"
		"      |             ^~\n"
		"c.yaml:6:13: note: this is site 44\n"
		"hint: list the sites from the patient's right to left\n";

	code_is(case_read(&arena, with("tooth: 41, x: 0", "tooth: 45, x: 1 kg"), &d, &c), BAD_UNIT);
	text_init(&t);
	diags_print(&d, &t);
	int same = strcmp(t.at, want) == 0;
	if (!same)
		fprintf(stderr, "got\n%s", t.at);
	text_release(&t);
	assert_true(same);
}

static void missing_file_is_a_code_without_words(void **state)
{
	(void)state;
	struct diags d = {.arena = &arena};
	struct source s;
	struct case_file c;

	code_is(case_load_file(&arena, "/nowhere/case.yaml", &s, &d, &c), BAD_ABSENT);
	assert_int_equal(d.nerror, 0);
}

static enum bad read_sound(void *to)
{
	struct source s = {"c.yaml", sound, sizeof sound - 1};
	struct arena own = {0};
	struct diags d = {.arena = &own};
	struct case_file c;
	enum bad code = case_read(&own, &s, &d, &c);

	(void)to;
	arena_release(&own);
	return code;
}

static void running_out_of_memory_is_a_code(void **state)
{
	(void)state;
	bears_lack_of_memory("a case", read_sound, NULL);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test_teardown(sound_case_is_read_into_mm_and_rad, release),
		cmocka_unit_test_teardown(axes_to_the_right_and_back_are_turned, release),
		cmocka_unit_test_teardown(every_fault_is_told_at_its_place, release),
		cmocka_unit_test_teardown(what_is_no_case_at_all_is_told, release),
		cmocka_unit_test_teardown(too_few_sites_are_told, release),
		cmocka_unit_test_teardown(faults_are_shown_with_caret_hint_and_note, release),
		cmocka_unit_test_teardown(missing_file_is_a_code_without_words, release),
		cmocka_unit_test_teardown(running_out_of_memory_is_a_code, release),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
