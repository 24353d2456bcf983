/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "export/proof.h"

#include <stdbool.h>
#include <string.h>

#include "export/did.h"
#include "tree/json.h"

static const char suite[] = "eddsa-jcs-2022";
static const char type[] = "DataIntegrityProof";

/* An object without one of its members, in `a`; the values are shared. */
static struct json *without(struct arena *a, const struct json *object, const char *name)
{
	struct json *copy = arena_new(a, struct json);
	if (!copy)
		return NULL;
	*copy = *object;
	copy->count = 0;
	struct json **end = &copy->first;
	for (const struct json *m = object->first; m; m = m->next) {
		if (strcmp(m->name, name) == 0)
			continue;
		*end = arena_new(a, struct json);
		if (!*end)
			return NULL;
		**end = *m;
		end = &(*end)->next;
		copy->count++;
	}
	*end = NULL;
	return copy;
}

static enum bad hash_json(const struct json *j, struct hash *out)
{
	struct text t;
	text_init(&t);
	enum bad code = json_canonical(j, &t);
	if (!code && t.out)
		code = BAD_MEMORY;
	if (!code)
		*out = hash_bytes(t.at, t.len);
	text_release(&t);
	return code;
}

static enum bad hashes_of(const struct json *document, const struct json *options, struct hash *out)
{
	struct hash h[2];
	enum bad code = hash_json(options, &h[0]);
	if (!code)
		code = hash_json(document, &h[1]);
	if (!code)
		memcpy(out, h, sizeof h);
	return code;
}

enum bad proof_hashes(const char *document, size_t len, const char *options, size_t options_len,
	struct hash out[static 2])
{
	struct arena a = {0};
	struct json *d, *o;
	enum bad code = json_read(&a, document, len, &d, NULL);
	if (!code)
		code = json_read(&a, options, options_len, &o, NULL);
	if (!code)
		code = hashes_of(d, o, out);
	arena_release(&a);
	return code;
}

/* ---- making ---------------------------------------------------------------------------------- */

/* Everything of the proof but its value; with the context of the document, if it has one. */
static enum bad write_options(const struct json *document, const struct sign_pair *pair,
	const char *created, const char *value, struct text *out)
{
	const struct json *context = json_find(document, "@context");
	enum bad code = FINE;
	char did[DID_KEY];
	did_key(pair->open, did);
	text_add(out, "{");
	if (context) {
		text_add(out, "\"@context\":");
		code = json_canonical(context, out);
		text_add(out, ",");
	}
	text_addf(out,
		"\"created\":\"%s\",\"cryptosuite\":\"%s\",\"proofPurpose\":"
		"\"assertionMethod\",",
		created, suite);
	if (value)
		text_addf(out, "\"proofValue\":\"%s\",", value);
	text_addf(out, "\"type\":\"%s\",\"verificationMethod\":\"%s#%s\"}", type, did, did + 8);
	return code ? code : out->out ? BAD_MEMORY : FINE;
}

static enum bad sign(struct arena *a, const struct json *document, const struct sign_pair *pair,
	const char *created, char value[static BASE58_TEXT])
{
	unsigned char signature[SIGN_BYTES];
	struct json *options;
	struct hash h[2];
	struct text t;
	text_init(&t);
	enum bad code = write_options(document, pair, created, NULL, &t);
	if (!code)
		code = json_read(a, t.at, t.len, &options, NULL);
	if (!code)
		code = hashes_of(document, options, h);
	if (!code) {
		sign_make(pair, h, sizeof h, signature);
		base58_write(signature, sizeof signature, value);
	}
	text_release(&t);
	return code;
}

/* The document with the proof among its members, then canonical as a whole. */
static enum bad join(struct arena *a, const struct json *document, const struct sign_pair *pair,
	const char *created, const char *value, struct text *out)
{
	struct json *whole;
	struct text t;
	text_init(&t);
	enum bad code = json_canonical(document, &t);
	if (!code && t.len) {
		t.at[--t.len] = '\0'; /* the brace */
		text_add(&t, document->count ? ",\"proof\":" : "\"proof\":");
		code = write_options(document, pair, created, value, &t);
		text_add(&t, "}");
	}
	if (!code)
		code = t.out ? BAD_MEMORY : json_read(a, t.at, t.len, &whole, NULL);
	if (!code)
		code = json_canonical(whole, out);
	text_release(&t);
	return code;
}

enum bad proof_add(const char *document, size_t len, const struct sign_pair *pair,
	const char *created, struct text *out)
{
	struct arena a = {0};
	struct json *d;
	char value[BASE58_TEXT];
	enum bad code = json_read(&a, document, len, &d, NULL);
	if (!code && d->kind != JSON_OBJECT)
		code = BAD_TYPE;
	if (!code && json_find(d, "proof"))
		code = BAD_REPEATED;
	if (!code)
		code = sign(&a, d, pair, created, value);
	if (!code)
		code = join(&a, d, pair, created, value, out);
	arena_release(&a);
	return code;
}

