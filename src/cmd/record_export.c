/* SPDX-License-Identifier: GPL-3.0-or-later */
/* barwright record export, verify */
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <barwright/base/cipher.h>
#include <barwright/base/clock.h>
#include <barwright/base/file.h>
#include <barwright/base/utf8.h>
#include <barwright/record/learner.h>

#include "cmd/courses.h"
#include "cmd/options.h"
#include "cmd/record_parts.h"
#include "cmd/record_person.h"
#include "export/credential.h"
#include "export/csv.h"
#include "export/did.h"
#include "export/proof.h"
#include "export/single.h"
#include "export/xapi.h"
#include "tree/json.h"

enum form { FORM_NONE, FORM_CSV, FORM_XAPI, FORM_CREDENTIAL, FORM_LINE };

struct exporting {
	enum form form;
	uint64_t n; /* FORM_LINE */
	const char *base, *out_file, *key, *phrase;
	bool names;
	struct accepted accepted;
	struct learner_row *row;
	size_t nrow;
	struct opened by;
	struct courses courses; /* for titles; none where there is no course */
	struct xapi xapi;
	size_t credentials;
	struct text out;
};

static const char *name_of(void *context, const char *who)
{
	const struct exporting *x = context;
	for (size_t i = 0; i < x->nrow; i++)
		if (x->names && strcmp(x->row[i].code, who) == 0)
			return x->row[i].name;
	return "";
}

static const char *person_of(void *context, const char *who)
{
	const struct exporting *x = context;
	return learner_person(x->row, x->nrow, who);
}

static const char *title_of(void *context, const char *course, const char *competency)
{
	const struct exporting *x = context;
	for (size_t i = 0; i < x->courses.n; i++) {
		const struct course *c = &x->courses.course[i];
		const struct competency *k =
			strcmp(c->code, course) ? NULL : course_competency(c, competency);
		if (k)
			return k->title;
	}
	return NULL;
}

/* The name that belongs to a strand, by its first line; null: none, or none is wanted. */
static const char *subject_of(struct exporting *x, const struct source *s)
{
	struct chain_slice slice;
	struct strand_line line = {0};
	size_t where;
	const char *words, *stop = memchr(s->text, '\n', s->len);
	if (!x->names || !stop || chain_slice(s->text, (size_t)(stop - s->text), &slice) ||
		chain_payload(&slice, &line, &where, &words))
		return NULL;
	const char *name = name_of(x, line.who);
	return *name ? name : NULL;
}

static enum bad export_source(struct exporting *x, const struct source *s, struct diags *d)
{
	struct csv_names names = {x->names ? name_of : NULL, person_of, x};
	const struct key_ring *ring = &x->accepted.ring;
	struct credential_how how = {.pair = x->by.pair,
		.issuer = x->by.who.name,
		.base = x->base,
		.title_of = title_of,
		.context = x};
	switch (x->form) {
	case FORM_CSV:
		return csv_strand(s, ring, &names, &x->out, d);
	case FORM_XAPI:
		return xapi_strand(&x->xapi, s, ring, d);
	case FORM_CREDENTIAL:
		how.subject = subject_of(x, s);
		return credential_strand(s, ring, &how, &x->out, &x->credentials, d);
	default:
		return single_write(s, ring, x->n, &x->out, d);
	}
}

static int tell_fault(const char *path, enum bad code, const struct diags *d)
{
	struct text t;
	text_init(&t);
	diags_print(d, &t);
	fputs(t.at, stderr);
	text_release(&t);
	if (code == BAD_RANGE)
		return cannot("%s: it has no such line", path);
	if (code == BAD_SEAL && !d->first)
		return cannot("%s: no accepted seal stands over this line; it is practice", path);
	return cannot("%s: %s; nothing was exported", path, bad_text(code));
}

static int export_path(struct exporting *x, const char *path)
{
	struct arena a = {0};
	struct diags d = {.arena = &a};
	struct source *source;
	enum bad code = strand_load(path, &a, &source);
	int status = code ? cannot("%s: %s", path, file_advice(code)) : EXIT_DONE;
	if (!status && (code = export_source(x, source, &d)))
		status = tell_fault(path, code, &d);
	arena_release(&a);
	return status;
}

static void put(struct json_out *j, const char *name, const char *value)
{
	struct text clean;
	text_init(&clean);
	text_add_safe(&clean, value, strlen(value), false);
	j->text->out = j->text->out || clean.out;
	json_name(j, name);
	json_text(j, clean.at);
	text_release(&clean);
}

