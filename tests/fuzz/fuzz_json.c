/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any bytes as JSON. What is read must be read again, and be the same, from its canonical form and
 * from what the writer makes of it; a fault must lie inside the bytes. */
#include <assert.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "tree/json.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void write_value(struct json_out *out, const struct json *j)
{
	switch (j->kind) {
	case JSON_NULL:
		json_null(out);
		break;
	case JSON_TRUTH:
		json_truth(out, j->truth);
		break;
	case JSON_WHOLE:
		json_whole(out, j->whole);
		break;
	case JSON_NUMBER:
		json_number(out, j->number);
		break;
	case JSON_TEXT:
		json_text_bytes(out, j->text, j->len);
		break;
	case JSON_LIST:
	case JSON_OBJECT:
		if (j->kind == JSON_LIST)
			json_open_list(out);
		else
			json_open_object(out);
		for (const struct json *child = j->first; child; child = child->next) {
			if (child->name)
				json_name(out, child->name);
			write_value(out, child);
		}
		if (j->kind == JSON_LIST)
			json_close_list(out);
		else
			json_close_object(out);
	}
}

static bool is_equal(const struct json *a, const struct json *b)
{
	/* 5.0 is written as 5 */
	bool numbers = (a->kind == JSON_WHOLE || a->kind == JSON_NUMBER) &&
		       (b->kind == JSON_WHOLE || b->kind == JSON_NUMBER);
	if ((a->kind != b->kind && !numbers) || a->count != b->count || a->len != b->len)
		return false;
	if (a->truth != b->truth || a->number != b->number || strcmp(a->text, b->text) != 0)
		return false;
	const struct json *y = b->first;
	for (const struct json *x = a->first; x; x = x->next, y = y->next)
		if ((x->name && strcmp(x->name, y->name) != 0) || !is_equal(x, y))
			return false;
	return true;
}

static void check_written(struct arena *arena, const struct json *j, bool indented)
{
	struct text text;
	struct json_out out;
	struct json *again = NULL;
	text_init(&text);
	json_begin(&out, &text, indented);
	write_value(&out, j);
	assert(json_end(&out) == FINE);
	/* 1e17 is a number, and written in digits it would be an integer out of range */
	enum bad code = text.len > JSON_BYTES ? BAD_SIZE
					      : json_read(arena, text.at, text.len, &again, NULL);
	assert(code == FINE || code == BAD_RANGE || code == BAD_SIZE);
	assert(code || is_equal(j, again));
	text_release(&text);
}

static void check_canonical(struct arena *arena, const struct json *j)
{
	struct text once, twice;
	struct json *again = NULL;
	text_init(&once);
	text_init(&twice);
	enum bad code = json_canonical(j, &once);
	assert(code == FINE || code == BAD_RANGE);
	if (!code) {
		assert(json_read(arena, once.at, once.len, &again, NULL) == FINE);
		assert(json_canonical(again, &twice) == FINE);
		assert(strcmp(once.at, twice.at) == 0);
	}
	text_release(&once);
	text_release(&twice);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	struct arena arena = {0};
	struct json *j = NULL;
	struct json_fault fault = {SIZE_MAX, NULL};
	enum bad code = json_read(&arena, (const char *)data, size, &j, &fault);
	assert(code != BAD_MEMORY); /* also: the library refused what our check has let pass */
	if (code) {
		assert(!j && fault.offset <= size && fault.why);
	} else {
		check_written(&arena, j, false);
		check_written(&arena, j, true);
		check_canonical(&arena, j);
	}
	arena_release(&arena);
	return 0;
}
