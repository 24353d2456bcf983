/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench/view.h"

#include <math.h>
#include <string.h>

#include <barwright/item/instance.h>

#include "bench/decide.h"

/* ---- words ----------------------------------------------------------------------------------- */

static const char *duration(struct arena *a, double seconds)
{
	long minutes = (long)floor(seconds / 60 + 1e-6);
	long hours = minutes / 60, days = hours / 24;
	const char *made =
		days && minutes % 1440 == 0 ? arena_format(a, "%ld d", days)
		: days ? arena_format(a, "%ld d %ld h %02ld min", days, hours % 24, minutes % 60)
		       : arena_format(a, "%ld h %02ld min", hours, minutes % 60);
	return made ? made : "";
}

const char *view_clock(struct arena *a, const struct bench *b, double at_s)
{
	return duration(a, at_s - b->start_s);
}

const char *view_time(struct arena *a, const struct bench *b)
{
	double now_s = bench_clock_s(b);
	if (isinf(b->limit_s))
		return view_clock(a, b, now_s);
	const char *made = arena_format(a, "%s, %s left", view_clock(a, b, now_s),
		duration(a, fmax(0, b->limit_s - now_s)));
	return made ? made : "";
}

static const char *kept_text(struct arena *a, struct text *t)
{
	const char *made = t->out ? NULL : arena_copy(a, t->at, t->len);
	text_release(t);
	return made ? made : "";
}

const char *view_number(struct arena *a, const struct bench_view *v, double x, int places)
{
	struct text t;
	text_init(&t);
	number_add_to(x, places, v->decimal, &t);
	return kept_text(a, &t);
}

const char *view_short(struct arena *a, const struct bench_view *v, double x)
{
	int places = 0;
	double scale = 1;
	while (places < 4 && fabs(x * scale - round(x * scale)) > 1e-6 * scale) {
		places++;
		scale *= 10;
	}
	return view_number(a, v, x, places);
}

const char *view_values(struct arena *a, const struct bench_view *v, const struct shown *s,
	const double *value, size_t n)
{
	struct text t;
	text_init(&t);
	for (size_t i = 0; i < n; i++) {
		double x = (value[i] - s->unit.offset) / s->unit.factor;
		text_add(&t, i ? v->decimal == ',' ? "; " : ", " : "");
		number_add_to(x, s->places, v->decimal, &t);
	}
	if (*s->unit_text)
		text_addf(&t, strcmp(s->unit_text, "deg") == 0 ? "%s" : " %s",
			decision_unit(s->unit_text));
	return kept_text(a, &t);
}

static const char *property_words(
	struct page *p, const struct bench_view *v, const struct property *property)
{
	size_t slot = property->slot;
	const struct formula_value *x = bench_value(v->bench, slot);
	if (property->is_truth)
		return x->number != 0 ? "yes" : "no";
	return view_values(p->arena, v, &v->bench->procedure->shown[slot],
		x->list ? x->list : &x->number, x->list ? x->n : 1);
}

/* ---- what happened --------------------------------------------------------------------------- */

/* The way back that the remedy names; when it is barred as the work now is, the shortest that takes
 * the step back where the fault was made. SIZE_MAX: there is none. */
static size_t way_back(struct bench *b, const struct fault *f)
{
	const struct procedure *pr = b->procedure;
	size_t best = SIZE_MAX;
	if (f->remedy.back != SIZE_MAX && bench_can_back(b, f->remedy.back))
		return f->remedy.back;
	for (size_t i = 0; i < pr->nback; i++)
		if ((pr->back[i].undoes >> f->made & 1) && bench_can_back(b, i) &&
			(best == SIZE_MAX || pr->back[i].to > pr->back[best].to))
			best = i;
	return best;
}

static bool can_go_back(struct bench *b)
{
	for (size_t i = 0; i < b->procedure->nback; i++)
		if (bench_can_back(b, i))
			return true;
	return false;
}

