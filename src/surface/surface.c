/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "surface/surface.h"

volatile sig_atomic_t surface_stop;

size_t question_number(const struct question *q, size_t i)
{
	return q->is_scale ? q->nchoice - 1 - i : i + 1;
}

size_t question_line(const struct question *q, size_t number)
{
	if (q->is_scale)
		return number < q->nchoice ? q->nchoice - 1 - number : q->nchoice;
	return number >= 1 && number <= q->nchoice ? number - 1 : q->nchoice;
}

enum bad surface_show(struct surface *s, const struct page *p)
{
	return s->ops->show(s, p);
}

enum bad surface_tell(struct surface *s, const struct page *p)
{
	return s->ops->tell(s, p);
}

enum bad surface_ask(struct surface *s, const struct question *q, struct reply *out)
{
	return s->ops->ask(s, q, out);
}
