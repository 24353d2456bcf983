/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Included before every file: functions that cut texts off or write past their end are refused by
 * the compiler. */
#ifndef BARWRIGHT_BASE_BANNED_H
#define BARWRIGHT_BASE_BANNED_H

#include <stdio.h>
#include <string.h>

#pragma GCC poison strcpy strcat sprintf vsprintf gets strtok strncpy strncat

#endif
