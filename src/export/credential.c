/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "export/credential.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include <barwright/base/clock.h>
#include <barwright/record/graded.h>

#include "export/did.h"
#include "export/proof.h"
#include "tree/json.h"

/* The last result that reached a competency. */
struct reached {
	const char *competency, *part, *percent, *needed;
	const char *of, *title, *by, *identity, *sitting, *course;
	struct strand_line line; /* its body is gone */
	uint64_t seal_n, size;
	struct hash root;
	struct reached *next;
};

struct finding {
	struct arena *a;
	struct reached *first;
	bool out; /* memory ran out, and something is missing in what was found */
};

/* ---- what was reached ------------------------------------------------------------------------ */

static const char *kept(struct finding *f, const char *s)
{
	const char *copy = arena_copy(f->a, s, strlen(s));
	f->out = f->out || !copy;
	return copy ? copy : "";
}

static struct reached *place_for(struct finding *f, const char *competency)
{
	struct reached **end = &f->first;
	for (; *end; end = &(*end)->next)
		if (strcmp((*end)->competency, competency) == 0)
			return *end;
	*end = arena_new(f->a, struct reached);
	if (*end)
		(*end)->competency = kept(f, competency);
	return *end;
}

static enum bad take_part(
	struct finding *f, const struct picked *p, const struct line_result *r, size_t i)
{
	struct reached *x = place_for(f, r->part_competency.at[i]);
	if (!x)
		return BAD_MEMORY;
	x->part = kept(f, r->part.at[i]);
	x->percent = kept(f, r->part_percent.at[i]);
	x->needed = kept(f, r->part_needed.at[i]);
	x->of = kept(f, r->of);
	x->title = kept(f, *r->title ? r->title : r->of);
	x->by = kept(f, p->seal->accepted_as);
	x->identity = kept(f, p->seal->body.identity_check);
	x->sitting = kept(f, p->open->sitting);
	x->course = kept(f, p->open->course);
	x->line = *p->line;
	x->seal_n = p->seal->n;
	x->size = p->seal->body.size;
	x->root = p->seal->body.root;
	return f->out ? BAD_MEMORY : FINE;
}

static enum bad on_line(void *context, const struct picked *p)
{
	struct finding *f = context;
	struct arena scratch = {0};
	struct line_result r;
	enum bad code = FINE;
	if (p->kind != LINE_RESULT || !p->seal)
		return FINE;
	code = line_result_read(p->line, &scratch, &r);
	for (size_t i = 0; !code && i < r.part.n; i++)
		if (strcmp(r.part_verdict.at[i], "reached") == 0 && *r.part_competency.at[i])
			code = take_part(f, p, &r, i);
	arena_release(&scratch);
	return code == BAD_MEMORY ? code : FINE;
}

/* ---- the document ---------------------------------------------------------------------------- */

static void put(struct json_out *j, const char *name, const char *value)
{
	json_name(j, name);
	json_text(j, value);
}

static void put_type(struct json_out *j, const char *one, const char *two)
{
	json_name(j, "type");
	json_open_list(j);
	json_text(j, one);
	if (two)
		json_text(j, two);
	json_close_list(j);
}

/* A UUID of version 8 (RFC 9562, 5.8) from a hash: the same each time, and no way back. */
static void put_uuid(struct json_out *j, const char *what, const char *one, const char *two)
{
	struct hash_state s;
	char hex[HASH_HEX + 1], uuid[60];
	hash_start(&s);
	hash_add(&s, what, strlen(what) + 1);
	hash_add(&s, one, strlen(one) + 1);
	hash_add(&s, two, strlen(two) + 1);
	struct hash h = hash_end(&s);
	h.byte[6] = (unsigned char)((h.byte[6] & 0x0f) | 0x80);
	h.byte[8] = (unsigned char)((h.byte[8] & 0x3f) | 0x80);
	hash_hex(&h, hex);
	snprintf(uuid, sizeof uuid, "urn:uuid:%.8s-%.4s-%.4s-%.4s-%.12s", hex, hex + 8, hex + 12,
		hex + 16, hex + 20);
	put(j, "id", uuid);
}

static void put_format(struct json_out *j, const char *name, const char *format, ...)
	__attribute__((format(printf, 3, 4)));
static void put_format(struct json_out *j, const char *name, const char *format, ...)
{
	struct text t;
	va_list args;
	text_init(&t);
	va_start(args, format);
	text_vaddf(&t, format, args);
	va_end(args);
	j->text->out = j->text->out || t.out;
	put(j, name, t.at);
	text_release(&t);
}

static void put_issuer(struct json_out *j, const struct credential_how *how)
{
	char did[DID_KEY];
	did_key(how->pair->open, did);
	json_name(j, "issuer");
	json_open_object(j);
	put(j, "id", did);
	put_type(j, "Profile", NULL);
	put(j, "name", how->issuer);
	json_close_object(j);
}

static void put_result_description(
	struct json_out *j, const struct reached *x, const struct credential_how *how)
{
	json_name(j, "resultDescription");
	json_open_list(j);
	json_open_object(j);
	put_format(j, "id", "%scompetencies/%s#percent", how->base, x->competency);
	put_type(j, "ResultDescription", NULL);
	put(j, "name", "Share of the points");
	put(j, "resultType", "Percent");
	put(j, "requiredValue", x->needed);
	put(j, "valueMin", "0");
	put(j, "valueMax", "100");
	json_close_object(j);
	json_close_list(j);
}

