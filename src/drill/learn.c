/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drill/learn.h"

#include <string.h>

#include "drill/drill.h"
#include "desk/picture.h"

/* ---- pages ----------------------------------------------------------------------------------- */

static void add_passage(
	struct page *p, const struct passage *x, struct desk *d, struct formula_work *work)
{
	static const enum block_kind kind[] = {
		[PASSAGE_HEADING] = BLOCK_HEADING,
		[PASSAGE_TEXT] = BLOCK_TEXT,
		[PASSAGE_ITEM] = BLOCK_ITEM,
		[PASSAGE_EXACT] = BLOCK_EXACT,
		[PASSAGE_CAUTION] = BLOCK_CAUTION,
		[PASSAGE_SOURCE] = BLOCK_TEXT,
	};
	if (x->kind == PASSAGE_FIGURE)
		picture_add(p, &x->figure, NULL, work, d->surface->columns, d->surface->decimal);
	else
		page_add(p, kind[x->kind], "%s%s", x->kind == PASSAGE_SOURCE ? "Source: " : "",
			x->text);
}

static void fill_page(struct page *p, const struct lesson_page *l, struct desk *d)
{
	struct formula_work *work = arena_new(p->arena, struct formula_work);
	if (!work) {
		p->out = 1;
		return;
	}
	for (size_t n = 0; n < l->n; n++)
		add_passage(p, &l->passage[n], d, work);
}

static void add_criterion(struct page *p, const struct criterion *c)
{
	static const char *const level[RUBRIC_LEVELS] = {
		"0 unusable", "1 below", "2 competent", "3 excellent"};
	page_add(p, BLOCK_TEXT, "%s (%s)", c->text, c->instrument);
	for (int k = RUBRIC_LEVELS - 1; k >= 0; k--)
		page_row(p, level[k], "%s", c->level[k]);
}

static void fill_station(struct page *p, const struct station *s)
{
	page_add(p, BLOCK_TEXT, "At the bench this is rated as station \"%s\", %d of 100 points.",
		s->title, s->weight);
	for (size_t n = 0; n < s->ncriterion; n++)
		add_criterion(p, &s->criterion[n]);
	if (s->ncritical)
		page_add(p, BLOCK_HEADING, "Critical errors: any one fails the station");
	for (size_t n = 0; n < s->ncritical; n++)
		page_add(p, BLOCK_ITEM, "%s", s->critical[n]);
	page_add(p, BLOCK_TEXT, "Source: %s", s->source);
}

static const struct station *find_station(const struct rubric *r, const char *code)
{
	for (size_t n = 0; r && n < r->nstation; n++)
		if (strcmp(r->station[n].code, code) == 0)
			return &r->station[n];
	return NULL;
}

/* ---- reading --------------------------------------------------------------------------------- */

/* All pages of a module in one row: those of its lessons, then one for each station. */
static size_t page_count(const struct desk *d, const struct module *m)
{
	size_t n = 0;
	for (size_t k = 0; k < m->nlesson; k++)
		n += m->lesson[k].npage;
	for (size_t k = 0; k < m->nstation; k++)
		n += find_station(d->rubric, m->station[k]) != NULL;
	return n;
}

static void fill_nth(struct page *p, struct desk *d, const struct module *m, size_t n)
{
	for (size_t k = 0; k < m->nlesson; n -= m->lesson[k++].npage)
		if (n < m->lesson[k].npage) {
			p->title = m->lesson[k].page[n].title;
			fill_page(p, &m->lesson[k].page[n], d);
			return;
		}
	for (size_t k = 0; k < m->nstation; k++) {
		const struct station *s = find_station(d->rubric, m->station[k]);
		if (s && n-- == 0) {
			p->title = "How it is rated";
			fill_station(p, s);
			return;
		}
	}
}

static enum how show_nth(struct desk *d, const struct module *m, size_t n, size_t of)
{
	struct arena a = {0};
	struct page page;
	struct question q = {
		.kind = ASK_GO, .prompt = n + 1 < of ? "Next page" : "End of the lesson"};
	struct reply r;
	page_init(
		&page, &a, m->title, arena_format(&a, "%s, page %zu of %zu", m->title, n + 1, of));
	fill_nth(&page, d, m, n);
	enum bad code = page.out ? BAD_MEMORY : surface_show(d->surface, &page);
	if (!code)
		code = surface_ask(d->surface, &q, &r);
	arena_release(&a);
	return code ? desk_broken(d, code) : how_of(r.kind);
}

static enum how offer_tasks(struct desk *d, const struct module *m)
{
	bool only_reads = d->strand && !strand_is_writable(d->strand);
	const struct choice choices[] = {
		{"practise", "Practise this topic now",
			only_reads ? "nothing is recorded: the record is open elsewhere" : NULL},
		{"back", "Back", NULL},
	};
	struct question q = {
		.kind = ASK_CHOICE, .prompt = "And now?", .choice = choices, .nchoice = 2};
	struct reply r;
	enum bad code = surface_ask(d->surface, &q, &r);
	if (code)
		return desk_broken(d, code);
	if (r.kind != REPLY_CHOICE || r.choice)
		return how_of(r.kind);
	if (only_reads)
		d->strand = NULL;
	return drill_run(d, m, NULL, 0);
}

enum how learn_run(struct desk *d, const struct module *m)
{
	size_t of = page_count(d, m), n = 0;
	while (n < of) {
		const char *kept = d->surface->kept;
		d->surface->kept = n ? "The lesson begins again at its first page." : NULL;
		enum how how = show_nth(d, m, n, of);
		d->surface->kept = kept;
		if (how == HOW_BACK && n > 0)
			n--;
		else if (how)
			return how;
		else
			n++;
	}
	return m->nproblem ? offer_tasks(d, m) : HOW_DONE;
}
