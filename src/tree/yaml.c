/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The only door to libyaml: its events become a tree. The library sets no limit to depth, size or
 * aliases and takes quadratic time for deep brackets, so the events are counted here and reading
 * stops at the first that is too deep. */
#include <stdarg.h>
#include <string.h>

#include <yaml.h>

#include <barwright/base/utf8.h>

#include "tree/explain.h"
#include "tree/keys.h"
#include "tree/tree.h"

/* A list or map that is still open. In a map a key makes `pending`, which the next value fills. */
struct level {
	struct tree *node, *last;
	struct tree *pending;
	bool lost;    /* the key was refused: its value is read and dropped */
	bool is_key;  /* this list or map stands where a key should */
	bool has_key; /* a key has been met and its value not yet */
};

struct reading {
	struct arena *arena;
	const struct source *source;
	struct diags *diags;
	enum bad code; /* of the first fault */
	uint32_t line; /* of the last fault of this floor */
	bool stop;     /* read no further: there is nothing to give */
	bool done;     /* the end of the text has been reached */
	yaml_parser_t parser;
	size_t mark_bytes; /* bytes before the first one the library sees: those of a byte order mark */
	bool ascii;        /* the n-th character is the n-th byte */
	size_t at_index, at_byte; /* a character already counted, and its byte */
	size_t nodes, documents;
	unsigned depth, flow; /* open lists and maps; those of them in [ ] or { } */
	struct level level[TREE_DEPTH];
	struct tree *root;
};

/* ---- faults ---------------------------------------------------------------------------------- */

static void failed(struct reading *r, enum bad code, struct place at)
{
	if (!r->code)
		r->code = code;
	r->line = at.line;
}

static void no_memory(struct reading *r)
{
	r->code = BAD_MEMORY;
	r->diags->out = 1;
	r->stop = true;
}

/* Adds a fault of this floor; hint and note follow through diag_hint and diag_note. */
static void refuse(struct reading *r, enum bad code, struct place at, uint32_t span,
	const char *format, ...) __attribute__((format(printf, 5, 6)));

static void refuse(
	struct reading *r, enum bad code, struct place at, uint32_t span, const char *format, ...)
{
	va_list args;
	va_start(args, format);
	const char *words = arena_vformat(r->arena, format, args);
	va_end(args);
	failed(r, code, at);
	if (words)
		diag_error(r->diags, code, at, span, "%s", words);
	else
		no_memory(r);
}

/* ---- before the library sees it -------------------------------------------------------------- */

enum {
	BYTE_ORDER_MARK = 0xFEFF,
	NEXT_LINE = 0x85,
	LINE_SEPARATOR = 0x2028,
	PARAGRAPH_SEPARATOR = 0x2029
};

/* Directional embeddings, overrides and isolates: they let a line look other than it is read. */
static bool is_reordering(uint32_t code)
{
	return (code >= 0x202A && code <= 0x202E) || (code >= 0x2066 && code <= 0x2069);
}

/* What YAML 1.2 calls printable (c-printable), without the characters that count as line ends to
 * this library and not to editors. */
static bool is_readable(uint32_t code)
{
	if (code == '\t' || code == '\n' || code == '\r')
		return true;
	return code >= 0x20 && (code < 0x7F || code >= 0xA0) && code != LINE_SEPARATOR &&
	       code != PARAGRAPH_SEPARATOR && code != BYTE_ORDER_MARK && code != 0xFFFE &&
	       code != 0xFFFF;
}

static void refuse_byte(struct reading *r, size_t i)
{
	refuse(r, BAD_ENCODING, source_place(r->source, i), 1, "byte %02X here is not UTF-8 text",
		(unsigned)(unsigned char)r->source->text[i]);
	diag_hint(r->diags, "save the file as UTF-8; most editors offer it under \"save as\"");
	r->stop = true;
}

static void refuse_code(struct reading *r, size_t i, uint32_t code)
{
	refuse(r, BAD_ENCODING, source_place(r->source, i), 1,
		"the invisible character U+%04X cannot stand in this file", (unsigned)code);
	diag_hint(r->diags, code == '\r' ? "save the file with the line ends of Unix or Windows"
			    : code       ? "take it out"
					 : "save the file as UTF-8 text");
	r->stop = true;
}

