/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Gathering as a union: in any order, in any groups, as often as one likes; and what is not a strand,
 * what does not go together, and what somebody is to be forgotten of. */
#include "near.h"

#include "file_fault.h"
#include "strand_fixture.h"
#include "seal_fixture.h"

#include <barwright/record/audit.h>
#include <barwright/record/erase.h>
#include <barwright/record/gather.h>
#include <barwright/record/learner.h>

static struct arena mem;
static struct text why, out;
static struct key_known known[2]; /* this machine, an assessor */
static const struct key_ring trusted = {known, 2};

static int begin(void **state)
{
	people_make();
	clock_stop();
	known[0].name = "this machine";
	memcpy(known[0].open, machine.open, SIGN_PUBLIC);
	known[1].name = "D. Ruiz";
	memcpy(known[1].open, assessor_pair.open, SIGN_PUBLIC);
	text_init(&why);
	text_init(&out);
	return work_begin(state);
}

static int end(void **state)
{
	arena_release(&mem);
	text_release(&why);
	text_release(&out);
	clock_replace(NULL);
	return work_end(state);
}

static const char *in(const char *format, ...) __attribute__((format(printf, 1, 2)));
static const char *in(const char *format, ...)
{
	char name[200];
	va_list args;
	va_start(args, format);
	vsnprintf(name, sizeof name, format, args);
	va_end(args);
	return arena_format(&mem, "%s/%s", work_folder, name);
}

static void put(const char *path, const char *bytes, size_t len)
{
	char *folder = arena_copy(&mem, path, (size_t)(file_name(path) - path - 1));
	code_is(folder_make(folder), FINE);
	code_is(file_replace(path, bytes, len, true), FINE);
}

/* The bytes of a strand of n lines of learner `who`, ids anew each time. */
static struct source history(const char *who, unsigned n)
{
	static unsigned count;
	const char *data = in("made-%u", count++);
	struct strand *s;
	struct source *source;
	code_is(strand_open(data, who, &machine, &s, NULL), FINE);
	code_is(add_some(s, n), FINE);
	code_is(strand_load(strand_own_path(s), &mem, &source), FINE);
	strand_close(s);
	return *source;
}

/* Its first n lines, and then more that were written on another disk. */
static struct source rolled_back(const struct source *s, unsigned n, const char *who, unsigned more)
{
	static unsigned count;
	const char *data = in("rolled-%u", count++), *at = s->text;
	struct strand *strand;
	struct source *source;
	char id[STRAND_ID + 1];
	while (n--)
		at = strchr(at, '\n') + 1;
	strand_id(who, machine.open, id);
	const char *path = strand_path(data, id, &mem);
	put(path, s->text, (size_t)(at - s->text));
	code_is(strand_open(data, who, &machine, &strand, NULL), FINE);
	code_is(add_some(strand, more), FINE);
	strand_close(strand);
	code_is(strand_load(path, &mem, &source), FINE);
	return *source;
}

static struct source beginning(const struct source *s, unsigned n)
{
	const char *at = s->text;
	while (n--)
		at = strchr(at, '\n') + 1;
	struct source b = {s->name, s->text, (size_t)(at - s->text)};
	return b;
}

static struct source erased(const struct source *s, uint64_t upto)
{
	struct text t;
	uint64_t lines;
	text_init(&t);
	erase_text(s, upto, &t, &lines);
	struct source e = {s->name, arena_copy(&mem, t.at, t.len), t.len};
	text_release(&t);
	return e;
}

static struct gather gather_into(const char *into, const char *source)
{
	struct gather g;
	code_is(gather_begin(&g, into, &trusted, &why), FINE);
	code_is(gather_source(&g, source, &why), FINE);
	text_clear(&out);
	gather_tell(&g, &out);
	struct gather counts = g;
	gather_end(&g);
	return counts; /* numbers only */
}

static void out_has(const char *words)
{
	if (!says(out.at, words))
		fail_msg("want \"%s\" in:\n%s", words, out.at);
}

