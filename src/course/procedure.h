/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A bench procedure, typed: the work and what it is made of, the steps of the hands, the faults
 * that follow, and where each of them can be found or shows by itself. The format of the file is
 * described at the top of course/procedure.c.
 *
 * All lives in one arena and is only looked at. Every number that a formula may mention has a slot
 * of one scope: what the bench gives (enum given_value), the properties of the work, the asks of all
 * steps (what the hands made of them), two names for every step (did_CODE, at_CODE), and the lets.
 * A property or an ask is a number, a truth, or a list with a value for each site, each place or each
 * end of the bar. Places run from the patient's right to the left: right extension, first sleeve,
 * span, sleeve, ..., last sleeve, left extension: twice the sites and one. */
#ifndef BARWRIGHT_COURSE_PROCEDURE_H
#define BARWRIGHT_COURSE_PROCEDURE_H

#include "course/course.h"

enum {
	PROCEDURE_STEPS = 64,
	PROCEDURE_FAULTS = 128,
	PROCEDURE_SITES = 8, /* most sites of a case, so that a place has a slot of 17 values */
	PROCEDURE_ASKS = 8,  /* most asks of one step */
	PROCEDURE_BRING = 6  /* most lines that bring one fault about */
};

enum each { EACH_ONE, EACH_SITE, EACH_PLACE, EACH_END };
/* How many values, for a case of n sites. */
size_t each_count(enum each e, size_t n);

/* ---- what the bench gives ---------------------------------------------------------------------
 *
 * The clock counts from the start of the run. The others are worked out by the bench from
 * properties with fixed names (bench/bar.h, bench/cure.h), whenever a formula asks. */
#define GIVEN_VALUES(X) \
	X(CLOCK, "clock", ONE, TIME)                   /* since the run began */ \
	X(RIGID_LOAD, "rigid_load", SITE, FORCE)       /* under the worst end bite */ \
	X(FLEXIBLE_LOAD, "flexible_load", SITE, FORCE) /* the same, bar as flexible as made */ \
	X(PLACE_STRESS, "place_stress", PLACE, STRESS) /* greatest bending, either end bitten */ \
	X(END_DROP, "end_drop", END, LENGTH)           /* of an end under a bite on it */ \
	X(RESIN_PEAK, "resin_peak", ONE, KELVIN)       /* hottest while it was not yet cured */ \
	X(RESIN_CURED, "resin_cured", ONE, NONE)       /* conversion, 0 to 1 */ \
	X(RESIN_RESIDUAL, "resin_residual_share", ONE, NONE) /* of monomer left, by mass */

enum given_value {
#define X(name, word, each, dim) GIVEN_##name,
	GIVEN_VALUES(X)
#undef X
		GIVEN_COUNT
};

/* The properties the bench works from, by name. */
#define CORE_VALUES(X) \
	X(SITE_X, "site_x", SITE, LENGTH) \
	X(SITE_Y, "site_y", SITE, LENGTH) \
	X(SITE_DIAMETER, "site_diameter", SITE, LENGTH) \
	X(WIDTH, "width", ONE, LENGTH) \
	X(BAR_HEIGHT, "bar_height", PLACE, LENGTH) \
	X(HOLE, "hole", SITE, LENGTH) \
	X(EXTENSION, "extension", END, LENGTH) \
	X(BITE, "bite", ONE, FORCE) \
	X(MODULUS, "modulus", ONE, STRESS) \
	X(SHEAR_MODULUS, "shear_modulus", ONE, STRESS) \
	X(STIFFNESS, "stiffness", ONE, SPRING) \
	X(BATH_START, "bath_start", ONE, KELVIN) \
	X(BATH_RISE, "bath_rise", ONE, KELVIN_RATE) \
	X(BATH_HOLD, "bath_hold", ONE, KELVIN) \
	X(HOLD_TIME, "hold_time", ONE, TIME) \
	X(BOIL_TIME, "boil_time", ONE, TIME) \
	X(RESIN_THICK, "resin_thick", ONE, LENGTH) \
	X(MONOMER_SHARE, "monomer_share", ONE, NONE)

enum core_value {
#define X(name, word, each, dim) CORE_##name,
	CORE_VALUES(X)
#undef X
		CORE_COUNT,
	CORE_BAR_LAST = CORE_STIFFNESS /* up to here: the bar; from there on: the cure */
};

/* ---- the work -------------------------------------------------------------------------------- */

/* One thing about the work that is a number. */
struct property {
	const char *name;
	size_t slot;
	enum each each;
	bool is_truth;
	bool seen; /* known from the start, as the prescription is */
	const char *about;
	struct shown shown;
	const struct formula *start; /* null: 0, or what is drawn or a case gives */
	const struct draw *draw;     /* null: not drawn */
	struct place place;
};

