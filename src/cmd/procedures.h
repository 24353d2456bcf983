/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Finding procedures: every *.yaml of the folder "procedures" in the folder of the courses and in each
 * course, or one file. */
#ifndef BARWRIGHT_CMD_PROCEDURES_H
#define BARWRIGHT_CMD_PROCEDURES_H

#include "cmd/command.h"
#include "course/procedure.h"

enum { PROCEDURES_MOST = 16 };
struct procedures {
	struct procedure procedure[PROCEDURES_MOST];
	size_t n;
	const char *left_out[PROCEDURES_MOST]; /* paths of those with faults */
	size_t nleft_out;
	bool is_file; /* the one that was named as a file */
};

/* `name` may be the path of a file (it ends in .yaml) or null. Exit status; faults are told on stderr.
 * Faulty procedures are left out. */
int procedures_load(const struct options *o, const char *name, struct procedures *out);
/* Those below a folder of courses that is known; silent, the paths of faulty ones in `a`. */
enum bad procedures_gather(const char *courses, struct arena *a, struct procedures *out);
/* Says on stderr which ones have faults. */
void procedures_tell_left_out(const struct procedures *p);
void procedures_release(struct procedures *p);

#endif
