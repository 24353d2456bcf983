/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cmd/show_json.h"

#include "course/course.h"
#include "desk/author.h"

static void put_text(struct json_out *out, const char *name, const struct text *t)
{
	json_name(out, name);
	json_text_bytes(out, t->at, t->len);
}

static void put_words(struct json_out *out, const char *name, const struct instance *i,
	const struct template *words)
{
	struct text t;
	text_init(&t);
	instance_text_add(i, words, '.', &t);
	put_text(out, name, &t);
	text_release(&t);
}

/* In the unit asked for; null for nothing. */
static void put_value(
	struct json_out *out, const char *name, const struct shown *shown, double value)
{
	json_name(out, name);
	json_number(out, (value - shown->unit.offset) / shown->unit.factor);
}

static void put_slip(struct json_out *out, const struct instance *i, const struct ask *q,
	const struct slip *slip, double value)
{
	json_open_object(out);
	json_name(out, "slip");
	json_text(out, slip->name);
	put_value(out, "value", &q->shown, value);
	put_words(out, "say", i, &slip->say);
	json_close_object(out);
}

static void put_pairs(struct json_out *out, const struct ask *q, const struct instance_ask *made)
{
	json_name(out, "pairs");
	json_open_list(out);
	for (size_t k = 0; k < made->npair; k++) {
		json_open_object(out);
		json_name(out, "first");
		json_text(out, q->slip[made->pair[k].first].name);
		json_name(out, "second");
		json_text(out, q->slip[made->pair[k].second].name);
		put_value(out, "value", &q->shown, made->pair[k].value);
		json_close_object(out);
	}
	json_close_list(out);
}

static void put_number(struct json_out *out, const struct instance *i, size_t ask)
{
	const struct ask *q = &i->problem->ask[ask];
	const struct instance_ask *made = &i->ask[ask];
	json_name(out, "unit");
	json_text(out, q->shown.clock ? "min" : q->shown.unit_text);
	put_value(out, "answer", &q->shown, made->answer);
	json_name(out, "tolerance");
	json_number(out, made->tolerance / q->shown.unit.factor);
	json_name(out, "slips");
	json_open_list(out);
	for (size_t n = 0; n < q->nslip; n++)
		put_slip(out, i, q, &q->slip[n], made->slip[n]);
	json_close_list(out);
	put_pairs(out, q, made);
}

static void put_options(struct json_out *out, const struct instance *i, size_t ask)
{
	const struct ask *q = &i->problem->ask[ask];
	struct text letters;
	text_init(&letters);
	instance_letters_add(i, ask, &letters);
	put_text(out, "answer", &letters);
	text_release(&letters);
	json_name(out, "options");
	json_open_list(out);
	for (size_t k = 0; k < q->noffer; k++) {
		const struct offer *o = &q->offer[i->ask[ask].place[k]];
		json_open_object(out);
		put_words(out, "text", i, &o->text);
		if (q->kind == ASKED_MATCH)
			put_words(out, "with", i, &o->with);
		json_name(out, "right");
		json_truth(out, i->ask[ask].right >> i->ask[ask].place[k] & 1);
		put_words(out, "say", i, &o->say);
		json_close_object(out);
	}
	json_close_list(out);
}

static void put_steps(struct json_out *out, const struct instance *i, const struct ask *q)
{
	json_name(out, "steps");
	json_open_list(out);
	for (size_t n = 0; n < q->nstep; n++) {
		struct text t;
		text_init(&t);
		instance_step_add(i, &q->step[n], '.', &t);
		json_open_object(out);
		put_words(out, "say", i, &q->step[n].say);
		put_text(out, "works", &t);
		json_close_object(out);
		text_release(&t);
	}
	json_close_list(out);
}

