/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The bench: one run of a procedure. A run is fixed by its key and its decisions: the case is drawn
 * from the key, and so is what hand and tool add to every number that is asked of them. No terminal,
 * no clock of the machine, and once made no memory: bench_start, the decisions and all looks take
 * none.
 *
 * Nothing is told at once. A decision is carried out as it is; then whatever follows from the numbers
 * is worked out, and kept: a fault shows when the step is done at which it shows by itself, or when a
 * look finds it. A step that is left out counts as left out when a later one is done, and what comes
 * of it follows from the numbers as they then are. Looking changes nothing but the clock.
 *
 *	step:   OPEN --do--> DONE --back, or a step that undoes it--> OPEN
 *	        OPEN --a later step is done--> LEFT OUT --do--> DONE
 *	fault:  not there --its step is done (or left out) and its condition holds--> there
 *	        there --found, shown--> there, and known
 *	        there --mended, or its step done again and its condition gone, or undone--> not there
 *	run:    going --release, refer, scrap, time is up, a fault is named (hunt)--> ended */
#ifndef BARWRIGHT_BENCH_BENCH_H
#define BARWRIGHT_BENCH_BENCH_H

#include <barwright/base/random.h>

#include "bench/bar.h"
#include "course/procedure.h"

enum { BENCH_VALUES = 2 * PROCEDURE_SITES + 1, BENCH_LOG = 1024, BENCH_KEY = 32 };

enum bench_mode { BENCH_FREE, BENCH_GUIDED, BENCH_TIMED, BENCH_HUNT, BENCH_MODES };
extern const char *const bench_mode_word[BENCH_MODES]; /* "free", ... */

enum step_state { STEP_OPEN, STEP_LEFT_OUT, STEP_DONE };
struct step_mark {
	enum step_state state;
	unsigned times;
	double done_s;
	double took_s, took_money; /* when it was done last */
};

struct fault_mark {
	bool is_there, is_found, is_shown;
	unsigned times;                    /* it was made */
	double made_s, could_s;            /* could: when its check was first possible */
	double found_s, shown_s, mended_s; /* below 0: never */
	double cost_s, cost_money; /* of putting it right, and the work that was lost with it */
};

/* What happened, in order. Kinds that a person is not told of before the end are marked hidden. */
enum bench_happening {
	HAPPENED_STEP,     /* what: step */
	HAPPENED_LEFT_OUT, /* step; hidden */
	HAPPENED_ORDER,    /* forbidden order; hidden */
	HAPPENED_WINDOW,   /* time window; hidden */
	HAPPENED_LOOK,     /* look */
	HAPPENED_MADE,     /* fault; hidden */
	HAPPENED_FOUND,    /* fault */
	HAPPENED_SHOWN,    /* fault */
	HAPPENED_GONE,     /* fault; hidden: its cause is gone */
	HAPPENED_MENDED,   /* fault */
	HAPPENED_BACK,     /* way back */
	HAPPENED_BOUGHT,   /* material */
	HAPPENED_WAITED,
	HAPPENED_HELD,  /* step: time went by behind it, unattended, for what it says */
	HAPPENED_NAMED, /* fault */
	HAPPENED_END    /* enum bench_end */
};
bool happening_is_hidden(enum bench_happening h);
struct bench_event {
	enum bench_happening kind;
	size_t what;
	double at_s;
};

/* Numbers of the hands for a step, in the order of its asks; one in [0] for a single one. */
struct bench_input {
	double value[PROCEDURE_ASKS][BENCH_VALUES];
};

struct bench_reading {
	const struct tool *tool;
	size_t n; /* 0: an eye */
	double value[BENCH_VALUES];
};

/* What somebody says who has found the hidden fault: it, the step where it was made, and the first
 * step whose check could have found it. SIZE_MAX: not said. */
struct hunt_answer {
	size_t fault, made, check;
};

struct bench_plan;

struct bench {
	const struct procedure *procedure;
	const struct bench_plan *plan; /* what the formulas need, worked out once */
	struct formula_work *work;
	struct formula_value *value; /* one a slot */
	double *room;                /* BENCH_VALUES a slot */
	uint64_t *fresh;             /* by let and given value: the age it was worked out at */
	uint64_t age;                /* grows whenever a value changes */
	struct bar_room *bar_room;
	struct bar_made bar_made; /* what bar_loads was worked out for */
	struct bar_loads bar_loads;
	enum bad bar_code;
	bool bar_known;

	unsigned char key[BENCH_KEY];
	enum bench_mode mode;
	size_t part, bench_case, nsite;
	uint32_t
		redrawn; /* cases drawn in vain: they did not come to this part, or, in a hunt, could
			     not have the fault */
	size_t from, to; /* steps of the part */
	double start_s;  /* the clock when it came to this bench */
	struct step_mark *step;
	struct fault_mark *fault;
	double *stock; /* of each material that is left */
	double *used;  /* and what was used up */
	double money;  /* materials used and bought in vain */
	double attended_s;
	double limit_s; /* BENCH_TIMED; else infinite */
	unsigned long decisions, looks;
	unsigned orders, windows; /* breaches */
	bool critical_order;
	enum bench_end end;
	bool time_is_up;
	size_t seeded;            /* BENCH_HUNT: the fault; SIZE_MAX */
	struct hunt_answer named; /* and what was named; fault SIZE_MAX: nothing yet */
	size_t shown_by;          /* the look that was named when it was referred back; SIZE_MAX */
	unsigned reasons, reasons_right; /* guided work: given, and right */
	size_t unmet;                    /* formulas that gave no result: 0 in a sound procedure */
	const struct formula *unmet_at;  /* the last of them */
	struct bench_event log[BENCH_LOG];
	size_t nlog, lost; /* events kept; events there was no room for */
	size_t first_new;  /* events from here on came with the last decision */
	const char *why;   /* why the last decision was refused */
};