/* What a case fixes: values of some properties. */
struct case_value {
	size_t property;
	size_t n; /* 1 for a single number */
	const double *value;
};
struct bench_case {
	const char *code;
	size_t nsite;
	const struct case_value *value;
	size_t nvalue;
};

struct tool {
	const char *code, *title;
	struct dim dim;    /* of what it reads; of an eye: none */
	bool is_eye;       /* reads no number */
	double resolution; /* inside units, last step of its scale */
	double error;      /* a reading is off by at most this, before it is rounded */
	struct shown shown;
	struct place place;
};

struct stuff {
	const char *code, *title;
	double stock;
	double order;  /* what one order brings */
	double wait_s; /* until it is there */
	double price;  /* of one unit, in money */
	struct shown shown;
	struct place place;
};

/* ---- what can be done ------------------------------------------------------------------------ */

struct set_value {
	size_t slot;
	const struct formula *formula;
	struct place place;
};
struct set_values {
	const struct set_value *at;
	size_t n;
};

struct use_stuff {
	size_t stuff;
	const struct formula *amount;
	struct place place;
};
struct use_stuffs {
	const struct use_stuff *at;
	size_t n;
};

/* Only if: else it is refused, with these words. */
struct can_do {
	const struct formula *when;
	const char *otherwise;
};
struct can_dos {
	const struct can_do *at;
	size_t n;
};

enum hand_kind { HAND_NUMBER, HAND_CHOICE, HAND_TRUTH };
struct hand_choice {
	const char *word, *title;
	double value;
};
/* One thing a step asks of the hands. The value in its slot is what came out. */
struct hand_ask {
	const char *name, *text;
	size_t slot;
	enum hand_kind kind;
	enum each each;
	struct shown shown;
	double low, high;  /* numbers outside are no sensible answer */
	double hand;       /* what hand and tool may add or take, at most */
	bool hand_is_part; /* `hand` is a share of the value */
	const struct hand_choice *choice;
	size_t nchoice;
	const struct formula *usual; /* what somebody who knows would answer */
	struct place place;
};

typedef uint64_t step_set; /* bit k: step k */

struct work_step {
	const char *code;  /* "S06" */
	const char *word;  /* to type: "cut" */
	const char *title; /* what is done: "Cut the cylinders down" */
	const char *why;   /* its purpose, one line */
	const char *station, *competency;
	const char *caution;        /* null: none */
	const char *seen;           /* what there is to see when it is done; null: nothing */
	const struct formula *only; /* null: always; else the step does not apply when false */
	step_set after;             /* these should be done before */
	step_set before;            /* worked out: all that should be done before, near and far */
	step_set undoes;            /* done again, it takes these back */
	struct can_dos can;
	const struct hand_ask *ask;
	size_t nask;
	struct set_values does;
	const struct formula *time; /* it takes */
	bool is_unattended;         /* and nobody need stand by */
	const struct formula *wait; /* and goes by behind it, unattended; null: nothing */
	const char *wait_for;       /* what it is for; told when it is more than 0; null */
	struct use_stuffs uses;
	size_t did_slot, at_slot;
	struct place place;
};

/* A look at the work: with a tool, a number read or a thing seen. */
struct look {
	const char *code; /* to type: "walls" */
	const char *title;
	size_t from; /* step after which it can be done; SIZE_MAX: always */
	struct can_dos can;
	const size_t *tool; /* the first is taken when none is named */
	size_t ntool;
	const struct formula *reads; /* null: an eye */
	enum each each;
	double time_s;
	struct place place;
};

/* Where a fault shows: at a step, or after the work has left the bench. */
enum { AT_DELIVERY = PROCEDURE_STEPS, AT_SERVICE, AT_NOWHERE };

/* One line of what brings a fault about. */
struct bring {
	bool skip;     /* the step is left out */
	double wait_s; /* time is let go by before the step */
	size_t step;
	const struct hand_ask *ask; /* null: only skipped, or waited */
	const struct formula *value;
};

struct remedy {
	const char *text;
	size_t back; /* place in procedure.back, or SIZE_MAX */
	bool mends;  /* it can be put right on the spot */
	struct set_values then;
	double time_s;
	struct use_stuffs uses;
};

/* The number behind a fault, told at the end: what it is, and what it may be. */
struct fault_number {
	const char *about;                  /* "hole"; null: there is no number to tell */
	const char *reason;                 /* of the limit, with {name} for values; null */
	const struct formula *is;           /* one, or one for each */
	const struct formula *least, *most; /* null: no limit on that side */
	enum each each;
	struct shown shown;
};