static const char *const form_word[] = {[FORM_NONE] = "",
	[FORM_CSV] = "csv",
	[FORM_XAPI] = "xapi",
	[FORM_CREDENTIAL] = "credential",
	[FORM_LINE] = "line"};

/* What was written to a file. */
static int tell_written(const struct options *o, const struct exporting *x, size_t strands)
{
	struct json_out j;
	struct text t;
	if (!o->json)
		return EXIT_DONE;
	text_init(&t);
	json_begin(&j, &t, false);
	json_open_object(&j);
	put(&j, "form", form_word[x->form]);
	put(&j, "file", x->out_file);
	json_name(&j, "strands");
	json_whole(&j, (int64_t)strands);
	json_name(&j, "bytes");
	json_whole(&j, (int64_t)x->out.len);
	if (x->form == FORM_CREDENTIAL) {
		json_name(&j, "credentials");
		json_whole(&j, (int64_t)x->credentials);
	}
	json_close_object(&j);
	text_add_char(&t, '\n');
	t.out = t.out || json_end(&j);
	int status = put_out(&t, EXIT_DONE);
	text_release(&t);
	return status;
}

/* How a file of this format begins, whatever stands in it; no strand does. */
static const char *begins(const struct text *t)
{
	return *t->at == '[' ? "[\n" : *t->at == '{' ? "{\"" : "strand,n,";
}

static int finish(const struct options *o, struct exporting *x, size_t strands)
{
	if (x->out.out)
		return cannot("there was not enough memory for the whole answer");
	if (!x->out_file)
		return put_out(&x->out, EXIT_DONE);
	enum bad code = put_file(x->out_file, begins(&x->out), x->out.at, x->out.len, x->names);
	return code ? cannot("%s: %s", x->out_file, file_advice(code))
		    : tell_written(o, x, strands);
}

static int export_all(const struct options *o, struct exporting *x, const char **path, size_t n)
{
	int status = EXIT_DONE;
	if (x->form == FORM_CSV)
		csv_head(&x->out);
	if (x->form == FORM_XAPI)
		xapi_begin(&x->xapi, x->base, &x->out);
	for (size_t i = 0; i < n && !status; i++)
		status = export_path(x, path[i]);
	if (x->form == FORM_XAPI)
		xapi_end(&x->xapi);
	if (!status && x->form == FORM_CREDENTIAL && !x->credentials)
		fprintf(stderr, "barwright: no competency is reached in a sealed result here\n");
	return status ? status : finish(o, x, n);
}

/* ---- options --------------------------------------------------------------------------------- */

static int load_names(struct exporting *x, const char *data, struct arena *a)
{
	struct text why;
	int status = EXIT_DONE;
	text_init(&why);
	if ((x->names || x->form == FORM_CSV) && learner_list(data, a, &x->row, &x->nrow, &why))
		status = cannot("%s", why.at);
	text_release(&why);
	return status;
}

/* Something with a scheme and a slash at its end, of characters an IRI may have. */
static bool is_base(const char *s)
{
	size_t n = strlen(s);
	return n > 3 && n < 200 && strchr(s, ':') && s[n - 1] == '/' &&
	       !strpbrk(s, " \"<>\\^`{|}") && utf8_valid(s, n) == n;
}

static bool read_count(const char *s, uint64_t *out)
{
	char *end;
	errno = 0;
	*out = strtoull(s, &end, 10);
	return *s >= '0' && *s <= '9' && !*end && !errno;
}

static const struct option known[] = {{"csv", no_argument, NULL, 'c'},
	{"xapi", no_argument, NULL, 'x'}, {"credential", no_argument, NULL, 'v'},
	{"line", required_argument, NULL, 'l'}, {"names", no_argument, NULL, 'n'},
	{"base", required_argument, NULL, 'b'}, {"out", required_argument, NULL, 'o'},
	{"key", required_argument, NULL, 'K'}, {"phrase", required_argument, NULL, 'P'},
	{"accept", required_argument, NULL, 'A'}, {0}};

