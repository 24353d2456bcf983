/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What an audit found, for people. */
#include <barwright/record/audit.h>

#include <inttypes.h>
#include <string.h>

#include <barwright/base/clock.h>
#include <barwright/base/utf8.h>

/* ---- for people ------------------------------------------------------------------------------ */

static void safe(struct text *out, const char *s)
{
	text_add_safe(out, s, strlen(s), false);
}

static void tell_dates(const struct strand_sum *sum, struct text *out)
{
	char first[TIME_TEXT], last[TIME_TEXT];
	time_write(sum->first_ms, first);
	time_write(sum->last_ms, last);
	if (memcmp(first, last, 10) == 0)
		text_addf(out, ", on %.10s", first);
	else
		text_addf(out, ", from %.10s to %.10s", first, last);
}

static void tell_order(const struct strand_sum *sum, struct text *out)
{
	if (!sum->fault) {
		text_add(out, "  Every line stands in order and as it was written.\n");
		return;
	}
	if (sum->fault == BAD_TORN)
		text_add(out, "  The last line is not complete and does not count; ");
	else
		text_addf(out, "  FAULT in line %u of the file; nothing from there on was read; ",
			(unsigned)sum->fault_line);
	if (sum->lines == 0)
		text_add(out, "nothing stands before it.\n");
	else if (sum->lines == 1)
		text_add(out, "the 1 line before it stands as it was written.\n");
	else
		text_addf(out,
			"the %" PRIu64
			" lines before it stand in order and as they were written.\n",
			sum->lines);
}

static void tell_writer(const struct audit *a, const struct audit_strand *s, struct text *out)
{
	if (a->hashes_only) {
		text_add(out, "  Who wrote the lines was not checked (signatures left out).\n");
		return;
	}
	if (!*s->sum.machine)
		return;
	text_addf(out, "  Written by the machine with the key %s", s->sum.machine);
	if (s->machine) {
		text_add(out, ", known here as ");
		safe(out, s->machine->name);
	} else if (a->has_ring) {
		text_add(out, ", which is NOT known here");
	}
	text_add(out, ".\n");
	if (s->is_out_of_time)
		text_add(out, "  Some of its lines lie OUTSIDE THE DAYS for which the school's "
			      "roster lists that machine.\n");
}

static bool is_list_of_notes(const struct audit_strand *s)
{
	return strcmp(s->sum.who, "erasures") == 0;
}

/* Anybody can take a payload out, and the chain still holds: on whose request a note has to say. */
static void tell_erased(const struct audit *a, const struct audit_strand *s, struct text *out)
{
	uint64_t noted = s->sum.erased - s->unnoted;
	if (noted)
		text_addf(out, "  %" PRIu64 " line%s erased%s; the place in the order is kept.\n",
			noted, noted == 1 ? " was" : "s were", a->has_folder ? " on request" : "");
	if (s->unnoted)
		text_addf(out,
			"  %" PRIu64
			" line%s ERASED WITHOUT A NOTE by a key that is accepted here: what stood "
			"there is gone, and nobody says on whose request. If it was asked for, "
			"note it: barwright record erase --key.\n",
			s->unnoted, s->unnoted == 1 ? " was" : "s were");
}

static void tell_extras(const struct audit *a, const struct audit_strand *s, struct text *out)
{
	tell_erased(a, s, out);
	if (s->count.recovered)
		text_addf(out,
			"  Interrupted writing was put in order %" PRIu64 " time%s: %" PRIu64
			" byte%s of lines that were not complete set aside.\n",
			s->count.recovered, text_plural(s->count.recovered, "", "s"),
			s->count.set_aside, text_plural(s->count.set_aside, "", "s"));
	if (s->count.unclosed && !s->sum.erased && !is_list_of_notes(s))
		text_addf(out, "  %" PRIu64 " sitting%s did not end in order.\n", s->count.unclosed,
			text_plural(s->count.unclosed, "", "s"));
	if (s->sum.set_back)
		text_addf(out, "  The clock was set back %" PRIu64 " time%s.\n", s->sum.set_back,
			text_plural(s->sum.set_back, "", "s"));
	if (s->sum.set_forward)
		text_addf(out, "  The clock was set forward %" PRIu64 " time%s.\n",
			s->sum.set_forward, text_plural(s->sum.set_forward, "", "s"));
	if (s->count.clocks)
		text_addf(out, "  A sitting noticed %" PRIu64 " time%s that the clock was moved.\n",
			s->count.clocks, text_plural(s->count.clocks, "", "s"));
	if (s->count.odd)
		text_addf(out, "  %" PRIu64 " line%s could not be used by this program.\n",
			s->count.odd, text_plural(s->count.odd, "", "s"));
}

