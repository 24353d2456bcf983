/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What can only be told of a procedure when all of it is read: circles in the order of its steps,
 * faults that show before they are made, what nobody ever uses. */
#include <string.h>

#include "course/procedure_parts.h"

static step_set one(size_t k)
{
	return (step_set)1 << k;
}

/* All that stands before each step, near and far: by growing until nothing grows. */
static void before_find(struct reading *r)
{
	size_t n = r->p->nstep;
	bool grown = true;
	for (size_t i = 0; i < n; i++)
		r->step[i].before = r->step[i].after;
	while (grown) {
		grown = false;
		for (size_t i = 0; i < n; i++) {
			step_set all = r->step[i].before;
			for (size_t k = 0; k < n; k++)
				if (all & one(k))
					all |= r->step[k].before;
			grown |= all != r->step[i].before;
			r->step[i].before = all;
		}
	}
}

static void circles_tell(struct reading *r)
{
	for (size_t i = 0; i < r->p->nstep; i++) {
		const struct work_step *s = &r->step[i];
		if (!(s->before & one(i)))
			continue;
		diag_error(r->doc->diags, BAD_ORDER, s->place, (uint32_t)strlen(s->code),
			"%s has to be done before itself", s->code);
		for (size_t k = 0; k < r->p->nstep; k++)
			if (k != i && (s->after & one(k)) && (r->step[k].before & one(i)))
				diag_note(r->doc->diags, r->step[k].place,
					"it comes after %s, which comes after it", r->step[k].code);
	}
}

/* Whoever follows the file from top to bottom must find each step ready. */
static void listing_tell(struct reading *r)
{
	for (size_t i = 0; i < r->p->nstep; i++) {
		const struct work_step *s = &r->step[i];
		step_set later = s->after & ~(one(i) - 1) & ~one(i);
		if (s->before & one(i))
			continue;
		for (size_t k = i + 1; k < r->p->nstep; k++)
			if (later & one(k))
				diag_error(r->doc->diags, BAD_ORDER, s->place,
					(uint32_t)strlen(s->code),
					"%s comes after %s, which stands further down", s->code,
					r->step[k].code);
	}
}

/* Can `late` come in time after `early`, or be it? */
static bool may_follow(const struct procedure *p, size_t early, size_t late)
{
	return late >= p->nstep || early == late || !(p->step[early].before & one(late));
}

static void fault_tell(struct reading *r, const struct fault *f)
{
	const struct procedure *p = r->p;
	struct diags *d = r->doc->diags;
	uint32_t span = (uint32_t)strlen(f->code);
	if (f->made == SIZE_MAX || f->check_at == SIZE_MAX || f->shows == AT_NOWHERE)
		return;
	if (!may_follow(p, f->made, f->shows))
		diag_error(d, BAD_ORDER, f->place, span, "%s shows at %s, before it is made at %s",
			f->code, p->step[f->shows].code, p->step[f->made].code);
	if (!may_follow(p, f->made, f->check_at))
		diag_error(d, BAD_ORDER, f->place, span,
			"%s is checked at %s, before it is made at %s", f->code,
			p->step[f->check_at].code, p->step[f->made].code);
	else if (f->shows < p->nstep && may_follow(p, f->made, f->shows) &&
		 !may_follow(p, f->check_at, f->shows))
		diag_error(d, BAD_ORDER, f->place, span,
			"the check of %s, at %s, comes after it shows, at %s", f->code,
			p->step[f->check_at].code, p->step[f->shows].code);
	if (f->when && formula_is_constant(f->when))
		diag_error(d, BAD_UNUSED, f->place, span,
			"%s hangs on no number: it is always there, or never", f->code);
	if (f->look != SIZE_MAX && p->look[f->look].reads && !f->has_below && !f->has_above)
		diag_error(d, BAD_MISSING, f->place, span,
			"the look of %s reads a number, but not which one tells: 'below' or "
			"'above'",
			f->code);
	if (f->look != SIZE_MAX && p->look[f->look].from != SIZE_MAX &&
		!may_follow(p, p->look[f->look].from, f->check_at))
		diag_error(d, BAD_ORDER, f->place, span, "the look '%s' is not possible before %s",
			p->look[f->look].code, p->step[p->look[f->look].from].code);
}

static void unused_tell(struct reading *r)
{
	const struct procedure *p = r->p;
	for (size_t i = GIVEN_COUNT; i < p->scope.n; i++) {
		const struct formula_name *name = &p->scope.name[i];
		bool is_let = i >= p->scope.n - p->nlet;
		if (i == p->core[CORE_SITE_X]) /* it tells how many sites there are */
			continue;
		if (!name->used &&
			!(i - GIVEN_COUNT < p->nproperty && p->property[i - GIVEN_COUNT].seen))
			diag_warn(r->doc->diags, BAD_UNUSED, name->declared, (uint32_t)name->len,
				"'%.*s' is never used", (int)name->len, name->name);
		else if (!is_let && i - GIVEN_COUNT < p->nproperty && !r->is_set[i] &&
			 !p->property[i - GIVEN_COUNT].is_truth)
			diag_warn(r->doc->diags, BAD_UNUSED, name->declared, (uint32_t)name->len,
				"nothing ever gives '%.*s' a value", (int)name->len, name->name);
	}
	for (size_t i = 0; i < p->nlook; i++) {
		bool used = p->look[i].reads;
		for (size_t k = 0; k < p->nfault; k++)
			used |= p->fault[k].look == i;
		if (!used)
			diag_warn(r->doc->diags, BAD_UNUSED, p->look[i].place,
				(uint32_t)strlen(p->look[i].code), "no fault is found by '%s'",
				p->look[i].code);
	}
}

static void back_tell(struct reading *r, const struct back *b)
{
	if (b->to != SIZE_MAX && !(b->undoes & one(b->to)))
		diag_error(r->doc->diags, BAD_ORDER, b->place, (uint32_t)strlen(b->code),
			"'%s' goes on at %s but does not take it back", b->code,
			r->p->step[b->to].code);
}

void procedure_graph(struct reading *r)
{
	before_find(r);
	circles_tell(r);
	listing_tell(r);
	for (size_t i = 0; i < r->p->nfault; i++)
		fault_tell(r, &r->p->fault[i]);
	for (size_t i = 0; i < r->p->nback; i++)
		back_tell(r, &r->p->back[i]);
	if (!r->doc->diags->nerror)
		unused_tell(r);
}
