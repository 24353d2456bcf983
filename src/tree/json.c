/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The only door to cJSON. What reaches it has passed our own check: the library accepts leading
 * zeros, raw control characters, bytes that are not UTF-8 and text behind the end, cuts a text at
 * U+0000 and keeps a name that comes twice. It parses; it never prints, for that would change
 * numbers. */
#include "tree/json.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <cJSON.h>

#include "tree/jsoncheck.h"

struct reading {
	struct arena *arena;
	const char *bytes;
	const struct json_start *start; /* of the next value, in the order of the text */
	struct json_fault fault;
};

static enum bad convert(struct reading *r, const cJSON *from, struct json **out);

/* ---- names that come twice ------------------------------------------------------------------- */

enum { FEW = 12 };

static int compare_names(const void *x, const void *y)
{
	const struct json *a = *(const struct json *const *)x, *b = *(const struct json *const *)y;
	int order = strcmp(a->name, b->name);
	return order ? order : a->offset < b->offset ? -1 : a->offset > b->offset;
}

/* The first member whose name one before it has; null if there is none. */
static const struct json *repeated_of_few(const struct json *object)
{
	for (const struct json *later = object->first; later; later = later->next)
		for (const struct json *j = object->first; j != later; j = j->next)
			if (strcmp(j->name, later->name) == 0)
				return later;
	return NULL;
}

static enum bad repeated_of_many(const struct json *object, const struct json **out)
{
	const struct json **list = mem_get(object->count * sizeof *list), *found = NULL;
	size_t n = 0;
	if (!list)
		return BAD_MEMORY;
	for (const struct json *j = object->first; j; j = j->next)
		list[n++] = j;
	qsort(list, n, sizeof *list, compare_names);
	for (size_t i = 1; i < n; i++)
		if (strcmp(list[i - 1]->name, list[i]->name) == 0 &&
			(!found || list[i]->offset < found->offset))
			found = list[i];
	mem_drop(list);
	*out = found;
	return FINE;
}

static enum bad check_names(struct reading *r, const struct json *object)
{
	const struct json *twice = NULL;
	enum bad code = FINE;
	if (object->count <= FEW)
		twice = repeated_of_few(object);
	else
		code = repeated_of_many(object, &twice);
	if (code || !twice)
		return code;
	r->fault = (struct json_fault){twice->name_offset, "this name stands here twice"};
	return BAD_REPEATED;
}

/* ---- from the library's nodes to ours -------------------------------------------------------- */

static enum bad convert_number(struct reading *r, const cJSON *from, bool whole, struct json *j)
{
	j->number = from->valuedouble;
	if (!isfinite(j->number)) {
		r->fault = (struct json_fault){j->offset, "this number is too large"};
		return BAD_RANGE;
	}
	j->kind = whole ? JSON_WHOLE : JSON_NUMBER;
	if (whole)
		j->whole = (int64_t)j->number; /* exact: at most 2^53 - 1 */
	return FINE;
}

static enum bad convert_text(struct reading *r, const char *from, const char **out, size_t *len)
{
	*len = strlen(from);
	*out = arena_copy(r->arena, from, *len);
	return *out ? FINE : BAD_MEMORY;
}

static enum bad convert_children(struct reading *r, const cJSON *from, struct json *j)
{
	struct json **end = &j->first;
	j->kind = cJSON_IsObject(from) ? JSON_OBJECT : JSON_LIST;
	for (const cJSON *child = from->child; child; child = child->next) {
		enum bad code = convert(r, child, end);
		if (code)
			return code;
		end = &(*end)->next;
		j->count++;
	}
	return j->kind == JSON_OBJECT ? check_names(r, j) : FINE;
}

static enum bad convert_value(struct reading *r, const cJSON *from, bool whole, struct json *j)
{
	if (cJSON_IsNull(from))
		return FINE;
	if (cJSON_IsNumber(from))
		return convert_number(r, from, whole, j);
	if (cJSON_IsBool(from)) {
		j->kind = JSON_TRUTH;
		j->truth = cJSON_IsTrue(from);
		return FINE;
	}
	if (cJSON_IsString(from)) {
		j->kind = JSON_TEXT;
		return convert_text(r, from->valuestring, &j->text, &j->len);
	}
	return convert_children(r, from, j);
}

static enum bad convert(struct reading *r, const cJSON *from, struct json **out)
{
	struct json *j = arena_new(r->arena, struct json);
	size_t len;
	if (!j)
		return BAD_MEMORY;
	j->text = "";
	const struct json_start *start = r->start++;
	j->name_offset = start->name;
	j->offset = start->value;
	enum bad code = from->string ? convert_text(r, from->string, &j->name, &len) : FINE;
	if (!code)
		code = convert_value(r, from, start->whole, j);
	if (!code)
		*out = j;
	return code;
}

/* ---- reading --------------------------------------------------------------------------------- */

static enum bad parse(struct reading *r, size_t len, struct json **out)
{
	cJSON_Hooks hooks = {mem_get, mem_drop};
	cJSON_InitHooks(&hooks);
	cJSON *root = cJSON_ParseWithLengthOpts(r->bytes, len, NULL, 0);
	if (!root)
		return BAD_MEMORY; /* what has passed the check can fail for nothing else */
	enum bad code = convert(r, root, out);
	cJSON_Delete(root);
	return code;
}

enum bad json_read(
	struct arena *a, const char *text, size_t len, struct json **out, struct json_fault *fault)
{
	struct reading r = {.arena = a, .bytes = text};
	struct json *made = NULL;
	size_t n;
	struct json_start *starts = mem_get(jsoncheck_most(len) * sizeof *starts);
	if (!starts)
		return BAD_MEMORY;
	r.start = starts;
	enum bad code = jsoncheck(text, len, starts, &n, &r.fault);
	if (!code)
		code = parse(&r, len, &made);
	mem_drop(starts);
	if (!code)
		*out = made;
	else if (fault && code != BAD_MEMORY)
		*fault = r.fault;
	return code;
}

/* ---- asking ---------------------------------------------------------------------------------- */

const struct json *json_find(const struct json *object, const char *name)
{
	if (!object || object->kind != JSON_OBJECT)
		return NULL;
	for (const struct json *j = object->first; j; j = j->next)
		if (strcmp(j->name, name) == 0)
			return j;
	return NULL;
}

static enum bad is_kind(const struct json *j, enum json_kind kind)
{
	return !j ? BAD_MISSING : j->kind == kind ? FINE : BAD_TYPE;
}

enum bad json_text_of(const struct json *j, const char **out)
{
	enum bad code = is_kind(j, JSON_TEXT);
	if (!code)
		*out = j->text;
	return code;
}

enum bad json_truth_of(const struct json *j, bool *out)
{
	enum bad code = is_kind(j, JSON_TRUTH);
	if (!code)
		*out = j->truth;
	return code;
}

enum bad json_whole_of(const struct json *j, int64_t low, int64_t high, int64_t *out)
{
	enum bad code = is_kind(j, JSON_WHOLE);
	if (!code && (j->whole < low || j->whole > high))
		code = BAD_RANGE;
	if (!code)
		*out = j->whole;
	return code;
}

enum bad json_number_of(const struct json *j, double *out)
{
	enum bad code = is_kind(j, JSON_NUMBER);
	if (code == BAD_TYPE && j->kind == JSON_WHOLE)
		code = FINE;
	if (!code)
		*out = j->number;
	return code;
}
