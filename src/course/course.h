/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a course holds, typed: a course is a folder with course.yaml and one folder a module; a
 * module has module.yaml, lessons and problems. Everything is read and checked once
 * (course/load.h) and then only looked at. All of it lives in the arena of its course; texts end in
 * 0, come from the author's files as they are, and are never null unless a comment says so. */
#ifndef BARWRIGHT_COURSE_COURSE_H
#define BARWRIGHT_COURSE_COURSE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <barwright/base/cipher.h>
#include <barwright/base/diag.h>
#include <barwright/base/mem.h>
#include <barwright/base/number.h>
#include <barwright/base/unit.h>
#include <barwright/formula/formula.h>

/* ---- values ---------------------------------------------------------------------------------- */

/* How a time counted from midnight of day 1 is written: "14:35", "day 2, 06:10", "Tuesday 06:10".
 * Without days, times that differ by 24 hours are the same; with names, those that differ by all the
 * days there are. */
struct clock {
	bool with_days;
	const char *const *day; /* their names, day 1 first */
	size_t nday;            /* 0: days have numbers */
};

/* How a value is shown: in which unit and with how many decimal places. */
struct shown {
	struct unit unit;
	const char *unit_text;     /* "mm"; "" for a plain number */
	int places;                /* 0 to DECIMAL_PLACES */
	const struct clock *clock; /* a time of day (the unit is the minute then); null: a number */
};

/* A text with values in it: "Centre {x}, height {h:1}". Pieces in order; slot NO_SLOT is plain
 * text, else the value of that slot with its unit, `places` decimals or one of PLACES_... */
enum { NO_SLOT = -1 };
enum {
	PLACES_SHOWN = -1, /* as the slot is shown */
	PLACES_CLOCK = -2, /* "14:35" */
	PLACES_DAYS = -3   /* "day 2, 06:10" */
};
struct piece {
	const char *text; /* for plain pieces */
	size_t len;
	int slot;
	int places;
};
struct template
{
	const struct piece *piece;
	size_t n;
};

/* ---- files ----------------------------------------------------------------------------------- */

/* What a file held when it was read, and its SHA-256 once somebody has asked for it. */
struct content {
	const struct source *file;
	struct hash hash;
	bool is_known;
	struct content *next; /* in the order in which the files of a course are read */
};

/* ---- problems -------------------------------------------------------------------------------- */

enum draw_kind {
	DRAW_GRID,   /* from, from + step, ... to: what an instrument can read */
	DRAW_CHOICE, /* one of some numbers */
	DRAW_SET     /* one of some lists */
};

/* One drawn name. Grid values are (from + k step) / 10^places, k = 0 .. n-1, in `shown.unit`: whole
 * numbers until the very end. */
struct draw {
	const char *name;
	size_t slot;
	enum draw_kind kind;
	int64_t from, step;
	uint32_t n; /* grid points, choices or sets; at least 1 */
	int places;
	const struct decimal *choice;     /* DRAW_CHOICE: n of them */
	const struct decimal *const *set; /* DRAW_SET: n lists ... */
	const size_t *set_len;            /* ... and their lengths */
	bool is_list;                     /* DRAW_GRID or DRAW_CHOICE drawn several times */
	uint32_t least, most;             /* how many, if is_list and as_many is NO_SLOT */
	int as_many;                      /* as many as the list in this earlier slot, or NO_SLOT */
	const struct draw
		*together; /* takes the same place of its list as this earlier draw; null */
	bool different;    /* the values of a list all differ */
	double half_digit; /* half the last digit of the instrument, inside units; 0: a given,
	                                     not a measured value */
	struct shown shown;
	struct place place;
};

struct let {
	const char *name;
	size_t slot;
	const struct formula *formula;
	struct shown shown;
	struct place place;
};

struct require {
	const struct formula *formula; /* a truth */
	struct place place;
};

/* The value must not stand within `margin` of the limit (or of any in a list): an answer that hangs
 * on the last digit is no fair question. */
struct decision {
	const struct formula *value, *limits;
	double margin;
	struct place place;
};

/* One line of a worked solution: words, then name = formula = formula with values = value. */
struct step {
	struct template say;
	const char *name;              /* what the formula gives, "AP"; null: none */
	const struct formula *formula; /* null: words only */
	struct shown shown;
	struct place place;
};

