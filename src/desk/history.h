/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a strand holds beside practice: runs at the bench, sittings of assessments, rated pieces of work.
 * Only what the lines say; whether a seal covers them is for an audit. */
#ifndef BARWRIGHT_DESK_HISTORY_H
#define BARWRIGHT_DESK_HISTORY_H

#include <barwright/record/strand.h>

#include "surface/page.h"

/* Adds a heading and a row each, the last of them first, at most HISTORY_SHOWN of a kind; nothing for
 * a kind that there is none of. A strand that cannot be read adds nothing: the codes of reading one,
 * BAD_MEMORY. */
enum { HISTORY_SHOWN = 8 };
enum bad history_add(struct page *p, const struct strand *s, char sign);

#endif
