/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Memory: one door to the heap, and arenas. Running out is an ordinary answer (null), never an
 * exit, so a strand can still be closed and a terminal restored. */
#ifndef BARWRIGHT_BASE_MEM_H
#define BARWRIGHT_BASE_MEM_H

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>

/* As malloc, realloc and free. `size` 0 gives a pointer that may be dropped. */
void *mem_get(size_t size) __attribute__((malloc));
void *mem_more(void *old, size_t size);
void mem_drop(void *old);

/* For tests: let the n-th request from now on (1 = the next one) fail, and, if `ever`, all after it;
 * 0 ends it. mem_failed tells whether the point was reached. Not thread-safe. */
void mem_fail_at(unsigned long n, int ever);
int mem_failed(void);

/* An arena owns every piece taken from it; pieces end together, in arena_release. All zero is an
 * empty arena that may be used and released. Nothing that outlives the arena may point into it.
 * Whoever makes something of many pieces may go on without one and ask for `out` once, at the end. */
struct arena {
	struct arena_block *last;
	size_t left;  /* bytes free in the last block */
	size_t taken; /* bytes handed out so far */
	bool out;     /* a piece was refused since it was empty */
};

/* `size` zeroed bytes aligned for any type, or null when memory ran out. */
void *arena_get(struct arena *a, size_t size) __attribute__((malloc));
/* As arena_get for n pieces of `size`; null also when n * size overflows. */
void *arena_list(struct arena *a, size_t n, size_t size) __attribute__((malloc));
/* A copy of len bytes with a 0 behind it. */
char *arena_copy(struct arena *a, const char *text, size_t len);
/* printf into the arena; null when memory ran out. */
char *arena_format(struct arena *a, const char *format, ...) __attribute__((format(printf, 2, 3)));
char *arena_vformat(struct arena *a, const char *format, va_list args)
	__attribute__((format(printf, 2, 0)));
/* Frees everything; the arena is then empty and may be used again. */
void arena_release(struct arena *a);
/* The same for what was taken, but the memory of the last pieces is kept for those to come. */
void arena_clear(struct arena *a);

#define arena_new(a, type)     ((type *)arena_get((a), sizeof(type)))
#define arena_many(a, n, type) ((type *)arena_list((a), (n), sizeof(type)))

#endif
