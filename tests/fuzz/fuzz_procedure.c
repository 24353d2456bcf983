/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any bytes as a procedure: every fault is told, and what has none is rehearsed and played without a
 * crash. make fuzz F=procedure T=60 */
#include <assert.h>
#include <stdint.h>
#include <string.h>

#include <barwright/base/cipher.h>
#include <barwright/base/text.h>

#include "bench/decide.h"
#include "bench/rehearse.h"
#include "bench/score.h"
#include "tree/tree.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t len);

/* Decisions in no order, in every mode. */
static void play(struct arena *a, const struct procedure *p, uint32_t seed)
{
	struct bench *b;
	struct bench_score score;
	unsigned char key[BENCH_KEY] = {(unsigned char)seed};
	if (bench_new(a, p, &b))
		return;
	for (int mode = 0; mode < BENCH_MODES; mode++) {
		bench_start(b, key, seed % p->npart, (enum bench_mode)mode);
		for (uint32_t i = 0; i < 40 && !b->end; i++) {
			struct bench_input input;
			struct bench_reading r;
			size_t step = (seed + i) % p->nstep;
			bench_usual(b, step, p->nfault ? i % p->nfault : SIZE_MAX, &input);
			bench_do(b, step, &input);
			if (p->nlook)
				bench_look(b, (seed ^ i) % p->nlook, SIZE_MAX, &r);
			if (p->nfault)
				bench_mend(b, i % p->nfault);
			if (p->nback)
				bench_back(b, i % p->nback);
			assert(bench_clock_s(b) >= 0 && bench_imbalance(b) >= 0);
		}
		bench_end(b, mode == BENCH_HUNT ? END_SCRAPPED : END_ACCEPTED);
		bench_score(b, NULL, &score);
		assert(score.percent >= 0 && score.percent <= 100);
	}
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t len)
{
	struct arena a = {0};
	struct diags d = {.arena = &a};
	struct procedure p;
	struct tree *root = NULL;
	char *text = arena_copy(&a, (const char *)bytes, len);
	struct source source = {"fuzz.yaml", text, len};
	struct text told;
	text_init(&told);
	assert(!cipher_start());
	if (len <= 1 << 16 && !tree_read(&a, &source, &d, &root) && root &&
		!procedure_read(&a, &source, root, &d, &p) && !d.nerror && p.nstep && p.npart) {
		rehearse(&a, &p, &d);
		play(&a, &p, (uint32_t)len);
	}
	diags_print(&d, &told);
	text_release(&told);
	arena_release(&a);
	return 0;
}
