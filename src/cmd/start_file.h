/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files to start from, commented, without faults. */
#ifndef BARWRIGHT_CMD_START_FILE_H
#define BARWRIGHT_CMD_START_FILE_H

/* Writes a file of a kind ("problem", "item", "lesson", "module", "course", "rubric", "case") where
 * `path` says, ".yaml" added if it is not there; of a module or course a folder with all it needs.
 * Says what it wrote and what to do next. Never writes over anything. Gives an exit status. */
int start_file(const char *kind, const char *path);

#endif
