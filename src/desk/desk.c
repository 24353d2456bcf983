/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "desk/desk.h"

#include <string.h>

#include <barwright/base/cipher.h>

void sitting_code(char out[static SITTING_CODE])
{
	unsigned char bytes[(SITTING_CODE - 1) / 2];
	random_bytes(bytes, sizeof bytes);
	hex_write(bytes, sizeof bytes, out);
}

enum bad desk_count(struct desk *d)
{
	struct source *source;
	struct strand_sum sum;
	struct arena mem = {0};
	enum bad code = progress_init(&d->progress, &d->arena, d->course);
	if (code || !d->strand || !strand_count(d->strand))
		return code;
	d->progress.arena = &mem; /* what the lines are read into goes away again */
	code = strand_load(strand_own_path(d->strand), &mem, &source);
	if (!code) {
		struct strand_check how = {.hashes_only = true};
		code = strand_read(source, &how, progress_line, &d->progress, &sum, NULL);
	}
	d->progress.arena = &d->arena;
	arena_release(&mem);
	/* where another program writes, its next line may stand there by half */
	return code == BAD_TORN && !strand_is_writable(d->strand) ? FINE : code;
}

enum bad desk_whole(struct desk *d)
{
	const struct course *course;
	if (!d->whole)
		return FINE;
	enum bad code = d->whole(d->whole_at, &course);
	if (code)
		return code;
	d->whole = NULL;
	d->course = course;
	return desk_count(d);
}

enum how desk_broken(struct desk *d, enum bad code)
{
	if (!d->lost)
		d->lost = code;
	return HOW_BROKEN;
}

static enum bad note_loss(struct desk *d, enum bad code)
{
	if (code)
		desk_broken(d, code);
	return code;
}

enum bad desk_begin(struct desk *d)
{
	if (d->is_open || !d->strand)
		return FINE;
	struct line_open open = {.mode = d->mode,
		.program = d->program,
		.course = d->course->code,
		.content = course_hash(d->course),
		.sitting = d->sitting};
	enum bad code = line_open_append(d->strand, &open);
	if (!code) {
		d->is_open = true;
		d->progress.sittings += strcmp(d->mode, "sit") != 0; /* no practice */
	}
	return note_loss(d, code);
}

enum bad desk_end(struct desk *d, const char *reason)
{
	if (!d->is_open || !d->strand || !strand_is_writable(d->strand))
		return FINE;
	struct line_close close = {d->answers, d->right, reason};
	d->is_open = false;
	return note_loss(d, line_close_append(d->strand, &close));
}

void desk_keeps(struct desk *d, const char *words)
{
	d->surface->kept = d->strand ? words : "Nothing is being recorded.";
}

enum bad desk_turn_to(struct desk *d, const char *mode)
{
	enum bad code = desk_end(d, "left");
	d->mode = mode;
	d->answers = d->right = 0;
	sitting_code(d->sitting);
	return code;
}

enum bad desk_answer(struct desk *d, const struct instance *i, size_t ask, const struct score *s,
	struct line_answer *line)
{
	struct text read_as, expected, tolerance, slip;
	struct text *const all[] = {&read_as, &expected, &tolerance, &slip};
	bool out = false;
	for (size_t k = 0; k < sizeof all / sizeof *all; k++)
		text_init(all[k]);
	score_read_as(i, ask, s, &read_as);
	score_expected(i, ask, &expected, &tolerance);
	score_slip_add(i, ask, s, &slip);
	line->item = i->problem->code;
	line->ask = ask + 1;
	line->read_as = read_as.at;
	line->outcome = outcome_word(s->outcome);
	line->slip = slip.at;
	line->expected = expected.at;
	line->tolerance = tolerance.at;
	line->unit = i->problem->ask[ask].shown.unit_text;
	for (size_t k = 0; k < sizeof all / sizeof *all; k++)
		out |= all[k]->out;
	enum bad code = out ? BAD_MEMORY : line_answer_append(d->strand, line);
	for (size_t k = 0; k < sizeof all / sizeof *all; k++)
		text_release(all[k]);
	return code;
}

enum bad desk_hold(struct desk *d, const struct instance *i, size_t ask, const struct score *s,
	struct line_answer *line)
{
	struct text read_as;
	text_init(&read_as);
	score_read_as(i, ask, s, &read_as);
	line->item = i->problem->code;
	line->ask = ask + 1;
	line->read_as = read_as.at;
	line->outcome = LINE_HELD;
	line->slip = line->expected = line->tolerance = "";
	line->unit = i->problem->ask[ask].shown.unit_text;
	enum bad code = read_as.out ? BAD_MEMORY : line_answer_append(d->strand, line);
	text_release(&read_as);
	return code;
}

enum bad desk_step(struct desk *d, const struct instance *i, size_t ask, size_t place,
	const struct score *s, struct line_answer *line)
{
	const struct step *step = &i->problem->ask[ask].step[place];
	struct text read_as, expected, tolerance;
	text_init(&read_as);
	text_init(&expected);
	text_init(&tolerance);
	score_step_record(i, step, s, &read_as, &expected, &tolerance);
	line->item = i->problem->code;
	line->ask = ask + 1;
	line->step = place + 1;
	line->read_as = read_as.at;
	line->outcome = outcome_word(s->outcome);
	line->slip = "";
	line->expected = expected.at;
	line->tolerance = tolerance.at;
	line->unit = step->shown.unit_text;
	enum bad code = read_as.out || expected.out || tolerance.out
				? BAD_MEMORY
				: line_answer_append(d->strand, line);
	text_release(&read_as);
	text_release(&expected);
	text_release(&tolerance);
	return code;
}

void desk_release(struct desk *d)
{
	arena_release(&d->arena);
}

enum how how_of(enum reply_kind kind)
{
	switch (kind) {
	case REPLY_BACK:
		return HOW_BACK;
	case REPLY_LEAVE:
		return HOW_LEAVE;
	case REPLY_LOST:
		return HOW_LOST;
	default:
		return HOW_DONE;
	}
}
