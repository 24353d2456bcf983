/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "export/pick.h"

struct picking {
	enum bad (*each)(void *context, const struct picked *p);
	void *context;
	struct seals seals;
	struct arena sitting;
	struct line_open open;
	bool is_open;
};

/* A sitting that this program cannot read has no lines it can use. */
static enum bad begin(struct picking *p, const struct strand_line *line)
{
	arena_release(&p->sitting);
	enum bad code = line_open_read(line, &p->sitting, &p->open);
	p->is_open = !code;
	return code == BAD_MEMORY ? code : FINE;
}

static enum bad on_line(void *context, const struct strand_line *line)
{
	struct picking *p = context;
	if (line->erased)
		return FINE;
	struct picked out = {.line = line, .kind = line_kind(line->kind), .open = &p->open};
	if (out.kind == LINE_OPEN) {
		enum bad code = begin(p, line);
		if (code)
			return code;
	}
	if (!p->is_open)
		return FINE;
	out.seal = seal_of(&p->seals, line->n, p->open.sitting);
	return p->each(p->context, &out);
}

enum bad pick_lines(const struct source *s, const struct key_ring *assessors,
	enum bad (*each)(void *context, const struct picked *p), void *context, struct diags *d)
{
	struct picking p = {.each = each, .context = context};
	struct strand_sum sum;
	struct arena a = {0};
	struct strand_check check = {.known = assessors};
	enum bad code = seals_find(s, assessors, &a, &p.seals);
	check.checked = p.seals.checked;
	if (!code)
		code = strand_read(s, &check, NULL, NULL, &sum, d);
	if (!code || code == BAD_TORN) {
		check.checked = sum.lines; /* all of them, just now */
		code = strand_read(s, &check, on_line, &p, &sum, NULL);
	}
	arena_release(&p.sitting);
	arena_release(&a);
	return code == BAD_TORN ? FINE : code;
}
