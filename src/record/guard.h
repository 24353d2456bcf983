/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Locks of a data folder: one for its small files, held while one of them is read, changed and
 * replaced, and one for putting other files in the place of strands. */
#ifndef BARWRIGHT_RECORD_GUARD_H
#define BARWRIGHT_RECORD_GUARD_H

#include <barwright/base/bad.h>
#include <barwright/base/file.h>

/* Waits up to two seconds; BAD_BUSY after that. Takes away what interrupted replacements of the small files
 * left: a name that was erased is not to stay in one. file_close gives it back. */
enum bad guard_take(const char *folder, struct file *out);
/* Held by who gathers into a data folder or erases in it. BAD_BUSY at once. Takes away what replacements
 * that were interrupted left in strands, forks and erasures. */
enum bad guard_strands(const char *folder, struct file *out);

#endif