/* A name that means something else for somebody who makes a slip. */
struct instead {
	size_t slot;
	const struct formula *formula;
};
/* A named wrong way of reaching the number: another formula, or other values for some names, which
 * go on into everything worked out from them. Two slips that change different things can be made
 * together. */
struct slip {
	const char *name;
	const struct formula *formula; /* the one of the answer if only names change */
	bool is_own;                   /* ... and this says that it is not the answer's */
	const struct instead *instead; /* draws first, then lets, in the order of their slots */
	size_t ninstead;
	bool is_alone; /* nobody makes it together with another */
	struct template say;
	struct place place;
};

/* What kind of answer is asked for. */
enum asked {
	ASKED_NUMBER,  /* a number with its unit, or "refer back" */
	ASKED_TIME,    /* a time of day */
	ASKED_CHOICE,  /* one of the options */
	ASKED_CHOICES, /* all options that are right, at least one */
	ASKED_ORDER,   /* the options in an order */
	ASKED_MATCH    /* to each option what goes with it */
};

enum { OFFERS_MOST = 20 };

/* One of the answers to choose from, or one entry to be put in its place. */
struct offer {
	struct template text;
	struct template with;        /* ASKED_MATCH: what goes with it */
	bool is_right;               /* if `right` is null: right, or belongs to the order */
	const struct formula *right; /* a truth; null: the same for every draw */
	const struct formula *rank;  /* ASKED_ORDER: small ones come first; null: `after` tells */
	uint32_t after;      /* ASKED_ORDER: bit k: option k must stand somewhere before it */
	const char *slip;    /* code of the mistake that it betrays; "" for none */
	struct template say; /* what to tell who went wrong here; may be empty */
	struct place place;
};

enum tolerance_kind {
	TOLERANCE_INSTRUMENT, /* half digits of what was read, propagated, plus half the asked digit */
	TOLERANCE_STATED,     /* the author says how much, and why */
	TOLERANCE_EXACT       /* a count, a stock size, a tooth number */
};

struct ask {
	enum asked kind;
	const char *text;
	/* ASKED_CHOICE and the kinds below it */
	const struct offer *offer;
	size_t noffer;
	const struct template *other; /* ASKED_MATCH: what goes with none of them */
	size_t nother;
	bool keep_order; /* options are shown as they stand in the file; else shuffled for each draw */
	/* ASKED_NUMBER and ASKED_TIME */
	struct shown shown; /* the unit asked for, and with how many places the answer is shown */
	bool is_number_of; /* the bare number of `counted` is asked for: shown.unit is then that of a
	                       plain number, and shown.unit_text names the counted one */
	struct unit counted;
	const struct formula *answer;
	bool may_refer; /* "nothing fits: refer back" may be answered, and is right where the answer is nothing */
	struct template refer_say; /* what to tell about it; no pieces: nothing */
	enum tolerance_kind tolerance;
	double stated;   /* TOLERANCE_STATED: inside units */
	const char *why; /* TOLERANCE_STATED: the author's reason; else null */
	const struct slip *slip;
	size_t nslip;
	/* all kinds */
	const struct step *step;
	size_t nstep;
	struct place place;
};

enum figure_kind {
	FIGURE_NONE,
	FIGURE_ARCH,
	FIGURE_STACK,
	FIGURE_ARC,
	FIGURE_SECTION,
	FIGURE_SCHEDULE
};
struct figure_field {
	const char *name;
	const struct formula *formula; /* null: the field is a list of texts */
	const char *const *text;
	size_t ntext;
};
/* What to draw: the fields a drawing of this kind knows (course/figures.h), as formulas or texts. */
struct figure_spec {
	enum figure_kind kind;
	const struct figure_field *field;
	size_t nfield;
	struct place place;
};
/* The formula of a field, or null when the author left it out. */
const struct formula *figure_spec_field(const struct figure_spec *f, const char *name);
/* Its list of texts; null (and 0) when it was left out. */
const char *const *figure_spec_texts(const struct figure_spec *f, const char *name, size_t *n);

struct given {
	const char *label;
	struct template value;
};

