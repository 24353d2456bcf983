/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sitting/past.h"

#include <string.h>

#include <barwright/base/file.h>
#include <barwright/record/learner.h>

/* Anything asked in a form: more than this is no form of ours. */
enum { PLACES_MOST = 10000 };

static struct past_response *response_of(struct past *p, const struct line_answer *a)
{
	for (struct past_response *r = p->response; r; r = r->next)
		if (r->ask == a->ask && strcmp(r->item, a->item) == 0)
			return r;
	struct past_response *r = arena_new(p->arena, struct past_response);
	if (r) {
		*r = (struct past_response){.item = a->item,
			.ask = a->ask,
			.typed = "",
			.outcome = "",
			.next = p->response};
		p->response = r;
	}
	return r;
}

/* The last response in time is the one that counts. */
static enum bad on_answer(struct past *p, const struct strand_line *line)
{
	struct line_answer a;
	enum bad code = line_answer_read(line, p->arena, &a);
	struct past_response *r = code ? NULL : response_of(p, &a);
	if (code || !r)
		return code ? code : BAD_MEMORY;
	r->turn = a.turn > r->turn ? a.turn : r->turn;
	r->is_held |= line_answer_is_held(&a);
	p->is_handed_in |= r->is_held && !line_answer_is_held(&a);
	r->late = a.late_ms > 0;
	r->nlate += r->late;
	if (!r->late) {
		r->took_ms = a.took_ms;
		r->typed = a.typed;
		r->outcome = a.outcome;
	}
	return FINE;
}

static enum bad on_mark(struct past *p, const struct strand_line *line)
{
	struct line_mark m;
	enum bad code = line_mark_read(line, p->arena, &m);
	size_t len = strlen(p->marks);
	if (code || m.at < 1 || m.at > PLACES_MOST)
		return code;
	size_t wide = len > m.at ? len : (size_t)m.at;
	char *marks = arena_get(p->arena, wide + 1);
	if (!marks)
		return BAD_MEMORY;
	memset(marks, '0', wide);
	memcpy(marks, p->marks, len);
	marks[m.at - 1] = m.is_on ? '1' : '0';
	p->marks = marks;
	return FINE;
}

static enum bad on_form(struct past *p, const struct strand_line *line, const struct line_open *o)
{
	struct line_form form;
	enum bad code = line_form_read(line, p->arena, &form);
	if (code || strcmp(form.assessment, p->assessment) != 0)
		return code;
	p->attempts++; /* one line a form; its number counts attempts on other machines too */
	p->is_unfinished = p->inside = true;
	p->sitting = o->sitting;
	p->course = o->content;
	p->form = form;
	p->response = NULL;
	p->marks = "";
	p->at = 1;
	p->used_ms = p->breaks = p->forward_ms = p->back_ms = 0;
	p->place_used_ms = 0;
	p->place_boot_ms = line->boot_ms;
	p->was_left = p->is_handed_in = false;
	return FINE;
}

static enum bad on_open(struct past *p, const struct strand_line *line, struct line_open *last)
{
	enum bad code = line_open_read(line, p->arena, last);
	p->inside = false;
	if (code || !p->is_unfinished || strcmp(last->mode, "sit") != 0 ||
		strcmp(last->sitting, p->sitting) != 0)
		return code;
	p->inside = true;
	p->breaks++;
	if (p->was_left && line->at_ms > p->last_ms)
		p->used_ms += (uint64_t)(line->at_ms - p->last_ms);
	p->place_used_ms = p->used_ms;
	p->place_boot_ms = line->boot_ms;
	p->was_left = false;
	return FINE;
}

static enum bad on_place(struct past *p, const struct strand_line *line)
{
	struct line_place place;
	enum bad code = line_place_read(line, p->arena, &place);
	if (code)
		return code;
	p->at = place.at;
	p->place_used_ms = place.used_ms;
	p->place_boot_ms = line->boot_ms;
	return FINE;
}

static enum bad on_clock(struct past *p, const struct strand_line *line)
{
	struct line_clock c;
	enum bad code = line_clock_read(line, p->arena, &c);
	if (!code)
		*(strcmp(c.way, "back") == 0 ? &p->back_ms : &p->forward_ms) += c.by_ms;
	return code;
}

static enum bad on_close(struct past *p, const struct strand_line *line)
{
	struct line_close c;
	enum bad code = line_close_read(line, p->arena, &c);
	if (!code)
		p->was_left = strcmp(c.reason, "left") == 0;
	return code;
}

static enum bad on_result(struct past *p, const struct strand_line *line)
{
	struct line_result r;
	enum bad code = line_result_read(line, p->arena, &r);
	if (code || strcmp(r.of, p->assessment) != 0)
		return code;
	int64_t moved = (int64_t)p->back_ms - (int64_t)p->forward_ms;
	p->ended_ms = line->at_ms + (moved > 0 ? moved : 0);
	p->is_unfinished = p->inside = false;
	return FINE;
}

