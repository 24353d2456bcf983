/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The results of "show" as JSON. */
#ifndef BARWRIGHT_CMD_SHOW_JSON_H
#define BARWRIGHT_CMD_SHOW_JSON_H

#include <stdint.h>

#include <barwright/item/instance.h>
#include <barwright/item/sample.h>

#include "tree/json.h"

/* An object for one instance, and one for a sample. */
void show_json_instance(struct json_out *out, const struct instance *i, uint64_t seed);
void show_json_sample(struct json_out *out, const struct sample *s);

#endif
