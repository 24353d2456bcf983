/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Draws as the item floor finds them. The whole numbers are worked out by hand from the texts. */
#include "author.h"

/* Reads "name: DRAW" as the last of the draws in `text`. */
struct drawn {
	struct author author;
	struct formula_scope scope;
	struct formula_name name[8];
	struct shown shown[8];
	bool fixed[8];
	const struct tree *lost[8];
	struct names names;
	struct draw draw[8];
	size_t n;
	bool known;
	struct formula_type type;
};

static void draw(struct drawn *d, const char *text)
{
	memset(d, 0, sizeof *d);
	author_writes(&d->author, text);
	d->scope = (struct formula_scope){d->name, 0, 8};
	d->names = (struct names){
		.scope = &d->scope, .shown = d->shown, .fixed = d->fixed, .lost = d->lost};
	for (struct tree *t = d->author.file.root->first; t; t = t->next) {
		struct draw *one = &d->draw[d->n++];
		d->known = draw_read(&d->author.doc, &d->names, d->draw, t, one, &d->type);
		if (d->known)
			names_add(&d->author.doc, &d->names, t, d->type, &one->shown, &one->slot);
	}
}

static void grid_is_whole_numbers_of_the_finest_place(void **state)
{
	(void)state;
	static const struct {
		const char *why, *text;
		long long from, step, n;
		int places;
		double half_digit;
		const char *unit;
	} rows[] = {
		/* half_digit: half a step, or half of 'read', in mm, N, MPa, rad, s */
		{"caliper", "x: {from: -1.50 mm, to: 1.50 mm, step: 0.05 mm}", -150, 5, 61, 2,
			0.025, "mm"},
		{"places of the finest", "x: {from: 1 mm, to: 2.5 mm, step: 0.25 mm}", 100, 25, 7,
			2, 0.125, "mm"},
		{"other unit", "x: {from: 1 cm, to: 2 cm, step: 0.1 cm}", 10, 1, 11, 1, 0.5, "cm"},
		{"read is coarser", "x: {from: 1 mm, to: 2 mm, step: 0.05 mm, read: 0.1 mm}", 100,
			5, 21, 2, 0.05, "mm"},
		{"read in another unit", "x: {from: 1 mm, to: 2 mm, step: 1 mm, read: 0.02 cm}", 1,
			1, 2, 0, 0.1, "mm"},
		{"exact", "x: {from: 1 mm, to: 2 mm, step: 1 mm, exact: true}", 1, 1, 2, 0, 0,
			"mm"},
		{"not exact after all", "x: {from: 1 mm, to: 2 mm, step: 1 mm, exact: false}", 1, 1,
			2, 0, 0.5, "mm"},
		{"no unit is exact", "x: {from: 4, to: 6, step: 1}", 4, 1, 3, 0, 0, ""},
		{"unless read", "x: {from: 4, to: 6, step: 0.5, read: 0.5}", 40, 5, 5, 1, 0.25, ""},
		{"angle", "x: {from: 0 deg, to: 30 deg, step: 1 deg}", 0, 1, 31, 0,
			0.5 * 3.14159265358979323846 / 180, "deg"},
		{"temperature", "x: {from: 60 \302\260C, to: 100 \302\260C, step: 1 \302\260C}", 60,
			1, 41, 0, 0.5, "\302\260C"},
		{"largest", "x: {from: 0 mm, to: 2147483647 mm, step: 1 mm}", 0, 1, 2147483648LL, 0,
			0.5, "mm"},
		{"thin blanks",
			"x: {from: 1\342\200\211mm, to: 2\342\200\257mm, step: 1\302\240mm}", 1, 1,
			2, 0, 0.5, "mm"},
		{"with places behind", "x: {from: 0.5 mm, to: 9.500 mm, step: 3 mm}", 500, 3000, 4,
			3, 1.5, "mm"},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct drawn d;
		draw(&d, rows[i].text);
		const struct draw *x = &d.draw[0];
		told_nothing(rows[i].why, &d.author.diags);
		same_whole(rows[i].why, x->kind, DRAW_GRID);
		same_whole(rows[i].why, x->from, rows[i].from);
		same_whole(rows[i].why, x->step, rows[i].step);
		same_whole(rows[i].why, x->n, rows[i].n);
		same_whole(rows[i].why, x->places, rows[i].places);
		same_whole(rows[i].why, x->shown.places, rows[i].places);
		same_whole(rows[i].why, x->is_list, false);
		same_whole(rows[i].why, x->as_many, NO_SLOT);
		near(rows[i].why, x->half_digit, rows[i].half_digit, 1e-15);
		same_text(rows[i].why, x->shown.unit_text, rows[i].unit);
		same_whole(rows[i].why, d.type.kind, FORMULA_NUMBER);
		author_ends(&d.author);
	}
}

