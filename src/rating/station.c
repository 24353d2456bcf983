/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include <barwright/base/file.h>
#include <barwright/base/text.h>

#include "rating/rate_parts.h"

/* ---- one criterion --------------------------------------------------------------------------- */

/* What is found out about a criterion before it is recorded. */
struct finding {
	const char *readings; /* "" when nothing was measured */
	bool is_measured;
	struct measured_set set;
	size_t level;
	const char *comment;
};

static bool is_none(const char *typed)
{
	static const char word[] = "none";
	return strlen(typed) == sizeof word - 1 && text_is_same(word, typed, sizeof word - 1);
}

static void add_critical_rows(struct page *p, const struct station *s, bool with_caution)
{
	for (size_t k = 0; k < s->ncritical; k++)
		page_row(p, k ? "or" : "Critical error", "%s", s->critical[k]);
	if (s->ncritical && with_caution)
		page_add(p, BLOCK_CAUTION,
			"A critical error fails the station whatever else is seen. Where somebody "
			"can be hurt or the work be lost, stop the work first and rate afterwards; "
			"local rules go before this rubric.");
}

static void add_level(struct page *p, int level, const char *words)
{
	const char *label = arena_format(p->arena, "%d %s", level, rate_level_name[level]);
	page_row(p, label ? label : rate_level_name[level], "%s", words);
}

/* The levels stand in the list below; where readings are asked for first they are shown here. */
static enum how show_criterion(struct rate *r, const struct station *s, size_t n)
{
	const struct criterion *c = &s->criterion[n];
	struct arena a = {0};
	struct page p;
	page_init(&p, &a, s->title,
		arena_format(&a, "point %zu of %zu, weight %d per cent", n + 1, s->ncriterion,
			s->weight));
	page_add(&p, BLOCK_TEXT, "%s", c->text);
	page_row(&p, "Instrument", "%s", c->instrument);
	for (int k = RUBRIC_LEVELS - 1; k >= 0 && c->measure.is_there; k--)
		add_level(&p, k, c->level[k]);
	add_critical_rows(&p, s, n == 0);
	enum how how = rate_show(r, &p);
	arena_release(&a);
	return how;
}

static enum how tell_words(struct rate *r, const char *words)
{
	struct arena a = {0};
	struct page p;
	page_init(&p, &a, "", NULL);
	page_add(&p, BLOCK_TEXT, "By the readings: %s.", words ? words : "");
	enum bad code = p.out || !words ? BAD_MEMORY : surface_tell(r->desk->surface, &p);
	arena_release(&a);
	return code ? desk_broken(r->desk, code) : HOW_DONE;
}

static enum how ask_readings(struct rate *r, const struct measure *m, struct finding *f)
{
	const char *fault = NULL;
	for (;;) {
		const char *prompt = arena_format(&r->arena, "Readings, in %s", m->unit_text);
		enum how how = rate_line(r, prompt ? prompt : "Readings",
			"several with blanks between; none = not measured", fault, &f->readings);
		if (how)
			return how;
		if (is_none(f->readings)) {
			f->readings = "";
			return HOW_DONE;
		}
		if (!measured_read(m, f->readings, &f->set, &fault))
			break;
	}
	f->is_measured = true;
	return tell_words(r, measured_words(m, &f->set, &r->arena));
}

static size_t most_of(const struct finding *f)
{
	return f->is_measured ? (size_t)measured_allows(&f->set) : RUBRIC_LEVELS - 1;
}

/* A level that is not competent, or more than the readings prove, needs a reason. */
static enum how ask_comment(struct rate *r, struct finding *f)
{
	bool beyond = f->is_measured && f->level > (size_t)f->set.proved;
	if (f->level >= 2 && !beyond)
		return HOW_DONE;
	return rate_line(r, beyond ? "Why more than the readings prove?" : "What is the matter?",
		"a sentence for the candidate", NULL, &f->comment);
}

