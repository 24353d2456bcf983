/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files of a session share: the person's place at the bench, pages and questions, and the
 * way a decision takes from being asked to being recorded. */
#ifndef BARWRIGHT_BENCH_SESSION_PARTS_H
#define BARWRIGHT_BENCH_SESSION_PARTS_H

#include "bench/decide.h"
#include "bench/ledger.h"
#include "bench/session.h"
#include "bench/view.h"

struct session {
	struct bench_desk *desk;
	const struct part *part;
	struct bench *bench;
	struct bench_view view;
	struct arena arena; /* the run */
	struct arena aside; /* one page */
	char item[LEDGER_ITEM], sitting[LEDGER_SITTING];
	uint64_t attempt, n; /* decisions recorded */
	int64_t since_ms;
	bool is_stale;               /* what stands on the screen is no longer so */
	char notice[DECISION_WHY];   /* to stand on top of the next screen */
	enum block_kind notice_kind; /* good, bad or text */
	enum reply_kind left;        /* REPLY_GO: still here */
};

/* The code is kept, and the person is lost. */
void session_broken(struct session *s, enum bad code);

/* A page of this run; it and all that `aside` holds last until the next one begins. */
struct page session_page(struct session *s);
/* The screen anew, or more below it. An empty page is not shown. */
void session_show(struct session *s, const struct page *p);
void session_tell(struct session *s, const struct page *p);
typedef void session_fill(struct page *, const struct bench_view *);
void session_tell_filled(struct session *s, session_fill *with);
/* One sentence: told at once by lines, on top of the next screen else. */
void session_say(struct session *s, enum block_kind kind, const char *text);

/* False when there is no answer: the person goes back, leaves, or is gone. */
bool session_ask(struct session *s, const struct question *q, struct reply *r);
/* One of `choice`, which has room for one more: on the screen, where a line is always marked, "not
 * now" comes first, so that Enter alone never costs anything. False: none. */
bool session_choose(
	struct session *s, const char *prompt, struct choice *choice, size_t n, size_t *out);
bool session_is_sure(struct session *s, const char *what, const char *yes, const char *no);

/* Carries a decision out and records it. */
bool session_perform(struct session *s, struct deed *d);

/* asks.c: asks what a decision still lacks, then carries it out. */
void asks_decide(struct session *s, struct deed *d);
/* typed.c: one line of a person who types. */
void typed_turn(struct session *s);
/* menu.c: one choice of a person who chooses. */
void menu_turn(struct session *s);

#endif
