/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a drill, a lesson or a sitting speaks with a person: it shows pages, tells what is new, asks.
 * The full screen and the plain surface are two implementations of this one table; what stands above
 * does not know which one it has. */
#ifndef BARWRIGHT_SURFACE_SURFACE_H
#define BARWRIGHT_SURFACE_SURFACE_H

#include <signal.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <barwright/base/bad.h>

#include "surface/page.h"

enum ask_kind {
	ASK_LINE,   /* a typed line */
	ASK_CHOICE, /* one of a list */
	ASK_GO      /* just go on when ready */
};

struct choice {
	/* What may be typed for it on the plain surface; ASCII, no blanks, not a number. Null: only
	 * its number. */
	const char *word;
	const char *title; /* what it is */
	const char *note;  /* a word more, or null */
};

/* As question.chosen: nowhere. What decides about somebody is never taken by Enter alone. */
#define CHOICE_NONE SIZE_MAX

struct question {
	enum ask_kind kind;
	const char *prompt;
	/* What is asked, as it stands at the end of the page: for a surface on which that may be out of
	 * sight; null: the prompt says it. */
	const char *topic;
	const char *unit;  /* shown behind the field; null or "" for none */
	const char *words; /* what else may be typed, as one line of help: "refer, show, skip" */
	const char *kept;  /* a field starts with it, so that nothing typed is lost; may be null */
	const char *fault; /* why the last reply could not be used; null: none */
	const struct choice *choice;
	size_t nchoice;
	size_t chosen; /* where the cursor stands first */
	/* The lines are steps of a scale, the best one first: they count down to 0, so that the number that
	 * stands before a step, and is typed for it, is the step's own. Else they count from 1. */
	bool is_scale;
	/* ASK_LINE: one of so many letters from 'a' is asked for, and the arrow keys of the full screen
	 * go through them; 0: anything. */
	size_t nletter;
};

enum reply_kind {
	REPLY_TEXT,   /* text holds the line, blanks trimmed, never empty */
	REPLY_CHOICE, /* choice holds the index */
	REPLY_GO,
	REPLY_BACK,  /* the person wants to go back one page: Esc, or the word "back" */
	REPLY_LEAVE, /* the person wants to leave the program: q outside a field, or "leave" */
	REPLY_TIME,  /* the time of the page is over; text holds what stood in the field, or "" */
	REPLY_LOST /* the terminal is gone, input has ended, a signal asks to stop: save and leave */
};

enum { REPLY_ROOM = 256 };

struct reply {
	enum reply_kind kind;
	char text[REPLY_ROOM]; /* valid UTF-8, no controls */
	size_t choice;
};

struct surface {
	const struct surface_ops *ops;
	int columns;  /* text width to aim at; may change after a resize */
	char decimal; /* '.' or ',' as the person's locale writes it */
	/* What is kept when the person leaves now, for a surface that asks whether they mean it: one
	 * short sentence, static; null: nothing is said. Set by what speaks to the person. */
	const char *kept;
};

struct surface_ops {
	/* A new page in place of the last one. The page is copied or shown before show returns. */
	enum bad (*show)(struct surface *s, const struct page *p);
	/* More blocks below what is shown; the title of p is not used. */
	enum bad (*tell)(struct surface *s, const struct page *p);
	/* Waits for a reply, at most as long as the page shown last allows. BAD_TERMINAL or BAD_IO only if the surface itself broke; a lost terminal
	 * is REPLY_LOST. */
	enum bad (*ask)(struct surface *s, const struct question *q, struct reply *out);
};

/* The same as calls, so that the words read well where they are used. */
enum bad surface_show(struct surface *s, const struct page *p);
enum bad surface_tell(struct surface *s, const struct page *p);
enum bad surface_ask(struct surface *s, const struct question *q, struct reply *out);

/* The number that stands before line i of the list, and the line before which it stands; nchoice: none. */
size_t question_number(const struct question *q, size_t i);
size_t question_line(const struct question *q, size_t number);

/* Set by the handlers of surface/signals.h (SIGINT, SIGTERM, SIGHUP) and looked at by every surface
 * while it waits; the number of the signal, 0 for none. The full screen takes a SIGINT as a question
 * to the person and sets it back to 0. */
extern volatile sig_atomic_t surface_stop;

#endif