static const char *const no_way = "there is no way back from here";
static const char *const no_short_way =
	"it lies under later work: remake lists the ways back, one after the other";

/* "mend F12", "remake new-bar", or that there is no such way. */
static const char *remedy_way(struct page *p, const struct bench_view *v, size_t k)
{
	const struct procedure *pr = v->bench->procedure;
	const struct fault *f = &pr->fault[k];
	size_t back = f->remedy.mends ? SIZE_MAX : way_back(v->bench, f);
	if (!f->remedy.mends && back == SIZE_MAX)
		return can_go_back(v->bench) ? no_short_way : no_way;
	const char *made = f->remedy.mends
				   ? arena_format(p->arena, "mend %s", f->code)
				   : arena_format(p->arena, "remake %s", pr->back[back].code);
	return made ? made : "";
}

/* What it is and what is to be done is for the person to find out; guided work tells the second. */
static void remedy_add(struct page *p, const struct bench_view *v, size_t k)
{
	const struct fault *f = &v->bench->procedure->fault[k];
	if (!v->bench->fault[k].is_there || v->bench->end)
		return;
	if (v->bench->mode == BENCH_GUIDED)
		page_add(p, BLOCK_TEXT, "To put it right: %s (%s).", f->remedy.text,
			remedy_way(p, v, k));
	else if (f->remedy.mends)
		page_add(p, BLOCK_TEXT, "It can be put right here: mend %s.", f->code);
	else
		page_add(p, BLOCK_TEXT, "%s",
			can_go_back(v->bench)
				? "What was its cause? To go back behind it: remake lists the ways."
				: "There is no way back from here.");
}

const char *view_seen(const struct bench *b, size_t k)
{
	const struct fault *f = &b->procedure->fault[k];
	return b->fault[k].shown_s >= 0 ? f->seen : f->sign;
}

static void shown_fault(struct page *p, const struct bench_view *v, size_t k)
{
	const struct fault *f = &v->bench->procedure->fault[k];
	if (v->bench->mode == BENCH_HUNT && !v->bench->end) {
		page_add(p, BLOCK_BAD, "There is something to see: %s.", f->seen);
		return;
	}
	page_add(p, BLOCK_BAD, "Now it shows: %s.", f->seen);
	remedy_add(p, v, k);
}

/* A reading tells by its number alone; only what is seen is said. */
static void found_fault(struct page *p, const struct bench_view *v, size_t k)
{
	const struct procedure *pr = v->bench->procedure;
	const struct fault *f = &pr->fault[k];
	if (f->look != SIZE_MAX && pr->look[f->look].reads)
		return;
	page_add(p, BLOCK_BAD, "To be seen: %s.", f->sign);
	if (v->bench->mode != BENCH_HUNT)
		remedy_add(p, v, k);
}

/* What is seen stays to be seen, however often one looks. */
static void look_news(struct page *p, const struct bench_view *v, size_t look)
{
	const struct bench *b = v->bench;
	bool any = false;
	view_reading(p, v, look);
	for (size_t k = 0; k < b->procedure->nfault; k++) {
		if (b->procedure->fault[k].look != look || !b->fault[k].is_there ||
			!b->fault[k].is_found)
			continue;
		found_fault(p, v, k);
		any = true;
	}
	if (!any && !v->note[look].reading.n)
		page_add(p, BLOCK_TEXT, "Nothing wrong is to be seen there.");
}

