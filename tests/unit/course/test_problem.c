/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A problem as the floors above find it; what is expected is written down from the text. */
#include "author.h"

#include <math.h>

static const char plate[] =
	"problem: plate\n"
	"title: Area of a plate\n"
	"competency: K1\n"
	"level: 2\n"
	"source: Plane geometry.\n"
	"draws:\n"
	"  width: {from: 5.00 mm, to: 20.00 mm, step: 0.05 mm}\n"
	"  stock: {sets: [[3.5 mm, 4 mm], [3.5 mm, 4.5 mm, 6 mm]], exact: true}\n"
	"let:\n"
	"  area: width * width\n"
	"  wide: {formula: width, unit: cm, places: 3}\n"
	"  zero: {formula: 0, unit: mm}\n"
	"  thick: width > 10 mm\n"
	"  turn: atan2(width, 4 mm)\n"
	"  force: 3 N\n"
	"  stress: 3 N / area\n"
	"  odd: width * 2 kg / 1 s\n"
	"  pair: [width, 4 mm]\n"
	"require:\n"
	"  - thick\n"
	"decisions:\n"
	"  - {value: width, limits: stock, margin: 0.1 mm}\n"
	"  - {value: wide, limits: [12 mm, width + 1 mm], margin: 1 cm}\n"
	"text: A plate {width:1} wide.\n"
	"given:\n"
	"  the shorter side: \"{width}\"\n"
	"figure:\n"
	"  arch: {x: \"[0 mm, width, 2 * width]\", y: pair, spread: thick}\n"
	"asks:\n"
	"  - ask: Thickness\n"
	"    unit: mm\n"
	"    places: 1\n"
	"    answer: largest_up_to(stock, width)\n"
	"    tolerance: exact\n"
	"    refer: Nothing fits.\n"
	"    steps:\n"
	"      - say: The widest that fits in {width}.\n"
	"      - {name: width, formula: width, unit: cm, places: 4}\n"
	"    slips:\n"
	"      - {slip: first, formula: min(stock), say: The first.}\n"
	"      - {slip: last, formula: max(stock), say: The last.}\n"
	"      - {slip: none, formula: nothing, say: Nothing.}\n"
	"  - ask: Area\n"
	"    unit: mm2\n"
	"    answer: area + zero * 0 mm\n"
	"    tolerance: 0.5 cm2\n"
	"    why: Read from a diagram.\n"
	"    refer: true\n"
	"    steps: [{name: area, formula: area}]\n"
	"    slips:\n"
	"      - {slip: double, formula: 2 * area, say: Twice.}\n"
	"      - {slip: half, formula: area / 2, say: Half.}\n"
	"      - {slip: stress, formula: area * (stress / stress) * (odd / odd), say: \"{turn} "
	"{force}\"}\n"
	"  - ask: Number of pieces\n"
	"    places: 0\n"
	"    answer: count(stock) + width / 1 mm\n"
	"    steps: [{say: Count.}]\n"
	"    slips:\n"
	"      - {slip: one, formula: 1, say: One.}\n"
	"      - {slip: two, formula: 2, say: Two.}\n"
	"      - {slip: three, formula: 3, say: Three.}\n";

struct read {
	struct author author;
	struct problem p;
};

static void read_problem(struct read *r, const char *text)
{
	memset(&r->p, 0, sizeof r->p);
	author_writes(&r->author, text);
	problem_read(&r->author.doc, r->author.file.root, NULL, &r->p);
}

static void head_is_read(void **state)
{
	(void)state;
	struct read r;
	read_problem(&r, plate);
	told("plate", &r.author.diags,
		"x.yaml:17:8: warning: without 'unit' this is shown in mm t s-1 [unit-clash]\n"
		"   17 |   odd: width * 2 kg / 1 s\n"
		"      |        ^~~~~~~~~~~~~~~~~~\n"
		"hint: say in which unit it is read, for example unit: g/s\n");
	same_text("code", r.p.code, "plate");
	same_text("title", r.p.title, "Area of a plate");
	same_text("competency", r.p.competency, "K1");
	same_whole("level", r.p.level, 2);
	same_text("source", r.p.source, "Plane geometry.");
	assert_null(r.p.caution);
	same_whole("draws", r.p.ndraw, 2);
	same_whole("lets", r.p.nlet, 9);
	same_whole("names", r.p.scope.n, 11);
	same_whole("require", r.p.nrequire, 1);
	same_whole("given", r.p.ngiven, 1);
	same_text("label", r.p.given[0].label, "the shorter side");
	same_whole("asks", r.p.nask, 3);
	author_ends(&r.author);
}

