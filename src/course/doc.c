/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "course/doc.h"

#include <string.h>

#include <barwright/base/file.h>
#include <barwright/base/nearest.h>
#include <barwright/base/utf8.h>

#include "course/load.h"

bool doc_fine(struct doc *c, enum bad code)
{
	if (code == BAD_MEMORY)
		c->out = true;
	return code == FINE;
}

void *doc_list(struct doc *c, size_t n, size_t size)
{
	void *made = arena_list(c->arena, n ? n : 1, size);
	if (!made)
		c->out = true;
	return made;
}

void doc_forget(struct diags *d, const struct diags *kept)
{
	*d = *kept;
	if (d->last)
		d->last->next = NULL;
}

/* ---- words ----------------------------------------------------------------------------------- */

const char *doc_keep(struct doc *c, const char *s, size_t len)
{
	const char *copy = arena_copy(c->arena, s, len);
	if (!copy)
		c->out = true;
	return copy ? copy : "";
}

/* What nobody sees may turn a text round or hide a part of it: it is shown spelt out, and the author
 * is told. */
static void invisible_tell(struct doc *c, const struct tree *t, size_t len)
{
	uint32_t code;
	for (size_t i = 0, n; i < len; i += n ? n : 1) {
		n = utf8_plain(t->text + i, len - i);
		if (n || t->text[i] == '\n' || t->text[i] == '\t')
			continue;
		n = utf8_read(t->text + i, len - i, &code);
		if (!n || utf8_is_safe(code))
			continue;
		diag_warn(c->diags, BAD_ENCODING, tree_place(t, i), 1,
			"%s holds the character U+%04X, which nobody sees", tree_name(t),
			(unsigned)code);
		return;
	}
}

static const char *text_of(struct doc *c, struct tree *t, size_t most)
{
	const char *text;
	if (!doc_fine(c, tree_text(t, c->diags, &text)))
		return "";
	size_t len = t->len;
	while (len && (text[len - 1] == '\n' || text[len - 1] == ' '))
		len--;
	if (!len) {
		tree_fault(t, c->diags, BAD_MISSING, "%s is empty", tree_name(t));
		return "";
	}
	if (len > most && utf8_count(text, len) > most) {
		tree_fault(t, c->diags, BAD_SIZE, "%s has %zu characters, more than %zu",
			tree_name(t), utf8_count(text, len), most);
		return "";
	}
	invisible_tell(c, t, len);
	return doc_keep(c, text, len);
}

const char *doc_text(struct doc *c, struct tree *t)
{
	return text_of(c, t, TEXT_MOST);
}

const char *doc_line(struct doc *c, struct tree *t)
{
	const char *text = text_of(c, t, LINE_MOST);
	if (*text && strchr(text, '\n')) {
		tree_fault(t, c->diags, BAD_SYNTAX, "%s must be one line", tree_name(t));
		return "";
	}
	return text;
}

static bool is_code_byte(char c)
{
	return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
	       c == '-' || c == '.' || c == '_';
}

/* Bytes up to the first that may not stand in a code. */
static size_t code_length(const char *s, size_t len)
{
	size_t n = 0;
	while (n < len && is_code_byte(s[n]) && (n || (s[n] != '-' && s[n] != '.' && s[n] != '_')))
		n++;
	return n;
}

const char *doc_code(struct doc *c, struct tree *t)
{
	const char *text;
	if (!doc_fine(c, tree_text(t, c->diags, &text)))
		return "";
	size_t good = code_length(text, t->len);
	if (good == t->len && good && good <= CODE_MOST)
		return doc_keep(c, text, good);
	if (good == t->len && good)
		tree_fault(t, c->diags, BAD_SIZE, "%s is longer than %d letters", tree_name(t),
			CODE_MOST);
	else
		tree_fault(t, c->diags, BAD_SYNTAX, "%s cannot be used as a code",
			t->len ? tree_shown(t) : tree_name(t));
	diag_hint(c->diags, "letters, digits, '-', '.' and '_', beginning with a letter or digit: "
			    "between-centres");
	return "";
}

const char *doc_file(struct doc *c, struct tree *t)
{
	const char *name = doc_code(c, t);
	if (!*name || (t->len > 5 && memcmp(name + t->len - 5, ".yaml", 5) == 0))
		return name;
	tree_fault(t, c->diags, BAD_SYNTAX, "'%s' is no name of a course file", name);
	diag_hint(c->diags, "the names of course files end in .yaml: %s.yaml", name);
	return "";
}

