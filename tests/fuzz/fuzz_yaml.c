/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any bytes as a YAML file: read, asked for by every reader, its faults shown. What must hold of
 * each tree is asserted. */
#include <assert.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <barwright/base/utf8.h>

#include "tree/tree.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void check_place(const struct tree *t, struct place p)
{
	assert(p.source == t->place.source && p.line && p.col);
}

/* The byte of the source at a place. */
static const char *byte_at(struct place p)
{
	size_t len, i = 0;
	uint32_t code;
	const char *line = source_line(p.source, p.line, &len);
	for (uint32_t col = 1; col < p.col && i < len; col++) {
		size_t n = utf8_read(line + i, len - i, &code);
		i += n ? n : 1;
	}
	return line + i;
}

static void check_scalar(struct tree *t)
{
	assert(strlen(t->text) == t->len);
	assert(!t->first && !t->count);
	assert(!t->straight || memcmp(byte_at(t->place), t->text, t->len) == 0);
	for (size_t i = 0; i <= t->len && i < 64; i++) {
		struct place p = tree_place(t, i);
		check_place(t, p);
		bool exact = t->straight || (t->block && p.line > t->place.line);
		bool begins = ((unsigned char)t->text[i] & 0xC0) != 0x80;
		if (exact && begins && i < t->len && t->text[i] != '\n')
			assert(*byte_at(p) == t->text[i]);
	}
}

static void check_node(struct tree *t)
{
	size_t n = 0;
	check_place(t, t->place);
	assert(t->span);
	if (t->kind == TREE_SCALAR)
		check_scalar(t);
	for (struct tree *child = t->first; child; child = child->next, n++) {
		assert(child->parent == t && child->index == n);
		assert((t->kind == TREE_MAP) == (child->key != NULL));
		assert(t->kind != TREE_LIST || tree_at(t, n) == child);
		if (child->key) {
			check_place(child, child->key_place);
			struct tree *found = tree_find(t, child->key);
			assert(found == child || child->broken);
			child->used = n % 2;
		}
		check_node(child);
	}
	assert(n == t->count);
}

/* Which reader a node is given to comes from the node itself, so that each is met. */
static void ask(struct tree *t, struct diags *d)
{
	static const char *const words[] = {"upper", "lower"};
	const char *text;
	bool truth;
	int64_t whole;
	double value;
	size_t word;
	switch ((t->place.line + t->place.col) % 8) {
	case 0:
		tree_text(t, d, &text);
		break;
	case 1:
		tree_truth(t, d, &truth);
		break;
	case 2:
		tree_whole(t, -5, 5, d, &whole);
		break;
	case 3:
		tree_quantity(t, "", d, &value);
		break;
	case 4:
		tree_quantity(t, "mm", d, &value);
		break;
	case 5:
		tree_quantity_in(t, "MPa", 0, 100, d, &value);
		break;
	case 6:
		tree_word(t, words, 2, d, &word);
		break;
	default:
		tree_need(t, "name", d);
		tree_unknown(t, d);
	}
	for (struct tree *child = t->first; child; child = child->next)
		ask(child, d);
}

/* Nothing of a stranger's reaches the terminal as a control. */
static void check_words(const struct diags *d)
{
	struct text shown;
	uint32_t code;
	text_init(&shown);
	diags_print(d, &shown);
	for (size_t i = 0, n; i < shown.len; i += n) {
		n = utf8_read(shown.at + i, shown.len - i, &code);
		assert(n && (code == '\n' || utf8_is_safe(code)));
	}
	text_release(&shown);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	char *bytes = malloc(size + 1);
	assert(bytes);
	memcpy(bytes, data, size);
	bytes[size] = '\0';
	struct arena arena = {0};
	struct source source = {"fuzz.yaml", bytes, size};
	struct diags d = {.arena = &arena};
	struct tree *tree = NULL;
	enum bad code = tree_read(&arena, &source, &d, &tree);
	assert(tree || code);
	assert((code != FINE) == (d.nerror != 0));
	if (tree) {
		check_node(tree);
		ask(tree, &d);
	}
	check_words(&d);
	arena_release(&arena);
	free(bytes);
	return 0;
}