static void slots_are_draws_first_then_lets(void **state)
{
	(void)state;
	static const char *const order[] = {"width", "stock", "area", "wide", "zero", "thick",
		"turn", "force", "stress", "odd", "pair"};
	struct read r;
	read_problem(&r, plate);
	for (size_t i = 0; i < r.p.scope.n; i++)
		same_text("slot", r.p.scope.name[i].name, order[i]);
	for (size_t i = 0; i < r.p.ndraw; i++) {
		same_whole(r.p.draw[i].name, r.p.draw[i].slot, i);
		same_text("draw", r.p.draw[i].name, order[i]);
	}
	for (size_t i = 0; i < r.p.nlet; i++) {
		same_whole(r.p.let[i].name, r.p.let[i].slot, i + 2);
		same_text("let", r.p.let[i].name, order[i + 2]);
	}
	author_ends(&r.author);
}

static void values_are_shown_in_usual_units_unless_told(void **state)
{
	(void)state;
	/* Factors: SI Brochure, 9th ed. 2019: degree pi/180 rad, centimetre 10 mm. */
	static const struct {
		const char *name, *unit;
		int places;
		double factor;
	} rows[] = {
		{"width", "mm", 2, 1},
		{"stock", "mm", 1, 1},
		{"area", "mm2", 2, 1},
		{"wide", "cm", 3, 10},
		{"zero", "mm", 2, 1},
		{"thick", "", 0, 1},
		{"turn", "deg", 2, 3.14159265358979323846 / 180},
		{"force", "N", 2, 1},
		{"stress", "MPa", 2, 1},
		{"odd", "mm t s-1", 2, 1},
		{"pair", "mm", 2, 1},
	};
	struct read r;
	read_problem(&r, plate);
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		const struct shown *s = &r.p.shown[i];
		same_text(rows[i].name, s->unit_text, rows[i].unit);
		same_whole(rows[i].name, s->places, rows[i].places);
		near(rows[i].name, s->unit.factor, rows[i].factor, 1e-15);
	}
	same_whole("plain 0 declared in mm is a length",
		r.p.scope.name[4].type.dim.power[DIM_LENGTH], 1);
	author_ends(&r.author);
}

static void asks_know_tolerance_and_reference(void **state)
{
	(void)state;
	struct read r;
	read_problem(&r, plate);
	const struct ask *a = r.p.ask;
	same_whole("exact", a[0].tolerance, TOLERANCE_EXACT);
	same_whole("may refer", a[0].may_refer, true);
	same_whole("words", a[0].refer_say.n, 1);
	same_text("words", a[0].refer_say.piece[0].text, "Nothing fits.");
	same_whole("places", a[0].shown.places, 1);
	same_whole("steps", a[0].nstep, 2);
	assert_null(a[0].step[0].formula);
	same_whole("words of a step", a[0].step[0].say.n, 3);
	same_whole("no words", a[0].step[1].say.n, 0);
	same_text("unit of a step", a[0].step[1].shown.unit_text, "cm");
	same_whole("slips", a[0].nslip, 3);
	same_text("slip", a[0].slip[1].name, "last");
	same_whole("stated", a[1].tolerance, TOLERANCE_STATED);
	near("0.5 cm2 in mm2", a[1].stated, 50, 1e-12);
	same_text("why", a[1].why, "Read from a diagram.");
	same_whole("may refer", a[1].may_refer, true);
	same_whole("no words", a[1].refer_say.n, 0);
	same_whole("usual places", a[1].shown.places, 2);
	same_whole("instrument", a[2].tolerance, TOLERANCE_INSTRUMENT);
	same_whole("may not refer", a[2].may_refer, false);
	assert_null(a[2].why);
	same_text("no unit", a[2].shown.unit_text, "");
	author_ends(&r.author);
}

static void lists_written_in_yaml_are_formulas(void **state)
{
	(void)state;
	struct read r;
	struct formula_work work;
	struct formula_value value[16] = {{0}}, out;
	read_problem(&r, plate);
	value[0].number = 7;
	code_is(formula_run(r.p.let[8].formula, value, &work, &out), FINE);
	same_whole("pair", out.n, 2);
	near("width", out.list[0], 7, 0);
	near("4 mm", out.list[1], 4, 0);
	same_whole("decisions", r.p.ndecision, 2);
	near("margin in mm", r.p.decision[0].margin, 0.1, 1e-15);
	near("margin of 1 cm", r.p.decision[1].margin, 10, 1e-15);
	value[3].number = 7;
	code_is(formula_run(r.p.decision[1].limits, value, &work, &out), FINE);
	near("second limit", out.list[1], 8, 0);
	author_ends(&r.author);
}

static void figures_give_their_fields_by_name(void **state)
{
	(void)state;
	struct read r;
	read_problem(&r, plate);
	same_whole("kind", r.p.figure.kind, FIGURE_ARCH);
	same_whole("fields", r.p.figure.nfield, 3);
	assert_non_null(figure_spec_field(&r.p.figure, "spread"));
	assert_null(figure_spec_field(&r.p.figure, "diameter"));
	assert_null(figure_spec_field(&r.p.figure, "none"));
	author_ends(&r.author);
}

