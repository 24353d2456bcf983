/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Random formulas, made again from a fixed key: each is written with all its brackets while its
 * value is computed beside it in plain C, in the order of the tree. What the compiler makes of
 * it must have the same bits; so must what it prints, read again. With one unit put wrong
 * somewhere it must be refused. */
#include "compiled.h"

#include <stdlib.h>

#include <barwright/base/utf8.h>
#include <barwright/base/random.h>

/* A quantity in mm^length N^force, or a truth, or a list of three. */
struct want {
	enum formula_kind kind;
	int length, force;
};

enum { LIST = 3 };
struct made {
	double number, list[LIST];
};

/* `spoil`: at which leaf a wrong unit is written; 0: nowhere. */
struct maker {
	struct stream stream;
	struct text out;
	unsigned leaf, spoil;
	const char *names;
};

static uint32_t below(struct maker *m, uint32_t n)
{
	return stream_below(&m->stream, n);
}

static struct made make(struct maker *m, struct want w, int depth);

/* A number of any dimension near. (Draws stand in statements of their own: C does not say in which
 * order arguments and initialisers are computed.) */
static struct want any_number(struct maker *m)
{
	struct want w = {FORMULA_NUMBER, 0, 0};
	w.length = (int)below(m, 3) - 1;
	w.force = (int)below(m, 2);
	return w;
}

/* "12.75 mm^2 N^-1"; the digits are exact in few binary places or not, as it comes. */
static struct made make_literal(struct maker *m, struct want w)
{
	char digits[32];
	struct made v = {0};
	uint32_t whole = 1 + below(m, 40), hundredths = below(m, 100);
	snprintf(digits, sizeof digits, "%u.%02u", whole, hundredths);
	text_add(&m->out, digits);
	if (++m->leaf == m->spoil)
		w.force += 1;
	if (w.length)
		text_addf(&m->out, " mm^%d", w.length);
	if (w.force)
		text_addf(&m->out, " N^%d", w.force);
	v.number = strtod(digits, NULL);
	return v;
}

static struct made make_leaf(struct maker *m, struct want w)
{
	static const char *const lengths[] = {"spread", "gap", "h"};
	static const double length_values[] = {13.05, 1.5, 4};
	struct made v = {0};
	if (w.length == 1 && w.force == 0 && below(m, 2)) {
		uint32_t k = below(m, 3);
		text_add(&m->out, lengths[k]);
		v.number = length_values[k];
		return v;
	}
	if (w.length == 0 && w.force == 1 && below(m, 2)) {
		text_add(&m->out, "load");
		v.number = 200;
		return v;
	}
	return make_literal(m, w);
}

/* "(a OP b)" for two numbers of their own dimensions. */
static struct made make_pair(struct maker *m, struct want a, const char *op, struct want b,
	int depth, struct made *right)
{
	text_add_char(&m->out, '(');
	struct made left = make(m, a, depth);
	text_addf(&m->out, " %s ", op);
	*right = make(m, b, depth);
	text_add_char(&m->out, ')');
	return left;
}

static struct made make_sum(struct maker *m, struct want w, int depth)
{
	struct made right, v = {0};
	bool add = below(m, 2);
	struct made left = make_pair(m, w, add ? "+" : "-", w, depth, &right);
	v.number = add ? left.number + right.number : left.number - right.number;
	return v;
}

static struct made make_product(struct maker *m, struct want w, int depth)
{
	struct want a = any_number(m), b = w;
	struct made right, v = {0};
	b.length -= a.length;
	b.force -= a.force;
	struct made left = make_pair(m, a, "*", b, depth, &right);
	v.number = left.number * right.number;
	return v;
}

/* Divided by a leaf, none of which is 0. */
static struct made make_quotient(struct maker *m, struct want w, int depth)
{
	struct want b = any_number(m), a = w;
	struct made v = {0};
	a.length += b.length;
	a.force += b.force;
	text_add_char(&m->out, '(');
	struct made left = make(m, a, depth);
	text_add(&m->out, " / (");
	struct made right = make_leaf(m, b);
	text_add(&m->out, "))");
	v.number = left.number / right.number;
	return v;
}

static struct made make_sign(struct maker *m, struct want w, int depth)
{
	text_add(&m->out, "(-");
	struct made v = make(m, w, depth);
	text_add_char(&m->out, ')');
	v.number = -v.number;
	return v;
}

static struct made make_square(struct maker *m, struct want w, int depth)
{
	if (w.length % 2 || w.force % 2)
		return make_sign(m, w, depth);
	struct want root = {FORMULA_NUMBER, w.length / 2, w.force / 2};
	text_add_char(&m->out, '(');
	struct made v = make(m, root, depth);
	text_add(&m->out, ")^2");
	v.number = v.number * v.number;
	return v;
}

