/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The tasks of materials, processing, units, safety, planning, cost and scoring against worked
 * values. */
#include "worked.h"

static const char *const modules[] = {"stone", "resin", "cure", "press", "units", "air",
	"infection", "machines", "cost", "planning", "scoring"};
static const struct bank bank = {
	"tests/data/bank/worked-2.tsv", 100, modules, sizeof modules / sizeof *modules, 0.5};

int main(void)
{
	return bank_run();
}