static int take_option(struct exporting *x, struct arena *a, int c)
{
	switch (c) {
	case 'c':
	case 'x':
	case 'v':
		x->form = c == 'c' ? FORM_CSV : c == 'x' ? FORM_XAPI : FORM_CREDENTIAL;
		return EXIT_DONE;
	case 'l':
		x->form = FORM_LINE;
		return read_count(optarg, &x->n) ? EXIT_DONE
						 : cannot("--line wants a number from 0 on");
	case 'n':
		x->names = true;
		return EXIT_DONE;
	case 'b':
		x->base = optarg;
		return is_base(optarg) ? EXIT_DONE
				       : cannot("--base wants an address with a slash at its end");
	case 'o':
		x->out_file = optarg;
		return EXIT_DONE;
	case 'K':
		x->key = optarg;
		return EXIT_DONE;
	case 'P':
		x->phrase = optarg;
		return EXIT_DONE;
	case 'A':
		return accepted_add(&x->accepted, a, optarg);
	default:
		return EXIT_CANNOT;
	}
}

int record_export(const struct options *o, struct arena *a, const char *data, int argc, char **argv)
{
	struct exporting x = {.base = xapi_base};
	const char **path = NULL;
	size_t n = 0;
	int c, status = EXIT_DONE;
	optind = 1;
	while (!status && (c = option_next(&record_command, argc, argv, known)) != -1)
		status = take_option(&x, a, c);
	if (!status && x.form == FORM_NONE)
		return cannot_read_usage(
			&record_command, "export as what? --csv, --xapi, --credential, --line N");
	if (!status && o->json && !x.out_file && x.form == FORM_CSV)
		return cannot_read_usage(&record_command,
			"a table is no JSON: with --json name a file for it, --out FILE");
	if (!status)
		status = strands_meant(data, argv + optind, (size_t)(argc - optind), a, &path, &n);
	if (!status && x.form == FORM_LINE && n != 1)
		status = cannot("--line wants one strand");
	if (!status)
		status = accepted_finish(&x.accepted, a, data);
	if (!status)
		status = load_names(&x, data, a);
	if (!status && x.form == FORM_CREDENTIAL)
		status = x.key ? key_open(x.key, x.phrase, &x.by)
			       : cannot_read_usage(&record_command, "who issues it? --key FILE");
	if (status)
		return status;
	if (x.form == FORM_CREDENTIAL && file_kind(courses_folder(o, a)) == FILE_FOLDER &&
		courses_heads(o, a, &x.courses))
		x.courses = (struct courses){0};
	text_init(&x.out);
	status = export_all(o, &x, path, n);
	text_release(&x.out);
	courses_release(&x.courses);
	assessor_forget(x.by.pair);
	return status;
}

/* ---- verify ---------------------------------------------------------------------------------- */

static const char *accepted_name(const struct key_ring *ring, const unsigned char *open)
{
	for (size_t i = 0; i < ring->n; i++)
		if (memcmp(ring->at[i].open, open, SIGN_PUBLIC) == 0)
			return ring->at[i].name;
	return "";
}

/* What was found out about one document. */
struct verdict {
	const char *path;
	bool holds;
	const char *words;   /* why it does not hold */
	const char *name;    /* whose key it is; "": nobody's that is accepted here */
	char did[DID_KEY];   /* of a credential */
	struct single *line; /* null: it is a credential */
};

static void verdict_tell(const struct verdict *v, struct text *t)
{
	text_add_safe(t, v->path, strlen(v->path), false);
	if (!v->holds) {
		text_addf(t, ": DOES NOT HOLD: %s\n", v->words);
		return;
	}
	if (v->line)
		text_addf(t,
			": holds: line %llu of strand %s, learner %s,\n  stands among the %llu "
			"lines "
			"that key %s sealed",
			(unsigned long long)v->line->line.n, v->line->line.strand,
			v->line->line.who, (unsigned long long)v->line->seal.size, v->line->key);
	else
		text_addf(t, ": holds: nothing was changed since\n  %s signed it", v->did);
	if (*v->name) {
		text_add(t, ",\n  accepted here as ");
		text_add_safe(t, v->name, strlen(v->name), false);
	} else {
		text_add(t, ",\n  which is NOT accepted here: anybody can make such a key");
	}
	text_add(t, ".\n");
}

