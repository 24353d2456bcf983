/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The tasks of space, design, drilling, bonding and measuring against worked values. */
#include "worked.h"

static const char *const modules[] = {"readings", "spread", "cantilever", "thickness", "cut-down",
	"holes", "loads", "stiffness", "strength", "bonding"};
static const struct bank bank = {
	"tests/data/bank/worked-1.tsv", 100, modules, sizeof modules / sizeof *modules, 0.5};

int main(void)
{
	return bank_run();
}
