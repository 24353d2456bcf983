/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cmd/coverage.h"

#include <string.h>

#include <barwright/base/utf8.h>

#include "course/load.h"
#include "tree/json.h"

enum { LEVELS = 3 };

/* What a competency has. */
struct cover {
	size_t problem[LEVELS + 1], item; /* problems by level; [0] all of them */
	size_t slips;
};

/* "K3" also takes what belongs to "K3.1". */
static bool is_part_of(const char *code, const char *whole)
{
	size_t len = strlen(whole);
	return strncmp(code, whole, len) == 0 && (!code[len] || code[len] == '.');
}

static void count_one(const struct problem *p, struct cover *c)
{
	c->item += p->is_fixed;
	if (!p->is_fixed) {
		c->problem[0]++;
		c->problem[p->level]++;
	}
	for (size_t k = 0; k < p->nask; k++) {
		c->slips += p->ask[k].nslip;
		for (size_t n = 0; n < p->ask[k].noffer; n++)
			c->slips += *p->ask[k].offer[n].slip != 0;
	}
}

static struct cover cover_of(const struct course *c, const char *competency)
{
	struct cover sum = {0};
	for (size_t k = 0; k < c->nproblem; k++)
		if (is_part_of(c->by_code[k]->competency, competency))
			count_one(c->by_code[k], &sum);
	return sum;
}

/* Calls `look` for what belongs to a competency itself. */
static void each_item(const struct course *c, const char *competency,
	void (*look)(void *to, const struct module *m, const struct problem *p), void *to)
{
	for (size_t m = 0; m < c->nmodule; m++)
		for (size_t k = 0; k < c->module[m].nproblem; k++)
			if (strcmp(c->module[m].problem[k].competency, competency) == 0)
				look(to, &c->module[m], &c->module[m].problem[k]);
}

/* ---- for people ------------------------------------------------------------------------------ */

static void add_item(void *to, const struct module *m, const struct problem *p)
{
	text_addf(to, "            %-8s level %d  %s/%s\n", p->is_fixed ? "item" : "problem",
		p->level, m->code, p->code);
}

static bool add_table(const struct course *c, struct text *out)
{
	bool full = true;
	text_addf(out, "%s: %zu problems and items\n\n", c->code, c->nproblem);
	text_add(out, "competency  problems  level 1  level 2  level 3  items  slips\n");
	for (size_t k = 0; k < c->ncompetency; k++) {
		const struct competency *x = &c->competency[k];
		struct cover n = cover_of(c, x->code);
		full = full && n.problem[0] + n.item;
		text_addf(out, "%-10s %9zu %8zu %8zu %8zu %6zu %6zu  ", x->code, n.problem[0],
			n.problem[1], n.problem[2], n.problem[3], n.item, n.slips);
		text_add_safe(out, x->title, strlen(x->title), false);
		text_add(out, n.problem[0] + n.item ? "\n" : "  <- nothing\n");
	}
	text_add_char(out, '\n');
	for (size_t k = 0; k < c->ncompetency; k++) {
		text_addf(out, "%s ", c->competency[k].code);
		text_add_safe(out, c->competency[k].title, strlen(c->competency[k].title), false);
		text_add_char(out, '\n');
		each_item(c, c->competency[k].code, add_item, out);
	}
	return full;
}

/* ---- as JSON --------------------------------------------------------------------------------- */

static void put_item(void *to, const struct module *m, const struct problem *p)
{
	struct json_out *out = to;
	json_open_object(out);
	json_name(out, "code");
	json_text(out, p->code);
	json_name(out, "module");
	json_text(out, m->code);
	json_name(out, "fixed");
	json_truth(out, p->is_fixed);
	json_name(out, "level");
	json_whole(out, p->level);
	json_close_object(out);
}

static bool put_course(const struct course *c, struct json_out *out)
{
	bool full = true;
	json_open_object(out);
	json_name(out, "course");
	json_text(out, c->code);
	json_name(out, "competencies");
	json_open_list(out);
	for (size_t k = 0; k < c->ncompetency; k++) {
		struct cover n = cover_of(c, c->competency[k].code);
		full = full && n.problem[0] + n.item;
		json_open_object(out);
		json_name(out, "competency");
		json_text(out, c->competency[k].code);
		json_name(out, "title");
		json_text(out, c->competency[k].title);
		json_name(out, "problems");
		json_whole(out, (int64_t)n.problem[0]);
		json_name(out, "items");
		json_whole(out, (int64_t)n.item);
		json_name(out, "slips");
		json_whole(out, (int64_t)n.slips);
		json_name(out, "own");
		json_open_list(out);
		each_item(c, c->competency[k].code, put_item, out);
		json_close_list(out);
		json_close_object(out);
	}
	json_close_list(out);
	json_close_object(out);
	return full;
}

/* ---- all of it ------------------------------------------------------------------------------- */

static int load(const char *folder, struct course *out)
{
	struct arena a = {0};
	struct diags d = {.arena = &a};
	enum bad code = course_load(folder, out, &d);
	int status = EXIT_DONE;
	if (code == BAD_ABSENT)
		status = cannot("'%s' is no course: it has no course.yaml", folder);
	else if (code)
		status = cannot("'%s' cannot be read: %s", folder, bad_text(code));
	else if (d.nerror)
		cannot("'%s' has %zu %s; what %s left out", folder, d.nerror,
			text_plural(d.nerror, "fault", "faults"),
			text_plural(d.nerror, "it touches is", "they touch is"));
	arena_release(&a);
	return status;
}

static int cover_one(const char *folder, struct text *out, struct json_out *json)
{
	struct course c;
	int status = load(folder, &c);
	if (status)
		return status;
	bool full = json ? put_course(&c, json) : add_table(&c, out);
	course_release(&c);
	return full ? EXIT_DONE : EXIT_NO;
}

int coverage(const struct options *o, char **folder, int n)
{
	struct text out;
	struct json_out json;
	int status = EXIT_DONE;
	text_init(&out);
	if (o->json) {
		json_begin(&json, &out, true);
		json_open_list(&json);
	}
	for (int k = 0; k < n && status != EXIT_CANNOT; k++) {
		int one = cover_one(folder[k], &out, o->json ? &json : NULL);
		status = one > status ? one : status;
	}
	if (o->json) {
		json_close_list(&json);
		text_add_char(&out, '\n');
	}
	status = put_out(&out, status);
	text_release(&out);
	return status;
}