static struct made make_extreme(struct maker *m, struct want w, int depth)
{
	bool least = below(m, 2);
	text_add(&m->out, least ? "min(" : "max(");
	struct made v = make(m, w, depth);
	for (uint32_t n = 1 + below(m, 3); n; n--) {
		text_add(&m->out, ", ");
		struct made other = make(m, w, depth);
		if (least ? other.number < v.number : other.number > v.number)
			v = other;
	}
	text_add_char(&m->out, ')');
	return v;
}

static struct made make_choice(struct maker *m, struct want w, int depth)
{
	text_add(&m->out, "(if ");
	struct made c = make(m, (struct want){FORMULA_TRUTH, 0, 0}, depth);
	text_add(&m->out, " then ");
	struct made a = make(m, w, depth);
	text_add(&m->out, " else ");
	struct made b = make(m, w, depth);
	text_add_char(&m->out, ')');
	return c.number != 0 ? a : b;
}

/* A number out of a list. */
static struct made make_reduced(struct maker *m, struct want w, int depth)
{
	struct want list = {FORMULA_LIST, w.length, w.force};
	struct made v = {0};
	uint32_t k = below(m, LIST + 1);
	text_add(&m->out, k == LIST ? "sum(" : "at(");
	struct made l = make(m, list, depth);
	if (k < LIST)
		text_addf(&m->out, ", %u", k + 1);
	text_add_char(&m->out, ')');
	v.number = k < LIST ? l.list[k] : 0;
	for (int i = 0; k == LIST && i < LIST; i++)
		v.number += l.list[i];
	return v;
}

static struct made make_number(struct maker *m, struct want w, int depth)
{
	struct made (*const ways[])(struct maker *, struct want, int) = {make_sum, make_product,
		make_quotient, make_sign, make_square, make_extreme, make_choice, make_reduced,
		make_sum, make_product};
	if (depth <= 0)
		return make_leaf(m, w);
	return ways[below(m, sizeof ways / sizeof *ways)](m, w, depth - 1);
}

/* Comparisons of things that are not almost equal. */
static struct made make_comparison(struct maker *m, int depth)
{
	static const char *const ops[] = {"<", "<=", ">", ">=", "=", "<>"};
	struct want w = any_number(m);
	struct made b, v = {0};
	uint32_t op = below(m, 6);
	struct made a = make_pair(m, w, ops[op], w, depth, &b);
	double x = a.number, y = b.number;
	bool near = fabs(x - y) < 1e-6 * (fabs(x) + fabs(y));
	bool less = !near && x < y, more = !near && x > y;
	v.number = op == 0   ? less
		   : op == 1 ? !more
		   : op == 2 ? more
		   : op == 3 ? !less
		   : op == 4 ? near
			     : !near;
	return v;
}

static struct made make_truth(struct maker *m, int depth)
{
	struct want truth = {FORMULA_TRUTH, 0, 0};
	struct made right, v = {0};
	uint32_t way = depth <= 0 ? 0 : below(m, 5);
	if (way == 0) {
		bool yes = below(m, 2);
		text_add(&m->out, yes ? "covered" : "open");
		v.number = yes;
		return v;
	}
	if (way == 1) {
		text_add(&m->out, "(not ");
		v = make(m, truth, depth - 1);
		text_add_char(&m->out, ')');
		v.number = v.number == 0;
		return v;
	}
	if (way == 2) {
		bool both = below(m, 2);
		struct made left =
			make_pair(m, truth, both ? "and" : "or", truth, depth - 1, &right);
		v.number = both ? left.number != 0 && right.number != 0
				: left.number != 0 || right.number != 0;
		return v;
	}
	return make_comparison(m, depth - 1);
}

static struct made make_list(struct maker *m, struct want w, int depth)
{
	struct want number = {FORMULA_NUMBER, w.length, w.force};
	struct made v = {0}, other = {0};
	if (depth <= 0 || below(m, 2)) {
		for (int i = 0; i < LIST; i++) {
			text_add(&m->out, i ? ", " : "[");
			v.list[i] = make(m, number, depth - 1).number;
		}
		text_add_char(&m->out, ']');
		return v;
	}
	bool add = below(m, 2), second = below(m, 2);
	v = make_pair(m, w, add ? "+" : "-", second ? number : w, depth - 1, &other);
	for (int i = 0; i < LIST; i++) {
		double b = second ? other.number : other.list[i];
		v.list[i] = add ? v.list[i] + b : v.list[i] - b;
	}
	return v;
}

static struct made make(struct maker *m, struct want w, int depth)
{
	return w.kind == FORMULA_TRUTH  ? make_truth(m, depth)
	       : w.kind == FORMULA_LIST ? make_list(m, w, depth)
					: make_number(m, w, depth);
}

