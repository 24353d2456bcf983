/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "surface/surface.h"

volatile sig_atomic_t surface_stop;

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