struct tree *doc_children(struct doc *c, struct tree *t, enum tree_kind kind)
{
	if (!doc_fine(c, tree_is(t, kind, c->diags)))
		return NULL;
	if (t->count && t->count <= CHILDREN_MOST)
		return t->first;
	if (!t->count)
		tree_fault(t, c->diags, BAD_MISSING, "%s is empty", tree_name(t));
	else
		tree_fault(t, c->diags, BAD_SIZE, "%s has %zu entries; at most %d are read",
			tree_name(t), t->count, CHILDREN_MOST);
	t->broken = true;
	return NULL;
}

const char *const *doc_lines(struct doc *c, struct tree *t, size_t *n)
{
	struct tree *child = doc_children(c, t, TREE_LIST);
	const char **list = doc_many(c, child ? t->count : 0, const char *);
	size_t k = 0;
	for (; list && child; child = child->next)
		list[k++] = doc_line(c, child);
	*n = k;
	return list;
}

bool doc_truth(struct doc *c, struct tree *t)
{
	bool truth = false;
	doc_fine(c, tree_truth(t, c->diags, &truth));
	return truth;
}

int doc_whole(struct doc *c, struct tree *t, int low, int high, int otherwise)
{
	int64_t n = otherwise;
	doc_fine(c, tree_whole(t, low, high, c->diags, &n));
	return (int)n;
}

struct tree *doc_only(struct doc *c, struct tree *t, const char *example)
{
	struct tree *first = doc_children(c, t, TREE_MAP);
	if (!first)
		return NULL;
	first->used = true;
	if (!first->next)
		return first;
	struct tree *second = first->next;
	diag_error(c->diags, BAD_COUNT, second->key_place, second->key_span,
		"'%s' stands beside '%s' where one of them is needed", second->key, first->key);
	diag_hint(c->diags, "%s", example);
	t->broken = true;
	return NULL;
}

const char *doc_dim(struct doc *c, struct dim dim)
{
	struct text words;
	text_init(&words);
	dim_add_name(dim, &words);
	const char *made = words.out ? NULL : arena_copy(c->aside, words.at, words.len);
	text_release(&words);
	if (!made)
		c->out = true;
	return made ? made : "";
}

/* ---- units and quantities -------------------------------------------------------------------- */

static const char quantity_hint[] =
	"write a number and its unit, for example 3.50 mm; formulas belong under 'let'";

/* "16:00" where a quantity is read: the number was 16, and ":00" is left. */
static bool is_time_of_day(const struct tree *t, size_t at, unsigned *minutes)
{
	unsigned hour = 0;
	const char *s = t->text + at;
	if (at < 1 || at > 2 || t->len != at + 3 || s[0] != ':' || s[1] < '0' || s[1] > '5' ||
		s[2] < '0' || s[2] > '9')
		return false;
	for (size_t k = 0; k < at; k++) {
		if (t->text[k] < '0' || t->text[k] > '9')
			return false;
		hour = hour * 10 + (unsigned)(t->text[k] - '0');
	}
	*minutes = hour * 60 + (unsigned)(s[1] - '0') * 10 + (unsigned)(s[2] - '0');
	return hour <= 24;
}

static void refuse_time_of_day(struct doc *c, struct tree *t, unsigned minutes)
{
	tree_fault(t, c->diags, BAD_SYNTAX, "a time of day is written as a time since midnight");
	if (minutes % 60)
		diag_hint(c->diags, "write %u min; {name:clock} then shows it as %s", minutes,
			t->text);
	else
		diag_hint(c->diags, "write %u h or %u min; {name:clock} then shows it as %s",
			minutes / 60, minutes, t->text);
}