/* Formula number `attempt`. False when it grew longer or deeper than a formula may be. */
static bool begin(struct maker *m, uint64_t attempt, unsigned spoil, struct made *v)
{
	struct draw_key key = {"formula", "random", "", "", attempt};
	*m = (struct maker){.spoil = spoil};
	stream_open(&m->stream, &key);
	text_init(&m->out);
	struct want w = any_number(m);
	w.kind = below(m, 6) ? FORMULA_NUMBER : FORMULA_LIST;
	*v = make(m, w, 1 + (int)below(m, 5));
	return m->out.len <= FORMULA_BYTES;
}

static void same_bits(const char *text, double got, double want)
{
	if (memcmp(&got, &want, sizeof got) != 0 && !(got == 0 && want == 0))
		fail_msg("%s: want %a, got %a", text, want, got);
}

static uint64_t hash_of(uint64_t hash, double x)
{
	unsigned char byte[sizeof x];
	memcpy(byte, &x, sizeof x);
	for (size_t i = 0; i < sizeof x; i++)
		hash = (hash ^ byte[i]) * UINT64_C(1099511628211);
	return hash;
}

enum { FORMULAS = 4000 };

static void values_have_the_bits_of_plain_c(void **state)
{
	(void)state;
	uint64_t hash = UINT64_C(14695981039346656037);
	size_t done = 0;
	for (uint64_t i = 0; i < FORMULAS; i++) {
		struct maker m;
		struct made want;
		struct compiled c;
		if (begin(&m, i, 0, &want)) {
			compiled_must(&c, m.out.at);
			struct formula_value got = compiled_run(&c);
			for (size_t k = 0; k < got.n; k++)
				same_bits(m.out.at, got.list[k], want.list[k]);
			if (!got.n)
				same_bits(m.out.at, got.number, want.number);
			hash = hash_of(hash, got.n ? got.list[0] : got.number);
			compiled_end(&c);
			done++;
		}
		text_release(&m.out);
	}
	assert_true(done > FORMULAS * 9 / 10);
	/* For tests/tools/formula_bits.sh, which compares compilers and levels of optimising. */
	print_message("bits %016llx of %zu formulas\n", (unsigned long long)hash, done);
}

static void what_is_printed_reads_the_same(void **state)
{
	(void)state;
	for (uint64_t i = 0; i < FORMULAS; i++) {
		struct maker m;
		struct made want;
		struct compiled c, again;
		struct text first, second;
		text_init(&first);
		text_init(&second);
		if (begin(&m, i, 0, &want)) {
			compiled_must(&c, m.out.at);
			formula_print(c.formula, &first);
			compiled_must(&again, first.at);
			formula_print(again.formula, &second);
			assert_string_equal(first.at, second.at);
			struct formula_value a = compiled_run(&c), b = compiled_run(&again);
			assert_int_equal(a.n, b.n);
			same_bits(first.at, b.n ? b.list[0] : b.number, a.n ? a.list[0] : a.number);
			assert_true(utf8_count(first.at, first.len) <= m.out.len);
			compiled_end(&c);
			compiled_end(&again);
		}
		text_release(&first);
		text_release(&second);
		text_release(&m.out);
	}
}

/* Is 0 or a power of 0 hidden in it: can the wrong unit not be seen? A spoilt leaf always shows:
 * sums, comparisons, lists and results compare dimensions all the way up, and the whole is
 * asked for its own. */
static void one_wrong_unit_is_always_found(void **state)
{
	(void)state;
	size_t found = 0;
	for (uint64_t i = 0; i < FORMULAS; i++) {
		struct maker right, spoilt;
		struct made v;
		bool fits = begin(&right, i, 0, &v);
		unsigned leaves = right.leaf;
		text_release(&right.out);
		if (!fits || !leaves)
			continue;
		fits = begin(&spoilt, i, 1 + (unsigned)(i % leaves), &v);
		struct compiled c, good;
		begin(&right, i, 0, &v);
		compiled_must(&good, right.out.at);
		compiled_begin(&c, spoilt.out.at);
		if (fits && !c.code && formula_fits(c.formula, formula_result(good.formula)))
			fail_msg("%s\nwas accepted; right is\n%s", spoilt.out.at, right.out.at);
		found += c.code == BAD_UNIT;
		compiled_end(&c);
		compiled_end(&good);
		text_release(&right.out);
		text_release(&spoilt.out);
	}
	assert_true(found > FORMULAS / 4);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(values_have_the_bits_of_plain_c),
		cmocka_unit_test(what_is_printed_reads_the_same),
		cmocka_unit_test(one_wrong_unit_is_always_found),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
