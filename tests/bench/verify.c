/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Checking a strand, against the bare SHA-256 and Ed25519 of its lines, and against SHA-256 alone when the
 * signatures are left out. */
#include "bench.h"

#include <string.h>

#include <barwright/base/cipher.h>
#include <barwright/record/chain.h>
#include <barwright/record/strand.h>

enum { LINES = 400, LINE_ROOM = 1200 };

struct strand_made {
	char *text;
	size_t len;
	struct sign_pair pair;
	struct strand_check how;
	unsigned char signature[LINES][SIGN_BYTES];
};

static const char domain[] = "vocational-record/line/1\n";
enum { DOMAIN = sizeof domain - 1 };

static void make(struct strand_made *m)
{
	static const unsigned char seed[SIGN_SEED] = {1};
	static const char answer[] =
		"{\"ask\":1,\"attempt\":1,\"expected\":\"13.440660\",\"hints\":0,\"item\":\"distal-"
		"spread\",\"outcome\":\"right\",\"read_as\":\"13.4400 mm\",\"slip\":\"\","
		"\"tolerance\":\"0.023000\",\"took_ms\":41000,\"turn\":1,\"typed\":\"13.44\","
		"\"unit\":\"mm\"}";
	char hex[2 * SIGN_PUBLIC + 1], open[200];
	struct strand_line line = {.strand = "s-1", .who = "l-1", .kind = "open"};
	sign_pair_from_seed(seed, &m->pair);
	hex_write(m->pair.open, SIGN_PUBLIC, hex);
	snprintf(open, sizeof open, "{\"machine_pk\":\"%s\"}", hex);
	m->text = malloc((size_t)LINES * LINE_ROOM);
	for (line.n = 0; m->text && line.n < LINES; line.n++) {
		size_t len = 0;
		line.body = line.n ? answer : open;
		line.body_len = strlen(line.body);
		snprintf(
			line.id, sizeof line.id, "6f1c2a58-3b7e-4d0a-9c41-%012x", (unsigned)line.n);
		if (chain_line_write(&line, &m->pair, m->text + m->len, LINE_ROOM, &len))
			exit(1);
		if (base64url_read(
			    m->text + m->len + len - 89, 86, m->signature[line.n], SIGN_BYTES))
			exit(1);
		m->len += len;
		line.prev = line.hash;
		snprintf(line.kind, sizeof line.kind, "answer");
	}
}

static double ours(void *context)
{
	struct strand_made *m = context;
	struct source s = {"bench", m->text, m->len};
	struct strand_sum sum;
	double start = bench_now_us();
	if (strand_read(&s, &m->how, NULL, NULL, &sum, NULL) || sum.lines != LINES)
		exit(1);
	return bench_now_us() - start;
}

static struct hash leaf(const struct chain_slice *s)
{
	struct hash_state state;
	hash_start(&state);
	hash_add(&state, "", 1);
	hash_add(&state, s->payload, s->payload_len);
	return hash_end(&state);
}

/* The two primitives and nothing else; the signatures lie there as bytes already. */
static double base(void *context)
{
	struct strand_made *m = context;
	double start = bench_now_us();
	size_t n = 0;
	for (const char *at = m->text, *end = at + m->len; at < end; n++) {
		size_t len = (size_t)((const char *)memchr(at, '\n', (size_t)(end - at)) - at);
		struct chain_slice slice;
		unsigned char message[DOMAIN + HASH_BYTES];
		if (chain_slice(at, len, &slice))
			exit(1);
		struct hash h = leaf(&slice);
		memcpy(message, domain, DOMAIN);
		memcpy(message + DOMAIN, h.byte, HASH_BYTES);
		if (!m->how.hashes_only &&
			!sign_holds(m->pair.open, message, sizeof message, m->signature[n]))
			exit(1);
		at += len + 1;
	}
	return bench_now_us() - start;
}

int main(void)
{
	static struct strand_made m;
	if (cipher_start())
		return 1;
	make(&m);
	bench_ratio("check 400 lines / SHA-256 and Ed25519 of them", "aim 1.2", 21, ours, base, &m);
	m.how.hashes_only = true;
	bench_ratio("check 400 lines by hashes / SHA-256 of them", "", 201, ours, base, &m);
	free(m.text);
	return 0;
}