static enum bad record(struct rate *r, const struct station *s, size_t n, const struct finding *f)
{
	const struct measure *m = &s->criterion[n].measure;
	struct line_rating line = {.rubric = r->rubric->code,
		.content = r->rubric->hash,
		.piece = r->how->piece,
		.rater = r->how->rater,
		.station = s->code,
		.criterion = n + 1,
		.level = f->level,
		.proved = f->is_measured ? (uint64_t)f->set.proved + 1 : 0,
		.readings = f->readings,
		.unit = f->is_measured ? m->unit_text : "",
		.comment = f->comment};
	enum bad code = rate_begin(r);
	if (!code)
		code = line_rating_append(r->desk->strand, &line);
	return code ? code : book_add_rating(&r->book, &line);
}

static enum how add_critical(struct rate *r, const struct station *s)
{
	struct choice list[OFFERS_MOST + 1];
	size_t n = s->ncritical < OFFERS_MOST ? s->ncritical : OFFERS_MOST, chosen = n;
	struct line_critical line = {.rubric = r->rubric->code,
		.content = r->rubric->hash,
		.piece = r->how->piece,
		.rater = r->how->rater,
		.station = s->code};
	for (size_t k = 0; k < n; k++)
		list[k] = (struct choice){NULL, s->critical[k], NULL};
	list[n] = (struct choice){"none", "None after all", NULL};
	enum how how = rate_choose(r, "Which critical error?", list, n + 1, CHOICE_NONE, &chosen);
	if (how || chosen == n)
		return how;
	line.error = s->critical[chosen];
	how = rate_line(r, "What was seen?", "a sentence for the record", NULL, &line.words);
	if (how)
		return how;
	enum bad code = rate_begin(r);
	if (!code)
		code = line_critical_append(r->desk->strand, &line);
	if (!code)
		code = book_add_critical(&r->book, &line);
	return code ? desk_broken(r->desk, code) : HOW_DONE;
}

/* A reading beyond even the lowest limit is asked about at once: it may be a critical error of the station. */
static enum how ask_critical(struct rate *r, const struct station *s, const struct finding *f)
{
	struct arena a = {0};
	struct page p;
	if (!f->is_measured || measured_allows(&f->set) > 0 || !s->ncritical ||
		book_has_critical(&r->book, r->how->rater, s->code))
		return HOW_DONE;
	page_init(&p, &a, "", NULL);
	page_add(&p, BLOCK_BAD,
		"A reading lies beyond the lowest limit of this point. Say whether one of the "
		"critical errors of the station was made.");
	enum bad code = p.out ? BAD_MEMORY : surface_tell(r->desk->surface, &p);
	arena_release(&a);
	return code ? desk_broken(r->desk, code) : add_critical(r, s);
}

static enum how rate_criterion(struct rate *r, const struct station *s, size_t n)
{
	const struct criterion *c = &s->criterion[n];
	struct finding f = {.readings = "", .comment = ""};
	enum how how = show_criterion(r, s, n);
	if (!how && c->measure.is_there)
		how = ask_readings(r, &c->measure, &f);
	if (!how)
		how = rate_level(r, c, most_of(&f), &f.level);
	if (!how)
		how = ask_comment(r, &f);
	if (how)
		return how;
	enum bad code = record(r, s, n, &f);
	return code ? desk_broken(r->desk, code) : ask_critical(r, s, &f);
}

/* ---- remarks, photos -------------------------------------------------------- */

static enum how add_remark(struct rate *r, const struct station *s)
{
	struct line_rating line = {.rubric = r->rubric->code,
		.content = r->rubric->hash,
		.piece = r->how->piece,
		.rater = r->how->rater,
		.station = s->code,
		.criterion = BOOK_REMARK};
	enum how how = rate_line(r, "Remark", "a sentence for the candidate", NULL, &line.comment);
	if (how)
		return how;
	enum bad code = rate_begin(r);
	if (!code)
		code = line_rating_append(r->desk->strand, &line);
	return code ? desk_broken(r->desk, code) : HOW_DONE;
}

/* The picture itself stays where it is: its name and SHA-256 are recorded. */
static enum bad photo_record(struct rate *r, const struct station *s, const char *path)
{
	char *bytes;
	size_t len;
	enum bad code = file_read(path, PHOTO_BYTES, NULL, &bytes, &len);
	if (code)
		return code;
	struct line_photo line = {.rubric = r->rubric->code,
		.content = r->rubric->hash,
		.piece = r->how->piece,
		.rater = r->how->rater,
		.station = s->code,
		.name = file_name(path),
		.sha256 = hash_bytes(bytes, len),
		.size = len};
	mem_drop(bytes);
	code = rate_begin(r);
	if (!code)
		code = line_photo_append(r->desk->strand, &line);
	r->book.photos += !code;
	return code;
}