static void warn_reordering(struct reading *r, size_t i, uint32_t code)
{
	diag_warn(r->diags, BAD_ENCODING, source_place(r->source, i), 1,
		"the invisible character U+%04X changes the order in which this line is shown",
		(unsigned)code);
	diag_hint(r->diags, "take it out unless the text runs from right to left");
}

/* One character that is not plain ASCII text; gives its bytes. */
static size_t check_code(struct reading *r, size_t i, bool *warned)
{
	const struct source *s = r->source;
	uint32_t code;
	size_t n = utf8_read(s->text + i, s->len - i, &code);
	if (!n)
		refuse_byte(r, i);
	else if (!is_readable(code) ||
		 (code == '\r' && (i + 1 == s->len || s->text[i + 1] != '\n')))
		refuse_code(r, i, code);
	else if (is_reordering(code) && !*warned) {
		warn_reordering(r, i, code);
		*warned = true;
	}
	if (n > 1)
		r->ascii = false;
	return n ? n : 1;
}

static void refuse_line(struct reading *r, size_t start)
{
	refuse(r, BAD_SIZE, source_place(r->source, start), 1, "this line has more than %d bytes",
		TREE_LINE);
	diag_hint(
		r->diags, "break it into several; a long text goes on in lines that are indented");
	r->stop = true;
}

static void check_bytes(struct reading *r)
{
	const struct source *s = r->source;
	bool warned = false;
	size_t start = 0;
	r->ascii = true;
	if (s->len >= 3 && memcmp(s->text, "\xEF\xBB\xBF", 3) == 0)
		r->mark_bytes = 3;
	for (size_t i = r->mark_bytes; i < s->len && !r->stop;) {
		size_t plain = utf8_plain(s->text + i, s->len - i);
		i += plain;
		if (!plain && s->text[i] == '\n')
			start = ++i;
		else if (!plain)
			i += check_code(r, i, &warned);
		if (i - start > TREE_LINE)
			refuse_line(r, start);
	}
	r->at_byte = r->mark_bytes;
}

/* ---- places ---------------------------------------------------------------------------------- */

static struct place place_of(const struct reading *r, yaml_mark_t mark)
{
	/* The library has not seen the byte order mark, which the source's first line has. */
	uint32_t shift = !mark.line && r->mark_bytes ? 1 : 0;
	return (struct place){
		r->source, (uint32_t)mark.line + 1, (uint32_t)mark.column + 1 + shift};
}

/* The byte at which a mark stands. Scalars come in the order of the text, so all of them together
 * are found in one walk; should one not, it is nowhere. */
static size_t byte_of(struct reading *r, yaml_mark_t mark)
{
	if (r->ascii)
		return mark.index + r->mark_bytes;
	if (mark.index < r->at_index)
		return r->source->len;
	size_t byte = r->at_byte;
	for (size_t n = mark.index - r->at_index; n && byte < r->source->len; n--)
		do
			byte++;
		while (((unsigned char)r->source->text[byte] & 0xC0) == 0x80);
	r->at_index = mark.index;
	r->at_byte = byte;
	return byte;
}

static size_t line_rest(const struct reading *r, size_t byte)
{
	const char *from = r->source->text + byte;
	const char *end = memchr(from, '\n', r->source->len - byte);
	size_t n = end ? (size_t)(end - from) : r->source->len - byte;
	return n && from[n - 1] == '\r' ? n - 1 : n;
}

static uint32_t columns(yaml_mark_t from, yaml_mark_t end)
{
	return from.line == end.line && end.column > from.column
		       ? (uint32_t)(end.column - from.column)
		       : 1;
}

/* ---- nodes ----------------------------------------------------------------------------------- */

static struct level *top(struct reading *r)
{
	return r->depth ? &r->level[r->depth - 1] : NULL;
}

static struct tree *node_new(struct reading *r)
{
	struct tree *node = arena_new(r->arena, struct tree);
	if (!node) {
		no_memory(r);
		return NULL;
	}
	node->arena = r->arena;
	node->text = "";
	node->span = 1;
	return node;
}

static void link_in(struct reading *r, struct level *in, struct tree *node)
{
	if (!in) {
		r->root = node;
		return;
	}
	node->parent = in->node;
	if (in->lost)
		return;
	if (in->last)
		in->last->next = node;
	else
		in->node->first = node;
	in->last = node;
	node->index = in->node->count++;
}

