/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From a desk to the bench, for the command and for the home page. */
#ifndef BARWRIGHT_CMD_BENCH_H
#define BARWRIGHT_CMD_BENCH_H

#include "bench/session.h"
#include "cmd/command.h"
#include "desk/desk.h"

/* A bench for who sits at the desk. */
struct bench_desk bench_desk_of(const struct desk *d, const struct options *o);

#endif