static void news_add(struct page *p, const struct bench_view *v, const struct bench_event *e)
{
	const struct procedure *pr = v->bench->procedure;
	switch (e->kind) {
	case HAPPENED_STEP:
		page_add(p, BLOCK_GOOD, "Done: %s.", pr->step[e->what].title);
		if (pr->step[e->what].seen)
			page_add(p, BLOCK_TEXT, "%s", pr->step[e->what].seen);
		break;
	case HAPPENED_LOOK:
		look_news(p, v, e->what);
		break;
	case HAPPENED_SHOWN:
		shown_fault(p, v, e->what);
		break;
	case HAPPENED_MENDED:
		page_add(p, BLOCK_GOOD, "No longer so: %s.", view_seen(v->bench, e->what));
		break;
	case HAPPENED_BACK:
		page_add(p, BLOCK_GOOD, "Back to %s: %s.", pr->step[pr->back[e->what].to].code,
			pr->back[e->what].title);
		break;
	case HAPPENED_BOUGHT:
		page_add(p, BLOCK_GOOD, "It has come: %s.", pr->stuff[e->what].title);
		break;
	case HAPPENED_HELD:
		page_add(p, BLOCK_TEXT, "%s", pr->step[e->what].wait_for);
		break;
	case HAPPENED_WAITED:
		page_add(p, BLOCK_GOOD, "Time went by.");
		break;
	default:
		break;
	}
}

/* What went with a step taken back is told only if it was seen: a number alone names no fault. */
static bool was_seen(const struct bench *b, size_t k)
{
	const struct fault_mark *m = &b->fault[k];
	size_t look = b->procedure->fault[k].look;
	bool by_eye = look != SIZE_MAX && !b->procedure->look[look].reads;
	return m->shown_s >= 0 || (m->found_s >= 0 && by_eye);
}

void view_news(struct page *p, const struct bench_view *v)
{
	const struct bench *b = v->bench;
	for (size_t i = b->first_new; i < b->nlog; i++) {
		const struct bench_event *e = &b->log[i];
		bool is_news = !happening_is_hidden(e->kind) &&
			       (e->kind != HAPPENED_MENDED || was_seen(b, e->what));
		if (is_news)
			news_add(p, v, e);
	}
	if (v->by_lines)
		page_row(p, "Clock", "%s", view_time(p->arena, b));
}

static bool is_finer(const struct bench_reading *r, const struct bench_reading *than)
{
	return r->n && (!than->n || r->tool->error + r->tool->resolution <
					    than->tool->error + than->tool->resolution);
}

void view_note(struct bench_view *v, size_t look, const struct bench_reading *r)
{
	struct bench_note *x = &v->note[look];
	struct bench_note now = {.is_there = true, .reading = *r, .at_s = bench_clock_s(v->bench)};
	if (x->is_there && is_finer(&x->reading, &x->finer)) {
		x->finer = x->reading;
		x->finer_s = x->at_s;
	}
	if (is_finer(&x->finer, r)) {
		now.finer = x->finer;
		now.finer_s = x->finer_s;
	}
	*x = now;
}

static void finer_add(struct page *p, const struct bench_view *v, size_t look)
{
	const struct bench_note *x = &v->note[look];
	if (x->finer.n)
		page_row(p, "with the finer tool before", "%s (%s, at %s)",
			view_values(p->arena, v, &x->finer.tool->shown, x->finer.value, x->finer.n),
			x->finer.tool->title, view_clock(p->arena, v->bench, x->finer_s));
}

void view_reading(struct page *p, const struct bench_view *v, size_t look)
{
	const struct look *l = &v->bench->procedure->look[look];
	const struct bench_reading *r = &v->note[look].reading;
	if (!v->note[look].is_there || !r->n)
		return;
	page_row(p, l->title, "%s (%s)", view_values(p->arena, v, &r->tool->shown, r->value, r->n),
		r->tool->title);
}

/* ---- what can be done ------------------------------------------------------------------------ */

void view_next(struct page *p, const struct bench_view *v)
{
	const struct procedure *pr = v->bench->procedure;
	bool any = false;
	if (v->bench->mode == BENCH_HUNT) {
		page_add(p, BLOCK_TEXT,
			"Something is wrong on this bench. Look, measure, go on if you "
			"must, and then name it.");
		return;
	}
	page_add(p, BLOCK_TEXT, "Next in the order of the work:");
	for (size_t i = 0; i < pr->nstep; i++)
		if (bench_is_next(v->bench, i)) {
			page_add(p, BLOCK_ITEM, "%s %s: %s", pr->step[i].code, pr->step[i].word,
				pr->step[i].title);
			any = true;
		}
	if (!any)
		page_add(p, BLOCK_ITEM, "all is done: release hands the work over");
}

