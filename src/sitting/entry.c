/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include <barwright/base/clock.h>
#include <barwright/base/utf8.h>

#include "sitting/sitting_parts.h"

const char *sitting_span(struct arena *a, uint64_t ms)
{
	char span[LIMIT_WORDS];
	span_write(ms, span);
	const char *made = arena_copy(a, span, strlen(span));
	return made ? made : "";
}

/* What the wait still lacks; 0: nothing. A clock that was set back lets nobody in early. */
static uint64_t wait_left(const struct sitting *s)
{
	int64_t wait = (int64_t)(s->what->wait_s * 1000), passed = clock_now() - s->past.ended_ms;
	if (!s->past.ended_ms || passed >= wait)
		return 0;
	return (uint64_t)(wait - passed);
}

static const char *made(const char *text)
{
	return text ? text : bad_text(BAD_MEMORY);
}

const char *sitting_no_guest(
	const struct assessment *what, const char *name, const char *who, struct arena *a)
{
	if (!what->nguest || assessment_find_guest(what, name, who ? who : ""))
		return NULL;
	return made(arena_format(a,
		"'%s' is not on the list of those who may sit '%s'; names are compared letter by "
		"letter",
		name ? name : who, what->title));
}

const char *sitting_refusal(struct sitting *s)
{
	struct arena *a = &s->desk->arena;
	const struct assessment *what = s->what;
	const char *stranger = sitting_no_guest(what, s->desk->name, s->desk->who, a);
	if (stranger)
		return stranger;
	if (s->past.is_unfinished)
		return course_is_same(s->desk->course, &s->past.course) &&
				       hash_is_equal(&s->past.form.content, &what->hash)
			       ? NULL
			       : made(arena_format(a,
					 "a sitting of '%s' is not finished, but course or "
					 "assessment were "
					 "changed since it began: put the old files back, and it "
					 "goes on",
					 what->title));
	if (s->past.attempts >= (uint64_t)what->attempts)
		return made(arena_format(a, "'%s' may be sat %d %s, and was", what->title,
			what->attempts, what->attempts == 1 ? "time" : "times"));
	uint64_t left = wait_left(s);
	if (left)
		return made(arena_format(a, "the next attempt at '%s' may begin in %s, not before",
			what->title, sitting_span(a, left)));
	return NULL;
}