static void choice_has_one_scale(void **state)
{
	(void)state;
	static const int digits[] = {375, 410, 500};
	struct drawn d;
	draw(&d, "x: {choice: [3.75 mm, 4.1 mm, 5 mm]}");
	const struct draw *x = &d.draw[0];
	told_nothing("choice", &d.author.diags);
	same_whole("kind", x->kind, DRAW_CHOICE);
	same_whole("n", x->n, 3);
	same_whole("places", x->places, 2);
	near("half of the last digit written", x->half_digit, 0.005, 1e-15);
	for (size_t i = 0; i < 3; i++) {
		same_whole("places of each", x->choice[i].places, 2);
		same_whole("digits", x->choice[i].digits, digits[i]);
	}
	author_ends(&d.author);
}

static void sets_have_their_own_lengths(void **state)
{
	(void)state;
	struct drawn d;
	draw(&d, "x: {sets: [[3.5 mm, 4 mm], [4 mm, 4.5 mm, 6.25 mm]], exact: true}");
	const struct draw *x = &d.draw[0];
	told_nothing("sets", &d.author.diags);
	same_whole("kind", x->kind, DRAW_SET);
	same_whole("type", d.type.kind, FORMULA_LIST);
	same_whole("n", x->n, 2);
	same_whole("first length", x->set_len[0], 2);
	same_whole("second length", x->set_len[1], 3);
	same_whole("scaled", x->set[0][1].digits, 400);
	same_whole("last", x->set[1][2].digits, 625);
	same_whole("least", x->least, 2);
	same_whole("most", x->most, 3);
	near("exact", x->half_digit, 0, 0);
	author_ends(&d.author);
}

static void count_makes_a_list(void **state)
{
	(void)state;
	struct drawn d;
	draw(&d, "a: {from: 1 mm, to: 9 mm, step: 1 mm, count: {from: 4, to: 6}, different: true}\n"
		 "b: {choice: [1 N, 2 N], count: a}\n"
		 "c: {from: 1 mm, to: 9 mm, step: 1 mm, count: 5}\n"
		 "d: {sets: [[1 N, 2 N], [3 N, 4 N]]}\n"
		 "e: {choice: [1 N, 2 N], count: d}\n");
	told_nothing("count", &d.author.diags);
	same_whole("a is a list", d.draw[0].is_list, true);
	same_whole("a least", d.draw[0].least, 4);
	same_whole("a most", d.draw[0].most, 6);
	same_whole("a differs", d.draw[0].different, true);
	same_whole("b goes with a", d.draw[1].as_many, 0);
	same_whole("b least", d.draw[1].least, 4);
	same_whole("b most", d.draw[1].most, 6);
	same_whole("b may repeat", d.draw[1].different, false);
	same_whole("a is used by b", d.name[0].used, 1);
	same_whole("c least", d.draw[2].least, 5);
	same_whole("c most", d.draw[2].most, 5);
	same_whole("e goes with d", d.draw[4].as_many, 3);
	same_whole("e least", d.draw[4].least, 2);
	same_whole("type", d.type.kind, FORMULA_LIST);
	same_whole("dimension", d.type.dim.power[DIM_MASS], 1);
	author_ends(&d.author);
}

static void a_faulty_draw_keeps_its_type_if_that_is_known(void **state)
{
	(void)state;
	struct drawn d;
	draw(&d, "x: {from: 2 mm, to: 1 mm, step: 1 mm}");
	assert_true(d.known);
	same_whole("a length", d.type.dim.power[DIM_LENGTH], 1);
	same_whole("told", d.author.diags.nerror, 1);
	author_ends(&d.author);
	draw(&d, "x: {from: one, to: two, step: three}");
	assert_false(d.known);
	same_whole("told", d.author.diags.nerror, 3);
	author_ends(&d.author);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(grid_is_whole_numbers_of_the_finest_place),
		cmocka_unit_test(choice_has_one_scale),
		cmocka_unit_test(sets_have_their_own_lengths),
		cmocka_unit_test(count_makes_a_list),
		cmocka_unit_test(a_faulty_draw_keeps_its_type_if_that_is_known),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