/* A problem, or a fixed item: that draws nothing and asks one thing. */
struct problem {
	const char *code; /* unique in its course */
	bool is_fixed;    /* it was written as an item */
	const char *title;
	const char *competency;
	int level;           /* 1 to 3 */
	const char *source;  /* where formula and numbers come from */
	const char *caution; /* what can hurt somebody: shown always; null: none */
	const char
		*mind; /* what else to watch for: practice only, it may give the way away; null */
	struct content *content; /* of its file; null: not part of a course */
	struct template text;
	const struct given *given;
	size_t ngiven;
	struct figure_spec figure;
	const struct draw *draw;
	size_t ndraw;
	const struct let *let;
	size_t nlet;
	const struct require *require;
	size_t nrequire;
	const struct decision *decision;
	size_t ndecision;
	const struct ask *ask;
	size_t nask;                /* at least 1 */
	struct formula_scope scope; /* draws first, then lets */
	const struct shown *shown;  /* one a slot */
	const struct clock *clock;  /* how {x:clock} and, behind it, how {x:days} is written */
	const struct source *file;
};

/* ---- lessons and modules --------------------------------------------------------------------- */

enum passage_kind {
	PASSAGE_HEADING,
	PASSAGE_TEXT,
	PASSAGE_ITEM,
	PASSAGE_EXACT, /* a formula or a small table, kept as it is */
	PASSAGE_CAUTION,
	PASSAGE_SOURCE,
	PASSAGE_FIGURE
};
struct passage {
	enum passage_kind kind;
	const char *text;
	struct figure_spec figure; /* fields without names */
};
struct lesson_page {
	const char *title;
	const struct passage *passage;
	size_t n;
};
struct lesson {
	const char *code, *title;
	const struct lesson_page *page;
	size_t npage;
	const struct source *file;
};

struct module {
	const char *code; /* the name of its folder; unique */
	const char *title;
	const char *about; /* one or two sentences */
	const struct lesson *lesson;
	size_t nlesson;
	const struct problem *problem; /* problems, and behind them the fixed items */
	size_t nproblem;               /* of both */
	size_t nfixed;
	const char *const *station; /* codes of rubric stations where this is rated at the bench */
	const struct place *station_place; /* where each of them is named */
	size_t nstation;
};

struct competency {
	const char *code; /* "K3" or "K3.1" */
	const char *title;
	struct place place;
};

struct course {
	struct arena arena; /* owns everything below */
	const char *code, *title, *about, *language;
	const char *version;
	const struct competency *competency;
	size_t ncompetency;
	const struct module *module;
	size_t nmodule;
	const struct problem **by_code; /* all problems of all modules, by their codes */
	size_t nproblem;
	struct content *content; /* of the first file read; null: only heads are known */
};

/* Null when there is none. */
const struct module *course_module(const struct course *c, const char *code);
const struct problem *course_problem(const struct course *c, const char *code);
const struct competency *course_competency(const struct course *c, const char *code);
void course_release(struct course *c); /* leaves an empty course */

/* SHA-256 of the bytes of its file; the second time it costs nothing, if it is part of a course. */
struct hash problem_hash(const struct problem *p);
/* Over the hashes of all its files, in the order in which they were read. Not of heads. */
struct hash course_hash(const struct course *c);
/* Has it not been changed since its hash was `then`? */
bool problem_is_same(const struct problem *p, const struct hash *then);
bool course_is_same(const struct course *c, const struct hash *then);

/* ---- rubrics --------------------------------------------------------------------------------- */

enum { RUBRIC_LEVELS = 4 }; /* 0 unusable, 1 below, 2 competent, 3 excellent */
/* What readings of an instrument say about a level: every one must be proved to lie from lower to
 * upper. Nothing has to be proved for level 0. */
struct measure {
	bool is_there;
	double lower[RUBRIC_LEVELS],
		upper[RUBRIC_LEVELS]; /* inside units; infinite: no such limit */
	double error;                 /* of the instrument, inside units */
	struct unit unit;             /* readings are typed in it ... */
	const char *unit_text;
};
struct criterion {
	const char *text;
	const char *instrument;
	const char *level[RUBRIC_LEVELS]; /* what is seen at each level, level 0 first */
	struct measure measure;
};
struct station {
	const char *code, *title;
	int weight; /* per cent of the whole rubric */
	const char *competency;
	const struct criterion *criterion;
	size_t ncriterion;
	const char *const *critical; /* critical errors: any one fails the station */
	size_t ncritical;
	const char *source;
};
struct rubric {
	struct arena arena;
	const char *code, *title, *about;
	int points[RUBRIC_LEVELS]; /* of each level, 0 to 100 */
	int pass;                  /* per cent of the whole that is needed */
	int below;                 /* stations that may stand at level 1 */
	const struct station *station;
	size_t nstation;
	struct hash hash; /* SHA-256 of the bytes of its file */
};
void rubric_release(struct rubric *r);

#endif