/* The node for a value that begins now: the one its key has made, or a new one. */
static struct tree *value_new(struct reading *r, yaml_mark_t at)
{
	struct level *in = top(r);
	struct tree *node = in && in->pending ? in->pending : node_new(r);
	if (!node)
		return NULL;
	if (++r->nodes > TREE_NODES) {
		refuse(r, BAD_SIZE, place_of(r, at), 1,
			"there are more than %d values in this file", TREE_NODES);
		diag_hint(r->diags, "part it into several files");
		r->stop = true;
		return NULL;
	}
	link_in(r, in, node);
	if (in) {
		in->pending = NULL;
		in->has_key = in->lost = false;
	}
	return node;
}

/* ---- what is not read here ------------------------------------------------------------------- */

/* What would not be kept is counted without looking for its words. */
static void refuse_start(struct reading *r, struct place at)
{
	if (r->diags->nerror < DIAGS_KEPT)
		explain_start(at, r->flow > 0, r->diags);
	else
		diag_error(r->diags, BAD_SYNTAX, at, 1, "a value cannot begin like this");
	failed(r, BAD_SYNTAX, at);
}

/* Anchors and tags stand before the value; the event begins with them. */
static bool check_properties(
	struct reading *r, yaml_mark_t at, const yaml_char_t *anchor, const yaml_char_t *tag)
{
	if (!anchor && !tag)
		return true;
	refuse_start(r, place_of(r, at));
	return false;
}

static bool is_key_next(const struct level *in)
{
	return in && in->node->kind == TREE_MAP && !in->has_key;
}

/* A list or map, or a long text, where a key should be; told once a line, since {{{a}}} has three. */
static void refuse_key(struct reading *r, yaml_mark_t at)
{
	if (r->code && r->line == place_of(r, at).line)
		return;
	refuse(r, BAD_TYPE, place_of(r, at), 1, "this cannot be a name");
	diag_hint(r->diags,
		"a name is a plain word; text that begins with '{' or '[' belongs in quotes");
}

static void lose_key(struct level *in)
{
	in->pending = NULL;
	in->lost = in->has_key = true;
}

/* ---- scalars --------------------------------------------------------------------------------- */

struct scalar {
	const char *text;
	size_t len;
	yaml_scalar_style_t style;
	yaml_mark_t start, end;
	bool clean; /* no anchor, no tag, no 0 in it */
};

static struct scalar scalar_of(struct reading *r, const yaml_event_t *e)
{
	struct scalar s = {(const char *)e->data.scalar.value, e->data.scalar.length,
		e->data.scalar.style, e->start_mark, e->end_mark, true};
	s.clean = check_properties(r, s.start, e->data.scalar.anchor, e->data.scalar.tag);
	if (!memchr(s.text, 0, s.len))
		return s;
	refuse(r, BAD_ENCODING, place_of(r, s.start), columns(s.start, s.end),
		"a text cannot hold the character U+0000");
	diag_hint(r->diags, "use '...' quotes, in which a backslash is an ordinary character");
	s.clean = false;
	return s;
}

/* 1 for a scalar in quotes: where its value begins on the line. */
static uint32_t quote_columns(const struct scalar *s)
{
	return s->style == YAML_SINGLE_QUOTED_SCALAR_STYLE ||
	       s->style == YAML_DOUBLE_QUOTED_SCALAR_STYLE;
}

static bool is_block(const struct scalar *s)
{
	return s->style == YAML_LITERAL_SCALAR_STYLE || s->style == YAML_FOLDED_SCALAR_STYLE;
}

static uint32_t scalar_columns(const struct scalar *s)
{
	uint32_t all = columns(s->start, s->end), quotes = 2 * quote_columns(s);
	return all > quotes ? all - quotes : 1;
}

/* Do the bytes of the value stand in the source as they are, and nothing else between the quotes? */
static bool is_straight(struct reading *r, const struct scalar *s, size_t byte)
{
	if (s->start.line != s->end.line || is_block(s) || !s->clean)
		return false;
	size_t inside = s->end.index - s->start.index - 2 * quote_columns(s);
	return byte <= r->source->len && s->len <= r->source->len - byte &&
	       memcmp(r->source->text + byte, s->text, s->len) == 0 &&
	       (r->ascii ? s->len : utf8_count(s->text, s->len)) == inside;
}