/* Every file of an archive by its path and bytes, as one hash. */
static struct hash picture(const char *archive)
{
	static const char *const part[] = {"strands", "forks", "erasures"};
	struct hash_state s;
	hash_start(&s);
	for (size_t p = 0; p < 3; p++) {
		struct folder_entry *list;
		size_t n = 0;
		const char *folder = folder_join(&mem, archive, part[p]);
		if (folder_list(folder, &mem, &list, &n))
			n = 0;
		for (size_t i = 0; i < n; i++) {
			char *bytes;
			size_t len;
			hash_add(&s, part[p], strlen(part[p]));
			hash_add(&s, list[i].name, strlen(list[i].name) + 1);
			code_is(file_read(folder_join(&mem, folder, list[i].name), 1 << 24, &mem,
					&bytes, &len),
				FINE);
			hash_add(&s, bytes, len);
		}
	}
	return hash_end(&s);
}

static size_t files_of(const char *archive, const char *part)
{
	struct folder_entry *list;
	size_t n = 0;
	return folder_list(folder_join(&mem, archive, part), &mem, &list, &n) ? 0 : n;
}

/* ---- laws ------------------------------------------------------------------------------------ */

enum { UNIVERSE = 16 };
static struct source universe[UNIVERSE];

/* Notes of a machine that a history does not count, as they lie on a stick. */
static struct source voided(const struct source *s)
{
	static unsigned count;
	const char *data = in("void-%u", count++), *path = in("void-%u.jsonl", count);
	char id[STRAND_ID + 1];
	struct source *notes;
	put(path, s->text, s->len);
	code_is(void_history(data, path, "rolled back", &machine, &assessor_pair, &why), FINE);
	strand_id("erasures", machine.open, id);
	code_is(strand_load(arena_format(&mem, "%s/erasures/%s.jsonl", data, id), &mem, &notes),
		FINE);
	return *notes;
}

/* Histories of three learners, beginnings of them, forks of forks, erased ones. */
static void universe_make(void)
{
	struct source one = history("l-1", 9), two = history("l-2", 5);
	universe[0] = one;
	universe[1] = beginning(&one, 4);
	universe[2] = rolled_back(&one, 6, "l-1", 3);
	universe[3] = rolled_back(&universe[2], 8, "l-1", 4);
	universe[4] = beginning(&universe[3], 9);
	universe[5] = erased(&one, 5);
	universe[6] = erased(&universe[2], 7);
	universe[7] = two;
	universe[8] = erased(&two, 99);
	universe[9] = history("l-2", 3); /* deleted and begun anew */
	universe[10] = beginning(&two, 2);
	universe[11] = history("l-3", 7);
	universe[12] = beginning(&universe[11], 6);
	/* a copy whose last signature was damaged: hashes do not tell */
	char *damaged = arena_copy(&mem, two.text, two.len);
	damaged[two.len - 20] = damaged[two.len - 20] == 'A' ? 'B' : 'A';
	universe[13] = (struct source){"damaged", damaged, two.len};
	universe[14] = voided(&one);
	universe[15] = voided(&universe[4]);
}

static const char *source_of(size_t i)
{
	const char *folder = in("source-%zu", i);
	if (file_kind(folder) == FILE_NONE)
		put(in("source-%zu/x.jsonl", i), universe[i].text, universe[i].len);
	return folder;
}

static uint32_t next_random(uint64_t *state)
{
	*state = *state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
	return (uint32_t)(*state >> 33);
}

static void shuffle(size_t *list, size_t n, uint64_t *random)
{
	for (size_t i = n; i > 1; i--) {
		size_t j = next_random(random) % i, t = list[i - 1];
		list[i - 1] = list[j];
		list[j] = t;
	}
}

/* Commutative and idempotent: some of the sources, in two orders, some twice. Associative: the same in
 * two groups, each into an archive of its own, and these into one. */
