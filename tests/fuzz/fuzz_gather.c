/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two histories of one strand. The first byte says how many lines they share (the fuzzer's, one a line of
 * the input), the second which payloads each of them has lost; the rest of the lines goes to either in
 * turn. Put together they must obey the laws of gathering. An even first byte: the input is taken as it is, as
 * the bytes of one file. */
#include "chain_maker.h"

#include "record/branch.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void read_raw(const char *bytes, size_t len)
{
	struct source s = {"fuzz", bytes, len};
	struct arena a = {0};
	struct branch b;
	struct text t;
	if (branch_read(&s, &a, &b) == FINE) {
		text_init(&t);
		branch_write(&b, b.n, &t);
		assert(b.n && t.len <= len && memcmp(t.at, bytes, t.len) == 0);
		text_release(&t);
	}
	arena_release(&a);
}

static void erase_some(struct text *t, unsigned which)
{
	struct text out;
	unsigned n = 0;
	text_init(&out);
	for (const char *at = t->at, *stop; (stop = strchr(at, '\n')); at = stop + 1, n++) {
		size_t len = (size_t)(stop + 1 - at);
		if (n && which >> n % 8 & 1) {
			text_add(&out, "[null");
			text_add_bytes(&out, stop - CHAIN_SUFFIX, CHAIN_SUFFIX + 1);
		} else {
			text_add_bytes(&out, at, len);
		}
	}
	text_release(t);
	*t = out;
}

static void laws(const struct text *one, const struct text *two)
{
	struct source s = {"one", one->at, one->len}, z = {"two", two->at, two->len};
	struct arena a = {0};
	struct branch b, c, again;
	struct text t, u;
	assert(!branch_read(&s, &a, &b) && !branch_read(&z, &a, &c));
	uint64_t shared = branch_shared(&b, &c);
	assert(shared && shared == branch_shared(&c, &b));
	assert(!branch_agree(&b, &c, &a) && branch_shared(&b, &c) == shared);
	text_init(&t);
	text_init(&u);
	branch_write(&b, shared, &t);
	branch_write(&c, shared, &u);
	assert(t.len == u.len && memcmp(t.at, u.at, t.len) == 0); /* one form for both */
	for (uint64_t i = 0; i < shared; i++)
		assert(!b.line[i].erased || c.line[i].erased);
	text_clear(&t);
	branch_write(&b, b.n, &t);
	struct source w = {"again", t.at, t.len};
	assert(!branch_read(&w, &a, &again) && again.n == b.n);
	assert(branch_shared(&again, &b) == b.n);
	uint64_t gone = 0, more = 0;
	assert(!branch_erase(&again, again.n, &a, &gone) && gone <= again.n);
	assert(!branch_erase(&again, again.n, &a, &more) && more == 0);
	assert(branch_shared(&again, &b) == b.n);
	text_release(&t);
	text_release(&u);
	arena_release(&a);
}

static void two_histories(const uint8_t *data, size_t size)
{
	const char *at = (const char *)data + 2, *end = (const char *)data + size;
	struct chain_maker one, two;
	chain_begin(&one);
	chain_open(&one);
	unsigned share = data[0] / 2 % 16, n = 0;
	bool apart = false;
	struct chain_maker *to = &one;
	chain_begin(&two);
	for (const char *stop; at < end && n < 64; at = stop + 1, n++) {
		stop = memchr(at, '\n', (size_t)(end - at));
		stop = stop ? stop : end;
		if (!apart && n >= share) {
			text_add_bytes(&two.text, one.text.at, one.text.len);
			two.head = one.head;
			two.n = one.n;
			apart = true;
		}
		chain_add(to, "answer", false, at, (size_t)(stop - at));
		if (apart)
			to = to == &one ? &two : &one;
	}
	if (!apart)
		text_add_bytes(&two.text, one.text.at, one.text.len);
	erase_some(&one.text, data[1] & 15);
	erase_some(&two.text, data[1] >> 4);
	laws(&one.text, &two.text);
	chain_end(&one);
	chain_end(&two);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	if (size < 2 || cipher_start())
		return 0;
	if (data[0] % 2) {
		two_histories(data, size);
		return 0;
	}
	char *copy = malloc(size);
	assert(copy);
	memcpy(copy, data + 1, size - 1);
	copy[size - 1] = 0;
	read_raw(copy, size - 1);
	free(copy);
	return 0;
}
