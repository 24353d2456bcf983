/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The notes of a data folder or an archive: what was erased, and which histories do not count. Each
 * machine writes them into a strand of its own, FOLDER/erasures/ID.jsonl, whose `who` is "erasures". */
#ifndef BARWRIGHT_RECORD_NOTES_H
#define BARWRIGHT_RECORD_NOTES_H

#include <barwright/base/mem.h>
#include <barwright/record/strand.h>

extern const char notes_who[];

/* This machine's, begun where it is missing. *path in `a`, also on failure where it was found; close
 * the strand. */
enum bad notes_open(const char *data, const struct sign_pair *machine, struct arena *a,
	struct strand **out, const char **path);
/* Hands each good line of every list to `take`, whose code other than FINE ends that list; BAD_MEMORY
 * ends all. Lists at fault count up to the fault; no folder is no notes. */
enum bad notes_read(const char *data, const struct key_ring *known, struct arena *a,
	enum bad (*take)(void *context, const struct strand_line *line), void *context);

#endif
