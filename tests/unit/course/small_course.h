/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A course of seven files and a rubric, on a shelf. */
#ifndef BARWRIGHT_TESTS_SMALL_COURSE_H
#define BARWRIGHT_TESTS_SMALL_COURSE_H

#include "author.h"

static const char small_head[] =
	"course: small\ntitle: A small course\nabout: For tests.\nversion: \"3\"\n"
	"competencies: {K1: One, K1.2: Two}\n";

static const char small_lesson[] =
	"lesson: first\ntitle: First\npages:\n"
	"  - title: One\n    body:\n"
	"      - heading: H\n      - text: T\n      - item: I\n      - exact: |\n"
	"          a  b\n"
	"      - caution: C\n      - source: S\n"
	"      - figure: {arc: {radius: 20 mm, along: 12 mm}}\n"
	"      - figure: {schedule: {steps: [heat, hold], durations: [1 h, 2 h], ask_ends: "
	"[hold]}}\n";

static const char small_rubric[] =
	"rubric: bench\ntitle: Bench\nabout: x\npoints: [0, 50, 80, 90]\nstations:\n"
	"  - {station: holes, title: Holes, weight: 60, competency: K1, source: x,\n"
	"     criteria: [{criterion: centre, instrument: pin, levels: [a, b, c, d]}],\n"
	"     critical: [breakout, dust]}\n"
	"  - {station: shape, title: Shape, weight: 40, competency: K1, source: x,\n"
	"     criteria: [{criterion: edge, instrument: gauge, levels: [a, b, c, d]}]}\n";

/* A problem with this code and competency; good until the next call. */
static inline const char *small_problem(const char *code, const char *competency)
{
	static char text[800];
	snprintf(text, sizeof text,
		"problem: %s\ntitle: Twice\ncompetency: %s\nlevel: 1\nsource: Arithmetic.\n"
		"draws: {width: {from: 1 mm, to: 2 mm, step: 0.1 mm}}\n"
		"text: \"{width}\"\n"
		"asks:\n"
		"  - ask: Twice the width\n    unit: mm\n    answer: 2 * width\n"
		"    steps: [{name: twice, formula: 2 * width}]\n"
		"    slips:\n"
		"      - {slip: once, formula: width, say: Once.}\n"
		"      - {slip: thrice, formula: 3 * width, say: Three times.}\n"
		"      - {slip: half, formula: width / 2, say: Half.}\n",
		code, competency);
	return text;
}

static inline void put_small_course(const struct shelf *s)
{
	char course[400];
	snprintf(course, sizeof course, "%smodules: [two, one]\n", small_head);
	shelf_put(s, "course.yaml", course);
	shelf_put(s, "one/module.yaml",
		"module: one\ntitle: Number one\nabout: x\nlessons: [lesson.yaml]\n"
		"problems: [beta.yaml, alpha.yaml]\nstations: [holes, shape]\n");
	shelf_put(s, "one/lesson.yaml", small_lesson);
	shelf_put(s, "one/alpha.yaml", small_problem("alpha", "K1"));
	shelf_put(s, "one/beta.yaml", small_problem("beta", "K1.2"));
	shelf_put(s, "two/module.yaml",
		"module: two\ntitle: Number two\nabout: x\nproblems: [Zeta.yaml]\n");
	shelf_put(s, "two/Zeta.yaml", small_problem("Zeta", "K1"));
}

#endif
