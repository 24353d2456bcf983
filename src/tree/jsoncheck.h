/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside this floor: are these bytes strict JSON? Goes over them once, takes no memory. */
#ifndef BARWRIGHT_TREE_JSONCHECK_H
#define BARWRIGHT_TREE_JSONCHECK_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <barwright/base/bad.h>

#include "tree/json.h"

/* Where a value begins, and its name if it is a member; is it a number without point and exponent? */
struct json_start {
	uint32_t name, value;
	bool whole;
};

/* The most values that a text of len bytes can hold. */
size_t jsoncheck_most(size_t len);
/* Checks all that json_read refuses but two equal names in one object and a number beyond the
 * doubles. `starts` has room for jsoncheck_most(len) and receives the values in the order of the
 * text. On failure *fault is filled. */
enum bad jsoncheck(const char *text, size_t len, struct json_start *starts, size_t *n,
	struct json_fault *fault);

#endif