struct fault {
	const char *code, *title; /* "F10", "cylinder cut too short" */
	size_t made;              /* step where its cause acts */
	const struct formula *when;
	size_t check_at; /* earliest step whose check would have caught it */
	size_t look;     /* how; SIZE_MAX: it cannot be looked for */
	bool has_below, has_above;
	double below, above;   /* a reading beyond tells; neither: it is seen */
	const char *sign;      /* what the check shows */
	size_t shows;          /* step, AT_DELIVERY or AT_SERVICE */
	const char *seen;      /* what is then seen */
	bool stops;            /* once it shows, the work cannot go on past it */
	bool is_critical;      /* fails the station and the run if it is left */
	const char *unnoticed; /* what comes of it */
	struct fault_number number;
	const char *station, *competency;
	struct remedy remedy;
	struct bring bring[PROCEDURE_BRING];
	size_t nbring;
	struct place place;
};

/* Going back: some of the work is made again. */
struct back {
	const char *code; /* to type: "new-bar" */
	const char *title;
	size_t to;       /* the step where it goes on */
	step_set undoes; /* what is taken back */
	struct can_dos can;
	struct set_values then;
	double time_s;
	struct use_stuffs uses;
	struct place place;
};

/* `step` before `before` is possible and has its price. */
struct forbidden_order {
	size_t step, before;
	const char *say; /* told at the end */
	struct set_values does;
	bool is_critical;
	struct place place;
};

/* From the end of one step to the beginning of another. */
struct time_window {
	size_t from, to;
	double least_s, most_s; /* least 0, most infinite where none is set */
	const char *say;        /* told at the end */
	struct set_values does;
	struct place place;
};

/* Levels of a rubric's station by the numbers: the highest whose formula holds; null: no word. */
struct rates {
	const char *station;
	const struct formula *level[RUBRIC_LEVELS]; /* 1 to 3 */
	const char *asks;                           /* what level 3 asks for, in words; null */
	struct place place;
};

struct part {
	const char *code, *title, *about;
	size_t from, to; /* steps */
};

enum bench_end {
	END_NONE,
	END_ACCEPTED,
	END_REFUSED,
	END_RETURNED,
	END_SCRAPPED,
	END_REFERRED,
	ENDS
};
extern const char *const bench_end_word[ENDS]; /* "accepted", ... */

/* Looks that together show that a case is to be referred back. */
struct finding {
	const size_t *look;
	size_t nlook;
};

struct procedure {
	struct arena arena; /* owns everything below */
	const char *code, *title, *about, *source, *caution;
	const struct part *part;
	size_t npart; /* at least 1 */
	const struct bench_case *cases;
	size_t ncase; /* at least 1 */
	const struct property *property;
	size_t nproperty;
	const struct tool *tool;
	size_t ntool;
	const struct stuff *stuff;
	size_t nstuff;
	const struct let *let;
	size_t nlet;
	const struct work_step *step;
	size_t nstep;
	const struct look *look;
	size_t nlook;
	const struct fault *fault;
	size_t nfault;
	const struct back *back;
	size_t nback;
	const struct forbidden_order *order;
	size_t norder;
	const struct time_window *window;
	size_t nwindow;
	const struct rates *rates;
	size_t nrates;
	const struct formula *refer;   /* when it is right to refer the case back; null: never */
	const struct finding *finding; /* what shows that it is */
	size_t nfinding;               /* 0: nothing need be looked at */
	const char *end_text[ENDS];
	double wage;             /* money an hour of attended work costs */
	size_t core[CORE_COUNT]; /* slots, SIZE_MAX where the procedure has none */
	struct formula_scope scope;
	const struct shown *shown; /* one a slot */
	const enum each *each;     /* one a slot */
	const struct source *file;
};

/* Reads a procedure. Codes as course_load; when faults were found *out is empty. */
enum bad procedure_load(const char *path, struct procedure *out, struct diags *d);
void procedure_release(struct procedure *p);

/* SHA-256 of the bytes of its file. Worked out anew at every call. */
struct hash procedure_hash(const struct procedure *p);

/* For check: reads one that is open already, all in `a`. `out` is good only when no fault was told. */
struct tree;
enum bad procedure_read(struct arena *a, const struct source *file, struct tree *root,
	struct diags *d, struct procedure *out);

/* Places in the lists; SIZE_MAX when there is none. */
size_t procedure_step(const struct procedure *p, const char *code_or_word, size_t len);
size_t procedure_fault(const struct procedure *p, const char *code, size_t len);
size_t procedure_look(const struct procedure *p, const char *code, size_t len);
size_t procedure_back(const struct procedure *p, const char *code, size_t len);
size_t procedure_part(const struct procedure *p, const char *code);

#endif