/* In a hunt the sheet that came with the work is all there is: what was left out is ticked on it. */
static const char *step_words(const struct bench *b, size_t step)
{
	enum step_state state = b->step[step].state;
	if (state == STEP_OPEN)
		return "";
	return b->mode == BENCH_HUNT    ? " (ticked)"
	       : state == STEP_LEFT_OUT ? " (left out)"
					: " (done)";
}

void view_steps(struct page *p, const struct bench_view *v)
{
	const struct bench *b = v->bench;
	const struct procedure *pr = b->procedure;
	page_add(p, BLOCK_HEADING, "%s",
		b->mode == BENCH_HUNT ? "The steps of this part, as ticked on its sheet"
				      : "The steps of this part");
	for (size_t i = b->from; i <= b->to; i++)
		if (bench_applies(b, i))
			page_add(p, BLOCK_ITEM, "%s %s: %s%s", pr->step[i].code, pr->step[i].word,
				pr->step[i].title, step_words(b, i));
}

/* The look that was taken last, if that was the last decision: it stands in the news. */
static size_t fresh_look(const struct bench *b)
{
	for (size_t i = b->first_new; i < b->nlog; i++)
		if (b->log[i].kind == HAPPENED_LOOK)
			return b->log[i].what;
	return SIZE_MAX;
}

static void measured_add(struct page *p, const struct bench_view *v, size_t but)
{
	size_t n = 0;
	for (size_t i = 0; i < v->bench->procedure->nlook; i++) {
		if (!v->note[i].is_there || !v->note[i].reading.n || i == but)
			continue;
		if (!n++)
			page_add(p, BLOCK_HEADING, "Measured so far");
		view_reading(p, v, i);
		finer_add(p, v, i);
	}
	if (!n && but == SIZE_MAX)
		page_add(p, BLOCK_TEXT, "Nothing is measured yet; only what is measured is known.");
}

void view_measured_before(struct page *p, const struct bench_view *v)
{
	measured_add(p, v, fresh_look(v->bench));
}

void view_known(struct page *p, const struct bench_view *v)
{
	const struct procedure *pr = v->bench->procedure;
	page_add(p, BLOCK_HEADING, "Prescription and rules of this course");
	for (size_t i = 0; i < pr->nproperty; i++)
		if (pr->property[i].seen)
			page_row(p, pr->property[i].about, "%s",
				property_words(p, v, &pr->property[i]));
	measured_add(p, v, SIZE_MAX);
	page_row(p, "Clock", "%s", view_time(p->arena, v->bench));
}

static const char *tool_words(struct page *p, const struct procedure *pr, const struct look *l)
{
	struct text t;
	text_init(&t);
	for (size_t i = 0; i < l->ntool; i++)
		text_addf(&t, "%s%s", i ? ", " : "", pr->tool[l->tool[i]].code);
	return kept_text(p->arena, &t);
}

void view_looks(struct page *p, const struct bench_view *v)
{
	const struct procedure *pr = v->bench->procedure;
	bool any = false;
	page_add(p, BLOCK_HEADING, "What can be looked at now, and with what");
	for (size_t i = 0; i < pr->nlook; i++) {
		if (!bench_can_look(v->bench, i))
			continue;
		page_add(p, BLOCK_ITEM, "%s: %s (%s)", pr->look[i].code, pr->look[i].title,
			tool_words(p, pr, &pr->look[i]));
		any = true;
	}
	page_add(p, BLOCK_TEXT, "%s",
		any ? "Type look and the first word; a tool behind it, if not the first one."
		    : "Nothing yet.");
}

