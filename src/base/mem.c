/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/base/mem.h>

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static unsigned long fail_in; /* 0: never */
static int fail_ever, has_failed;

void mem_fail_at(unsigned long n, int ever)
{
	fail_in = n;
	fail_ever = ever;
	has_failed = 0;
}

int mem_failed(void)
{
	return has_failed;
}

static int refuse(void)
{
	if (has_failed && fail_ever)
		return 1;
	if (!fail_in || --fail_in)
		return 0;
	has_failed = 1;
	return 1;
}

void *mem_get(size_t size)
{
	return refuse() ? NULL : malloc(size ? size : 1);
}

void *mem_more(void *old, size_t size)
{
	return refuse() ? NULL : realloc(old, size ? size : 1);
}

void mem_drop(void *old)
{
	free(old);
}

/* Blocks are chained; pieces are cut from the end of the last one. A piece larger than a block
 * gets a block of its own. Under BARWRIGHT_STRESS every piece does, so that the address sanitizer
 * sees each border. */
struct arena_block {
	struct arena_block *before;
	size_t room;
	_Alignas(max_align_t) unsigned char bytes[];
};

#ifdef BARWRIGHT_STRESS
enum { BLOCK_FIRST = 1, BLOCK_MOST = 1 };
#else
enum { BLOCK_FIRST = 16 * 1024 - 64, BLOCK_MOST = 512 * 1024 };
#endif

/* Each block is twice as large as the one before it: what holds much asks the system seldom. */
static size_t block_room(const struct arena *a)
{
	size_t room = a->last ? 2 * a->last->room : BLOCK_FIRST;
	return room < BLOCK_MOST ? room : BLOCK_MOST;
}

static struct arena_block *block_add(struct arena *a, size_t size)
{
	size_t room = block_room(a);
	if (size > room)
		room = size;
	if (room > SIZE_MAX / 2)
		return NULL;
	struct arena_block *block = mem_get(sizeof *block + room);
	if (!block)
		return NULL;
	block->before = a->last;
	block->room = room;
	a->last = block;
	a->left = room;
	return block;
}

static size_t rounded(size_t size)
{
	size_t step = _Alignof(max_align_t);
	return (size + step - 1) / step * step;
}

static void *refused(struct arena *a)
{
	a->out = true;
	return NULL;
}

/* A piece with anything in it. */
static void *cut(struct arena *a, size_t size)
{
	if (size > SIZE_MAX / 4)
		return refused(a);
	size_t want = rounded(size ? size : 1);
	if (want > a->left && !block_add(a, want))
		return refused(a);
	unsigned char *piece = a->last->bytes + (a->last->room - a->left);
	a->left -= want;
	a->taken += want;
	return piece;
}

void *arena_get(struct arena *a, size_t size)
{
	void *piece = cut(a, size);
	return piece ? memset(piece, 0, size) : NULL;
}

void *arena_list(struct arena *a, size_t n, size_t size)
{
	if (size && n > SIZE_MAX / size)
		return refused(a);
	return arena_get(a, n * size);
}

char *arena_copy(struct arena *a, const char *text, size_t len)
{
	if (len == SIZE_MAX)
		return refused(a);
	char *copy = cut(a, len + 1);
	if (!copy)
		return NULL;
	if (len)
		memcpy(copy, text, len);
	copy[len] = '\0';
	return copy;
}

char *arena_vformat(struct arena *a, const char *format, va_list args)
{
	va_list again;
	va_copy(again, args);
	int len = vsnprintf(NULL, 0, format, again);
	va_end(again);
	if (len < 0)
		return refused(a);
	char *out = arena_get(a, (size_t)len + 1);
	if (out)
		vsnprintf(out, (size_t)len + 1, format, args);
	return out;
}

char *arena_format(struct arena *a, const char *format, ...)
{
	va_list args;
	va_start(args, format);
	char *out = arena_vformat(a, format, args);
	va_end(args);
	return out;
}

static void blocks_drop(struct arena_block *b)
{
	for (struct arena_block *before; b; b = before) {
		before = b->before;
#ifdef BARWRIGHT_STRESS
		memset(b->bytes, 0xDD, b->room);
#endif
		mem_drop(b);
	}
}

void arena_release(struct arena *a)
{
	blocks_drop(a->last);
	*a = (struct arena){0};
}

#ifdef BARWRIGHT_STRESS
void arena_clear(struct arena *a)
{
	arena_release(a);
}
#else
void arena_clear(struct arena *a)
{
	a->out = false;
	if (!a->last)
		return;
	blocks_drop(a->last->before);
	a->last->before = NULL;
	a->left = a->last->room;
	a->taken = 0;
}
#endif
