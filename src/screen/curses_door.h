/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The only door to ncurses: the wide version, as functions, so that its names stay ours to use. */
#ifndef BARWRIGHT_SCREEN_CURSES_DOOR_H
#define BARWRIGHT_SCREEN_CURSES_DOOR_H

#define NCURSES_NOMACROS 1
#define NCURSES_WIDECHAR 1
#include <curses.h>

#endif