static void put_ask(struct json_out *out, const struct instance *i, size_t ask)
{
	const struct ask *q = &i->problem->ask[ask];
	json_open_object(out);
	json_name(out, "ask");
	json_text(out, q->text);
	if (q->noffer)
		put_options(out, i, ask);
	else
		put_number(out, i, ask);
	put_steps(out, i, q);
	json_close_object(out);
}

static void put_features(struct json_out *out, const struct instance *i)
{
	struct features f;
	instance_features(i, &f);
	json_name(out, "features");
	json_open_object(out);
	json_name(out, "readings");
	json_whole(out, (int64_t)f.readings);
	json_name(out, "digits");
	json_whole(out, (int64_t)f.digits);
	json_name(out, "steps");
	json_whole(out, (int64_t)f.steps);
	json_name(out, "tries");
	json_whole(out, (int64_t)f.tries);
	json_name(out, "largest");
	json_number(out, f.largest);
	json_name(out, "skew");
	json_number(out, f.skew);
	json_name(out, "gap");
	json_number(out, f.gap);
	json_close_object(out);
}

static void put_values(struct json_out *out, const struct instance *i)
{
	json_name(out, "values");
	json_open_object(out);
	for (size_t slot = 0; slot < i->problem->scope.n; slot++) {
		const struct formula_name *name = &i->problem->scope.name[slot];
		struct text t, key;
		text_init(&t);
		text_init(&key);
		text_add_bytes(&key, name->name, name->len);
		if (name->type.kind == FORMULA_TRUTH)
			text_add(&t, i->value[slot].number != 0 ? "true" : "false");
		else
			instance_value_add(i, slot, -1, '.', &t);
		put_text(out, key.at, &t);
		text_release(&t);
		text_release(&key);
	}
	json_close_object(out);
}

void show_json_instance(struct json_out *out, const struct instance *i, uint64_t seed)
{
	json_open_object(out);
	json_name(out, "seed");
	json_whole(out, (int64_t)seed);
	put_words(out, "text", i, &i->problem->text);
	put_values(out, i);
	json_name(out, "asks");
	json_open_list(out);
	for (size_t k = 0; k < i->problem->nask; k++)
		put_ask(out, i, k);
	json_close_list(out);
	put_features(out, i);
	json_close_object(out);
}

/* ---- a sample -------------------------------------------------------------------------------- */

static void put_histogram(struct json_out *out, const struct sample_ask *a)
{
	struct histogram h;
	if (!a->nanswer) {
		json_null(out);
		return;
	}
	histogram_make(a->answer, a->nanswer, &h);
	json_open_object(out);
	json_name(out, "low");
	json_number(out, h.low);
	json_name(out, "high");
	json_number(out, h.high);
	json_name(out, "counts");
	json_open_list(out);
	for (size_t k = 0; k < AUTHOR_BINS; k++)
		json_whole(out, (int64_t)h.count[k]);
	json_close_list(out);
	json_close_object(out);
}

static void put_obstacles(struct json_out *out, const struct sample *s)
{
	json_name(out, "obstacles");
	json_open_list(out);
	for (size_t k = 0; k < s->nobstacle; k++) {
		struct text t;
		text_init(&t);
		unfair_add(s->problem, &s->obstacle[k].at, &t);
		json_open_object(out);
		put_text(out, "words", &t);
		json_name(out, "count");
		json_whole(out, (int64_t)s->obstacle[k].n);
		json_close_object(out);
		text_release(&t);
	}
	json_close_list(out);
}

void show_json_sample(struct json_out *out, const struct sample *s)
{
	json_open_object(out);
	json_name(out, "tries");
	json_whole(out, (int64_t)s->tries);
	json_name(out, "fair");
	json_whole(out, (int64_t)s->fair);
	json_name(out, "clear");
	json_whole(out, (int64_t)s->all_clear);
	put_obstacles(out, s);
	json_name(out, "histograms");
	json_open_list(out);
	for (size_t k = 0; k < s->problem->nask; k++)
		put_histogram(out, &s->ask[k]);
	json_close_list(out);
	json_close_object(out);
}
