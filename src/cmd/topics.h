/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A topic that the course does not have. */
#ifndef BARWRIGHT_CMD_TOPICS_H
#define BARWRIGHT_CMD_TOPICS_H

#include "cmd/command.h"
#include "course/course.h"

/* Says so, with the nearest one and all there are; `also`: " and no task", where tasks were looked
 * through too, or "". Gives EXIT_CANNOT. */
int topic_unknown(const struct course *c, const char *topic, const char *also);

#endif