/* Reads the unit that stands `at` bytes into the value of `t` and goes on to its end. */
static bool unit_at(struct doc *c, struct tree *t, size_t at, struct unit *out, const char **text)
{
	const char *s = t->text + at;
	size_t fault, fault_len, len = t->len - at;
	if (c->unit_text && len == c->unit_len && memcmp(s, c->unit_text, len) == 0) {
		*out = c->unit;
		*text = c->unit_text;
		return true;
	}
	enum bad code = unit_read(s, len, &c->unit, &fault, &fault_len);
	if (!code) {
		c->unit_text = arena_copy(c->arena, s, len);
		c->unit_len = len;
		*out = c->unit;
		*text = c->unit_text;
		c->out = c->out || !c->unit_text;
		return c->unit_text != NULL;
	}
	unsigned minutes;
	c->unit_text = NULL;
	if (is_time_of_day(t, at, &minutes)) {
		refuse_time_of_day(c, t, minutes);
		t->broken = true;
		return false;
	}
	diag_error(c->diags, code, tree_place(t, at + fault),
		(uint32_t)utf8_count(s + fault, fault_len),
		code == BAD_UNKNOWN ? "no unit is called '%.*s'"
				    : "'%.*s' cannot be read as a unit",
		(int)(code == BAD_UNKNOWN ? fault_len : len), code == BAD_UNKNOWN ? s + fault : s);
	const char *near = unit_nearest(s + fault, fault_len);
	if (near)
		diag_hint(c->diags, "did you mean '%s'?", near);
	else if (at)
		diag_hint(c->diags, "%s", quantity_hint);
	t->broken = true;
	return false;
}

bool doc_quantity(struct doc *c, struct tree *t, struct quantity *out)
{
	size_t at;
	if (!doc_fine(c, tree_number(t, "a number with a unit", quantity_hint, c->diags,
				 &out->number, &at)))
		return false;
	out->unit_len = t->len - at;
	return unit_at(c, t, at, &out->of, &out->unit);
}

double quantity_span(const struct quantity *q)
{
	return decimal_value(q->number) * q->of.factor;
}

bool doc_unit(struct doc *c, struct tree *t, struct unit *out, const char **text)
{
	const char *as_it_is;
	if (!doc_fine(c, tree_text(t, c->diags, &as_it_is)))
		return false;
	return unit_at(c, t, 0, out, text);
}

#define LENGTH(n)      .power[DIM_LENGTH] = (n)
#define FORCE_TIMES(n) .power = {[DIM_MASS] = 1, [DIM_LENGTH] = 1 + (n), [DIM_TIME] = -2}
static const struct {
	struct dim dim;
	const char *text;
} usual_units[] = {
	{{LENGTH(1)}, "mm"},
	{{LENGTH(0)}, ""},
	{{FORCE_TIMES(0)}, "N"},
	{{FORCE_TIMES(-2)}, "MPa"},
	{{.power[DIM_ANGLE] = 1}, "deg"},
	{{FORCE_TIMES(1)}, "N mm"},
	{{FORCE_TIMES(-1)}, "N/mm"},
	{{LENGTH(2)}, "mm2"},
	{{LENGTH(3)}, "mm3"},
	{{LENGTH(4)}, "mm4"},
};
#undef LENGTH
#undef FORCE_TIMES

bool doc_usual_unit(struct doc *c, struct dim dim, struct unit *out, const char **text)
{
	static const char *const base[DIM_COUNT] = {"mm", "t", "s", "rad", "K", "mol", "money"};
	size_t at, len;
	for (size_t i = 0; i < sizeof usual_units / sizeof *usual_units; i++)
		if (dim_is_equal(usual_units[i].dim, dim)) {
			*text = usual_units[i].text;
			return unit_read(*text, strlen(*text), out, &at, &len) == FINE;
		}
	const char *made = "";
	for (int i = 0; i < DIM_COUNT && made; i++)
		if (dim.power[i] == 1)
			made = arena_format(c->arena, "%s%s%s", made, *made ? " " : "", base[i]);
		else if (dim.power[i])
			made = arena_format(c->arena, "%s%s%s%d", made, *made ? " " : "", base[i],
				dim.power[i]);
	if (!made)
		c->out = true;
	*text = made ? made : "";
	*out = (struct unit){1, 0, dim};
	return made != NULL;
}

/* ---- names ----------------------------------------------------------------------------------- */

static bool bad_name(struct doc *c, struct names *n, struct tree *t, enum bad code, size_t slot)
{
	const char *why = "cannot be used as a name";
	if (!doc_fine(c, code) && c->out)
		return false;
	if (code == BAD_REPEATED) {
		diag_error(
			c->diags, code, t->key_place, t->key_span, "'%s' is there already", t->key);
		diag_note(c->diags, n->scope->name[slot].declared, "here it stands first");
	} else {
		names_lose(n, t);
		formula_name_is_free(t->key, t->key_len, &why);
		diag_error(c->diags, BAD_SYNTAX, t->key_place, t->key_span, "'%s' %s", t->key, why);
		diag_hint(c->diags,
			"take another name: a letter, then letters, digits and '_', for example "
			"left_x");
	}
	t->broken = true;
	return false;
}