static void the_order_and_the_grouping_of_sources_make_no_difference(void **state)
{
	uint64_t random = 20261125;
	(void)state;
	universe_make();
	for (int round = 0; round < 40; round++) {
		size_t list[UNIVERSE], n = 2 + next_random(&random) % (UNIVERSE - 2);
		for (size_t i = 0; i < UNIVERSE; i++)
			list[i] = i;
		shuffle(list, UNIVERSE, &random);
		const char *a = in("%d-a", round), *b = in("%d-b", round), *c = in("%d-c", round),
			   *d = in("%d-d", round);
		for (size_t i = 0; i < n; i++)
			gather_into(a, source_of(list[i]));
		struct hash want = picture(a);
		gather_into(a, source_of(list[0]));
		gather_into(a, a);
		shuffle(list, n, &random);
		for (size_t i = 0; i < n; i++)
			gather_into(b, source_of(list[i]));
		size_t cut = next_random(&random) % n;
		for (size_t i = 0; i < n; i++)
			gather_into(i < cut ? c : d, source_of(list[i]));
		gather_into(d, c);
		const char *const archive[] = {a, b, d};
		for (int k = 0; k < 3; k++) {
			struct hash got = picture(archive[k]);
			if (!hash_is_equal(&got, &want))
				fail_msg("round %d, %zu sources: archive %s is another one", round,
					n, archive[k]);
		}
		for (int k = 0; k < 4; k++) {
			const char *each[] = {a, b, c, d};
			if (file_kind(each[k]) == FILE_FOLDER)
				work_empty(each[k]);
		}
	}
}

/* ---- forks ----------------------------------------------------------------------------------- */

static void two_histories_are_kept_apart(void **state)
{
	struct source one = history("l-1", 6), back = rolled_back(&one, 4, "l-1", 5);
	char id[STRAND_ID + 1];
	(void)state;
	strand_id("l-1", machine.open, id);
	put(in("a/strands/x.jsonl"), one.text, one.len);
	put(in("b/x.jsonl"), back.text, back.len);
	struct gather g = gather_into(in("archive"), in("a"));
	assert_int_equal(g.lines, 6);
	assert_int_equal(g.changed, 1);
	assert_int_equal(g.forks, 0);
	file_is(in("archive/strands/%s.jsonl", id), one.text, one.len);
	g = gather_into(in("archive"), in("b"));
	assert_int_equal(g.forks, 1);
	assert_int_equal(g.lines, 5);
	out_has("has 2 histories that do not go together");
	/* what both share counts, each is kept whole */
	struct source shared = beginning(&one, 4);
	file_is(in("archive/strands/%s.jsonl", id), shared.text, shared.len);
	assert_int_equal(files_of(in("archive"), "forks"), 2);
	/* a fork that grows replaces its shorter self */
	struct source longer = rolled_back(&one, 6, "l-1", 2);
	put(in("c/x.jsonl"), longer.text, longer.len);
	g = gather_into(in("archive"), in("c"));
	assert_int_equal(g.lines, 2);
	assert_int_equal(files_of(in("archive"), "forks"), 2);
	g = gather_into(in("archive"), in("a"));
	assert_int_equal(g.same, 1);
	assert_int_equal(g.lines, 0);
}

static const char *fork_of(const char *archive, const struct source *s)
{
	struct folder_entry *list;
	size_t n;
	const char *forks = folder_join(&mem, archive, "forks");
	code_is(folder_list(forks, &mem, &list, &n), FINE);
	for (size_t i = 0; i < n; i++) {
		struct source *is;
		const char *path = folder_join(&mem, forks, list[i].name);
		code_is(strand_load(path, &mem, &is), FINE);
		if (is->len == s->len && memcmp(is->text, s->text, s->len) == 0)
			return path;
	}
	fail_msg("this history is not among the forks");
	return NULL;
}

static void audit_counts(const char *archive, size_t forks, size_t voids, uint64_t answers)
{
	struct audit a;
	struct audit_how how = {.assessors = &trusted};
	audit_init(&a);
	code_is(audit_path(&a, archive, &how), FINE);
	assert_int_equal(a.forks, forks);
	assert_int_equal(a.voids, voids);
	assert_int_equal(a.count.answers, answers);
	assert_int_equal(audit_is_clean(&a), forks == 0);
	text_clear(&out);
	audit_tell(&a, &out);
	audit_release(&a);
}

static void decide(const char *archive, const char *path)
{
	struct gather g;
	code_is(gather_begin(&g, archive, &trusted, &why), FINE);
	code_is(void_history(
			archive, path, "the disk was rolled back", &machine, &assessor_pair, &why),
		FINE);
	code_is(gather_notes(&g, &why), FINE);
	gather_end(&g);
}