static enum bad inside_line(struct past *p, const struct strand_line *line)
{
	enum bad code = FINE;
	enum line_kind kind = line_kind(line->kind);
	if (kind == LINE_PLACE)
		code = on_place(p, line);
	else if (kind == LINE_ANSWER)
		code = on_answer(p, line);
	else if (kind == LINE_MARK)
		code = on_mark(p, line);
	else if (kind == LINE_CLOCK)
		code = on_clock(p, line);
	else if (kind == LINE_CLOSE)
		code = on_close(p, line);
	else if (kind == LINE_RESULT)
		code = on_result(p, line);
	if (line->boot_ms > p->place_boot_ms)
		p->used_ms = p->place_used_ms + (uint64_t)(line->boot_ms - p->place_boot_ms);
	else
		p->used_ms = p->place_used_ms;
	p->last_ms = line->at_ms;
	p->last_boot_ms = line->boot_ms;
	return code;
}

/* The open line that is in force stands here, since a form belongs to it. */
struct reading {
	struct past *past;
	struct line_open open;
};

static enum bad any_line(struct reading *r, const struct strand_line *line)
{
	struct past *p = r->past;
	enum line_kind kind = line_kind(line->kind);
	enum bad code = FINE;
	if (kind == LINE_OPEN)
		code = on_open(p, line, &r->open);
	else if (kind == LINE_FORM && r->open.sitting)
		code = on_form(p, line, &r->open);
	if (!code && p->inside)
		code = inside_line(p, line);
	return code == BAD_MEMORY ? code : FINE; /* a body of a later program says nothing here */
}

static enum bad read_line(void *context, const struct strand_line *line)
{
	return line->erased ? FINE : any_line(context, line);
}

/* ---- other machines -------------------------------------------------------------------------- */

struct elsewhere {
	const char *who, *assessment; /* who: stands for all codes of the person */
	const struct learner_row *row;
	size_t nrow;
	struct arena *arena;
	uint64_t forms;
	int64_t ended_ms;
};

static enum bad other_line(void *context, const struct strand_line *line)
{
	struct elsewhere *e = context;
	struct line_form form;
	struct line_result result;
	enum bad code = FINE;
	enum line_kind kind = line_kind(line->kind);
	if (strcmp(learner_person(e->row, e->nrow, line->who), e->who) != 0)
		return BAD_NOTHING; /* somebody else's strand: no need to read on */
	if (line->erased)
		return FINE;
	if (kind == LINE_FORM && !(code = line_form_read(line, e->arena, &form)))
		e->forms += strcmp(form.assessment, e->assessment) == 0;
	if (kind == LINE_RESULT && !(code = line_result_read(line, e->arena, &result)) &&
		strcmp(result.of, e->assessment) == 0 && line->at_ms > e->ended_ms)
		e->ended_ms = line->at_ms;
	return code == BAD_MEMORY ? code : FINE;
}

static enum bad other_read(const char *path, struct elsewhere *e)
{
	struct arena mem = {0};
	struct source *source;
	struct strand_sum sum;
	struct strand_check how = {.hashes_only = true};
	enum bad code = strand_load(path, &mem, &source);
	e->arena = &mem;
	if (!code)
		code = strand_read(source, &how, other_line, e, &sum, NULL);
	arena_release(&mem);
	return code == BAD_MEMORY ? code : FINE;
}

enum bad past_read_others(const char *path, const char *who, struct past *p)
{
	struct arena mem = {0};
	struct elsewhere e = {.assessment = p->assessment};
	struct learner_row *row = NULL;
	struct folder_entry *entry;
	size_t n = 0;
	const char *own = file_name(path);
	char *folder = arena_copy(&mem, path, (size_t)(own - path));
	const char *data = folder ? folder_join(&mem, *folder ? folder : ".", "..") : NULL;
	enum bad code = data ? FINE : BAD_MEMORY;
	if (!code && !learner_list(data, &mem, &row, &e.nrow, NULL))
		e.row = row;
	e.who = learner_person(e.row, e.nrow, who);
	if (!code && folder_list(*folder ? folder : ".", &mem, &entry, &n))
		n = 0;
	for (size_t k = 0; !code && k < n; k++) {
		const char *name = entry[k].name;
		if (entry[k].kind != FILE_PLAIN || !strand_is_file_name(name) ||
			strcmp(name, own) == 0)
			continue;
		const char *one = folder_join(&mem, folder, name);
		code = one ? other_read(one, &e) : BAD_MEMORY;
	}
	arena_release(&mem);
	p->attempts += code ? 0 : e.forms;
	if (!code && e.ended_ms > p->ended_ms)
		p->ended_ms = e.ended_ms;
	return code;
}

enum bad past_read(const char *path, const char *assessment, struct arena *a, struct past *out)
{
	struct past p = {.arena = a, .assessment = assessment, .marks = ""};
	struct reading r = {.past = &p};
	struct arena mem = {0};
	struct source *source;
	struct strand_sum sum;
	struct strand_check how = {.hashes_only = true};
	enum bad code = strand_load(path, &mem, &source);
	if (!code)
		code = strand_read(source, &how, read_line, &r, &sum, NULL);
	arena_release(&mem);
	if (!code)
		*out = p;
	return code;
}
