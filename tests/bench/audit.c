/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Auditing a sealed strand: against the bare SHA-256 of its bytes and one pass over them; and how many
 * lines a second with every answer made and scored again. Gathering 400 strands of 2,000 lines: against
 * reading, hashing and writing their bytes. */
#include "bench.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <barwright/base/file.h>
#include <barwright/base/random.h>
#include <barwright/item/instance.h>
#include <barwright/item/score.h>
#include <barwright/record/audit.h>
#include <barwright/record/gather.h>

#include "course/load.h"
#include "desk/replay.h"

enum { LINES = 2000, STRANDS = 400 };

struct world {
	char folder[64];
	struct sign_pair machine, assessor;
	struct key_known known;
	struct key_ring ring;
	struct course course;
	struct replay replay;
	const char *path; /* of the sealed strand */
	char *text;
	size_t len;
	uint64_t lines, equal;
};

static void must(enum bad code)
{
	if (!code)
		return;
	fprintf(stderr, "bench: %s\n", bad_text(code));
	exit(1);
}

/* ---- a strand whose answers can be made again ------------------------------------------------ */

static bool is_plain(const struct problem *p)
{
	return p->nask == 1 && p->ask[0].kind == ASKED_NUMBER && !p->ask[0].may_refer;
}

/* The n-th problem that asks for one number, round and round. */
static const struct problem *problem_at(const struct course *c, uint64_t n)
{
	for (;;)
		for (size_t m = 0; m < c->nmodule; m++)
			for (size_t k = 0; k < c->module[m].nproblem; k++)
				if (is_plain(&c->module[m].problem[k]) && n-- == 0)
					return &c->module[m].problem[k];
}

/* One task, drawn as a drill does it, answered right. */
static void add_task(struct world *w, struct strand *s, const char *sitting, uint64_t n)
{
	const struct problem *p = problem_at(&w->course, n);
	struct arena a = {0};
	struct instance *i;
	struct stream stream;
	struct text expected, tolerance;
	struct draw_key key = {w->course.code, p->code, "l-1", sitting, n};
	stream_open(&stream, &key);
	struct line_draw draw = {.item = p->code, .content = problem_hash(p), .attempt = n};
	memcpy(draw.key, stream.key, sizeof draw.key);
	must(instance_new(&a, p, &i));
	must(instance_draw(i, &stream));
	text_init(&expected);
	text_init(&tolerance);
	score_expected(i, 0, &expected, &tolerance);
	struct score score;
	score_typed(i, 0, expected.at, expected.len, &score);
	struct line_answer answer = {.item = p->code,
		.attempt = n,
		.ask = 1,
		.turn = 1,
		.took_ms = 41000,
		.typed = expected.at,
		.read_as = expected.at,
		.outcome = outcome_word(score.outcome),
		.expected = expected.at,
		.tolerance = tolerance.at};
	must(line_draw_append(s, &draw));
	must(line_answer_append(s, &answer));
	text_release(&expected);
	text_release(&tolerance);
	arena_release(&a);
}

static void make_strand(struct world *w)
{
	static const unsigned char seed[2][SIGN_SEED] = {{1}, {2}};
	struct assessor who = {.name = "D. Ruiz"};
	struct arena a = {0};
	struct strand *s;
	struct text why;
	sign_pair_from_seed(seed[0], &w->machine);
	sign_pair_from_seed(seed[1], &w->assessor);
	memcpy(who.open, w->assessor.open, SIGN_PUBLIC);
	key_id(who.open, who.id);
	memcpy(w->known.open, who.open, SIGN_PUBLIC);
	w->known.name = "D. Ruiz";
	w->ring = (struct key_ring){&w->known, 1};
	text_init(&why);
	must(strand_open(w->folder, "l-1", &w->machine, &s, &why));
	struct line_open open = {.mode = "sit",
		.program = "barwright",
		.course = w->course.code,
		.sitting = "watched"};
	must(line_open_append(s, &open));
	for (uint64_t n = 1; strand_count(s) < LINES - 1; n++)
		add_task(w, s, "watched", n);
	struct seal_how how = {.pair = &w->assessor, .assessor = &who};
	must(seal_strand(s, &how, &a, NULL, &why));
	w->path = strdup(strand_own_path(s));
	strand_close(s);
	must(file_read(w->path, STRAND_MOST, NULL, &w->text, &w->len));
	arena_release(&a);
	text_release(&why);
}

/* ---- auditing -------------------------------------------------------------------------------- */

static double audit_once(struct world *w, bool again)
{
	struct audit audit;
	struct audit_how how = {.assessors = &w->ring};
	if (again) {
		how.replay = replay_answer;
		how.context = &w->replay;
	}
	audit_init(&audit);
	double start = bench_now_us();
	must(audit_path(&audit, w->path, &how));
	double took = bench_now_us() - start;
	if (!audit_is_clean(&audit) || audit.seals_hold != 1 ||
		audit.count.assessed != audit.count.answers)
		exit(1);
	w->lines = audit.lines;
	w->equal = audit.count.equal;
	audit_release(&audit);
	return took;
}

static double audit_plain(void *context)
{
	return audit_once(context, false);
}

