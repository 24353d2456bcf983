/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One lock for the small files of a data folder, held while one of them is read, changed and
 * replaced. */
#ifndef BARWRIGHT_RECORD_GUARD_H
#define BARWRIGHT_RECORD_GUARD_H

#include <barwright/base/bad.h>
#include <barwright/base/file.h>

/* Waits up to two seconds; BAD_BUSY after that. file_close gives it back. */
enum bad guard_take(const char *folder, struct file *out);

#endif