static void tell_answers(const struct audit *a, const struct audit_count *n, struct text *out)
{
	text_addf(out,
		"  %" PRIu64 " sitting%s, %" PRIu64 " task%s drawn, %" PRIu64 " answer%s, %" PRIu64
		" right.\n",
		n->sittings, text_plural(n->sittings, "", "s"), n->draws,
		text_plural(n->draws, "", "s"), n->answers, text_plural(n->answers, "", "s"),
		n->right);
	if (n->graded_equal || n->graded_differs || n->graded_not_made)
		text_addf(out,
			"  Forms, readings and results made again: %" PRIu64 " the same, %" PRIu64
			" different, %" PRIu64 " could not be made again.\n",
			n->graded_equal, n->graded_differs, n->graded_not_made);
	if (!n->answers)
		return;
	if (!a->has_replay)
		text_add(out, "  The answers were not made and scored again.\n");
	else
		text_addf(out,
			"  Made and scored again: %" PRIu64 " the same, %" PRIu64
			" different, %" PRIu64 " could not be made again.\n",
			n->equal, n->differs, n->not_made);
}

/* ---- seals ----------------------------------------------------------------------------------- */

static void tell_seal_that_holds(const struct seal *s, struct text *out)
{
	char at[TIME_TEXT];
	int64_t said;
	time_write(s->at_ms, at);
	text_add(out, "  SEALED by ");
	safe(out, s->accepted_as);
	text_addf(out, " on %.10s at %.5s UTC: the %" PRIu64 " line%s before it", at, at + 11,
		s->body.size, text_plural(s->body.size, "", "s"));
	if (*s->body.sitting) {
		text_add(out, "; watched: sitting ");
		safe(out, s->body.sitting);
	}
	text_add(out, "; identity: ");
	safe(out, *s->body.identity_check ? s->body.identity_check : "not-stated");
	text_add(out, ".\n");
	if (time_read(s->body.said_time, strlen(s->body.said_time), &said))
		return;
	int64_t minutes = (s->at_ms - said) / 60000;
	if (minutes >= 10 || minutes <= -10)
		text_addf(out,
			"  By the assessor's watch it was %.16s UTC: the machine's clock was "
			"%" PRId64 " minutes off.\n",
			s->body.said_time, minutes < 0 ? -minutes : minutes);
}

static void tell_seal(const struct seal *s, struct text *out)
{
	if (s->worth == SEAL_HOLDS) {
		tell_seal_that_holds(s, out);
		return;
	}
	if (s->worth == SEAL_BROKEN) {
		text_addf(out, "  SEAL IN LINE %" PRIu64 " DOES NOT HOLD: ", s->n + 1);
		safe(out, s->words);
		text_add(out, ".\n");
		return;
	}
	text_addf(out, "  A seal in line %" PRIu64 " says it is by ", s->n + 1);
	safe(out, s->body.by);
	text_addf(out, ", key %s. It counts for nothing: %s. If it should: barwright key accept.\n",
		s->key, s->words);
}

static void tell_assessed(const struct audit_count *n, struct text *out)
{
	text_addf(out,
		"  ASSESSED: %" PRIu64 " answer%s, %" PRIu64 " right; %" PRIu64
		" judgement%s; %" PRIu64 " result%s.\n",
		n->assessed, text_plural(n->assessed, "", "s"), n->assessed_right,
		n->assessed_ratings, text_plural(n->assessed_ratings, "", "s"), n->assessed_results,
		text_plural(n->assessed_results, "", "s"));
}

static void tell_practice(const struct audit_strand *s, struct text *out)
{
	const struct audit_count *n = &s->count;
	uint64_t answers = n->answers - n->assessed, right = n->right - n->assessed_right;
	uint64_t ratings = n->ratings - n->assessed_ratings;
	uint64_t results = n->results - n->assessed_results;
	if (answers || ratings || results || !s->seals.nhold)
		text_addf(out,
			"  Practice, which nobody vouches for: %" PRIu64 " answer%s, %" PRIu64
			" right; %" PRIu64 " judgement%s; %" PRIu64 " result%s.\n",
			answers, text_plural(answers, "", "s"), right, ratings,
			text_plural(ratings, "", "s"), results, text_plural(results, "", "s"));
}

static void tell_standing(const struct audit_strand *s, struct text *out)
{
	if (strcmp(s->sum.who, "erasures") == 0) {
		text_add(out,
			"  A list of what was erased on request, and of histories that do not "
			"count.\n");
		return;
	}
	for (const struct seal *i = s->seals.first; i; i = i->next)
		tell_seal(i, out);
	if (s->is_void || s->is_fork)
		return;
	if (s->seals.nhold)
		tell_assessed(&s->count, out);
	tell_practice(s, out);
}