static void faults_of_a_faulty_name_are_not_told_again(void **state)
{
	(void)state;
	struct read r;
	read_problem(&r,
		"problem: x\ntitle: x\ncompetency: K1\nlevel: 1\nsource: x\n"
		"draws:\n"
		"  a: {from: 1 mm, to: 2 mm, step: 1 mm}\n"
		"  b: {from: c}\n"
		"let: {d: b + 1 mm, e: d * d}\n"
		"text: \"{a} {b} {d} {e}\"\n"
		"asks:\n"
		"  - ask: x\n"
		"    unit: mm\n"
		"    answer: a + d + e\n"
		"    steps: [{say: \"{d}\"}]\n"
		"    slips: [{slip: s, formula: b, say: b}, {slip: t, formula: d, say: b},\n"
		"      {slip: u, formula: e, say: b}]\n");
	told("once", &r.author.diags,
		"x.yaml:8:3: error: 'to' is missing in 'b' [missing]\n"
		"    8 |   b: {from: c}\n"
		"      |   ^\n"
		"x.yaml:8:3: error: 'step' is missing in 'b' [missing]\n"
		"    8 |   b: {from: c}\n"
		"      |   ^\n"
		"x.yaml:8:13: error: 'from' is 'c' where a number with a unit is needed "
		"[wrong-type]\n"
		"    8 |   b: {from: c}\n"
		"      |             ^\n"
		"hint: write a number and its unit, for example 3.50 mm; formulas belong under "
		"'let'\n");
	author_ends(&r.author);
}

static void the_answer_is_known_to_stand_still(void **state)
{
	(void)state;
	/* Through a let that uses a draw it moves, through one that does not it stands. */
	static const struct {
		const char *why, *let, *answer;
		size_t warnings;
	} rows[] = {
		{"draw", "{u: 2 mm, v: a}", "a", 0},
		{"moving let", "{u: 2 mm, v: a + u}", "v", 0},
		{"fixed let", "{u: 2 mm, v: a + u}", "u", 1},
		{"fixed let of a fixed let", "{u: 2 mm, v: u + 1 mm}", "v + u", 1},
		{"one of two moves", "{u: 2 mm, v: u + 1 mm}", "v + a", 0},
		{"no names", "{u: 2 mm, v: u}", "4 mm", 1},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		char text[800];
		struct read r;
		snprintf(text, sizeof text,
			"problem: x\ntitle: x\ncompetency: K1\nlevel: 1\nsource: x\n"
			"draws: {a: {from: 1 mm, to: 2 mm, step: 1 mm}}\n"
			"let: %s\n"
			"text: \"{a} {u} {v}\"\n"
			"asks:\n"
			"  - ask: x\n"
			"    unit: mm\n"
			"    answer: %s\n"
			"    steps: [{say: x}]\n"
			"    slips: [{slip: s, formula: 7 mm, say: b}, {slip: t, formula: 8 mm, "
			"say: b},\n"
			"      {slip: u, formula: 9 mm, say: b}]\n",
			rows[i].let, rows[i].answer);
		read_problem(&r, text);
		same_whole(rows[i].why, r.author.diags.nerror, 0);
		same_whole(rows[i].why, r.author.diags.nwarning, rows[i].warnings);
		author_ends(&r.author);
	}
}

/* Readers compare names with names: what a slip of the editor repeats without end is told, and not
 * worked through for minutes. */
static void a_list_without_end_is_told_at_its_place(void **state)
{
	(void)state;
	for (int more = 0; more < 2; more++) {
		struct read r;
		struct text t;
		text_init(&t);
		text_add(&t, "problem: p\ntitle: t\ncompetency: K1\nlevel: 1\nsource: s\ndraws:\n");
		for (int i = 0; i < CHILDREN_MOST + more; i++)
			text_addf(&t, "  d%d: {choice: [1 mm, 2 mm]}\n", i);
		text_add(&t,
			"text: t\nasks:\n  - {ask: q, unit: mm, answer: 1 mm, tolerance: exact,\n"
			"     steps: [{say: s}], slips: [{slip: a, formula: 2 mm, say: b},\n"
			"      {slip: b, formula: 3 mm, say: b}, {slip: c, formula: 4 mm, "
			"say: b}]}\n");
		read_problem(&r, t.at);
		same_whole("faults", r.author.diags.nerror, more);
		same_whole("draws", r.p.ndraw, more ? 0 : CHILDREN_MOST);
		const struct diag *d = r.author.diags.first;
		if (more) {
			code_is(d->code, BAD_SIZE);
			same_whole("line", d->place.line, 7);
			same_text(
				"words", d->words, "'draws' has 501 entries; at most 500 are read");
		}
		author_ends(&r.author);
		text_release(&t);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(head_is_read),
		cmocka_unit_test(slots_are_draws_first_then_lets),
		cmocka_unit_test(values_are_shown_in_usual_units_unless_told),
		cmocka_unit_test(asks_know_tolerance_and_reference),
		cmocka_unit_test(lists_written_in_yaml_are_formulas),
		cmocka_unit_test(figures_give_their_fields_by_name),
		cmocka_unit_test(faults_of_a_faulty_name_are_not_told_again),
		cmocka_unit_test(the_answer_is_known_to_stand_still),
		cmocka_unit_test(a_list_without_end_is_told_at_its_place),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