/* Until it is decided neither history counts, only what both share; afterwards the other one does, and
 * what grows out of the void one still does not. */
static void a_fork_is_decided_by_an_assessor(void **state)
{
	struct source one = history("l-1", 6), back = rolled_back(&one, 4, "l-1", 5);
	struct source longer = rolled_back(&back, 9, "l-1", 2);
	char id[STRAND_ID + 1];
	(void)state;
	strand_id("l-1", machine.open, id);
	put(in("a/x.jsonl"), one.text, one.len);
	put(in("a/y.jsonl"), back.text, back.len);
	gather_into(in("archive"), in("a"));
	audit_counts(in("archive"), 2, 0, 3);
	out_has("counts for nothing until an assessor has said which one does not");
	decide(in("archive"), fork_of(in("archive"), &back));
	audit_counts(in("archive"), 0, 1, 5);
	out_has("THIS HISTORY DOES NOT COUNT, says D. Ruiz: the disk was rolled back.");
	file_is(in("archive/strands/%s.jsonl", id), one.text, one.len);
	assert_int_equal(files_of(in("archive"), "forks"), 1);
	put(in("b/x.jsonl"), longer.text, longer.len);
	struct gather g = gather_into(in("archive"), in("b"));
	assert_int_equal(g.forks, 0);
	audit_counts(in("archive"), 0, 1, 5);
	/* nor does a machine decide, though it may note erasures */
	put(in("m/x.jsonl"), one.text, one.len);
	put(in("m/y.jsonl"), back.text, back.len);
	gather_into(in("other"), in("m"));
	code_is(void_history(
			in("other"), fork_of(in("other"), &one), "x", &machine, &machine, &why),
		FINE);
	g = gather_into(in("other"), in("m"));
	assert_int_equal(g.voids.nstranger, 1);
	audit_counts(in("other"), 2, 0, 3);
	/* what somebody says who is not accepted here decides nothing */
	struct key_ring nobody = {NULL, 0};
	struct audit a;
	audit_init(&a);
	code_is(audit_path(&a, in("archive"), &(struct audit_how){.assessors = &nobody}), FINE);
	assert_int_equal(a.voids, 0);
	assert_int_equal(a.void_notes.nstranger, 1);
	assert_int_equal(a.forks, 1);
	audit_release(&a);
}

static void a_decision_that_is_interrupted_is_finished_by_the_next(void **state)
{
	struct source one = history("l-1", 6), back = rolled_back(&one, 4, "l-1", 5);
	bool reached = true;
	(void)state;
	put(in("a/x.jsonl"), one.text, one.len);
	put(in("a/y.jsonl"), back.text, back.len);
	for (unsigned long n = 1; reached; n++) {
		const char *archive = in("archive-%lu", n);
		struct gather g;
		gather_into(archive, in("a"));
		const char *path = fork_of(archive, &back);
		fault_plan(1u << CALL_WRITE | 1u << CALL_FSYNC | 1u << CALL_RENAME, n, false, EIO);
		enum bad code = gather_begin(&g, archive, &trusted, &why);
		if (!code)
			code = void_history(archive, path, "x", &machine, &assessor_pair, &why);
		if (!code)
			code = gather_notes(&g, &why);
		reached = plan.reached;
		fault_end();
		gather_end(&g);
		assert_int_equal(code != FINE, reached);
		if (file_kind(path) == FILE_PLAIN)
			decide(archive, path);
		else
			gather_into(archive, in("a"));
		audit_counts(archive, 0, 1, 5);
		work_empty(archive);
	}
}

/* ---- what is not as it should be ------------------------------------------------------------- */