static enum how add_photo(struct rate *r, const struct station *s)
{
	const char *fault = NULL, *path = "";
	for (;;) {
		enum how how = rate_line(
			r, "Photo", "the path of the file; none = no photo", fault, &path);
		if (how || is_none(path))
			return how;
		if (file_kind(path) != FILE_PLAIN) {
			fault = "there is no such file";
			continue;
		}
		enum bad code = photo_record(r, s, path);
		if (!code)
			return HOW_DONE;
		if (!strand_is_writable(r->desk->strand) || code == BAD_MEMORY)
			return desk_broken(r->desk, code);
		fault = file_advice(code);
	}
}

/* ---- the station ----------------------------------------------------------------------------- */

static void add_own_levels(struct rate *r, struct page *p, const struct station *s)
{
	for (size_t n = 0; n < s->ncriterion; n++) {
		const struct line_rating *own = book_of(&r->book, r->how->rater, s->code, n + 1);
		if (own)
			page_row(p, s->criterion[n].text, "%s%s%s",
				rate_level_name[own->level < RUBRIC_LEVELS ? own->level : 0],
				*own->comment ? "; " : "", own->comment);
		else
			page_row(p, s->criterion[n].text, "not rated yet");
	}
	if (book_has_critical(&r->book, r->how->rater, s->code))
		page_add(p, BLOCK_BAD, "A critical error is recorded at this station.");
}

static enum how show_station(struct rate *r, const struct station *s)
{
	struct arena a = {0};
	struct page p;
	page_init(&p, &a, s->title, arena_format(&a, "weight %d per cent", s->weight));
	add_critical_rows(&p, s, false);
	add_own_levels(r, &p, s);
	enum how how = rate_show(r, &p);
	arena_release(&a);
	return how;
}

enum act { ACT_DONE, ACT_CRITICAL, ACT_REMARK, ACT_PHOTO, ACT_AGAIN, ACT_COUNT };

static enum how rate_again(struct rate *r, const struct station *s)
{
	enum how how = HOW_DONE;
	for (size_t n = 0; !how && n < s->ncriterion; n++)
		how = rate_criterion(r, s, n);
	return how;
}

static enum how close_station(struct rate *r, const struct station *s)
{
	static const struct choice list[ACT_COUNT] = {
		[ACT_DONE] = {"done", "The station is done", NULL},
		[ACT_CRITICAL] = {"critical", "A critical error was seen", NULL},
		[ACT_REMARK] = {"remark", "Add a remark", NULL},
		[ACT_PHOTO] = {"photo", "Add a photo", NULL},
		[ACT_AGAIN] = {"again", "Rate its points again", "what was said before is kept"},
	};
	enum how how = HOW_DONE;
	for (size_t act = ACT_COUNT; !how && act != ACT_DONE;) {
		act = ACT_DONE;
		how = show_station(r, s);
		if (!how)
			how = rate_choose(r, "What now?", list, ACT_COUNT, ACT_DONE, &act);
		if (how)
			break;
		if (act == ACT_CRITICAL)
			how = add_critical(r, s);
		else if (act == ACT_REMARK)
			how = add_remark(r, s);
		else if (act == ACT_PHOTO)
			how = add_photo(r, s);
		else if (act == ACT_AGAIN)
			how = rate_again(r, s);
		if (how == HOW_BACK) /* out of one thing, back to the list of them */
			how = HOW_DONE;
	}
	return how;
}

/* Going back from a point leads to the end of the station: after a critical error not everything can be
 * rated any more. */
enum how rate_station(struct rate *r, const struct station *s)
{
	enum how how = HOW_DONE;
	for (size_t n = 0; !how && n < s->ncriterion; n++)
		if (!book_of(&r->book, r->how->rater, s->code, n + 1))
			how = rate_criterion(r, s, n);
	return how && how != HOW_BACK ? how : close_station(r, s);
}
