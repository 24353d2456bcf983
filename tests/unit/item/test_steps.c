/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Worked steps hold with the numbers they show: every line of every problem of the courses that is plain
 * arithmetic is worked out again from its printed text alone, by a calculator of this test, and has to come
 * to the printed result within half its last digit. */
#include "demo.h"

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <barwright/base/unit.h>
#include <barwright/item/instance.h>

#ifdef __SANITIZE_ADDRESS__
enum { INSTANCES = 20 };
#else
enum { INSTANCES = 200 };
#endif

/* ---- a pocket calculator --------------------------------------------------------------------- */

struct calculator {
	const char *s;
	bool lost; /* met something that is not plain arithmetic */
};

static void blanks(struct calculator *c)
{
	while (*c->s == ' ' || *c->s == '\n')
		c->s++;
}

static double sum(struct calculator *c);

/* The unit behind a number: no blank in it but between letters. */
static double unit_behind(struct calculator *c)
{
	const char *s = c->s + (*c->s == ' ');
	size_t len = 0, at, fault_len;
	struct unit unit;
	while (s[len] && !strchr("()[],+^*|", s[len]) && strncmp(s + len, " - ", 3) != 0 &&
		strncmp(s + len, " / ", 3) != 0 && strncmp(s + len, " * ", 3) != 0 &&
		strncmp(s + len, " + ", 3) != 0 && s[len] != '\n')
		len++;
	while (len && s[len - 1] == ' ')
		len--;
	if (!len)
		return 1;
	if (unit_read(s, len, &unit, &at, &fault_len) || unit.offset != 0) {
		c->lost = true;
		return 1;
	}
	c->s = s + len;
	return unit.factor;
}

static double piece(struct calculator *c)
{
	double value;
	char *end;
	blanks(c);
	if (*c->s == '-') {
		c->s++;
		return -piece(c);
	}
	if (*c->s == '\1') { /* as keys_set has it */
		c->s++;
		return sqrt(piece(c));
	}
	if (*c->s == '|') {
		c->s++;
		value = sum(c);
		if (*c->s == '|')
			c->s++;
		else
			c->lost = true;
		return fabs(value);
	}
	if (*c->s == '(') {
		c->s++;
		value = sum(c);
		blanks(c);
		if (*c->s == ')')
			c->s++;
		else
			c->lost = true;
		return value;
	}
	if (!isdigit((unsigned char)*c->s)) {
		c->lost = true;
		return 1;
	}
	value = strtod(c->s, &end);
	c->s = end;
	return value * unit_behind(c);
}

static double power(struct calculator *c)
{
	double base = piece(c);
	if (*c->s != '^')
		return base;
	c->s++;
	return pow(base, piece(c));
}

static double product(struct calculator *c)
{
	double value = power(c);
	for (blanks(c); !c->lost && (*c->s == '*' || *c->s == '/'); blanks(c)) {
		char sign = *c->s++;
		double next = power(c);
		value = sign == '*' ? value * next : value / next;
	}
	return value;
}

static double sum(struct calculator *c)
{
	double value = product(c);
	for (blanks(c); !c->lost && (*c->s == '+' || *c->s == '-'); blanks(c)) {
		char sign = *c->s++;
		double next = product(c);
		value = sign == '+' ? value + next : value - next;
	}
	return value;
}

static bool work_out(const char *s, double *out)
{
	struct calculator c = {s, false};
	*out = sum(&c);
	blanks(&c);
	return !c.lost && !*c.s;
}

/* ---- lines ----------------------------------------------------------------------------------- */

struct seen {
	unsigned long lines, done;
};

/* Half the last digit of a printed result, in its unit. */
static double half_last(const char *result)
{
	const char *point = strchr(result, '.'), *unit;
	int places = 0;
	while (point && isdigit((unsigned char)point[places + 1]))
		places++;
	unit = result + strspn(result, "-0123456789.");
	struct calculator c = {unit, false};
	return 0.5 * pow(10, -places) * unit_behind(&c);
}

/* "name = formula = values = result": the last two. */
static void line_holds(const struct problem *p, char *line, struct seen *seen)
{
	char *result = NULL, *values = line, *next;
	seen->lines++;
	for (char *at = line; (next = strstr(at, "= ")); at = next + 2) {
		values = result ? result : line;
		result = next + 2;
	}
	if (!result)
		return;
	double got, shown;
	char *whole = strdup(line);
	result[-2] = 0;
	if (work_out(values, &got) && work_out(result, &shown)) {
		seen->done++;
		double half = half_last(result);
		if (fabs(got - shown) > half * (1 + 1e-5))
			fail_msg("%s: in '%s' the numbers give %.9g, shown is %.9g, half the last "
				 "digit %.3g",
				p->code, whole, got, shown, half);
	}
	free(whole);
}

