/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "export/xapi.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <barwright/base/clock.h>
#include <barwright/base/number.h>
#include <barwright/record/graded.h>

#include "tree/json.h"

const char xapi_base[] = "https://barwright.invalid/";

static void put(struct json_out *j, const char *name, const char *value)
{
	json_name(j, name);
	json_text(j, value);
}

/* An IRI below the base; what may not stand in one is written as %XX (RFC 3986, 2.1). */
static void put_iri(struct json_out *j, const struct xapi *x, const char *name, const char *kind,
	const char *one, const char *two)
{
	static const char plain[] =
		"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-._~";
	const char *const part[] = {one, two};
	struct text t;
	text_init(&t);
	text_addf(&t, "%s%s", x->base, kind);
	for (int i = 0; i < 2 && part[i]; i++) {
		text_add_char(&t, '/');
		for (const char *s = part[i]; *s; s++)
			if (strchr(plain, *s))
				text_add_char(&t, *s);
			else
				text_addf(&t, "%%%02X", (unsigned char)*s);
	}
	j->text->out = j->text->out || t.out;
	put(j, name, t.at);
	text_release(&t);
}

static void put_words(struct json_out *j, const char *name, const char *words)
{
	json_name(j, name);
	json_open_object(j);
	put(j, "en", words);
	json_close_object(j);
}

/* The name of an extension is an IRI. */
static void name_iri(struct json_out *j, const struct xapi *x, const char *what)
{
	char name[300];
	snprintf(name, sizeof name, "%.200sextensions/%.40s", x->base, what);
	json_name(j, name);
}

static void put_account(
	struct json_out *j, const struct xapi *x, const char *name, const char *code)
{
	json_name(j, name);
	json_open_object(j);
	put(j, "objectType", "Agent");
	json_name(j, "account");
	json_open_object(j);
	put(j, "homePage", x->base);
	put(j, "name", code);
	json_close_object(j);
	json_close_object(j);
}

static void put_verb(struct json_out *j, const struct xapi *x, const char *verb, const char *words)
{
	json_name(j, "verb");
	json_open_object(j);
	put_iri(j, x, "id", "verbs", verb, NULL);
	put_words(j, "display", words);
	json_close_object(j);
}

static void put_activities(struct json_out *j, const struct xapi *x, const char *name,
	const char *kind, const char *code)
{
	if (!*code)
		return;
	json_name(j, name);
	json_open_list(j);
	json_open_object(j);
	put_iri(j, x, "id", kind, code, NULL);
	json_close_object(j);
	json_close_list(j);
}

static void put_line(struct json_out *j, const struct xapi *x, const struct picked *p)
{
	char hex[HASH_HEX + 1];
	hash_hex(&p->line->hash, hex);
	name_iri(j, x, "line");
	json_open_object(j);
	put(j, "strand", p->line->strand);
	json_name(j, "n");
	json_whole(j, (int64_t)p->line->n);
	put(j, "hash", hex);
	put(j, "standing", p->seal ? "assessed" : "practice");
	if (p->seal) {
		json_name(j, "seal_n");
		json_whole(j, (int64_t)p->seal->n);
	}
	json_close_object(j);
}

/* The assessor whose seal makes it count is the instructor. */
static void put_context(struct json_out *j, const struct xapi *x, const struct picked *p)
{
	json_name(j, "context");
	json_open_object(j);
	if (p->seal)
		put_account(j, x, "instructor", p->seal->key);
	if (*p->open->program)
		put(j, "platform", p->open->program);
	json_name(j, "contextActivities");
	json_open_object(j);
	put_activities(j, x, "parent", "courses", p->open->course);
	put_activities(j, x, "grouping", "sittings", p->open->sitting);
	json_close_object(j);
	json_name(j, "extensions");
	json_open_object(j);
	put_line(j, x, p);
	json_close_object(j);
	json_close_object(j);
}

/* ---- answers --------------------------------------------------------------------------------- */

/* A number within a tolerance is "least[:]most". */
static void put_interaction(struct json_out *j, const struct line_answer *a)
{
	char pattern[100], *end_value, *end_tolerance;
	double value = strtod(a->expected, &end_value);
	double tolerance = strtod(a->tolerance, &end_tolerance);
	bool numeric = *a->expected && *a->tolerance && !*end_value && !*end_tolerance &&
		       isfinite(value) && isfinite(tolerance);
	put(j, "interactionType", numeric ? "numeric" : "other");
	if (!*a->expected)
		return;
	snprintf(pattern, sizeof pattern, "%.6f[:]%.6f", value - tolerance, value + tolerance);
	json_name(j, "correctResponsesPattern");
	json_open_list(j);
	json_text(j, numeric ? pattern : a->expected);
	json_close_list(j);
}

static void put_item(struct json_out *j, const struct xapi *x, const struct line_answer *a)
{
	char ask[24];
	snprintf(ask, sizeof ask, "%" PRIu64, a->ask);
	json_name(j, "object");
	json_open_object(j);
	put(j, "objectType", "Activity");
	put_iri(j, x, "id", "items", a->item, ask);
	json_name(j, "definition");
	json_open_object(j);
	put_words(j, "name", a->item);
	put_interaction(j, a);
	json_close_object(j);
	json_close_object(j);
}

