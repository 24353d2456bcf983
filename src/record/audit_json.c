/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What an audit found, as JSON. */
#include <barwright/record/audit.h>

#include <string.h>

#include <barwright/base/clock.h>
#include <barwright/base/utf8.h>

#include "tree/json.h"

static void put_text(struct json_out *j, const char *name, const char *value)
{
	json_name(j, name);
	json_text(j, value);
}

/* A stranger's bytes: those that are no text are spelt out. */
static void put_safe(struct json_out *j, const char *name, const char *value)
{
	struct text clean;
	text_init(&clean);
	text_add_safe(&clean, value, strlen(value), false);
	j->text->out = j->text->out || clean.out;
	put_text(j, name, clean.at);
	text_release(&clean);
}

static void put_count(struct json_out *j, const char *name, uint64_t n)
{
	json_name(j, name);
	json_whole(j, (int64_t)n);
}

static void put_truth(struct json_out *j, const char *name, bool is)
{
	json_name(j, name);
	json_truth(j, is);
}

static void put_hash(struct json_out *j, const char *name, const struct hash *h)
{
	char hex[HASH_HEX + 1];
	hash_hex(h, hex);
	put_text(j, name, hex);
}

static void put_counts(struct json_out *j, const struct audit_count *n)
{
	put_count(j, "sittings", n->sittings);
	put_count(j, "unclosed", n->unclosed);
	put_count(j, "draws", n->draws);
	put_count(j, "answers", n->answers);
	put_count(j, "right", n->right);
	put_count(j, "equal", n->equal);
	put_count(j, "different", n->differs);
	put_count(j, "not_made", n->not_made);
	json_name(j, "graded");
	json_open_object(j);
	put_count(j, "equal", n->graded_equal);
	put_count(j, "different", n->graded_differs);
	put_count(j, "not_made", n->graded_not_made);
	json_close_object(j);
	put_count(j, "odd", n->odd);
	put_count(j, "recovered", n->recovered);
	put_count(j, "set_aside_bytes", n->set_aside);
	put_count(j, "clock_moved", n->clocks);
	json_name(j, "assessed");
	json_open_object(j);
	put_count(j, "answers", n->assessed);
	put_count(j, "right", n->assessed_right);
	put_count(j, "judgements", n->assessed_ratings);
	put_count(j, "results", n->assessed_results);
	json_close_object(j);
	json_name(j, "practice");
	json_open_object(j);
	put_count(j, "answers", n->answers - n->assessed);
	put_count(j, "right", n->right - n->assessed_right);
	put_count(j, "judgements", n->ratings - n->assessed_ratings);
	put_count(j, "results", n->results - n->assessed_results);
	json_close_object(j);
}

static void put_seal(struct json_out *j, const struct seal *s)
{
	static const char *const worth[] = {
		[SEAL_HOLDS] = "holds", [SEAL_STRANGER] = "not-accepted", [SEAL_BROKEN] = "broken"};
	char at[TIME_TEXT];
	time_write(s->at_ms, at);
	json_open_object(j);
	put_count(j, "n", s->n);
	put_text(j, "worth", worth[s->worth]);
	put_text(j, "words", s->words);
	put_safe(j, "by", s->worth == SEAL_HOLDS ? s->accepted_as : s->body.by);
	put_text(j, "key", s->key);
	put_safe(j, "sitting", s->body.sitting);
	put_safe(j, "identity_check", s->body.identity_check);
	put_safe(j, "said_time", s->body.said_time);
	put_text(j, "at", at);
	put_count(j, "size", s->body.size);
	put_hash(j, "root", &s->body.root);
	json_close_object(j);
}

static void put_strand(struct json_out *j, const struct audit_strand *s)
{
	json_open_object(j);
	put_safe(j, "path", s->path);
	put_text(j, "strand", s->sum.strand);
	put_text(j, "who", s->sum.who);
	put_text(j, "machine", s->sum.machine);
	put_truth(j, "machine_known", s->sum.machine_known);
	put_safe(j, "machine_name", s->machine ? s->machine->name : "");
	put_truth(j, "out_of_time", s->is_out_of_time);
	put_truth(j, "fork", s->is_fork);
	put_safe(j, "void_by", s->is_void ? s->is_void->by : "");
	put_safe(j, "void_because", s->is_void ? s->is_void->because : "");
	put_count(j, "lines", s->sum.lines);
	put_hash(j, "head", &s->sum.head);
	put_count(j, "erased", s->sum.erased);
	put_count(j, "erased_without_note", s->unnoted);
	put_count(j, "torn_bytes", s->sum.torn_len);
	put_count(j, "set_back", s->sum.set_back);
	put_count(j, "set_forward", s->sum.set_forward);
	put_text(j, "fault", bad_word(s->sum.fault));
	put_count(j, "fault_line", s->sum.fault_line);
	put_counts(j, &s->count);
	put_count(j, "fixed_lines", s->seals.fixed);
	json_name(j, "seals");
	json_open_list(j);
	for (const struct seal *i = s->seals.first; i; i = i->next)
		put_seal(j, i);
	json_close_list(j);
	json_close_object(j);
}