static void tell_fork(const struct audit_strand *s, struct text *out)
{
	if (s->is_void) {
		text_add(out, "  THIS HISTORY DOES NOT COUNT, says ");
		safe(out, s->is_void->by);
		text_add(out, ": ");
		safe(out, s->is_void->because);
		text_add(out, ".\n");
	} else if (s->is_fork) {
		text_add(out, "  FORK: one of several histories of this strand that do not go "
			      "together. It counts "
			      "for nothing until an assessor has said which one does not: "
			      "barwright record void.\n");
	}
}

static void tell_strand(const struct audit *a, const struct audit_strand *s, struct text *out)
{
	safe(out, s->path);
	if (s->sum.fault && s->sum.fault_line == 0) {
		text_add(out, "\n  FAULT: it could not be read.\n");
		return;
	}
	text_addf(out, "\n  %" PRIu64 " line%s", s->sum.lines, text_plural(s->sum.lines, "", "s"));
	if (*s->sum.strand) {
		text_addf(out, ", strand %s, learner %s", s->sum.strand, s->sum.who);
		tell_dates(&s->sum, out);
	}
	text_add(out, ".\n");
	if (s->sum.lines || s->sum.fault) {
		tell_order(&s->sum, out);
		tell_writer(a, s, out);
		if (!is_list_of_notes(s))
			tell_answers(a, &s->count, out);
		tell_standing(s, out);
	}
	tell_fork(s, out);
	tell_extras(a, s, out);
}

static void tell_remarks(const struct audit *a, struct text *out)
{
	if (!a->nremark)
		return;
	text_add(out, "\nLines to look at:\n");
	size_t kept = 0;
	for (const struct audit_remark *r = a->remark; r; r = r->next, kept++) {
		text_add(out, r->result == AUDIT_DIFFERS ? "  DIFFERENT  " : "  not made   ");
		safe(out, r->path);
		text_addf(out, ", line %" PRIu64 ", ", r->n + 1);
		safe(out, r->item);
		text_add(out, ": ");
		safe(out, r->words);
		text_add_char(out, '\n');
	}
	if (kept < a->nremark)
		text_addf(out, "  ... and %zu more\n", a->nremark - kept);
	if (a->count.not_made || a->count.graded_not_made)
		text_add(out,
			"What was not made again is not at fault. To check it too, put the courses "
			"and rubrics of\nthat day back from a copy and name them: --courses "
			"DIR.\n");
}

static void tell_losses(const struct audit *a, struct text *out)
{
	const struct witnesses *w = &a->witnesses;
	if (w->nlist)
		text_addf(out, "\n%zu witness list%s, %zu seal%s noted", w->nlist,
			text_plural(w->nlist, "", "s"), w->n, text_plural(w->n, "", "s"));
	if (w->nlist && w->nstranger)
		text_addf(
			out, "; %zu of the lists by a key that is not accepted here", w->nstranger);
	if (w->nlist)
		text_add(out, a->nloss ? ":\n" : ".\n");
	for (const struct audit_loss *l = a->loss; l; l = l->next) {
		text_add(out, "  LOST  strand ");
		safe(out, l->witness->strand);
		text_addf(out, ", %" PRIu64 " lines sealed by ", l->witness->size);
		safe(out, l->witness->by);
		text_addf(out, ": %s.\n", l->words);
	}
}

static void tell_no(const struct audit *a, struct text *out)
{
	text_addf(out, "%zu strand%s at fault, %" PRIu64 " answer%s scored differently", a->faulty,
		a->faulty == 1 ? " is" : "s are", a->count.differs,
		text_plural(a->count.differs, "", "s"));
	if (a->count.graded_differs)
		text_addf(out, ", %" PRIu64 " form%s, reading%s or result%s made differently",
			a->count.graded_differs, text_plural(a->count.graded_differs, "", "s"),
			text_plural(a->count.graded_differs, "", "s"),
			text_plural(a->count.graded_differs, "", "s"));
	if (a->seals_broken)
		text_addf(out, ", %" PRIu64 " seal%s not hold", a->seals_broken,
			a->seals_broken == 1 ? " does" : "s do");
	if (a->nloss)
		text_addf(out, ", %zu sealed piece%s of work lost", a->nloss,
			text_plural(a->nloss, "", "s"));
	if (a->unnoted)
		text_addf(out, ", %" PRIu64 " line%s erased without a note", a->unnoted,
			a->unnoted == 1 ? " was" : "s were");
	if (a->forks)
		text_addf(out, ", %zu histor%s apart, undecided", a->forks,
			a->forks == 1 ? "y stands" : "ies stand");
	if (a->bad_witness)
		text_addf(out, ", %zu witness list%s at fault", a->bad_witness,
			a->bad_witness == 1 ? " is" : "s are");
	text_add(out, ".\n");
}

