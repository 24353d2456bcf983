/* SPDX-License-Identifier: GPL-3.0-or-later */
/* barwright record same, known; and who is meant by a name */
#include "cmd/record_person.h"

#include <string.h>

#include <barwright/base/file.h>
#include <barwright/base/utf8.h>
#include <barwright/record/seal.h>
#include <barwright/record/strand.h>

#include "cmd/options.h"
#include "cmd/record_parts.h"

/* ---- whose strands there are ----------------------------------------------------------------- */

struct owned {
	const char *path, *strand, *who;
};

static enum bad take_first(void *context, const struct strand_line *line)
{
	*(struct strand_line *)context = *line;
	return BAD_STOPPED;
}

/* By its first line; one that cannot be read is nobody's. */
static bool owner_read(const char *path, struct arena *a, struct owned *out)
{
	struct arena mem = {0};
	struct source *source;
	struct strand_sum sum;
	struct strand_line first = {0};
	struct strand_check check = {.hashes_only = true};
	if (!strand_load(path, &mem, &source))
		strand_read(source, &check, take_first, &first, &sum, NULL);
	out->path = path;
	out->strand = arena_copy(a, first.strand, strlen(first.strand));
	out->who = arena_copy(a, first.who, strlen(first.who));
	arena_release(&mem);
	return out->strand && out->who && *out->who;
}

/* Those of the data folder; with no such folder, none. */
static int owners_read(const char *data, struct arena *a, struct owned **out, size_t *n)
{
	const char **path;
	size_t count, k = 0;
	*n = 0;
	if (file_kind(data) == FILE_NONE)
		return EXIT_DONE;
	int status = strand_paths(data, NULL, 0, a, &path, &count);
	if (status)
		return status;
	*out = arena_many(a, count + 1, struct owned);
	if (!*out)
		return cannot("%s", bad_text(BAD_MEMORY));
	for (size_t i = 0; i < count; i++)
		k += owner_read(path[i], a, *out + k);
	*n = k;
	return EXIT_DONE;
}

/* ---- who is meant ---------------------------------------------------------------------------- */

static enum bad person_fill(const struct learner_row *row, size_t n, const char *code,
	struct arena *a, struct person *out)
{
	const char *person = learner_person(row, n, code);
	struct person p = {arena_many(a, n + 1, const char *), 0};
	if (!p.code)
		return BAD_MEMORY;
	p.code[p.n++] = person;
	for (size_t i = 0; i < n; i++)
		if (strcmp(row[i].person, person) == 0 && !person_has(&p, row[i].code))
			p.code[p.n++] = row[i].code;
	*out = p;
	return FINE;
}

bool person_has(const struct person *p, const char *code)
{
	for (size_t i = 0; i < p->n; i++)
		if (strcmp(p->code[i], code) == 0)
			return true;
	return false;
}

/* Seals that hold in the strands of this code. */
static size_t count_seals(
	const struct owned *own, size_t n, const char *code, const struct key_ring *ring)
{
	size_t count = 0;
	for (size_t i = 0; i < n; i++) {
		struct arena mem = {0};
		struct source *source;
		struct seals seals = {0};
		if (strcmp(own[i].who, code) == 0 && !strand_load(own[i].path, &mem, &source) &&
			!seals_find(source, ring, &mem, &seals))
			count += seals.nhold;
		arena_release(&mem);
	}
	return count;
}

static int tell_several(const char *data, struct arena *a, const char *name,
	const struct learner_row *row, const size_t *hit, size_t n)
{
	struct accepted accepted = {0};
	struct owned *own = NULL;
	struct text t;
	size_t nown = 0;
	int status = accepted_finish(&accepted, a, data);
	if (!status)
		status = owners_read(data, a, &own, &nown);
	if (status)
		return status;
	text_init(&t);
	for (size_t i = 0; i < n; i++) {
		const char *code = row[hit[i]].code;
		size_t seals = count_seals(own, nown, code, &accepted.ring);
		text_addf(&t, "%s%s (%zu sealed)", i ? ", " : "", code, seals);
	}
	status = cannot(
		"%zu learners are called %s: %s.\nSay which by the code; or, if they are one "
		"person: barwright record same %s %s%s",
		n, name, t.at, row[hit[0]].code, row[hit[1]].code, n > 2 ? " ..." : "");
	text_release(&t);
	return status;
}