static void strangers_files_are_left_alone(void **state)
{
	struct source one = history("l-1", 4);
	struct strand *list;
	(void)state;
	put(in("s/deep/er/x.jsonl"), one.text, one.len);
	put(in("s/notes.jsonl"), "{\"hello\":1}\n", 12);
	put(in("s/empty.jsonl"), "", 0);
	put(in("s/readme.txt"), one.text, one.len);
	code_is(strand_open_at(in("s/list.jsonl"), "witness", &assessor_pair, &list, &why), FINE);
	code_is(line_open_append(list, &an_open), FINE);
	strand_close(list);
	struct gather g = gather_into(in("archive"), in("s"));
	assert_int_equal(g.files, 1);
	assert_int_equal(g.foreign, 1);
	assert_int_equal(g.unread, 0);
	assert_int_equal(files_of(in("archive"), "strands"), 1);
	out_has("empty.jsonl: nothing is recorded in it yet");
	out_has("a witness list stays with its assessor");
	out_has("this is no strand that this program knows");
}

static void a_link_on_a_stick_is_not_followed(void **state)
{
	struct source one = history("l-1", 4);
	(void)state;
	put(in("away/x.jsonl"), one.text, one.len);
	put(in("s/readme.txt"), "x", 1);
	assert_int_equal(symlink("../away", in("s/folder")), 0);
	assert_int_equal(symlink("../away/x.jsonl", in("s/file.jsonl")), 0);
	assert_int_equal(symlink(".", in("s/round")), 0);
	assert_int_equal(symlink("../away/x.jsonl", in("s/note.txt")), 0);
	struct gather g = gather_into(in("archive"), in("s"));
	assert_int_equal(g.files, 0);
	assert_int_equal(g.unread, 3);
	out_has("a symbolic link, which is not followed");
}

static void a_strand_at_fault_is_taken_up_to_it(void **state)
{
	struct source one = history("l-1", 6);
	struct source good = beginning(&one, 3);
	char id[STRAND_ID + 1];
	(void)state;
	strand_id("l-1", machine.open, id);
	char *bad = arena_copy(&mem, one.text, one.len);
	strstr(bad + good.len, "12.350")[0] = '2';
	put(in("s/x.jsonl"), bad, one.len);
	struct gather g = gather_into(in("archive"), in("s"));
	assert_int_equal(g.faulty, 1);
	assert_int_equal(g.lines, 3);
	file_is(in("archive/strands/%s.jsonl", id), good.text, good.len);
	out_has("line 4: ");
	/* a whole copy completes it, the damaged one does not take that back */
	put(in("t/x.jsonl"), one.text, one.len);
	gather_into(in("archive"), in("t"));
	gather_into(in("archive"), in("s"));
	file_is(in("archive/strands/%s.jsonl", id), one.text, one.len);
	/* a torn line is not taken */
	put(in("u/x.jsonl"), history("l-2", 3).text, 2000);
	g = gather_into(in("archive"), in("u"));
	assert_int_equal(g.faulty, 0);
	out_has("its last line is not complete");
	/* another version */
	const char *next = "[{\"v\":2},\"";
	put(in("v/x.jsonl"), next, strlen(next));
	g = gather_into(in("archive"), in("v"));
	assert_int_equal(g.foreign, 1);
}

static void a_stick_that_is_pulled_out_leaves_a_good_archive(void **state)
{
	struct gather g;
	(void)state;
	for (unsigned i = 0; i < 5; i++) {
		char who[8];
		snprintf(who, sizeof who, "l-%u", i);
		struct source s = history(who, 4);
		put(in("s/%u.jsonl", i), s.text, s.len);
	}
	gather_into(in("want"), in("s"));
	struct hash want = picture(in("want"));
	code_is(gather_begin(&g, in("archive"), &trusted, &why), FINE);
	fault_plan(1u << CALL_READ, 3, true, EIO);
	code_is(gather_source(&g, in("s"), &why), FINE);
	fault_end();
	assert_int_equal(g.unread, 3);
	assert_int_equal(g.changed, 2);
	gather_tell(&g, &out);
	gather_end(&g);
	out_has("This is NOT complete");
	assert_int_equal(files_of(in("archive"), "strands"), 2);
	gather_into(in("archive"), in("s"));
	struct hash got = picture(in("archive"));
	assert_true(hash_is_equal(&got, &want));
	g = gather_into(in("archive"), in("nowhere"));
	assert_int_equal(g.unread, 1);
}