/* ` #b` after a plain value is a comment, and perhaps was not meant to be one. */
static void check_comment(struct reading *r, size_t end, yaml_mark_t mark)
{
	size_t n = end;
	const char *s = r->source->text; /* ends in a 0 */
	while (s[n] == ' ' || s[n] == '\t')
		n++;
	if (n == end || s[n] != '#' || !s[n + 1] || strchr(" \t\r\n#!-=*", s[n + 1]))
		return;
	struct place at = place_of(r, mark);
	at.col += (uint32_t)(n - end);
	diag_warn(r->diags, BAD_UNUSED, at, (uint32_t)utf8_count(s + n, line_rest(r, n)),
		"this is a comment and not part of the value");
	diag_hint(r->diags, "if it belongs to the value, put the whole value in quotes; if it is a "
			    "comment, write a space behind the '#'");
}

static void place_scalar(struct reading *r, struct tree *node, const struct scalar *s)
{
	size_t byte = byte_of(r, s->start) + quote_columns(s);
	node->place = place_of(r, s->start);
	node->place.col += quote_columns(s);
	node->straight = is_straight(r, s, byte);
	if (is_block(s))
		node->span = 1;
	else if (s->start.line == s->end.line)
		node->span = scalar_columns(s);
	else
		node->span = (uint32_t)utf8_count(r->source->text + byte, line_rest(r, byte));
	if (!node->span) /* an open quote at the end of its line */
		node->span = 1;
	if (node->straight && s->style == YAML_PLAIN_SCALAR_STYLE)
		check_comment(r, byte + s->len, s->end);
}

static void scalar_fill(struct reading *r, struct tree *node, const struct scalar *s)
{
	node->quoted = s->style != YAML_PLAIN_SCALAR_STYLE;
	node->block = s->style == YAML_LITERAL_SCALAR_STYLE;
	node->broken = !s->clean;
	place_scalar(r, node, s);
	if (!s->len && !node->quoted && node->key) {
		node->place = node->key_place;
		node->span = node->key_span;
		node->straight = false;
	}
	if (!s->clean || !s->len)
		return;
	node->text = arena_copy(r->arena, s->text, s->len);
	node->len = s->len;
	if (!node->text)
		no_memory(r);
}

static bool is_merge_key(const struct scalar *s)
{
	return s->style == YAML_PLAIN_SCALAR_STYLE && s->len == 2 && memcmp(s->text, "<<", 2) == 0;
}

/* Inside brackets the library takes the first byte of `?x` for a sign of its own. */
static bool is_cut(struct reading *r, const struct scalar *s)
{
	size_t byte = r->flow ? byte_of(r, s->start) : 0;
	return byte && r->source->text[byte - 1] == '?';
}

static bool check_key(struct reading *r, const struct scalar *s)
{
	if (is_cut(r, s)) {
		struct place at = place_of(r, s->start);
		at.col--;
		refuse_start(r, at);
	} else if (is_block(s)) {
		refuse_key(r, s->start);
	} else if (is_merge_key(s)) {
		refuse(r, BAD_SYNTAX, place_of(r, s->start), 2,
			"'<<' does not copy another map here");
		diag_hint(r->diags, "write the entries out");
	} else if (!s->len) {
		refuse(r, BAD_MISSING, place_of(r, s->start), 1,
			"a name is missing before the colon");
		diag_hint(r->diags, "write NAME: VALUE");
	} else {
		return s->clean;
	}
	return false;
}

/* A key makes the node of the value that will follow. */
static void take_key(struct reading *r, struct level *in, const struct scalar *s)
{
	lose_key(in);
	if (!check_key(r, s))
		return;
	struct tree *node = node_new(r);
	if (!node)
		return;
	node->key_place = place_of(r, s->start);
	node->key_place.col += quote_columns(s);
	node->key_span = scalar_columns(s);
	node->key_len = s->len;
	node->key = arena_copy(r->arena, s->text, s->len);
	if (!node->key)
		no_memory(r);
	in->pending = node;
	in->lost = false;
}

static void take_scalar(struct reading *r, const yaml_event_t *e)
{
	struct scalar s = scalar_of(r, e);
	struct level *in = top(r);
	if (is_key_next(in)) {
		take_key(r, in, &s);
		return;
	}
	struct tree *node = value_new(r, e->start_mark);
	if (node)
		scalar_fill(r, node, &s);
}