int person_find(const char *data, struct arena *a, const char *name, struct person *out)
{
	struct learner_row *row = NULL;
	size_t n = 0, found = 0;
	struct text why;
	text_init(&why);
	int status = learner_list(data, a, &row, &n, &why) ? cannot("%s", why.at) : EXIT_DONE;
	text_release(&why);
	size_t *hit = arena_many(a, n + 1, size_t);
	if (!status && !hit)
		status = cannot("%s", bad_text(BAD_MEMORY));
	for (size_t i = 0; !status && i < n; i++) {
		bool again = strcmp(row[i].name, name) != 0;
		for (size_t k = 0; k < found; k++)
			again |= strcmp(row[hit[k]].person, row[i].person) == 0;
		if (!again)
			hit[found++] = i;
	}
	if (status)
		return status;
	if (found > 1)
		return tell_several(data, a, name, row, hit, found);
	enum bad code = person_fill(row, n, found ? row[hit[0]].code : name, a, out);
	return code ? cannot("%s", bad_text(code)) : EXIT_DONE;
}

/* ---- strands that are meant ------------------------------------------------------------------ */

static int add_owned(const char *data, const char *name, const struct owned *own, size_t nown,
	struct arena *a, const char **path, size_t *n)
{
	struct person p;
	size_t before = *n;
	for (size_t i = 0; i < nown; i++)
		if (strcmp(own[i].strand, name) == 0)
			path[(*n)++] = own[i].path;
	if (*n > before)
		return EXIT_DONE;
	int status = person_find(data, a, name, &p);
	for (size_t i = 0; !status && i < nown; i++)
		if (person_has(&p, own[i].who))
			path[(*n)++] = own[i].path;
	if (!status && *n == before)
		status = cannot("%s: there is no file, no strand and no learner of this name; to "
				"see them: barwright record list",
			name);
	return status;
}

/* Files and folders by their paths, all else by what is recorded. */
int strands_meant(
	const char *data, char **name, size_t n, struct arena *a, const char ***out, size_t *count)
{
	struct owned *own = NULL;
	const char **path = NULL, **more;
	size_t nown = 0, k = 0, nmore, there = 0;
	int status = EXIT_DONE;
	for (size_t i = 0; i < n; i++)
		there += file_kind(name[i]) != FILE_NONE;
	if (there == n)
		return strand_paths(data, name, n, a, out, count);
	status = owners_read(data, a, &own, &nown);
	for (size_t i = 0; i < n && !status; i++) {
		bool is_path = file_kind(name[i]) != FILE_NONE;
		nmore = nown;
		if (is_path)
			status = strand_paths(data, &name[i], 1, a, &more, &nmore);
		const char **all = status ? NULL : arena_many(a, k + nmore + 1, const char *);
		if (!status && !all)
			status = cannot("%s", bad_text(BAD_MEMORY));
		if (status)
			break;
		if (k)
			memcpy(all, path, k * sizeof *all);
		path = all;
		if (is_path && nmore)
			memcpy(path + k, more, nmore * sizeof *more);
		k += is_path ? nmore : 0;
		if (!is_path)
			status = add_owned(data, name[i], own, nown, a, path, &k);
	}
	*out = path;
	*count = k;
	return status;
}

bool code_is_known(const char *data, struct arena *a, const char *code)
{
	struct learner_row *row;
	struct owned *own = NULL;
	size_t n;
	if (!learner_list(data, a, &row, &n, NULL))
		for (size_t i = 0; i < n; i++)
			if (strcmp(row[i].code, code) == 0)
				return true;
	if (owners_read(data, a, &own, &n))
		return false;
	for (size_t i = 0; i < n; i++)
		if (strcmp(own[i].who, code) == 0)
			return true;
	return false;
}

/* ---- same ------------------------------------------------------------------------------------ */

