/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Strands from anybody. The first byte of the input says how to take the rest:
 *   0  as the bytes of a strand
 *   1  as payloads, one a line, each put into a frame with its right hash and signature, so that what
 *      lies behind those two is reached
 *   2  as one JSON text for the canonical reader */
#include <assert.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <barwright/record/lines.h>
#include <barwright/record/strand.h>

#include "record/canon.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static struct sign_pair pair;

static enum bad use_line(void *context, const struct strand_line *line)
{
	struct arena a = {0};
	struct line_open open;
	struct line_draw draw;
	struct line_answer answer;
	struct line_close close;
	struct line_recovered recovered;
	uint64_t *n = context;
	assert(line->n == *n);
	++*n;
	line_open_read(line, &a, &open);
	line_draw_read(line, &a, &draw);
	line_answer_read(line, &a, &answer);
	line_close_read(line, &a, &close);
	line_recovered_read(line, &a, &recovered);
	arena_release(&a);
	return FINE;
}

static void read_strand(const char *text, size_t len)
{
	struct source s = {"fuzz", text, len};
	struct arena a = {0};
	struct diags d = {.arena = &a};
	struct strand_sum sum;
	struct text out;
	uint64_t n = 0;
	size_t lf = 0;
	for (size_t i = 0; i < len; i++)
		lf += text[i] == '\n';
	enum bad code = strand_read(&s, NULL, use_line, &n, &sum, &d);
	assert(code == sum.fault && n == sum.lines && n <= lf);
	assert((code == FINE) == (sum.good_len == len));
	assert((code != FINE) == (d.nerror + d.nwarning == 1));
	text_init(&out);
	diags_print(&d, &out);
	text_release(&out);
	arena_release(&a);
}

static size_t frame(const char *payload, size_t len, char *out)
{
	static const char domain[] = "vocational-record/line/1\n";
	unsigned char message[sizeof domain - 1 + HASH_BYTES], signature[SIGN_BYTES];
	char hex[HASH_HEX + 1], text[87];
	struct hash_state s;
	hash_start(&s);
	hash_add(&s, "", 1);
	hash_add(&s, payload, len);
	struct hash h = hash_end(&s);
	memcpy(message, domain, sizeof domain - 1);
	memcpy(message + sizeof domain - 1, h.byte, HASH_BYTES);
	sign_make(&pair, message, sizeof message, signature);
	hash_hex(&h, hex);
	base64url_write(signature, SIGN_BYTES, text, sizeof text);
	memcpy(out, "[", 1);
	memcpy(out + 1, payload, len);
	return 1 + len +
	       (size_t)snprintf(out + 1 + len, CHAIN_SUFFIX + 2, ",\"%s\",\"%s\"]\n", hex, text);
}

static void read_payloads(const char *text, size_t len)
{
	char *out = malloc(len + (len + 1) * (CHAIN_SUFFIX + 3));
	size_t n = 0;
	assert(out);
	for (const char *at = text, *end = text + len; at < end;) {
		const char *stop = memchr(at, '\n', (size_t)(end - at));
		stop = stop ? stop : end;
		n += frame(at, (size_t)(stop - at), out + n);
		at = stop + 1;
	}
	out[n] = '\0';
	read_strand(out, n);
	free(out);
}

static void walk(struct slice object, int depth)
{
	const char *at = object.at;
	struct slice name, value, plain;
	struct arena a = {0};
	const char *text;
	uint64_t count;
	assert(depth <= CANON_DEPTH);
	while (canon_next(&at, &name, &value)) {
		canon_count(value, &count);
		canon_plain(value, &plain);
		if (canon_text(value, &a, &text) == FINE) {
			/* what was read is written as it stood */
			char *room = malloc(value.len);
			struct pen p = {room, 0, value.len, FINE};
			assert(room);
			pen_text(&p, text);
			assert(p.bad == FINE && p.len == value.len);
			assert(memcmp(room, value.at, value.len) == 0);
			free(room);
		}
		if (*value.at == '{')
			walk(value, depth + 1);
	}
	assert(at == object.at + object.len - 1 || object.len == 2);
	arena_release(&a);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	static const unsigned char seed[SIGN_SEED] = {1};
	if (size < 1 || cipher_start())
		return 0;
	sign_pair_from_seed(seed, &pair);
	size_t len = size - 1, where;
	char *text = malloc(len + 1);
	const char *words;
	assert(text);
	memcpy(text, data + 1, len);
	text[len] = '\0';
	switch (data[0] % 3) {
	case 0:
		read_strand(text, len);
		break;
	case 1:
		read_payloads(text, len);
		break;
	default:
		if (canon_check(text, len, 0, &where, &words) == FINE)
			walk((struct slice){text, len}, 0);
		else
			assert(where <= len && *words);
	}
	free(text);
	return 0;
}