/* "K2.2 Cut-down of a cylinder", or what there is without a course. */
static void put_name(struct json_out *j, const struct reached *x, const struct credential_how *how)
{
	const char *title =
		how->title_of ? how->title_of(how->context, x->course, x->competency) : NULL;
	if (title && *title)
		put_format(j, "name", "%s %s", x->competency, title);
	else
		put_format(j, "name", "Competency %s", x->competency);
}

static void put_description(
	struct json_out *j, const struct reached *x, const struct credential_how *how)
{
	const char *title =
		how->title_of ? how->title_of(how->context, x->course, x->competency) : NULL;
	if (title && *title)
		put_format(j, "description", "%s (competency %s of the course %s), shown in %s.",
			title, x->competency, x->course, x->title);
	else
		put_format(
			j, "description", "Competency %s, shown in %s.", x->competency, x->title);
}

static void put_achievement(
	struct json_out *j, const struct reached *x, const struct credential_how *how)
{
	json_name(j, "achievement");
	json_open_object(j);
	put_format(j, "id", "%scompetencies/%s", how->base, x->competency);
	put_type(j, "Achievement", NULL);
	put_name(j, x, how);
	put_description(j, x, how);
	json_name(j, "criteria");
	json_open_object(j);
	put_format(j, "narrative",
		"At least %s per cent of the points of part %s of %s (%s), under supervision; the "
		"record was sealed by %s, identity: %s.",
		x->needed, x->part, x->title, x->of, x->by,
		*x->identity ? x->identity : "not-stated");
	json_close_object(j);
	put_result_description(j, x, how);
	json_close_object(j);
}

static void put_subject(
	struct json_out *j, const struct reached *x, const struct credential_how *how)
{
	json_name(j, "credentialSubject");
	json_open_object(j);
	put_uuid(j, "barwright/subject/1", x->line.who, "");
	put_type(j, "AchievementSubject", NULL);
	if (how->subject)
		put(j, "name", how->subject);
	put_achievement(j, x, how);
	json_name(j, "result");
	json_open_list(j);
	json_open_object(j);
	put_type(j, "Result", NULL);
	put_format(j, "resultDescription", "%scompetencies/%s#percent", how->base, x->competency);
	put(j, "value", x->percent);
	json_close_object(j);
	json_close_list(j);
	json_close_object(j);
}

static void put_evidence(struct json_out *j, const struct reached *x)
{
	char hash[HASH_HEX + 1], root[HASH_HEX + 1];
	hash_hex(&x->line.hash, hash);
	hash_hex(&x->root, root);
	json_name(j, "evidence");
	json_open_list(j);
	json_open_object(j);
	put_format(j, "id", "urn:uuid:%s", x->line.id);
	put_type(j, "Evidence", NULL);
	put(j, "name", "Result under a seal");
	put_format(j, "narrative",
		"Line %" PRIu64 " of strand %s, sitting %s, SHA-256 %s; sealed in line %" PRIu64
		" over %" PRIu64 " lines with the Merkle root %s (RFC 9162).",
		x->line.n, x->line.strand, x->sitting, hash, x->seal_n, x->size, root);
	json_close_object(j);
	json_close_list(j);
}

static enum bad write_document(
	const struct reached *x, const struct credential_how *how, struct text *out)
{
	struct json_out j;
	char at[TIME_TEXT];
	time_write(x->line.at_ms, at);
	json_begin(&j, out, false);
	json_open_object(&j);
	json_name(&j, "@context");
	json_open_list(&j);
	json_text(&j, "https://www.w3.org/ns/credentials/v2");
	json_text(&j, "https://purl.imsglobal.org/spec/ob/v3p0/context-3.0.3.json");
	json_close_list(&j);
	put_uuid(&j, "barwright/credential/1", x->line.id, x->competency);
	put_type(&j, "VerifiableCredential", "AchievementCredential");
	put_format(&j, "name", "Competency %s", x->competency);
	put_issuer(&j, how);
	put(&j, "validFrom", at);
	put_subject(&j, x, how);
	put_evidence(&j, x);
	json_close_object(&j);
	return json_end(&j);
}

static enum bad write_one(
	const struct reached *x, const struct credential_how *how, struct text *out)
{
	struct text t;
	char created[TIME_TEXT];
	time_write(clock_now(), created);
	text_init(&t);
	enum bad code = write_document(x, how, &t);
	if (!code)
		code = t.out ? BAD_MEMORY : proof_add(t.at, t.len, how->pair, created, out);
	text_add_char(out, '\n');
	text_release(&t);
	return code ? code : out->out ? BAD_MEMORY : FINE;
}

enum bad credential_strand(const struct source *s, const struct key_ring *assessors,
	const struct credential_how *how, struct text *out, size_t *n, struct diags *d)
{
	struct arena a = {0};
	struct finding f = {.a = &a};
	enum bad code = pick_lines(s, assessors, on_line, &f, d);
	for (const struct reached *x = f.first; x && !code; x = x->next) {
		code = write_one(x, how, out);
		*n += !code;
	}
	arena_release(&a);
	return code;
}