/* Printed signs as the keys of the calculator: a raised figure behind a unit belongs to the unit. */
static void keys_set(char *s)
{
	static const struct {
		const char *sign, *key;
		bool raised;
	} keys[] = {{"×", "*", false}, {"²", "^2", true}, {"³", "^3", true}, {"√", "\1", false}};
	for (size_t k = 0; k < sizeof keys / sizeof *keys; k++)
		for (char *at = s; (at = strstr(at, keys[k].sign)); at++) {
			size_t len = strlen(keys[k].sign), put = strlen(keys[k].key);
			if (keys[k].raised && at[-1] != ')' && !isdigit((unsigned char)at[-1]))
				continue;
			memcpy(at, keys[k].key, put);
			memmove(at + put, at + len, strlen(at + len) + 1);
		}
}

static void steps_hold(const struct instance *i, struct seen *seen)
{
	const struct problem *p = i->problem;
	for (size_t k = 0; k < p->nask; k++)
		for (size_t n = 0; n < p->ask[k].nstep; n++) {
			struct text t;
			text_init(&t);
			instance_step_add(i, &p->ask[k].step[n], '.', &t);
			keys_set(t.at);
			if (t.len)
				line_holds(p, t.at, seen);
			text_release(&t);
		}
}

static void lines_hold_with_the_numbers_they_show(void **state)
{
	struct seen seen = {0};
	(void)state;
	for (size_t k = 0; k < demo.nproblem; k++) {
		const struct problem *p = demo.by_code[k];
		struct arena a = {0};
		struct instance *i;
		struct stream draws;
		if (p->is_fixed)
			continue;
		stream_open(&draws, &(struct draw_key){"course", p->code, "student", "steps", 1});
		assert_int_equal(instance_new(&a, p, &i), FINE);
		for (int n = 0; n < INSTANCES; n++)
			if (!instance_draw(i, &draws))
				steps_hold(i, &seen);
		arena_release(&a);
	}
	/* The calculator knows no function but the root; still it must have done most of them. */
	if (seen.done * 2 < seen.lines)
		fail_msg("only %lu of %lu lines were worked out", seen.done, seen.lines);
}

/* Where the comma is the decimal sign, nothing else is parted by one. */
static void values_with_commas_are_parted_by_semicolons(void **state)
{
	unsigned long parted = 0;
	(void)state;
	for (size_t k = 0; k < demo.nproblem; k++) {
		const struct problem *p = demo.by_code[k];
		struct arena a = {0};
		struct instance *i;
		struct stream draws;
		if (p->is_fixed)
			continue;
		stream_open(&draws, &(struct draw_key){"course", p->code, "student", "commas", 1});
		assert_int_equal(instance_new(&a, p, &i), FINE);
		assert_int_equal(instance_draw(i, &draws), FINE);
		for (size_t n = 0; n < p->ngiven; n++) {
			struct text t;
			text_init(&t);
			instance_text_add(i, &p->given[n].value, ',', &t);
			parted += strstr(t.at, "; ") != NULL;
			for (const char *s = t.at; (s = strstr(s, "mm, ")); s++)
				if (isdigit((unsigned char)s[4]) && s > t.at && s[-1] == ' ')
					fail_msg("%s: %s", p->code, t.at);
			text_release(&t);
		}
		arena_release(&a);
	}
	assert_true(parted > 0);
}

/* Prices are of any currency: a number alone. */
static void money_is_a_number_alone(void **state)
{
	unsigned long seen = 0;
	(void)state;
	for (size_t k = 0; k < demo.nproblem; k++) {
		const struct problem *p = demo.by_code[k];
		struct arena a = {0};
		struct instance *i;
		struct stream draws;
		stream_open(&draws, &(struct draw_key){"course", p->code, "student", "money", 1});
		for (size_t n = 0; n < p->nask; n++) {
			struct text t;
			if (strcmp(p->ask[n].shown.unit_text, "money") != 0)
				continue;
			assert_int_equal(instance_new(&a, p, &i), FINE);
			assert_int_equal(instance_draw(i, &draws), FINE);
			text_init(&t);
			instance_answer_add(i, n, '.', &t);
			if (!t.len || t.at[strspn(t.at, "-0123456789.")])
				fail_msg("%s: %s", p->code, t.at);
			text_release(&t);
			seen++;
		}
		arena_release(&a);
	}
	assert_true(seen > 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(lines_hold_with_the_numbers_they_show),
		cmocka_unit_test(money_is_a_number_alone),
		cmocka_unit_test(values_with_commas_are_parted_by_semicolons),
	};
	return cmocka_run_group_tests_name("item/steps", tests, demo_open, demo_close);
}
