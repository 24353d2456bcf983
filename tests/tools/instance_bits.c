/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Prints one hash over many instances of every problem of a course: what was drawn and shuffled to
 * the bit, what is recorded of the answers, how slips score and what is told about them; and the whole
 * page of each, its texts, drawing and worked solution, as a student gets it. Linked by
 * instance_bits.sh with sources that were compiled in several ways, which must all come to the same. */
#include <stdio.h>
#include <string.h>

#include <barwright/base/cipher.h>
#include <barwright/item/instance.h>
#include <barwright/item/score.h>

#include "course/load.h"
#include "desk/present.h"

enum { INSTANCES = 40, COLUMNS = 80 };

static void add_value(struct hash_state *h, const struct formula_value *v)
{
	if (v->list)
		hash_add(h, v->list, v->n * sizeof *v->list);
	else
		hash_add(h, &v->number, sizeof v->number);
}

static void add_ask(struct hash_state *h, const struct instance *i, size_t ask)
{
	const struct ask *q = &i->problem->ask[ask];
	struct text expected, tolerance, letters;
	text_init(&expected);
	text_init(&tolerance);
	text_init(&letters);
	score_expected(i, ask, &expected, &tolerance);
	hash_add(h, expected.at, expected.len);
	hash_add(h, tolerance.at, tolerance.len);
	for (size_t n = 0; n < q->nslip; n++) {
		struct score s;
		struct shown bare = q->shown;
		bare.unit_text = "";
		text_clear(&letters);
		shown_add(&bare, i->ask[ask].slip[n], -1, '.', &letters);
		score_typed(i, ask, letters.at, letters.len, &s);
		hash_add(h, letters.at, letters.len);
		hash_add(h, outcome_word(s.outcome), strlen(outcome_word(s.outcome)));
		text_clear(&letters);
		score_tell(i, ask, &s, '.', &letters);
		hash_add(h, letters.at, letters.len);
	}
	if (q->noffer)
		hash_add(h, i->ask[ask].place, q->noffer * sizeof *i->ask[ask].place);
	text_release(&expected);
	text_release(&tolerance);
	text_release(&letters);
}

static void add_words(struct hash_state *h, const char *words)
{
	if (words)
		hash_add(h, words, strlen(words) + 1);
}

/* A canvas cell by cell: between its fields there is padding. */
static void add_figure(struct hash_state *h, const struct figure *f)
{
	const struct canvas *c = f->canvas;
	for (int k = 0; c && k < c->rows * c->cols; k++) {
		hash_add(h, &c->cell[k].glyph, sizeof c->cell[k].glyph);
		hash_add(h, &c->cell[k].ink, sizeof c->cell[k].ink);
	}
	for (size_t k = 0; k < f->nword; k++)
		add_words(h, f->words[k]);
}

static int add_page(struct hash_state *h, const struct instance *i)
{
	struct arena a = {0};
	struct page p;
	page_init(&p, &a, "", NULL);
	present_problem(&p, i, COLUMNS, '.');
	for (size_t ask = 0; ask < i->problem->nask; ask++) {
		struct score s;
		present_ask(&p, i, ask, '.');
		score_typed(i, ask, "1", 1, &s);
		present_score(&p, i, ask, &s, "7", '.');
		present_solution(&p, i, ask, '.');
	}
	for (const struct block *b = p.first; b; b = b->next) {
		add_words(h, b->text);
		add_words(h, b->value);
		if (b->figure)
			add_figure(h, b->figure);
	}
	int status = p.out;
	arena_release(&a);
	return status;
}

static int add_problem(struct hash_state *h, const struct problem *p)
{
	struct arena a = {0};
	struct instance *i;
	struct stream s;
	int status = instance_new(&a, p, &i) != FINE;
	stream_open(&s, &(struct draw_key){"bits", p->code, "who", "when", 1});
	for (int n = 0; !status && n < INSTANCES; n++) {
		status = instance_draw(i, &s) != FINE;
		for (size_t d = 0; !status && d < p->ndraw; d++)
			add_value(h, &i->value[p->draw[d].slot]);
		for (size_t ask = 0; !status && ask < p->nask; ask++)
			add_ask(h, i, ask);
		if (!status)
			status = add_page(h, i);
	}
	if (status)
		fprintf(stderr, "%s: no instance\n", p->code);
	arena_release(&a);
	return status;
}

int main(int argc, char **argv)
{
	struct arena a = {0};
	struct diags d = {.arena = &a};
	struct course c;
	struct hash_state h;
	int status = argc != 2 || course_load(argv[1], &c, &d) != FINE || d.nerror;
	if (status) {
		fprintf(stderr, "the course cannot be read\n");
		return 2;
	}
	hash_start(&h);
	for (size_t k = 0; !status && k < c.nproblem; k++)
		status = add_problem(&h, c.by_code[k]);
	struct hash sum = hash_end(&h);
	printf("bits ");
	for (size_t k = 0; k < HASH_BYTES; k++)
		printf("%02x", sum.byte[k]);
	printf(" of %zu problems\n", c.nproblem);
	course_release(&c);
	arena_release(&a);
	return status;
}