static void verdict_json(const struct verdict *v, struct json_out *j)
{
	json_open_object(j);
	put(j, "file", v->path);
	put(j, "kind", v->line ? "line" : "credential");
	json_name(j, "holds");
	json_truth(j, v->holds);
	put(j, "words", v->words);
	json_name(j, "accepted");
	json_truth(j, v->holds && *v->name);
	put(j, "accepted_as", v->name);
	if (v->holds && !v->line)
		put(j, "key", v->did);
	if (v->holds && v->line) {
		put(j, "key", v->line->key);
		put(j, "strand", v->line->line.strand);
		put(j, "who", v->line->line.who);
		json_name(j, "n");
		json_whole(j, (int64_t)v->line->line.n);
		json_name(j, "size");
		json_whole(j, (int64_t)v->line->seal.size);
	}
	json_close_object(j);
}

struct verifying {
	const struct options *o;
	const struct key_ring *ring;
	struct text out;
	struct json_out json;
};

static int verdict_add(struct verifying *x, const struct verdict *v)
{
	if (x->o->json)
		verdict_json(v, &x->json);
	else
		verdict_tell(v, &x->out);
	return v->holds && *v->name ? EXIT_DONE : EXIT_NO;
}

static int verify_credential(struct verifying *x, const char *path, const char *text, size_t len)
{
	unsigned char open[SIGN_PUBLIC];
	struct verdict v = {.path = path, .words = "", .name = ""};
	struct text why;
	text_init(&why);
	v.holds = proof_check(text, len, open, &why) == FINE;
	v.words = v.holds ? "" : why.at;
	if (v.holds) {
		did_key(open, v.did);
		v.name = accepted_name(x->ring, open);
	}
	int status = verdict_add(x, &v);
	text_release(&why);
	return status;
}

static int verify_line(struct verifying *x, const char *path, const char *text, size_t len)
{
	struct arena a = {0};
	struct single single;
	struct verdict v = {.path = path, .words = "", .name = "", .line = &single};
	struct text why;
	text_init(&why);
	v.holds = single_check(text, len, x->ring, &a, &single, &why) == FINE;
	v.words = v.holds ? "" : why.at;
	v.name = v.holds ? single.accepted_as : "";
	int status = verdict_add(x, &v);
	text_release(&why);
	arena_release(&a);
	return status;
}

static int verify_file(struct verifying *x, const char *path)
{
	enum { MOST = 4 << 20 };
	char *text;
	size_t len;
	int status = EXIT_DONE;
	enum bad code = file_read_named(path, MOST, NULL, &text, &len);
	if (code)
		return cannot("%s: %s", path, file_advice(code));
	if (!len)
		status = cannot("%s: it is empty", path);
	for (const char *at = text, *end = text + len; at < end;) { /* a document a line */
		const char *stop = memchr(at, '\n', (size_t)(end - at));
		bool lines =
			strncmp(at, "{\"@context\"", 11) == 0 || strncmp(at, "{\"line\"", 7) == 0;
		size_t n = lines && stop ? (size_t)(stop - at) : (size_t)(end - at);
		int one = strstr(text, "barwright-line-proof") ? verify_line(x, path, at, n)
							       : verify_credential(x, path, at, n);
		status = one ? one : status;
		at += n + (lines && stop);
	}
	mem_drop(text);
	return status;
}

int record_verify(const struct options *o, struct arena *a, const char *data, int argc, char **argv)
{
	static const struct option accept[] = {{"accept", required_argument, NULL, 'A'}, {0}};
	struct accepted accepted = {0};
	struct verifying x = {.o = o, .ring = &accepted.ring};
	int c, status = EXIT_DONE, worst = EXIT_DONE;
	optind = 1;
	while (!status && (c = option_next(&record_command, argc, argv, accept)) != -1) {
		if (c != 'A')
			return EXIT_CANNOT;
		status = accepted_add(&accepted, a, optarg);
	}
	if (!status && optind == argc)
		return cannot_read_usage(&record_command, "verify what? a file of export");
	if (!status)
		status = accepted_finish(&accepted, a, data);
	if (status)
		return status;
	text_init(&x.out);
	json_begin(&x.json, &x.out, false);
	if (o->json) {
		json_open_object(&x.json);
		json_name(&x.json, "documents");
		json_open_list(&x.json);
	}
	for (; optind < argc && worst != EXIT_CANNOT; optind++) {
		int one = verify_file(&x, argv[optind]);
		worst = one > worst ? one : worst;
	}
	if (o->json) {
		json_close_list(&x.json);
		json_close_object(&x.json);
		text_add_char(&x.out, '\n');
		x.out.out = x.out.out || json_end(&x.json);
	}
	status = put_out(&x.out, worst);
	text_release(&x.out);
	return status;
}