static void put_total(struct json_out *j, const struct audit *a)
{
	json_name(j, "total");
	json_open_object(j);
	put_count(j, "strands", a->strands);
	put_count(j, "faulty", a->faulty);
	put_count(j, "torn", a->torn);
	put_count(j, "forks", a->forks);
	put_count(j, "voids", a->voids);
	put_count(j, "lines", a->lines);
	put_count(j, "erased", a->erased);
	put_count(j, "erased_without_note", a->unnoted);
	put_count(j, "seals_hold", a->seals_hold);
	put_count(j, "seals_broken", a->seals_broken);
	put_count(j, "seals_not_accepted", a->seals_strange);
	put_counts(j, &a->count);
	json_close_object(j);
}

static void put_remarks(struct json_out *j, const struct audit *a)
{
	static const char *const result[] = {[AUDIT_EQUAL] = "equal",
		[AUDIT_DIFFERS] = "different",
		[AUDIT_NOT_MADE] = "not-made"};
	json_name(j, "remarks");
	json_open_list(j);
	for (const struct audit_remark *r = a->remark; r; r = r->next) {
		json_open_object(j);
		put_safe(j, "path", r->path);
		put_count(j, "n", r->n);
		put_safe(j, "item", r->item);
		put_text(j, "result", result[r->result]);
		put_safe(j, "words", r->words);
		json_close_object(j);
	}
	json_close_list(j);
}

static void put_witnesses(struct json_out *j, const struct audit *a)
{
	json_name(j, "witness");
	json_open_object(j);
	put_count(j, "lists", a->witnesses.nlist);
	put_count(j, "seals", a->witnesses.n);
	put_count(j, "not_accepted", a->witnesses.nstranger);
	put_count(j, "at_fault", a->bad_witness);
	json_name(j, "lost");
	json_open_list(j);
	for (const struct audit_loss *l = a->loss; l; l = l->next) {
		json_open_object(j);
		put_safe(j, "strand", l->witness->strand);
		put_safe(j, "sitting", l->witness->sitting);
		put_count(j, "size", l->witness->size);
		put_safe(j, "by", l->witness->by);
		put_text(j, "words", l->words);
		json_close_object(j);
	}
	json_close_list(j);
	json_close_object(j);
}

static void put_faults(struct json_out *j, const struct audit *a)
{
	json_name(j, "faults");
	json_open_list(j);
	for (const struct diag *d = a->diags.first; d; d = d->next) {
		json_open_object(j);
		put_safe(j, "path", d->place.source ? d->place.source->name : "");
		put_count(j, "line", d->place.line);
		put_count(j, "column", d->place.col);
		put_text(j, "code", bad_word(d->code));
		put_safe(j, "words", d->words);
		put_safe(j, "hint", d->hint ? d->hint : "");
		json_close_object(j);
	}
	json_close_list(j);
}

static void put_limits(struct json_out *j)
{
	put_text(j, "not_shown", strand_cut_words());
	json_name(j, "limits");
	json_open_list(j);
	for (const char *const *l = audit_limits; *l; l++)
		json_text(j, *l);
	json_close_list(j);
}

void audit_json(const struct audit *a, struct text *out)
{
	struct json_out j;
	json_begin(&j, out, false);
	json_open_object(&j);
	put_truth(&j, "clean", audit_is_clean(a));
	put_truth(&j, "signatures_checked", !a->hashes_only);
	put_truth(&j, "made_again", a->has_replay);
	json_name(&j, "strands");
	json_open_list(&j);
	for (const struct audit_strand *s = a->first; s; s = s->next)
		put_strand(&j, s);
	json_close_list(&j);
	put_total(&j, a);
	put_witnesses(&j, a);
	put_remarks(&j, a);
	put_faults(&j, a);
	put_limits(&j);
	json_close_object(&j);
	text_add_char(out, '\n');
	out->out = out->out || json_end(&j) != FINE;
}