static void one_archive_is_gathered_into_by_one_at_a_time(void **state)
{
	struct gather g, other;
	(void)state;
	code_is(gather_begin(&g, in("archive"), &trusted, &why), FINE);
	code_is(gather_begin(&other, in("archive"), &trusted, &why), BAD_BUSY);
	gather_end(&other);
	gather_end(&g);
	code_is(gather_begin(&other, in("archive"), &trusted, &why), FINE);
	gather_end(&other);
	code_is(gather_begin(&other, "/proc/nowhere", &trusted, &why), BAD_ABSENT);
	gather_end(&other);
}

/* ---- erasing --------------------------------------------------------------------------------- */

static const struct erase_how by_machine = {&machine, NULL};

static void lines_hold(const char *path, uint64_t gone)
{
	struct source s = load(path);
	struct strand_sum sum;
	code_is(strand_read(&s, NULL, NULL, NULL, &sum, NULL), FINE);
	assert_int_equal(sum.erased, gone);
	assert_null(strstr(s.text, "12,35"));
	unload(&s);
}

/* A whole life: practice, a sealed sitting, a torn line, a name. */
static const char *live(const char *data, char *code, struct arena *a)
{
	struct strand *s;
	code_is(learner_code(data, "Ana Lopez", code, &why), FINE);
	code_is(strand_open(data, code, &machine, &s, &why), FINE);
	sit_through(s, "watched", "sit", 3);
	seal_it(s, NULL, NULL, a);
	sit_through(s, "home", "drill", 1);
	const char *path = arena_copy(&mem, strand_own_path(s), strlen(strand_own_path(s)));
	strand_close(s);
	FILE *f = fopen(path, "a");
	fputs("[{\"torn\":\"12,35", f);
	fclose(f);
	code_is(strand_open(data, code, &machine, &s, &why), FINE);
	strand_close(s);
	return path;
}

static void a_person_is_erased_and_the_seal_still_holds(void **state)
{
	char code[LEARNER_CODE + 1], again[LEARNER_CODE + 1];
	struct erase_sum sum;
	struct seals seals;
	struct source *source;
	const char *name;
	(void)state;
	const char *path = live(in("data"), code, &mem);
	code_is(erase_learner(in("data"), code, &by_machine, &sum, &why), FINE);
	assert_int_equal(sum.strands, 1);
	assert_int_equal(sum.lines, 2 + 3 + 1 + 1 + 1 + 1);
	assert_int_equal(sum.pieces, 1);
	assert_true(sum.row);
	lines_hold(path, sum.lines);
	code_is(strand_load(path, &mem, &source), FINE);
	code_is(seals_find(source, &assessors, &mem, &seals), FINE);
	assert_int_equal(seals.nhold, 1);
	assert_int_equal(files_of(in("data"), "strands"), 1);
	code_is(learner_name(in("data"), code, &mem, &name), BAD_UNKNOWN);
	/* again: nothing more to do, and nobody there */
	code_is(erase_learner(in("data"), code, &by_machine, &sum, &why), FINE);
	assert_int_equal(sum.lines, 0);
	code_is(erase_learner(in("data"), "l-00000000", &by_machine, &sum, &why), BAD_UNKNOWN);
	/* whoever comes back is somebody else, and the strand can still be added to */
	code_is(learner_code(in("data"), "Ana Lopez", again, &why), FINE);
	assert_string_not_equal(again, code);
	struct strand *s;
	code_is(strand_open(in("data"), code, &machine, &s, &why), FINE);
	code_is(add_some(s, 1), FINE);
	strand_close(s);
}