static void take_alias(struct reading *r, const yaml_event_t *e)
{
	struct level *in = top(r);
	refuse_start(r, place_of(r, e->start_mark));
	if (is_key_next(in)) {
		lose_key(in);
		return;
	}
	struct tree *node = value_new(r, e->start_mark);
	if (!node)
		return;
	node->broken = true;
	node->place = place_of(r, e->start_mark);
	node->span = columns(e->start_mark, e->end_mark);
}

/* ---- lists and maps -------------------------------------------------------------------------- */

static void refuse_depth(struct reading *r, yaml_mark_t at)
{
	refuse(r, BAD_SIZE, place_of(r, at), 1, "lists and maps are nested more than %d deep here",
		TREE_DEPTH);
	diag_hint(r->diags,
		"close brackets that were left open; a text with brackets belongs in quotes");
	r->stop = true;
}

static void open_level(struct reading *r, const yaml_event_t *e, enum tree_kind kind, bool flow)
{
	struct level *in = top(r);
	bool is_key = is_key_next(in);
	if (r->depth == TREE_DEPTH) {
		refuse_depth(r, e->start_mark);
		return;
	}
	struct tree *node = is_key ? node_new(r) : value_new(r, e->start_mark);
	if (!node)
		return;
	if (is_key)
		refuse_key(r, e->start_mark);
	node->kind = kind;
	node->flow = flow;
	node->place = place_of(r, e->start_mark);
	r->flow += flow;
	r->level[r->depth++] = (struct level){.node = node, .is_key = is_key};
}

static void take_list(struct reading *r, const yaml_event_t *e)
{
	check_properties(
		r, e->start_mark, e->data.sequence_start.anchor, e->data.sequence_start.tag);
	open_level(r, e, TREE_LIST, e->data.sequence_start.style == YAML_FLOW_SEQUENCE_STYLE);
}

static void take_map(struct reading *r, const yaml_event_t *e)
{
	check_properties(r, e->start_mark, e->data.mapping_start.anchor, e->data.mapping_start.tag);
	open_level(r, e, TREE_MAP, e->data.mapping_start.style == YAML_FLOW_MAPPING_STYLE);
}

static void refuse_repeated(struct reading *r, struct tree *again, const struct tree *first)
{
	refuse(r, BAD_REPEATED, again->key_place, again->key_span, "%s stands here twice",
		tree_name(again));
	diag_hint(r->diags, "keep one of them");
	diag_note(r->diags, first->key_place, "the first is this");
	again->used = again->broken = true;
}

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

/* {from: 4,0 mm} is read as from: 4 and a key '0 mm' without a value. */
static bool is_decimal_comma(const struct tree *t, const struct tree *key)
{
	return t->kind == TREE_SCALAR && t->straight && !t->quoted && t->len &&
	       is_digit(t->text[t->len - 1]) && key->kind == TREE_SCALAR && !key->len &&
	       !key->quoted && is_digit(*key->key) && key->key_place.line == t->place.line &&
	       key->key_place.col == t->place.col + (uint32_t)utf8_count(t->text, t->len) + 1;
}

static void check_commas(struct reading *r, struct tree *map)
{
	for (struct tree *t = map->first; map->flow && t && t->next; t = t->next) {
		struct tree *key = t->next;
		if (!is_decimal_comma(t, key))
			continue;
		refuse(r, BAD_SYNTAX, t->place, t->span + 1 + key->key_span,
			"'%s,%s' has a comma where a point is needed", t->text, key->key);
		diag_hint(
			r->diags, "numbers in these files have a point: %s.%s", t->text, key->key);
		t->broken = key->used = key->broken = true;
	}
}

static void check_repeated(struct reading *r, struct tree *map)
{
	for (struct tree *child = map->first; child && !r->stop; child = child->next) {
		struct tree *first = keys_find(map, child->key, child->key_len);
		if (first != child && !child->broken)
			refuse_repeated(r, child, first);
	}
}

static void close_level(struct reading *r, const yaml_event_t *e)
{
	struct level closed = r->level[--r->depth];
	struct tree *node = closed.node;
	r->flow -= node->flow;
	if (node->flow && node->place.line == e->end_mark.line + 1)
		node->span = place_of(r, e->end_mark).col - node->place.col;
	if (closed.is_key)
		lose_key(top(r));
	if (keys_sort(node))
		no_memory(r);
	else if (node->kind == TREE_MAP) {
		check_commas(r, node);
		check_repeated(r, node);
	}
}

