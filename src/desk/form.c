/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "desk/form.h"

#include <barwright/base/random.h>

static enum bad orders(
	struct stream *s, const struct course *c, size_t places, struct arena *a, uint32_t ***out)
{
	uint32_t **order = arena_many(a, places + 1, uint32_t *);
	for (size_t n = 0; order && n < places; n++) {
		order[n] = arena_many(a, c->nproblem + 1, uint32_t);
		if (!order[n])
			return BAD_MEMORY;
		for (size_t k = 0; k < c->nproblem; k++)
			order[n][k] = (uint32_t)k;
		stream_shuffle(s, order[n], c->nproblem);
	}
	*out = order;
	return order ? FINE : BAD_MEMORY;
}

enum bad form_draw(const struct assessment *what, const struct course *bare,
	const struct form_key *key, struct arena *a, const struct problem *const **out)
{
	struct arena aside = {0};
	struct course whole;
	const struct course *c = &whole;
	struct stream s;
	uint32_t **order = NULL;
	size_t places = assessment_places(what), empty = 0;
	const struct problem **form = arena_many(a, places + 1, const struct problem *);
	const char *item = arena_format(&aside, "assessment/%s", what->code);
	enum bad code = form && item ? assessment_course(what, bare, &aside, &whole) : BAD_MEMORY;
	if (!code) {
		stream_open(&s, &(struct draw_key){
					c->code, item, key->candidate, key->sitting, key->attempt});
		code = orders(&s, c, places, &aside, &order);
	}
	if (!code)
		code = assessment_fill(what, c, order, form, &empty);
	arena_release(&aside);
	if (code || empty || !places)
		return code ? code : BAD_NOTHING;
	*out = form;
	return FINE;
}