static void an_erasure_reaches_the_archive(void **state)
{
	char code[LEARNER_CODE + 1];
	struct erase_sum sum;
	const char *name;
	(void)state;
	const char *path = live(in("data"), code, &mem);
	struct source before = load(path);
	put(in("old-stick/x.jsonl"), before.text, before.len);
	gather_into(in("archive"), in("data"));
	struct gather g;
	code_is(gather_begin(&g, in("archive"), &trusted, &why), FINE);
	code_is(gather_names(&g, in("data"), &why), FINE);
	assert_int_equal(g.names, 1);
	gather_end(&g);
	code_is(learner_name(in("archive"), code, &mem, &name), FINE);
	assert_string_equal(name, "Ana Lopez");
	code_is(erase_learner(in("data"), code, &by_machine, &sum, &why), FINE);
	/* the note comes with the strand; it takes the payloads and the name */
	g = gather_into(in("archive"), in("data"));
	assert_int_equal(g.erased, 9);
	const char *kept = in("archive/strands/%s", file_name(path));
	lines_hold(kept, sum.lines);
	code_is(learner_name(in("archive"), code, &mem, &name), BAD_UNKNOWN);
	/* an old copy does not bring them back */
	gather_into(in("archive"), in("old-stick"));
	lines_hold(kept, sum.lines);
	/* and where the old copy came first */
	gather_into(in("second"), in("old-stick"));
	gather_into(in("second"), in("data"));
	lines_hold(in("second/strands/%s", file_name(path)), sum.lines);
	struct hash a = picture(in("archive")), b = picture(in("second"));
	assert_true(hash_is_equal(&a, &b));
	unload(&before);
}

static void a_note_by_a_stranger_erases_nothing(void **state)
{
	char code[LEARNER_CODE + 1];
	struct erase_sum sum;
	static const struct key_ring nobody;
	struct gather g;
	(void)state;
	const char *path = live(in("data"), code, &mem);
	struct source before = load(path);
	gather_into(in("archive"), in("data"));
	code_is(erase_learner(in("data"), code, &by_machine, &sum, &why), FINE);
	code_is(gather_begin(&g, in("archive"), &nobody, &why), FINE);
	code_is(gather_source(&g, in("data"), &why), FINE);
	gather_tell(&g, &out);
	gather_end(&g);
	out_has("1 note of an erasure by keys that are not accepted here");
	file_is(in("archive/strands/%s", file_name(path)), before.text, before.len);
	/* signed by an assessor the archive accepts, it counts */
	struct erase_how how = {&machine, &assessor_pair};
	code_is(erase_learner(in("data"), code, &how, &sum, &why), FINE);
	code_is(gather_begin(&g, in("archive"), &assessors, &why), FINE);
	code_is(gather_source(&g, in("data"), &why), FINE);
	gather_end(&g);
	lines_hold(in("archive/strands/%s", file_name(path)), 9);
	unload(&before);
}

/* ---- the disk -------------------------------------------------------------------------------- */

static enum bad erase_once(const char *code)
{
	struct erase_sum sum;
	return erase_learner(in("data"), code, &by_machine, &sum, NULL);
}

/* The n-th call fails, whichever it is: the strand is whole before or after, and running it again
 * finishes it. */
static void an_erasure_that_is_interrupted_is_finished_by_the_next(void **state)
{
	char code[LEARNER_CODE + 1];
	struct strand_sum sum;
	(void)state;
	const char *path = live(in("data"), code, &mem);
	struct source before = load(path);
	for (int sticky = 0; sticky < 2; sticky++)
		for (unsigned long at = 1;; at++) {
			assert_true(at < 400);
			put(path, before.text, before.len);
			learner_add(in("data"), code, "Ana Lopez", NULL); /* or it is there */
			fault_plan(ALL_CALLS, at, sticky, EIO);
			plan.keep = sticky ? 0 : 11;
			enum bad bad = erase_once(code);
			bool reached = plan.reached;
			fault_end();
			struct source now = load(path);
			code_is(strand_read(&now, NULL, NULL, NULL, &sum, NULL), FINE);
			assert_true(sum.erased == 0 || sum.erased == 9);
			unload(&now);
			code_is(erase_once(code), FINE);
			lines_hold(path, 9);
			if (!reached) {
				code_is(bad, FINE);
				break;
			}
		}
	unload(&before);
}

/* Every call of a gathering fails in its turn: each strand of the archive is the old or the new one, no
 * history is lost, and gathering again makes what it should be. */
