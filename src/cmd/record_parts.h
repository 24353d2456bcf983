/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The words of "barwright record", and what they share. argv[0] is the word. Each gives the exit
 * status. */
#ifndef BARWRIGHT_CMD_RECORD_PARTS_H
#define BARWRIGHT_CMD_RECORD_PARTS_H

#include <barwright/base/mem.h>
#include <barwright/record/assessor.h>
#include <barwright/record/key.h>

#include "cmd/command.h"

int record_audit(const struct options *o, struct arena *a, const char *data, int argc, char **argv);
int record_seal(const struct options *o, struct arena *a, const char *data, int argc, char **argv);
int record_gather(
	const struct options *o, struct arena *a, const char *data, int argc, char **argv);
int record_erase(const struct options *o, struct arena *a, const char *data, int argc, char **argv);
int record_void(const struct options *o, struct arena *a, const char *data, int argc, char **argv);
int record_export(
	const struct options *o, struct arena *a, const char *data, int argc, char **argv);
int record_verify(
	const struct options *o, struct arena *a, const char *data, int argc, char **argv);

/* Says on stderr when others can read a secret key, and what harm that does; a sentence without its full
 * stop. */
void secret_warn(const char *path, const char *harm);
/* The public key of this machine, if it has one; reading a record makes none. A damaged one is said on
 * stderr and counts as none. */
struct own_key {
	struct key_known known;
	struct key_ring ring;
};
void own_key_find(const char *data, struct arena *a, struct own_key *out);

/* Whose seals count: the list of the data folder, and those named with --accept (a key file or a
 * did:key). */
struct accepted {
	struct key_ring ring;
	const struct key_known *extra; /* in the arena */
	size_t nextra;
};
/* Adds one; EXIT_DONE, or EXIT_CANNOT with words on stderr. */
int accepted_add(struct accepted *x, struct arena *a, const char *name);
/* After all of those: joins them with the list. */
int accepted_finish(struct accepted *x, struct arena *a, const char *data);

/* The same with this machine's own key behind it: whose notes are followed. */
int trusted_ring(const char *data, struct arena *a, struct accepted *x);
/* Whose notes an archive follows: those whom it accepts itself, and those whom this machine does. */
int archive_ring(const char *data, const char *archive, struct arena *a, struct accepted *x);

/* EXIT_DONE when this assessor is accepted where `data` is; else that is said, and how to mend it. */
int accepted_there(const struct assessor *by, const char *data, struct arena *a);

/* An assessor's key, opened with what is typed or stands in a file. No key: `pair` stays null. Give the
 * pair back with assessor_forget. */
struct opened {
	struct sign_pair *pair;
	struct assessor who;
};
int key_open(const char *key, const char *phrase_file, struct opened *out);

/* A key file or a did:key: its public half and a name for it ("" for a did:key), with words on stderr
 * when it is neither. */
int public_half(const char *name, struct arena *a, unsigned char *open, const char **called);

/* The strands that paths mean: a file itself; of a folder its *.jsonl, or those of "strands" in it. With
 * no path, the data folder. Words on stderr when one cannot be looked at. */
int strand_paths(
	const char *data, char **path, size_t n, struct arena *a, const char ***out, size_t *count);

#endif