bool names_add(struct doc *c, struct names *n, struct tree *t, struct formula_type type,
	const struct shown *shown, size_t *slot)
{
	struct formula_name name = {
		arena_copy(c->arena, t->key, t->key_len), t->key_len, type, t->key_place, 0};
	if (!name.name) {
		c->out = true;
		return false;
	}
	enum bad code = formula_scope_add(c->arena, n->scope, &name, slot);
	if (code)
		return bad_name(c, n, t, code, *slot);
	n->shown[*slot] = *shown;
	return true;
}

void names_lose(struct names *n, const struct tree *t)
{
	n->lost[n->nlost++] = t;
}

bool names_is_lost(const struct names *n, const char *name, size_t len)
{
	for (size_t i = 0; n && i < n->nlost; i++)
		if (n->lost[i]->key_len == len && memcmp(n->lost[i]->key, name, len) == 0)
			return true;
	return false;
}

static bool is_name_byte(char c)
{
	return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
	       c == '_';
}

/* The word of a formula at or behind s[*at]: its length, 0 when there is none; *at is where it stands. */
static size_t next_word(const char *s, size_t len, size_t *at)
{
	size_t end;
	while (*at < len && !is_name_byte(s[*at]))
		++*at;
	for (end = *at; end < len && is_name_byte(s[end]);)
		end++;
	return end - *at;
}

static bool mentions_lost(const struct names *n, const char *s, size_t len)
{
	for (size_t at = 0, word; n && n->nlost && (word = next_word(s, len, &at)); at += word)
		if (names_is_lost(n, s + at, word))
			return true;
	return false;
}

/* A name that was not found may stand further down. */
static void not_compiled(
	struct doc *c, const struct names *n, struct tree *t, const char *s, size_t len)
{
	const struct diag *last = c->diags->last;
	t->broken = true;
	if (!n || !n->now || !last || last->code != BAD_UNKNOWN)
		return;
	for (size_t at = 0, word; (word = next_word(s, len, &at)); at += word)
		for (const struct tree *later = n->now; later; later = later->next)
			if (later->key_len == word && memcmp(later->key, s + at, word) == 0) {
				diag_hint(c->diags,
					later == n->now ? "'%s' cannot be worked out from itself"
							: "'%s' stands further down: move it above",
					later->key);
				return;
			}
}

bool names_vary(const struct names *n, const struct formula *f)
{
	if (formula_is_constant(f))
		return false;
	for (size_t slot = 0; n->nfixed && slot < n->scope->n; slot++)
		if (!n->fixed[slot] && formula_uses(f, slot))
			return true;
	return !n->nfixed;
}

/* ---- formulas -------------------------------------------------------------------------------- */

struct passage_of_text {
	const char *at;
	size_t len;
	bool straight; /* stands like this in the file */
};

/* Puts the values of a YAML list together again, as the formula list they look like. It is straight
 * when every value stands where it would stand in "[a, b, c]". */
static bool join(struct doc *c, struct tree *t, struct passage_of_text *out)
{
	size_t len = 2;
	for (struct tree *v = doc_children(c, t, TREE_LIST); v; v = v->next) {
		if (!doc_fine(c, tree_is(v, TREE_SCALAR, c->diags)))
			return false;
		len += v->len + 2;
	}
	if (t->broken)
		return false;
	char *text = arena_get(c->aside, len);
	if (!text) {
		c->out = true;
		return false;
	}
	uint32_t col = t->place.col + 1;
	*out = (struct passage_of_text){text, 0, true};
	for (struct tree *v = t->first; v; v = v->next) {
		out->straight = out->straight && v->straight && v->place.col == col &&
				v->place.line == t->place.line;
		col += (uint32_t)utf8_count(v->text, v->len) + 2;
		memcpy(text + out->len, v == t->first ? "[" : ", ", 2);
		out->len += v == t->first ? 1 : 2;
		memcpy(text + out->len, v->text, v->len);
		out->len += v->len;
	}
	text[out->len++] = ']';
	return true;
}