static int tell_same(const struct options *o, const char *data, struct arena *a, const char *code)
{
	struct person p;
	struct text t;
	int status = person_find(data, a, code, &p);
	if (status)
		return status;
	text_init(&t);
	text_add(&t, o->json ? "{\"person\":\"" : "");
	text_addf(&t, "%s%s", p.code[0], o->json ? "\",\"codes\":[" : "");
	for (size_t i = 0; i < p.n; i++)
		if (o->json)
			text_addf(&t, "%s\"%s\"", i ? "," : "", p.code[i]);
		else if (i)
			text_addf(&t, "%s%s", i + 1 < p.n ? ", " : " and ", p.code[i]);
	text_add(&t, o->json   ? "]}\n"
		     : p.n > 1 ? " are one person here from now on. The strands are as they "
				 "were.\nTo undo it: barwright record same --apart CODE\n"
			       : " is a person of its own.\n");
	status = put_out(&t, EXIT_DONE);
	text_release(&t);
	return status;
}

static int part_one(const struct options *o, struct arena *a, const char *data, const char *code)
{
	struct text why;
	text_init(&why);
	enum bad bad = learner_part(data, code, &why);
	int status = bad == BAD_UNKNOWN ? cannot("%s is joined with no other code", code)
		     : bad              ? cannot("%s", why.at)
					: tell_same(o, data, a, code);
	text_release(&why);
	return status;
}

static int join_all(const struct options *o, struct arena *a, const char *data,
	const char *const *code, size_t n)
{
	struct text why;
	for (size_t i = 0; i < n; i++)
		if (!learner_is_code(code[i]))
			return cannot("%s: this is no learner's code (l- and eight more "
				      "characters); to see them: barwright record list",
				code[i]);
		else if (!code_is_known(data, a, code[i]))
			return cannot("%s: nothing is known of this code here; to see them: "
				      "barwright record list",
				code[i]);
	text_init(&why);
	enum bad bad = learner_join(data, code, n, &why);
	int status = bad ? cannot("%s", why.at) : tell_same(o, data, a, code[0]);
	text_release(&why);
	return status;
}

int record_same(const struct options *o, struct arena *a, const char *data, int argc, char **argv)
{
	static const struct option known[] = {{"apart", required_argument, NULL, 'a'}, {0}};
	const char *apart = NULL, **code = arena_many(a, (size_t)argc + 1, const char *);
	size_t n = 0;
	int c;
	optind = 1;
	if (!code)
		return cannot("%s", bad_text(BAD_MEMORY));
	while ((c = option_next(&record_command, argc, argv, known)) != -1) {
		if (c != 'a')
			return EXIT_CANNOT;
		apart = optarg;
	}
	if (apart && optind == argc)
		return part_one(o, a, data, apart);
	for (; optind < argc; optind++)
		code[n++] = argv[optind];
	if (apart || n < 2)
		return cannot_read_usage(&record_command,
			"which codes are one person? record same CODE CODE..., or record same "
			"--apart CODE");
	return join_all(o, a, data, code, n);
}

/* ---- known ----------------------------------------------------------------------------------- */

int known_add(const char *data, const char *code, const char *name)
{
	struct text why;
	text_init(&why);
	enum bad bad = folder_make(data);
	if (!bad)
		bad = learner_add(data, code, name, &why);
	int status = EXIT_DONE;
	if (bad == BAD_SYNTAX && !why.len)
		status = cannot(
			"%s: this is no learner's code (l- and eight more characters)", code);
	else if (bad == BAD_REPEATED)
		status = cannot("%s is known here already", code);
	else if (bad && !why.len && (bad == BAD_SIZE || bad == BAD_ENCODING))
		status = cannot("a learner's name has 1 to %d bytes of UTF-8 without controls",
			LEARNER_NAME_MOST);
	else if (bad)
		status = cannot("%s", why.len ? why.at : bad_text(bad));
	text_release(&why);
	return status;
}

int record_known(const struct options *o, struct arena *a, const char *data, int argc, char **argv)
{
	struct text t;
	(void)a;
	if (argc != 3)
		return cannot_read_usage(
			&record_command, "which code, and whose? record known CODE NAME");
	int status = known_add(data, argv[1], argv[2]);
	if (status || o->json)
		return status;
	text_init(&t);
	text_add(&t, argv[1]);
	text_add(&t, " is known here as ");
	text_add_safe(&t, argv[2], strlen(argv[2]), false);
	text_addf(&t, ". To work under it: --learner %s\n", argv[1]);
	status = put_out(&t, EXIT_DONE);
	text_release(&t);
	return status;
}