/* The bytes hashed, and looked at once for the ends of lines. */
static double hash_and_pass(void *context)
{
	struct world *w = context;
	double start = bench_now_us();
	char *text;
	size_t len, lines = 0;
	must(file_read(w->path, STRAND_MOST, NULL, &text, &len));
	struct hash h = hash_bytes(text, len);
	for (size_t i = 0; i < len; i++)
		lines += text[i] == '\n';
	if (lines + h.byte[0] == 0)
		exit(1);
	mem_drop(text);
	return bench_now_us() - start;
}

static void audit_with_replay(struct world *w)
{
	enum { RUNS = 7 };
	double took[RUNS];
	audit_once(w, true);
	for (int i = 0; i < RUNS; i++)
		took[i] = audit_once(w, true);
	double middle = bench_median(took, RUNS);
	printf("%-52s %9.1f us %9.0f lines/s       %s\n", "audit 2,000 lines, all made again",
		middle, (double)w->lines / middle * 1e6, "aim 50000 lines/s");
	if (w->equal == 0)
		exit(1);
}

/* ---- gathering ------------------------------------------------------------------------------- */

/* The same strand under other names of learners, with its hashes worked out anew. */
static size_t rename_strand(const struct world *w, unsigned number, char *out, size_t room)
{
	struct strand_line line;
	size_t len = 0, where, one;
	const char *words, *at = w->text, *stop;
	struct hash prev = {{0}};
	for (; at < w->text + w->len; at = stop + 1) {
		struct chain_slice slice;
		stop = memchr(at, '\n', w->len - (size_t)(at - w->text));
		must(chain_slice(at, (size_t)(stop - at), &slice));
		must(chain_payload(&slice, &line, &where, &words));
		line.prev = prev;
		snprintf(line.who, sizeof line.who, "l-%u", number);
		snprintf(line.strand, sizeof line.strand, "s-%u", number);
		must(chain_line_write(&line, &w->machine, out + len, room - len, &one));
		prev = line.hash;
		len += one;
	}
	return len;
}

static void make_stick(const struct world *w, const char *stick)
{
	size_t room = w->len + LINES * 64;
	char *out = malloc(room), name[300];
	must(folder_make(stick));
	for (unsigned i = 0; i < STRANDS; i++) {
		size_t len = rename_strand(w, i, out, room);
		snprintf(name, sizeof name, "%s/%u.jsonl", stick, i);
		must(file_replace(name, out, len, true));
	}
	free(out);
}

static double gather_once(const char *stick, const char *into)
{
	struct gather g;
	struct text why;
	text_init(&why);
	double start = bench_now_us();
	must(gather_begin(&g, into, NULL, &why));
	must(gather_source(&g, stick, &why));
	double took = bench_now_us() - start;
	if (g.files != STRANDS || g.unread || g.faulty)
		exit(1);
	gather_end(&g);
	text_release(&why);
	return took;
}

static double copy_once(const char *stick, const char *into)
{
	char from[300], to[300], *text;
	size_t len;
	unsigned sum = 0;
	double start = bench_now_us();
	must(folder_make(into));
	for (unsigned i = 0; i < STRANDS; i++) {
		snprintf(from, sizeof from, "%s/%u.jsonl", stick, i);
		snprintf(to, sizeof to, "%s/%u.jsonl", into, i);
		must(file_read(from, STRAND_MOST, NULL, &text, &len));
		sum += hash_bytes(text, len).byte[0];
		must(file_replace(to, text, len, true));
		mem_drop(text);
	}
	if (!sum)
		exit(1);
	return bench_now_us() - start;
}

static void gather_bench(const struct world *w, const char *disk)
{
	char stick[100], archive[100], copy[100];
	snprintf(stick, sizeof stick, "%s/stick", disk);
	snprintf(archive, sizeof archive, "%s/archive", disk);
	snprintf(copy, sizeof copy, "%s/copy", disk);
	make_stick(w, stick);
	double first = gather_once(stick, archive), base = copy_once(stick, copy);
	double again = gather_once(stick, archive);
	printf("%-52s %9.2f s  %9.2f s    %6.2f   %s\n",
		"gather 400 x 2,000 lines / read, hash, write them", first / 1e6, base / 1e6,
		first / base, "aim 10 s");
	printf("%-52s %9.2f s  %9.2f s    %6.2f\n", "gather them again: nothing is new",
		again / 1e6, base / 1e6, again / base);
}

int main(void)
{
	static struct world w = {.folder = "/dev/shm/barwright-bench-XXXXXX"};
	char disk[] = "/tmp/barwright-bench-XXXXXX";
	struct arena a = {0};
	struct diags d = {.arena = &a};
	char command[100];
	if (!mkdtemp(w.folder) || !mkdtemp(disk) || cipher_start())
		return 1;
	must(course_load("courses/hand-made-bar", &w.course, &d));
	const struct course *list[] = {&w.course};
	w.replay = (struct replay){.course = list, .ncourse = 1};
	make_strand(&w);
	bench_ratio("audit 2,000 sealed lines / SHA-256 and one pass", "aim 3", 21, audit_plain,
		hash_and_pass, &w);
	audit_with_replay(&w);
	gather_bench(&w, disk);
	snprintf(command, sizeof command, "rm -r %s %s", w.folder, disk);
	return system(command) != 0;
}
