/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Auditing strands: check every line, every seal against the assessors that are accepted and the
 * witness lists that were brought, then make every scored answer again and score it again. How an
 * instance is made and scored is the caller's, handed in as a function: what stands here reads, pairs
 * each answer with its draw and its sitting, counts, and reports.
 *
 * What counts as assessed is only what an accepted assessor's seal names (record/seal.h). Below such a
 * seal signatures are not checked one by one: the seal covers their bytes, and was made when each had
 * been checked. */
#ifndef BARWRIGHT_RECORD_AUDIT_H
#define BARWRIGHT_RECORD_AUDIT_H

#include <barwright/base/bad.h>
#include <barwright/base/diag.h>
#include <barwright/base/mem.h>
#include <barwright/base/text.h>
#include <barwright/record/erase.h>
#include <barwright/record/lines.h>
#include <barwright/record/seal.h>
#include <barwright/record/strand.h>
#include <barwright/record/void.h>
#include <barwright/record/witness.h>

/* A scored answer with all that is needed to make it again. Nothing here is null but `draw`, which
 * is null when no draw of this item and attempt stands before the answer in its sitting. */
struct audit_case {
	const struct strand_line *line;
	const struct line_open *open;
	const struct line_draw *draw;
	const struct line_answer *answer;
};

enum audit_result {
	AUDIT_EQUAL,    /* made and scored again: outcome, slip, expected, tolerance are the same */
	AUDIT_DIFFERS,  /* made again, and something is not the same: words say what */
	AUDIT_NOT_MADE, /* cannot be made again here (item unknown or changed): words say why */
};
struct audit_finding {
	enum audit_result result;
	char words[200]; /* for a person; lower case, no full stop; may be "" when equal */
};

struct audit_how {
	const struct key_ring *known; /* as in struct strand_check */
	bool hashes_only;
	const struct key_ring *assessors; /* whose seals are accepted; null: nobody's */
	/* Makes one answer again. FINE: *out is filled in, whatever the result; any other code ends
	 * the audit with it. Null: nothing is made again and every answer counts as not made. */
	enum bad (*replay)(void *context, const struct audit_case *what, struct audit_finding *out);
	void *context;
	/* Is handed every line of a sitting, in order, and makes forms, judgements and results of
	 * graded work again; of answers it only takes note. Where it finds nothing to make it leaves
	 * AUDIT_NOT_MADE without words. As replay. Null: not done. */
	enum bad (*review)(void *context, const struct strand_line *line,
		const struct line_open *open, struct audit_finding *out);
	void *review_context;
};

/* One answer that is not plainly equal. */
struct audit_remark {
	const char *path;
	uint64_t n; /* place of the line in its strand */
	const char *item;
	enum audit_result result;
	const char *words;
	struct audit_remark *next;
};

struct audit_count {
	uint64_t sittings, unclosed; /* sittings; those that have no close line */
	uint64_t draws, answers, right;
	uint64_t equal, differs, not_made;  /* add up to answers */
	uint64_t assessed, assessed_right;  /* of the answers: those a seal makes assessed */
	uint64_t results, assessed_results; /* of sittings and ratings */
	uint64_t ratings, assessed_ratings; /* lines of an assessor's judgement */
	/* forms, judgements, results */
	uint64_t graded_equal, graded_differs, graded_not_made;
	uint64_t clocks;               /* times a sitting noticed that the clock was moved */
	uint64_t odd;                  /* good lines whose body says nothing this program can use */
	uint64_t recovered, set_aside; /* torn tails set aside earlier; bytes of them */
};

struct audit_strand {
	const char *path;
	struct strand_sum sum;
	struct audit_count count;
	uint64_t unnoted; /* lines without payload that no note in the folder accounts for */
	struct seals seals;
	const struct key_known *machine; /* as the reader knows it; null: not at all */
	bool is_out_of_time;             /* some of its lines lie outside the days of that */
	bool is_fork;                    /* one of several histories of its strand ... */
	const struct void_note *is_void; /* ... that an accepted assessor said does not count */
	struct audit_strand *next;
};

/* A seal that an assessor noted and that the strand does not bear out. */
struct audit_loss {
	const struct witness *witness;
	const struct audit_strand *strand; /* null: the strand is not here at all */
	const char *words;
	struct audit_loss *next;
};

/* All that was found. Keeps the first AUDIT_REMARKS remarks and counts the rest in `count`. */
enum { AUDIT_REMARKS = 200 };
struct audit {
	struct arena mem; /* owns everything below */
	struct id_set *ids;
	struct audit_kept *kept; /* bytes of strands that faults point into */
	struct audit_strand *first, *last;
	size_t strands, faulty; /* faulty: a fault other than a torn tail */
	size_t torn;
	size_t forks, voids; /* histories kept apart: undecided; that do not count */
	uint64_t seals, seals_hold, seals_broken, seals_strange;
	uint64_t lines, erased, unnoted; /* unnoted: of the erased ones */
	struct audit_count count;
	struct audit_remark *remark, *last_remark;
	size_t nremark;                         /* all of them, kept or not */
	bool hashes_only, has_ring, has_replay; /* how it was done */
	bool has_folder;              /* a folder was audited: what is witnessed should be there */
	struct void_notes void_notes; /* of the folder that was audited last */
	struct erasures erasures;     /* of that, by keys that are known or accepted */
	struct witnesses witnesses;
	size_t bad_witness; /* witness lists at fault */
	struct audit_loss *loss;
	size_t nloss;
	struct diags diags;
};

/* All zero but what these set. Release it in every case. */
void audit_init(struct audit *a);
void audit_release(struct audit *a);

/* Audits one strand; or every *.jsonl of a folder in the order of their names; or, when the folder
 * has a folder "strands" in it (a data folder, an archive), what stands in that one, in "forks" and in
 * "erasures"; one call after the other. FINE: it was done, whatever was found. Otherwise the path
 * cannot be read or memory ran out. */
enum bad audit_path(struct audit *a, const char *path, const struct audit_how *how);

/* Reads an assessor's witness list. FINE: it was read, whatever was found. */
enum bad audit_witness(struct audit *a, const char *path, const struct key_ring *assessors);
/* Holds the lists against the strands; after all of both, before the questions below. */
enum bad audit_compare(struct audit *a);

/* Is all well: no fault, no broken seal, nothing lost that was witnessed, no fork, nothing differs, in a
 * folder nothing erased that no note there accounts for? A torn tail, a stranger's seal, a fork that was decided, and what cannot be made again are not a no. */
bool audit_is_clean(const struct audit *a);

/* What was found, for a person who never met the word "hash"; then what it does not show. Adds the
 * diags. */
void audit_tell(const struct audit *a, struct text *out);
/* The same as one JSON object in one line with LF; what memory left out shows in out->out. */
void audit_json(const struct audit *a, struct text *out);
/* What no record can show, a sentence each, for a person; null at the end. Static. */
extern const char *const audit_limits[];

#endif