/* Room for runs of a procedure, in `a`; BAD_MEMORY. The procedure outlives it. */
enum bad bench_new(struct arena *a, const struct procedure *p, struct bench **out);

/* A new run of a part: the case is drawn, and what comes before the part is done as by somebody who
 * knows. BENCH_HUNT: a fault is seeded and the work carried on until after its step. */
void bench_start(struct bench *b, const unsigned char key[static BENCH_KEY], size_t part,
	enum bench_mode mode);
/* A hunt for this very fault, as an instructor puts it on the bench; SIZE_MAX: any. Its case is drawn
 * anew until it has the fault, alone, unseen, and to be found by a look; b->seeded stays SIZE_MAX when
 * that cannot be. */
void bench_start_hunt(
	struct bench *b, const unsigned char key[static BENCH_KEY], size_t part, size_t fault);

/* ---- decisions --------------------------------------------------------------------------------
 *
 * Each returns FINE when it was carried out. Otherwise nothing has changed and b->why tells why:
 * BAD_ORDER: it cannot be done, the work being as it is; BAD_RANGE: a number that is no sensible
 * answer; BAD_MISSING: too little material; BAD_STOPPED: the run has ended. */
enum bad bench_do(struct bench *b, size_t step, const struct bench_input *input);
enum bad bench_look(struct bench *b, size_t look, size_t tool, struct bench_reading *out);
enum bad bench_mend(struct bench *b, size_t fault);
enum bad bench_back(struct bench *b, size_t back);
enum bad bench_buy(struct bench *b, size_t stuff);
enum bad bench_wait(struct bench *b, double seconds);
/* Release: all that is still open counts as left out, and what was not found comes out at delivery
 * or in service. `end` is END_ACCEPTED (release), END_SCRAPPED or END_REFERRED. */
enum bad bench_end(struct bench *b, enum bench_end end);
/* Refers the case back; `look` shows that it cannot be made (SIZE_MAX: not said). */
enum bad bench_refer(struct bench *b, size_t look);
/* Guided work: the reason given for a step is that of step `chosen`. Takes no time. */
enum bad bench_reason(struct bench *b, size_t step, size_t chosen);
/* BENCH_HUNT: "this is the fault", which ends it: accepted when it is. Nothing is mended in a hunt. */
enum bad bench_name(struct bench *b, const struct hunt_answer *answer);

/* ---- asking without doing --------------------------------------------------------------------- */

/* Does the step apply to this case, and is it in the part? */
bool bench_applies(const struct bench *b, size_t step);
/* Can it be done now? If not, b->why. */
bool bench_can_do(struct bench *b, size_t step);
/* Would somebody who follows the order do it now: all before it done, itself not yet? */
bool bench_is_next(const struct bench *b, size_t step);
bool bench_can_look(struct bench *b, size_t look);
bool bench_can_back(struct bench *b, size_t back);
/* A fault the person knows of, because it was seen (not read from an instrument) or has shown. */
bool bench_is_known(const struct bench *b, size_t fault);
bool bench_can_mend(const struct bench *b, size_t fault);
/* Was this look taken in this run? */
bool bench_has_looked(const struct bench *b, size_t look);

/* What somebody who knows would answer. With a fault (else SIZE_MAX), what brings that about. */
void bench_usual(struct bench *b, size_t step, size_t fault, struct bench_input *out);
/* Is the step left out to bring this fault about? And what is let go by before it, in s. */
bool bench_brought_skips(const struct bench *b, size_t step, size_t fault);
double bench_brought_waits(const struct bench *b, size_t step, size_t fault);
/* Works from step `from` to `to` (included), each in its turn, as somebody who knows, or with what
 * brings a fault about. False when a step was refused (b->why), which *at tells. */
bool bench_work_on(struct bench *b, size_t from, size_t to, size_t fault, size_t *at);

/* Value of a formula now; NaN when it gives none. A list: its first. */
double bench_number(struct bench *b, const struct formula *f);
bool bench_truth(struct bench *b, const struct formula *f);
/* The value of a slot, brought up to date. */
const struct formula_value *bench_value(struct bench *b, size_t slot);
/* Is the load of the last bar in balance? 0 is perfect. */
double bench_imbalance(struct bench *b);
double bench_clock_s(const struct bench *b);
/* Materials used and attended time, in money. */
double bench_cost(const struct bench *b);
/* The stream of this run for a purpose and a number (reasons of guided work, say). */
enum bench_purpose {
	PURPOSE_CASE,
	PURPOSE_HAND,
	PURPOSE_LOOK,
	PURPOSE_SEED,
	PURPOSE_REASON,
	PURPOSE_CHOICES
};
void bench_stream(const struct bench *b, enum bench_purpose purpose, uint32_t a, uint32_t n,
	struct stream *out);

#endif