/* ---- the whole ------------------------------------------------------------------------------- */

static void take_document(struct reading *r, const yaml_event_t *e)
{
	if (++r->documents == 1)
		return;
	refuse(r, BAD_COUNT, place_of(r, e->start_mark), 1, "a second document begins here");
	diag_hint(r->diags, "a file holds one: take the line '---' away or make two files");
	r->stop = true;
}

static void take_event(struct reading *r, const yaml_event_t *e)
{
	switch (e->type) {
	case YAML_DOCUMENT_START_EVENT:
		take_document(r, e);
		break;
	case YAML_SCALAR_EVENT:
		take_scalar(r, e);
		break;
	case YAML_ALIAS_EVENT:
		take_alias(r, e);
		break;
	case YAML_SEQUENCE_START_EVENT:
		take_list(r, e);
		break;
	case YAML_MAPPING_START_EVENT:
		take_map(r, e);
		break;
	case YAML_SEQUENCE_END_EVENT:
	case YAML_MAPPING_END_EVENT:
		close_level(r, e);
		break;
	case YAML_STREAM_END_EVENT:
		r->done = true;
		break;
	case YAML_NO_EVENT:
	case YAML_STREAM_START_EVENT:
	case YAML_DOCUMENT_END_EVENT:
		break;
	}
}

/* Bytes are checked before the library sees them, so its reader should have nothing to say. */
static void library_reader_stopped(struct reading *r)
{
	size_t byte = r->parser.problem_offset + r->mark_bytes;
	refuse(r, BAD_ENCODING, source_place(r->source, byte), 1, "this character cannot be read");
	diag_hint(r->diags, "save the file as UTF-8");
}

static void library_stopped(struct reading *r)
{
	const yaml_parser_t *p = &r->parser;
	r->stop = true;
	if (p->error == YAML_MEMORY_ERROR) {
		no_memory(r);
	} else if (p->error == YAML_READER_ERROR) {
		library_reader_stopped(r);
	} else {
		struct stop stop = {p->problem ? p->problem : "", p->context ? p->context : "",
			place_of(r, p->problem_mark), {r->source, 0, 0}, r->flow > 0};
		if (p->context)
			stop.from = place_of(r, p->context_mark);
		/* The rest of a line that has been refused is not told again. */
		if (stop.at.line != r->line)
			explain(&stop, r->diags);
		failed(r, BAD_SYNTAX, stop.at);
	}
}

static void read_events(struct reading *r)
{
	const unsigned char *from = (const unsigned char *)r->source->text + r->mark_bytes;
	if (!yaml_parser_initialize(&r->parser)) {
		no_memory(r);
		return;
	}
	yaml_parser_set_encoding(&r->parser, YAML_UTF8_ENCODING);
	yaml_parser_set_input_string(&r->parser, from, r->source->len - r->mark_bytes);
	while (!r->stop && !r->done) {
		yaml_event_t event;
		if (yaml_parser_parse(&r->parser, &event)) {
			take_event(r, &event);
			yaml_event_delete(&event);
		} else {
			library_stopped(r);
		}
	}
	yaml_parser_delete(&r->parser);
}

static void check_size(struct reading *r)
{
	if (r->source->len <= TREE_BYTES)
		return;
	refuse(r, BAD_SIZE, (struct place){r->source, 0, 0}, 1,
		"the file has %zu bytes; at most %d are read", r->source->len, TREE_BYTES);
	diag_hint(r->diags, "part it into several files");
	r->stop = true;
}

static void check_empty(struct reading *r)
{
	if (r->stop || (r->root && (r->root->kind != TREE_SCALAR || r->root->len ||
					   r->root->quoted || r->root->broken)))
		return;
	refuse(r, BAD_MISSING, (struct place){r->source, 0, 0}, 1, "there is nothing in this file");
	r->stop = true;
}

enum bad tree_read(struct arena *a, const struct source *s, struct diags *d, struct tree **out)
{
	struct reading r = {.arena = a, .source = s, .diags = d};
	check_size(&r);
	if (!r.stop)
		check_bytes(&r);
	if (!r.stop)
		read_events(&r);
	check_empty(&r);
	if (d->out)
		no_memory(&r);
	if (!r.stop)
		*out = r.root;
	return r.code;
}