static void a_gathering_that_is_interrupted_is_finished_by_the_next(void **state)
{
	struct source one = history("l-1", 6), back = rolled_back(&one, 4, "l-1", 5);
	struct source two = history("l-2", 3);
	(void)state;
	put(in("a/1.jsonl"), one.text, one.len);
	put(in("b/1.jsonl"), back.text, back.len);
	put(in("b/2.jsonl"), two.text, two.len);
	gather_into(in("want"), in("a"));
	gather_into(in("want"), in("b"));
	struct hash want = picture(in("want"));
	for (int sticky = 0; sticky < 2; sticky++)
		for (unsigned long at = 1;; at++) {
			struct gather g;
			const char *archive = in("%d-%lu", sticky, at);
			assert_true(at < 400);
			gather_into(archive, in("a"));
			fault_plan(ALL_CALLS & ~(1u << CALL_READ), at, sticky, ENOSPC);
			enum bad bad = gather_begin(&g, archive, &trusted, NULL);
			if (!bad)
				bad = gather_source(&g, in("b"), NULL);
			bad = bad ? bad : g.unread ? BAD_IO : FINE;
			gather_end(&g);
			bool reached = plan.reached;
			fault_end();
			gather_into(archive, in("b"));
			struct hash got = picture(archive);
			if (!hash_is_equal(&got, &want))
				fail_msg("call %lu%s: the next gathering does not finish it", at,
					sticky ? " and on" : "");
			if (!reached) {
				code_is(bad, FINE);
				break;
			}
			work_empty(archive);
		}
}

static void running_out_of_memory_is_an_ordinary_answer(void **state)
{
	struct source one = history("l-1", 6), back = rolled_back(&one, 4, "l-1", 5);
	(void)state;
	put(in("a/1.jsonl"), one.text, one.len);
	put(in("b/1.jsonl"), back.text, back.len);
	gather_into(in("want"), in("a"));
	gather_into(in("want"), in("b"));
	struct hash want = picture(in("want"));
	gather_into(in("archive"), in("a"));
	for (unsigned long n = 1;; n++) {
		struct gather g;
		assert_true(n < 400);
		const char *archive = in("archive"), *b = in("b");
		mem_fail_at(n, 0);
		enum bad code = gather_begin(&g, archive, &trusted, NULL);
		if (!code)
			code = gather_source(&g, b, NULL);
		gather_end(&g);
		int failed = mem_failed();
		mem_fail_at(0, 0);
		if (!failed) {
			code_is(code, FINE);
			break;
		}
	}
	struct hash got = picture(in("archive"));
	assert_true(hash_is_equal(&got, &want));
}

static void the_json_says_the_same(void **state)
{
	struct gather g;
	struct source one = history("l-1", 4);
	(void)state;
	put(in("s/x.jsonl"), one.text, one.len);
	put(in("s/y\"z.jsonl"), "x\n", 2);
	code_is(gather_begin(&g, in("archive"), &trusted, &why), FINE);
	code_is(gather_source(&g, in("s"), &why), FINE);
	code_is(gather_json(&g, &out), FINE);
	gather_end(&g);
	out_has("{\"complete\":true,\"strands\":1,\"changed\":1,\"same\":0,\"lines\":4,");
	out_has("\"foreign\":1,");
	out_has("y\\\"z.jsonl");
}

#define T(name) cmocka_unit_test_setup_teardown(name, begin, end)
int main(void)
{
	const struct CMUnitTest tests[] = {
		T(the_order_and_the_grouping_of_sources_make_no_difference),
		T(two_histories_are_kept_apart),
		T(a_fork_is_decided_by_an_assessor),
		T(a_decision_that_is_interrupted_is_finished_by_the_next),
		T(strangers_files_are_left_alone),
		T(a_link_on_a_stick_is_not_followed),
		T(a_strand_at_fault_is_taken_up_to_it),
		T(a_stick_that_is_pulled_out_leaves_a_good_archive),
		T(one_archive_is_gathered_into_by_one_at_a_time),
		T(a_person_is_erased_and_the_seal_still_holds),
		T(an_erasure_reaches_the_archive),
		T(a_note_by_a_stranger_erases_nothing),
		T(an_erasure_that_is_interrupted_is_finished_by_the_next),
		T(a_gathering_that_is_interrupted_is_finished_by_the_next),
		T(running_out_of_memory_is_an_ordinary_answer),
		T(the_json_says_the_same),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