struct formula *doc_formula(struct doc *c, const struct names *n, struct tree *t)
{
	struct passage_of_text text;
	struct formula *f = NULL;
	if (!t || t->broken)
		return NULL;
	if (t->kind == TREE_LIST) {
		if (!join(c, t, &text))
			return NULL;
	} else {
		if (!doc_fine(c, tree_text(t, c->diags, &text.at)))
			return NULL;
		text.len = t->len;
		text.straight = t->straight;
	}
	if (mentions_lost(n, text.at, text.len))
		return NULL;
	if (!doc_fine(c, formula_compile(c->arena, text.at, text.len, t->place, text.straight,
				 n ? n->scope : NULL, c->diags, &f)))
		not_compiled(c, n, t, text.at, text.len);
	return f;
}

static const char *kind_words(enum formula_kind kind)
{
	static const char *const words[] = {"a number", "a truth (yes or no)", "a list"};
	return words[kind];
}

bool doc_kind(struct doc *c, struct tree *t, const struct formula *f, unsigned kinds)
{
	if (!f)
		return false;
	enum formula_kind kind = formula_result(f).kind;
	if (kinds & 1U << kind)
		return true;
	const char *wanted = kinds == A_TRUTH  ? kind_words(FORMULA_TRUTH)
			     : kinds == A_LIST ? kind_words(FORMULA_LIST)
			     : kinds & A_LIST  ? "a number or a list"
					       : kind_words(FORMULA_NUMBER);
	tree_fault(t, c->diags, BAD_TYPE, "%s gives %s where %s is needed", tree_name(t),
		kind_words(kind), wanted);
	return false;
}

bool doc_fits(
	struct doc *c, struct tree *t, const struct formula *f, struct dim dim, const char *what)
{
	if (!f)
		return false;
	struct formula_type type = formula_result(f), want = {type.kind, dim};
	if (formula_fits(f, want))
		return true;
	tree_fault(t, c->diags, BAD_UNIT, "%s is %s where %s is needed", what, doc_dim(c, type.dim),
		doc_dim(c, dim));
	return false;
}

/* "clock" and "days" stand for times of day. */
static bool is_clock(const struct doc *c, const struct tree *unit, struct shown *out)
{
	if (!c->clock || unit->kind != TREE_SCALAR)
		return false;
	bool days = strcmp(unit->text, "days") == 0;
	if (!days && strcmp(unit->text, "clock") != 0)
		return false;
	out->clock = &c->clock[days];
	return true;
}

void doc_clock(struct shown *out)
{
	out->unit = (struct unit){60, 0, {.power[DIM_TIME] = 1}};
	out->unit_text = "";
	out->places = 0;
}

static bool shown_unit(struct doc *c, struct tree *unit, const struct formula *f, struct shown *out)
{
	struct formula_type type = formula_result(f), want = type;
	if (type.kind == FORMULA_TRUTH) {
		if (unit)
			tree_fault(unit, c->diags, BAD_TYPE, "a truth has no unit");
		return doc_usual_unit(c, type.dim, &out->unit, &out->unit_text);
	}
	if (!unit)
		return doc_usual_unit(c, type.dim, &out->unit, &out->unit_text);
	if (is_clock(c, unit, out))
		doc_clock(out);
	else if (!doc_unit(c, unit, &out->unit, &out->unit_text))
		return false;
	want.dim = out->unit.dim;
	if (formula_fits(f, want))
		return true;
	if (*out->unit_text)
		tree_fault(unit, c->diags, BAD_UNIT, "%s cannot be shown in '%s', a unit of %s",
			doc_dim(c, type.dim), out->unit_text, doc_dim(c, want.dim));
	else
		tree_fault(unit, c->diags, BAD_UNIT, "%s cannot be shown without a unit",
			doc_dim(c, type.dim));
	return false;
}

bool doc_shown(struct doc *c, const struct names *n, struct tree *map, const struct formula *f,
	struct shown *out)
{
	struct tree *unit = map ? tree_find(map, "unit") : NULL;
	struct tree *places = map ? tree_find(map, "places") : NULL;
	struct shown made = {.unit_text = ""};
	if (!f || !shown_unit(c, unit, f, &made)) {
		doc_whole(c, places, 0, DECIMAL_PLACES, USUAL_PLACES);
		return false;
	}
	bool whole = n && !*made.unit_text && !made.clock && formula_is_whole(f, n->whole);
	made.places = doc_whole(c, places, 0, DECIMAL_PLACES, whole ? 0 : USUAL_PLACES);
	*out = made;
	return true;
}