static void tell_result(const struct audit *a, struct text *out)
{
	text_addf(out, "\n%zu strand%s, %" PRIu64 " line%s: ", a->strands,
		text_plural(a->strands, "", "s"), a->lines, text_plural(a->lines, "", "s"));
	if (!a->strands)
		text_add(out, "there was nothing to check.\n");
	else if (audit_is_clean(a))
		text_add(out, a->torn ? "nothing was changed; an interrupted line is left out.\n"
				      : "nothing was changed.\n");
	else
		tell_no(a, out);
	if (a->seals_hold)
		text_addf(out,
			"%" PRIu64 " seal%s. Assessed: %" PRIu64 " answer%s, %" PRIu64
			" result%s.\n",
			a->seals_hold, a->seals_hold == 1 ? " holds" : "s hold", a->count.assessed,
			text_plural(a->count.assessed, "", "s"), a->count.assessed_results,
			text_plural(a->count.assessed_results, "", "s"));
	else if (a->strands)
		text_add(out, "Nothing here is sealed by an accepted assessor: all of it counts as "
			      "practice.\n");
}

const char *const audit_limits[] = {
	"Who sat at the keyboard: only the assessor's word in a seal says so.",
	"That a practice record is honest or complete: whoever controls a machine can write, "
	"change or "
	"delete what is not sealed there. A deleted end shows only against a copy that was "
	"gathered "
	"before, or against a witness list.",
	"That a clock was right: the order of lines is certain, their times are what the machine "
	"said; "
	"a seal carries the time by the assessor's own watch.",
	"That a key was not stolen: what was signed with it looks the same. Take it off the "
	"list of "
	"those accepted, or let the school's roster end its days; seals that are in the "
	"assessor's own "
	"witness list are the assessor's, others of those days are in doubt.",
	"That an assessor told the truth: a second rater, and whoever reads the results, can.",
	"That the program was the one it says it is: use machines you look after for what is "
	"graded.",
	NULL};

/* ---- lines that fit a terminal --------------------------------------------------------------- */

enum { COLUMNS = 78, INDENT_MOST = 12 };

/* One line, broken at blanks; what is broken off stands two columns further in than its beginning. A
 * word that is too long stays whole: a path is to be copied. */
static void add_line(const char *line, size_t len, struct text *out)
{
	size_t indent = 0, col = 0;
	while (indent < len && indent < INDENT_MOST && line[indent] == ' ')
		indent++;
	for (size_t i = 0; i < len;) {
		size_t n = 0;
		while (i + n < len && line[i + n] == ' ')
			n++;
		size_t word = n;
		while (i + word < len && line[i + word] != ' ')
			word++;
		size_t wide = utf8_width(line + i, word);
		if (col > indent && col + wide > COLUMNS) {
			text_add_char(out, '\n');
			text_add_repeat(out, ' ', indent + 2);
			i += n;
			word -= n;
			col = indent + 2;
			wide -= n;
		}
		text_add_bytes(out, line + i, word);
		i += word;
		col += wide;
	}
	text_add_char(out, '\n');
}

static void add_lines(const struct text *lines, struct text *out)
{
	const char *at = lines->at, *end = at + lines->len, *stop;
	for (; at < end && (stop = memchr(at, '\n', (size_t)(end - at))); at = stop + 1)
		add_line(at, (size_t)(stop - at), out);
	out->out = out->out || lines->out;
}

/* The words behind a first one. */
static void tell_paragraph(const char *first, const char *said, struct text *out)
{
	text_addf(out, "%s %s\n", first, said);
}

static void tell_limits(struct text *out)
{
	text_add_char(out, '\n');
	tell_paragraph("What this does not show:", strand_cut_words(), out);
	text_add(out, "Nor does any record show:\n");
	for (const char *const *l = audit_limits; *l; l++)
		tell_paragraph("-", *l, out);
}

/* ---- all of it ------------------------------------------------------------------------------- */

/* The result comes last, where it is seen on a small terminal. */
void audit_tell(const struct audit *a, struct text *out)
{
	struct text lines;
	text_init(&lines);
	for (const struct audit_strand *s = a->first; s; s = s->next)
		tell_strand(a, s, &lines);
	tell_remarks(a, &lines);
	add_lines(&lines, out);
	text_clear(&lines);
	if (a->diags.first) {
		text_add_char(out, '\n');
		diags_print(&a->diags, out);
	}
	tell_losses(a, &lines);
	tell_limits(&lines);
	tell_result(a, &lines);
	add_lines(&lines, out);
	text_release(&lines);
}