/* Hundredths of a second at most: finer is not asked for. */
static void put_duration(struct json_out *j, uint64_t ms)
{
	char text[40];
	snprintf(text, sizeof text, "PT%" PRIu64 ".%02uS", ms / 1000, (unsigned)(ms % 1000 / 10));
	put(j, "duration", text);
}

static void put_answer_result(struct json_out *j, const struct xapi *x, const struct line_answer *a)
{
	json_name(j, "result");
	json_open_object(j);
	if (!line_answer_is_held(a)) {
		json_name(j, "success");
		json_truth(j, strcmp(a->outcome, "right") == 0 && !a->late_ms);
	}
	put(j, "response", a->typed);
	put_duration(j, a->took_ms);
	json_name(j, "extensions");
	json_open_object(j);
	name_iri(j, x, "answer");
	json_open_object(j);
	put(j, "outcome", a->outcome);
	put(j, "slip", a->slip);
	json_name(j, "attempt");
	json_whole(j, (int64_t)a->attempt);
	json_name(j, "turn");
	json_whole(j, (int64_t)a->turn);
	json_name(j, "hints");
	json_whole(j, (int64_t)a->hints);
	json_close_object(j);
	json_close_object(j);
	json_close_object(j);
}

/* ---- results --------------------------------------------------------------------------------- */

/* A plain decimal from 0 to 100. */
static bool is_percent(const char *s, double *out)
{
	char *end;
	if (!*s || strspn(s, "0123456789.") != strlen(s))
		return false;
	*out = strtod(s, &end);
	return !*end && *out >= 0 && *out <= 100;
}

static void put_score(struct json_out *j, const char *percent)
{
	double value;
	if (!is_percent(percent, &value))
		return;
	json_name(j, "score");
	json_open_object(j);
	json_name(j, "scaled");
	json_number(j, value / 100);
	json_name(j, "raw");
	json_number(j, value);
	json_name(j, "min");
	json_whole(j, 0);
	json_name(j, "max");
	json_whole(j, 100);
	json_close_object(j);
}

static void put_result(struct json_out *j, const struct line_result *r)
{
	json_name(j, "result");
	json_open_object(j);
	put_score(j, r->percent);
	if (strcmp(r->verdict, "open") != 0) {
		json_name(j, "success");
		json_truth(j, strcmp(r->verdict, "passed") == 0);
	}
	json_name(j, "completion");
	json_truth(j, strcmp(r->verdict, "open") != 0);
	put_duration(j, r->used_ms);
	json_close_object(j);
}

static void put_assessment(struct json_out *j, const struct xapi *x, const struct line_result *r)
{
	json_name(j, "object");
	json_open_object(j);
	put(j, "objectType", "Activity");
	put_iri(j, x, "id", "assessments", r->of, NULL);
	json_name(j, "definition");
	json_open_object(j);
	put_words(j, "name", *r->title ? r->title : r->of);
	json_close_object(j);
	json_close_object(j);
}

/* ---- statements ------------------------------------------------------------------------------ */

static void begin_statement(struct xapi *x, struct json_out *j, const struct picked *p)
{
	char at[TIME_TEXT];
	text_add(x->out, x->n++ ? ",\n" : "\n");
	json_begin(j, x->out, false);
	json_open_object(j);
	put(j, "id", p->line->id);
	time_write(p->line->at_ms, at);
	put(j, "timestamp", at);
	put_account(j, x, "actor", p->line->who);
}

static enum bad end_statement(struct json_out *j, const struct xapi *x, const struct picked *p)
{
	put_context(j, x, p);
	json_close_object(j);
	return json_end(j);
}

static enum bad on_answer(struct xapi *x, const struct picked *p, struct arena *a)
{
	struct line_answer answer;
	struct json_out j;
	enum bad code = line_answer_read(p->line, a, &answer);
	if (code)
		return code;
	begin_statement(x, &j, p);
	put_verb(&j, x, "answered", "answered");
	put_item(&j, x, &answer);
	put_answer_result(&j, x, &answer);
	return end_statement(&j, x, p);
}

static enum bad on_result(struct xapi *x, const struct picked *p, struct arena *a)
{
	struct line_result result;
	struct json_out j;
	enum bad code = line_result_read(p->line, a, &result);
	if (code)
		return code;
	begin_statement(x, &j, p);
	put_verb(&j, x, "was-assessed", "was assessed in");
	put_assessment(&j, x, &result);
	put_result(&j, &result);
	return end_statement(&j, x, p);
}

static enum bad on_line(void *context, const struct picked *p)
{
	struct xapi *x = context;
	struct arena a = {0};
	enum bad code = p->kind == LINE_ANSWER   ? on_answer(x, p, &a)
			: p->kind == LINE_RESULT ? on_result(x, p, &a)
						 : FINE;
	arena_release(&a);
	/* a line of a later program is left out */
	return code == BAD_MEMORY || x->out->out ? BAD_MEMORY : FINE;
}

void xapi_begin(struct xapi *x, const char *base, struct text *out)
{
	*x = (struct xapi){base, out, 0};
	text_add(out, "[");
}

enum bad xapi_strand(
	struct xapi *x, const struct source *s, const struct key_ring *assessors, struct diags *d)
{
	return pick_lines(s, assessors, on_line, x, d);
}

void xapi_end(struct xapi *x)
{
	text_add(x->out, x->n ? "\n]\n" : "]\n");
}
