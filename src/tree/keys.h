/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside this floor: the order in which the children of a node are found. */
#ifndef BARWRIGHT_TREE_KEYS_H
#define BARWRIGHT_TREE_KEYS_H

#include <stddef.h>

#include <barwright/base/bad.h>

#include "tree/tree.h"

/* Called once all children of a list or map are there: fills `at`. BAD_MEMORY. */
enum bad keys_sort(struct tree *t);
/* The first child with this key in the order of the source, or null. */
struct tree *keys_find(const struct tree *map, const char *key, size_t len);

#endif
