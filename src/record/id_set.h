/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A set of UUIDs, to notice one that is there twice. */
#ifndef BARWRIGHT_RECORD_ID_SET_H
#define BARWRIGHT_RECORD_ID_SET_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <barwright/base/bad.h>

/* All zero is an empty one. */
struct id_set {
	uint64_t (*slot)[2]; /* owned; 0, 0: free, which no version 4 UUID is */
	size_t room, n;      /* room: a power of two, or 0 */
	uint64_t salt;       /* random, so that nobody can choose ids that collide */
};
/* `id` has 36 characters in the form of a UUID. *is_new: it was not there. */
enum bad id_set_add(struct id_set *s, const char *id, bool *is_new);
void id_set_release(struct id_set *s);

#endif