/* Nobody weighs in tonnes or counts a working day in seconds. */
void doc_shown_tell(struct doc *c, struct tree *t, struct tree *map, const struct shown *shown)
{
	static const struct {
		struct dim dim;
		const char *unit;
	} usual[] = {{{.power[DIM_MASS] = 1}, "g"}, {{.power[DIM_TIME] = 1}, "min"},
		{{.power[DIM_TEMPERATURE] = 1}, "degC"},
		{{.power[DIM_MASS] = 1, .power[DIM_LENGTH] = -3}, "g/cm3"}};
	struct dim dim = shown->unit.dim;
	const char *better = "g/s";
	size_t at;
	for (at = 0; at < sizeof usual_units / sizeof *usual_units; at++)
		if (dim_is_equal(usual_units[at].dim, dim))
			return;
	if ((map && tree_find(map, "unit")) ||
		(!dim.power[DIM_MASS] && !dim.power[DIM_TIME] && !dim.power[DIM_TEMPERATURE]))
		return;
	for (at = 0; at < sizeof usual / sizeof *usual; at++)
		if (dim_is_equal(usual[at].dim, dim))
			better = usual[at].unit;
	diag_warn(c->diags, BAD_UNIT, t->place, t->span, "without 'unit' this is shown in %s",
		shown->unit_text);
	diag_hint(c->diags, "say in which unit it is read, for example unit: %s", better);
}

/* ---- files ----------------------------------------------------------------------------------- */

const char *const document_kinds[] = {
#define X(kind) #kind,
	DOCUMENT_KINDS(X)
#undef X
		NULL};

int document_kind(const struct tree *root)
{
	if (!root || root->kind != TREE_MAP || !root->first)
		return -1;
	for (int i = 0; document_kinds[i]; i++)
		if (strcmp(root->first->key, document_kinds[i]) == 0)
			return i;
	return -1;
}

bool document_is(struct doc *c, const struct document *d, const char *kind)
{
	struct tree *first = doc_children(c, d->root, TREE_MAP);
	if (!first || strcmp(first->key, kind) == 0)
		return first != NULL;
	if (document_kind(d->root) >= 0)
		diag_error(c->diags, BAD_TYPE, first->key_place, first->key_span,
			"this file begins with '%s' where '%s' is needed", first->key, kind);
	else
		diag_error(c->diags, BAD_MISSING, first->key_place, first->key_span,
			"this file does not begin with '%s'", kind);
	diag_hint(c->diags, "its first line tells what it is and its code: '%s: some-code'", kind);
	return false;
}

void doc_code_is_name(struct doc *c, struct tree *code)
{
	if (!code || code->kind != TREE_SCALAR || code->broken)
		return;
	const char *name = file_name(code->place.source->name);
	size_t len = strlen(name), end = strlen(".yaml");
	if (len == code->len + end && memcmp(name, code->text, code->len) == 0)
		return;
	tree_fault(code, c->diags, BAD_UNKNOWN, "it calls itself '%s', but its file is '%s'",
		code->text, name);
	diag_hint(c->diags, "name the file %s.yaml, also in its module.yaml", code->text);
}

void document_read(struct doc *c, const struct source *file, struct document *out)
{
	*out = (struct document){.file = file, .before = c->diags->nerror};
	doc_fine(c, tree_read(c->aside, file, c->diags, &out->root));
}

struct hash document_hash(const struct document *d)
{
	return hash_bytes(d->file->text, d->file->len);
}

enum bad document_open(struct doc *c, const char *path, struct document *out)
{
	char *bytes;
	size_t len;
	enum bad code = file_read(path, COURSE_FILE_BYTES, c->arena, &bytes, &len);
	if (!doc_fine(c, code))
		return code;
	struct source *file = doc_many(c, 1, struct source);
	if (!file)
		return BAD_MEMORY;
	*file = (struct source){doc_keep(c, path, strlen(path)), bytes, len};
	document_read(c, file, out);
	return FINE;
}

void file_fault(struct doc *c, struct tree *t, enum bad code, const char *path)
{
	struct text words;
	if (!doc_fine(c, code) && code == BAD_MEMORY)
		return;
	text_init(&words);
	file_words(code, path, &words);
	tree_fault(t, c->diags, code, "%s", words.at);
	c->out = c->out || words.out;
	text_release(&words);
}