void view_mends(struct page *p, const struct bench_view *v)
{
	const struct procedure *pr = v->bench->procedure;
	bool any = false;
	if (v->bench->mode == BENCH_HUNT) {
		page_add(p, BLOCK_TEXT, "Here nothing is put right: name what it is.");
		return;
	}
	page_add(p, BLOCK_HEADING, "What has been seen");
	for (size_t k = 0; k < pr->nfault; k++) {
		if (!bench_is_known(v->bench, k))
			continue;
		any = true;
		page_add(p, BLOCK_ITEM, "%s", view_seen(v->bench, k));
		remedy_add(p, v, k);
	}
	if (!any)
		page_add(p, BLOCK_TEXT, "Nothing that could be put right.");
}

void view_backs(struct page *p, const struct bench_view *v)
{
	const struct procedure *pr = v->bench->procedure;
	bool any = false;
	page_add(p, BLOCK_HEADING, "Ways back; each costs time and material");
	for (size_t i = 0; i < pr->nback; i++) {
		if (!bench_can_back(v->bench, i))
			continue;
		page_add(p, BLOCK_ITEM, "%s: %s (goes on at %s)", pr->back[i].code,
			pr->back[i].title, pr->step[pr->back[i].to].code);
		any = true;
	}
	page_add(p, BLOCK_TEXT, "%s",
		any ? "Type remake and the first word." : "There is nothing yet to go back from.");
}

const char *view_stuff(struct arena *a, const struct bench_view *v, size_t stuff)
{
	const struct stuff *x = &v->bench->procedure->stuff[stuff];
	const char *left = view_values(a, v, &x->shown, &v->bench->stock[stuff], 1);
	if (!(x->order > 0))
		return left;
	const char *made = arena_format(a, "%s left; %s more cost %s and come after %s", left,
		view_values(a, v, &x->shown, &x->order, 1),
		view_number(a, v, x->order * x->price, 2), duration(a, x->wait_s));
	return made ? made : left;
}

void view_stuffs(struct page *p, const struct bench_view *v)
{
	const struct procedure *pr = v->bench->procedure;
	page_add(p, BLOCK_HEADING, "Material on the shelf; type order and the first word for more");
	for (size_t i = 0; i < pr->nstuff; i++)
		page_row(p,
			arena_format(p->arena, "%s (%s)", pr->stuff[i].title, pr->stuff[i].code),
			"%s", view_stuff(p->arena, v, i));
}

bool view_may_name(const struct bench *b, size_t fault)
{
	size_t made = b->procedure->fault[fault].made;
	return made >= b->from && made <= b->to;
}

void view_names(struct page *p, const struct bench_view *v)
{
	const struct procedure *pr = v->bench->procedure;
	if (v->bench->mode != BENCH_HUNT) {
		page_add(p, BLOCK_TEXT, "Nothing is hidden here that is to be named.");
		return;
	}
	page_add(p, BLOCK_HEADING, "Faults of this part; type name and the code");
	for (size_t k = 0; k < pr->nfault; k++)
		if (view_may_name(v->bench, k))
			page_add(p, BLOCK_ITEM, "%s %s", pr->fault[k].code, pr->fault[k].title);
}

void view_step(struct page *p, const struct bench_view *v, size_t step)
{
	const struct work_step *s = &v->bench->procedure->step[step];
	page_add(p, BLOCK_HEADING, "%s %s", s->code, s->title);
	if (v->bench->mode != BENCH_GUIDED)
		page_add(p, BLOCK_TEXT, "%s.", s->why);
	if (s->caution)
		page_add(p, BLOCK_CAUTION, "%s", s->caution);
}

void view_bench(struct page *p, const struct bench_view *v)
{
	const struct bench *b = v->bench;
	const struct procedure *pr = b->procedure;
	page_add(p, BLOCK_TEXT, "%s", pr->part[b->part].about);
	if (pr->caution)
		page_add(p, BLOCK_CAUTION, "%s", pr->caution);
	picture_work(p, v);
	if (v->by_lines)
		page_row(p, "Clock", "%s", view_time(p->arena, b));
	if (v->by_lines || b->mode == BENCH_HUNT)
		view_next(p, v);
}