/* ---- checking -------------------------------------------------------------------------------- */

static enum bad no(struct text *why, enum bad code, const char *words)
{
	if (why)
		text_add(why, words);
	return code;
}

static bool is_text(const struct json *object, const char *name, const char *want)
{
	const char *is;
	return json_text_of(json_find(object, name), &is) == FINE && strcmp(is, want) == 0;
}

static bool is_equal(const struct json *a, const struct json *b)
{
	struct hash x, y;
	return hash_json(a, &x) == FINE && hash_json(b, &y) == FINE && hash_is_equal(&x, &y);
}

/* The document's contexts must begin with those of the proof. */
static bool begins_alike(const struct json *document, const struct json *proof)
{
	if (document->kind != JSON_LIST || proof->kind != JSON_LIST)
		return is_equal(document, proof);
	const struct json *d = document->first;
	for (const struct json *p = proof->first; p; p = p->next, d = d->next)
		if (!d || !is_equal(d, p))
			return false;
	return true;
}

/* The context that was signed is the proof's. */
static enum bad take_context(struct json *document, const struct json *proof)
{
	const struct json *signed_one = json_find(proof, "@context");
	if (!signed_one)
		return FINE;
	for (struct json *m = document->first; m; m = m->next) {
		if (strcmp(m->name, "@context") != 0)
			continue;
		if (!begins_alike(m, signed_one))
			return BAD_ORDER;
		struct json *next = m->next;
		*m = *signed_one;
		m->next = next;
		m->name = "@context";
		return FINE;
	}
	return BAD_ORDER;
}

/* "did:key:X#X" */
static enum bad key_of(const struct json *proof, unsigned char *open)
{
	const char *method;
	enum bad code = json_text_of(json_find(proof, "verificationMethod"), &method);
	const char *mark = code ? NULL : strchr(method, '#');
	if (!mark)
		return BAD_TYPE;
	code = did_key_read(method, (size_t)(mark - method), open);
	size_t n = (size_t)(mark - method) - 8;
	if (!code && (strlen(mark + 1) != n || memcmp(mark + 1, method + 8, n) != 0))
		code = BAD_TYPE;
	return code;
}

static enum bad check_signature(struct arena *a, const struct json *document,
	const struct json *proof, const unsigned char *open)
{
	unsigned char signature[SIGN_BYTES];
	const char *value;
	struct hash h[2];
	struct json *bare = without(a, document, "proof"),
		    *options = without(a, proof, "proofValue");
	enum bad code = json_text_of(json_find(proof, "proofValue"), &value);
	if (code || base58_read(value, strlen(value), signature, sizeof signature))
		return BAD_SEAL;
	code = bare && options ? take_context(bare, proof) : BAD_MEMORY;
	if (!code)
		code = hashes_of(bare, options, h);
	if (code)
		return code;
	return sign_holds(open, h, sizeof h, signature) ? FINE : BAD_SEAL;
}

static enum bad check(struct arena *a, const struct json *d, unsigned char *open, struct text *why)
{
	const struct json *proof = json_find(d, "proof");
	unsigned char key[SIGN_PUBLIC];
	if (!proof)
		return no(why, BAD_MISSING, "it has no proof");
	if (proof->kind != JSON_OBJECT || !is_text(proof, "type", type) ||
		!is_text(proof, "cryptosuite", suite))
		return no(why, BAD_TYPE, "its proof is of a kind that is not known here");
	if (!is_text(proof, "proofPurpose", "assertionMethod"))
		return no(why, BAD_TYPE, "its proof was not made to assert something");
	if (key_of(proof, key))
		return no(why, BAD_TYPE, "its key is not a did:key of Ed25519");
	enum bad code = check_signature(a, d, proof, key);
	if (code == BAD_SEAL)
		return no(why, code,
			"the signature does not fit: it was changed after it was signed");
	if (code == BAD_ORDER)
		return no(why, code, "its contexts are not those that were signed");
	if (code)
		return no(why, code, bad_text(code));
	memcpy(open, key, SIGN_PUBLIC);
	return FINE;
}

enum bad proof_check(
	const char *document, size_t len, unsigned char open[static SIGN_PUBLIC], struct text *why)
{
	struct arena a = {0};
	struct json *d;
	struct json_fault fault = {0, ""};
	enum bad code = json_read(&a, document, len, &d, &fault);
	if (code)
		no(why, code, *fault.why ? fault.why : bad_text(code));
	else
		code = check(&a, d, open, why);
	arena_release(&a);
	return code;
}
