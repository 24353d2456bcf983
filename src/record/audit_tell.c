/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What an audit found: for people, and as JSON. */
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

static const char *plural(uint64_t n)
{
	return n == 1 ? "" : "s";
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
		text_addf(out, "  FAULT in line %u of the file; ", (unsigned)sum->fault_line);
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

static void tell_writer(const struct audit *a, const struct strand_sum *sum, struct text *out)
{
	const char *known = "";
	if (a->has_ring)
		known = sum->machine_known ? ", which is known here" : ", which is NOT known here";
	if (a->hashes_only)
		text_add(out, "  Who wrote the lines was not checked (signatures left out).\n");
	else if (*sum->machine)
		text_addf(
			out, "  Written by the machine with the key %s%s.\n", sum->machine, known);
}

static void tell_extras(const struct audit_strand *s, struct text *out)
{
	if (s->sum.erased)
		text_addf(out,
			"  %" PRIu64 " line%s erased on request; the place in the order is kept.\n",
			s->sum.erased, s->sum.erased == 1 ? " was" : "s were");
	if (s->count.recovered)
		text_addf(out, "  Interrupted writing was put in order %" PRIu64 " time%s.\n",
			s->count.recovered, plural(s->count.recovered));
	if (s->count.unclosed)
		text_addf(out, "  %" PRIu64 " sitting%s did not end in order.\n", s->count.unclosed,
			plural(s->count.unclosed));
	if (s->sum.set_back)
		text_addf(out, "  The clock was set back %" PRIu64 " time%s.\n", s->sum.set_back,
			plural(s->sum.set_back));
	if (s->count.odd)
		text_addf(out, "  %" PRIu64 " line%s could not be used by this program.\n",
			s->count.odd, plural(s->count.odd));
}

static void tell_answers(const struct audit *a, const struct audit_count *n, struct text *out)
{
	text_addf(out,
		"  %" PRIu64 " sitting%s, %" PRIu64 " task%s drawn, %" PRIu64 " answer%s, %" PRIu64
		" right.\n",
		n->sittings, plural(n->sittings), n->draws, plural(n->draws), n->answers,
		plural(n->answers), n->right);
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

static void tell_strand(const struct audit *a, const struct audit_strand *s, struct text *out)
{
	safe(out, s->path);
	if (s->sum.fault && s->sum.fault_line == 0) {
		text_add(out, "\n  FAULT: it could not be read.\n");
		return;
	}
	text_addf(out, "\n  %" PRIu64 " line%s", s->sum.lines, plural(s->sum.lines));
	if (*s->sum.strand) {
		text_addf(out, ", strand %s, learner %s", s->sum.strand, s->sum.who);
		tell_dates(&s->sum, out);
	}
	text_add(out, ".\n");
	if (s->sum.lines || s->sum.fault) {
		tell_order(&s->sum, out);
		tell_writer(a, &s->sum, out);
		tell_answers(a, &s->count, out);
	}
	tell_extras(s, out);
}

static void tell_remarks(const struct audit *a, struct text *out)
{
	if (!a->nremark)
		return;
	text_add(out, "\nAnswers to look at:\n");
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
}

static void tell_result(const struct audit *a, struct text *out)
{
	text_addf(out, "\n%zu strand%s, %" PRIu64 " line%s: ", a->strands, plural(a->strands),
		a->lines, plural(a->lines));
	if (!a->strands)
		text_add(out, "there was nothing to check.\n");
	else if (audit_is_clean(a))
		text_add(out, a->torn ? "nothing was changed; an interrupted line is left out.\n"
				      : "nothing was changed.\n");
	else
		text_addf(out, "%zu strand%s at fault, %" PRIu64 " answer%s scored differently.\n",
			a->faulty, a->faulty == 1 ? " is" : "s are", a->count.differs,
			plural(a->count.differs));
}

void audit_tell(const struct audit *a, struct text *out)
{
	for (const struct audit_strand *s = a->first; s; s = s->next)
		tell_strand(a, s, out);
	tell_remarks(a, out);
	if (a->diags.first) {
		text_add_char(out, '\n');
		diags_print(&a->diags, out);
	}
	tell_result(a, out);
	text_addf(out, "What this does not show: %s\n", strand_cut_words());
}

/* ---- as JSON --------------------------------------------------------------------------------- */

/* Quoted; what is unsafe on a terminal is spelt out first, so that the bytes are clean UTF-8. */
static void json_text(struct text *out, const char *s)
{
	struct text clean;
	text_init(&clean);
	safe(&clean, s);
	out->out = out->out || clean.out;
	text_add_char(out, '"');
	for (const char *c = clean.at; *c; c++) {
		if (*c == '"' || *c == '\\')
			text_add_char(out, '\\');
		text_add_char(out, *c);
	}
	text_add_char(out, '"');
	text_release(&clean);
}

static void json_pair(struct text *out, const char *name, const char *value)
{
	text_addf(out, "\"%s\":", name);
	json_text(out, value);
}

static const char *truth(bool is)
{
	return is ? "true" : "false";
}

static void json_count(const struct audit_count *n, struct text *out)
{
	text_addf(out,
		"\"sittings\":%" PRIu64 ",\"unclosed\":%" PRIu64 ",\"draws\":%" PRIu64
		",\"answers\":%" PRIu64 ",\"right\":%" PRIu64 ",\"equal\":%" PRIu64
		",\"different\":%" PRIu64 ",\"not_made\":%" PRIu64 ",\"odd\":%" PRIu64
		",\"recovered\":%" PRIu64,
		n->sittings, n->unclosed, n->draws, n->answers, n->right, n->equal, n->differs,
		n->not_made, n->odd, n->recovered);
}

static void json_strand(const struct audit_strand *s, struct text *out)
{
	char head[HASH_HEX + 1];
	hash_hex(&s->sum.head, head);
	text_add_char(out, '{');
	json_pair(out, "path", s->path);
	text_addf(out,
		",\"strand\":\"%s\",\"who\":\"%s\",\"machine\":\"%s\",\"machine_known\":%s,"
		"\"lines\":%" PRIu64 ",\"head\":\"%s\",\"erased\":%" PRIu64
		",\"torn_bytes\":%zu,\"set_back\":%" PRIu64 ",\"fault\":\"%s\",\"fault_line\":%u,",
		s->sum.strand, s->sum.who, s->sum.machine, truth(s->sum.machine_known),
		s->sum.lines, head, s->sum.erased, s->sum.torn_len, s->sum.set_back,
		bad_word(s->sum.fault), (unsigned)s->sum.fault_line);
	json_count(&s->count, out);
	text_add_char(out, '}');
}

static void json_fault(const struct diag *d, struct text *out)
{
	text_add_char(out, '{');
	json_pair(out, "path", d->place.source ? d->place.source->name : "");
	text_addf(out, ",\"line\":%u,\"column\":%u,\"code\":\"%s\",", (unsigned)d->place.line,
		(unsigned)d->place.col, bad_word(d->code));
	json_pair(out, "words", d->words);
	text_add_char(out, ',');
	json_pair(out, "hint", d->hint ? d->hint : "");
	text_add_char(out, '}');
}

static void json_remark(const struct audit_remark *r, struct text *out)
{
	text_add_char(out, '{');
	json_pair(out, "path", r->path);
	text_addf(out, ",\"n\":%" PRIu64 ",", r->n);
	json_pair(out, "item", r->item);
	text_addf(out, ",\"result\":\"%s\",",
		r->result == AUDIT_DIFFERS    ? "different"
		: r->result == AUDIT_NOT_MADE ? "not-made"
					      : "equal");
	json_pair(out, "words", r->words);
	text_add_char(out, '}');
}

void audit_json(const struct audit *a, struct text *out)
{
	text_addf(out, "{\"clean\":%s,\"signatures_checked\":%s,\"made_again\":%s,\"strands\":[",
		truth(audit_is_clean(a)), truth(!a->hashes_only), truth(a->has_replay));
	for (const struct audit_strand *s = a->first; s; s = s->next) {
		json_strand(s, out);
		text_add(out, s->next ? "," : "");
	}
	text_addf(out,
		"],\"total\":{\"strands\":%zu,\"faulty\":%zu,\"torn\":%zu,\"lines\":%" PRIu64
		",\"erased\":%" PRIu64 ",",
		a->strands, a->faulty, a->torn, a->lines, a->erased);
	json_count(&a->count, out);
	text_add(out, "},\"remarks\":[");
	for (const struct audit_remark *r = a->remark; r; r = r->next) {
		json_remark(r, out);
		text_add(out, r->next ? "," : "");
	}
	text_add(out, "],\"faults\":[");
	for (const struct diag *d = a->diags.first; d; d = d->next) {
		json_fault(d, out);
		text_add(out, d->next ? "," : "");
	}
	text_add(out, "],");
	json_pair(out, "not_shown", strand_cut_words());
	text_add(out, "}\n");
}
