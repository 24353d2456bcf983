/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writing: what is acknowledged is there, what was torn is set aside and told. */
#include "near.h"

#include "file_fault.h"
#include "strand_fixture.h"

static struct sign_pair machine;

static int begin(void **state)
{
	machine = pair_of(test_1);
	clock_stop();
	return work_begin(state);
}

static int end(void **state)
{
	clock_replace(NULL);
	return work_end(state);
}

/* Opens; on failure the sentence is kept in `why`. */
static struct text why;
static enum bad open_it(struct strand **s)
{
	text_clear(&why);
	return strand_open(work_folder, "l-1", &machine, s, &why);
}

static void why_has(const char *words)
{
	if (!strstr(why.at, words))
		fail_msg("want \"%s\" in \"%s\"", words, why.at);
}

static struct strand_sum verify(const char *path, enum bad want)
{
	struct source s = load(path);
	struct strand_sum sum;
	code_is(strand_read(&s, NULL, NULL, NULL, &sum, NULL), want);
	unload(&s);
	return sum;
}

static void put(const char *path, const char *bytes, size_t len)
{
	code_is(file_replace(path, bytes, len, true), FINE);
}

/* ---- the ordinary way ------------------------------------------------------------------------ */

static void a_strand_grows_over_several_runs(void **state)
{
	struct strand *s;
	struct hash head;
	struct stat st;
	char path[256];
	(void)state;
	for (unsigned run = 0; run < 3; run++) {
		code_is(open_it(&s), FINE);
		assert_int_equal(strand_count(s), run * 4);
		if (run) {
			struct hash now = strand_head(s);
			assert_true(hash_is_equal(&now, &head));
		}
		code_is(add_some(s, 4), FINE);
		head = strand_head(s);
		snprintf(path, sizeof path, "%s", strand_own_path(s));
		strand_close(s);
	}
	struct strand_sum sum = verify(path, FINE);
	assert_int_equal(sum.lines, 12);
	assert_true(hash_is_equal(&sum.head, &head));
	assert_string_equal(sum.who, "l-1");
	assert_int_equal(sum.first_ms, fixed_now);
	assert_int_equal(stat(path, &st), 0);
	assert_int_equal(st.st_mode & 0777, 0600);
	strand_close(NULL);
}

static void the_name_comes_from_learner_and_machine(void **state)
{
	char one[STRAND_ID + 1], same[STRAND_ID + 1], other[STRAND_ID + 1], third[STRAND_ID + 1];
	struct sign_pair two = pair_of(test_2);
	(void)state;
	strand_id("l-1", machine.open, one);
	strand_id("l-1", machine.open, same);
	strand_id("l-2", machine.open, other);
	strand_id("l-1", two.open, third);
	assert_string_equal(one, same);
	assert_string_not_equal(one, other);
	assert_string_not_equal(one, third);
	assert_true(chain_is_name(one));
	assert_int_equal(strlen(one), STRAND_ID);
}

static void two_learners_have_two_strands(void **state)
{
	char path[256];
	(void)state;
	snprintf(path, sizeof path, "%s", strand_make(&machine, "l-1", 2));
	assert_string_not_equal(path, strand_make(&machine, "l-2", 2));
	assert_int_equal(verify(path, FINE).lines, 2);
}

static void ids_and_salts_differ(void **state)
{
	(void)state;
	struct source s = load(strand_make(&machine, "l-1", 3));
	const char *at = s.text;
	char id[3][40], salt[3][40];
	for (int i = 0; i < 3; i++) {
		at = strstr(at, "\"id\":\"");
		snprintf(id[i], 37, "%s", at + 6);
		at = strstr(at, "\"salt\":\"");
		snprintf(salt[i], 33, "%s", at + 8);
	}
	for (int i = 0; i < 3; i++) {
		assert_string_not_equal(id[i], id[(i + 1) % 3]);
		assert_string_not_equal(salt[i], salt[(i + 1) % 3]);
	}
	unload(&s);
}

/* ---- refusals -------------------------------------------------------------------------------- */

static void two_programs_cannot_write_one_strand(void **state)
{
	struct strand *s, *t;
	(void)state;
	code_is(open_it(&s), FINE);
	code_is(open_it(&t), BAD_BUSY);
	why_has("another program is using it");
	code_is(add_some(s, 2), FINE);
	strand_close(s);
	code_is(open_it(&t), FINE);
	strand_close(t);
}

static void what_another_program_writes_can_be_looked_at(void **state)
{
	struct strand *s, *t;
	struct stat before, after;
	(void)state;
	text_clear(&why);
	code_is(strand_look(work_folder, "l-1", &machine, &t, &why), BAD_ABSENT);
	code_is(open_it(&s), FINE);
	code_is(add_some(s, 1), FINE);
	assert_int_equal(stat(strand_own_path(s), &before), 0);
	code_is(strand_look(work_folder, "l-1", &machine, &t, &why), FINE);
	assert_string_equal(strand_own_path(t), strand_own_path(s));
	assert_int_equal(strand_count(t), 1);
	assert_false(strand_is_writable(t));
	code_is(add_some(t, 1), BAD_BUSY);
	strand_close(t);
	assert_int_equal(stat(strand_own_path(s), &after), 0);
	assert_int_equal(after.st_size, before.st_size);
	code_is(add_some(s, 1), FINE);
	strand_close(s);
}

static void codes_of_learners_have_a_form(void **state)
{
	static const char *const bad[] = {"", "a b", "../x", "l/1", "\xc3\xa4",
		"12345678901234567890123456789012345678901234567890123456789012345"};
	struct strand *s;
	(void)state;
	for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
		code_is(strand_open(work_folder, bad[i], &machine, &s, NULL), BAD_SYNTAX);
}

static void a_folder_that_is_none_or_not_permitted_says_so(void **state)
{
	static const struct {
		enum call call;
		int error;
		enum bad code;
		const char *words;
	} rows[] = {
		{CALL_MKDIR, EROFS, BAD_DENIED, "read-only"},
		{CALL_MKDIR, ENOSPC, BAD_FULL, "make room"},
		{CALL_OPEN, EACCES, BAD_DENIED, "does not permit"},
		{CALL_OPEN, EROFS, BAD_DENIED, "read-only"},
		{CALL_OPEN, ENOSPC, BAD_FULL, "make room"},
		{CALL_OPEN, EMFILE, BAD_CROWDED, "close other programs"},
		{CALL_OPEN, EIO, BAD_IO, "disk"},
	};
	struct strand *s;
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		fault_plan(1u << rows[i].call, 1, true, rows[i].error);
		enum bad code = open_it(&s);
		fault_end();
		code_is(code, rows[i].code);
		why_has(rows[i].words);
	}
	put(work_path("file"), "x", 1);
	assert_int_not_equal(strand_open(work_path("file"), "l-1", &machine, &s, NULL), FINE);
}

static void the_first_line_opens_and_names_the_machine(void **state)
{
	struct strand *s;
	struct line_answer answer = an_answer(0);
	(void)state;
	code_is(open_it(&s), FINE);
	code_is(line_answer_append(s, &answer), BAD_ORDER);
	code_is(strand_append(s, "open", "{}", 2), BAD_ORDER);
	assert_string_not_equal(strand_why(s), "");
	code_is(line_open_append(s, &an_open), FINE);
	assert_string_equal(strand_why(s), "");
	code_is(line_answer_append(s, &answer), FINE);
	strand_close(s);
}

static void bodies_that_are_not_canonical_are_not_written(void **state)
{
	static const char *const bad[] = {
		"", "[]", "{\"a\":1.5}", "{\"b\":1,\"a\":2}", "{} ", "{\"a\":\"\xff\"}"};
	struct strand *s;
	(void)state;
	code_is(open_it(&s), FINE);
	code_is(add_some(s, 1), FINE);
	for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
		code_is(strand_append(s, "note", bad[i], strlen(bad[i])), BAD_SYNTAX);
	code_is(strand_append(s, "a kind of a line that is much too long", "{}", 2), BAD_SYNTAX);
	code_is(strand_append(s, "note", "{}", 2), FINE);
	assert_int_equal(strand_count(s), 2);
	assert_int_equal(verify(strand_own_path(s), FINE).lines, 2);
	strand_close(s);
}

/* ---- torn tails ------------------------------------------------------------------------------ */

static size_t names_with(const char *part, char *first, size_t room)
{
	struct arena a = {0};
	struct folder_entry *list;
	size_t n, found = 0;
	code_is(folder_list(work_path("strands"), &a, &list, &n), FINE);
	for (size_t i = 0; i < n; i++)
		if (strstr(list[i].name, part) && !found++)
			snprintf(first, room, "%s", list[i].name);
	arena_release(&a);
	return found;
}

/* The tail that the last line of a strand tells of has this length and hash. */
struct seen {
	struct line_recovered last;
	unsigned n;
};
static enum bad see_recovered(void *context, const struct strand_line *line)
{
	struct seen *seen = context;
	struct arena a = {0};
	if (line_kind(line->kind) == LINE_RECOVERED) {
		code_is(line_recovered_read(line, &a, &seen->last), FINE);
		seen->n++;
	}
	arena_release(&a);
	return FINE;
}

static struct seen recovered_in(const char *path)
{
	struct seen seen = {.n = 0};
	struct source s = load(path);
	struct strand_sum sum;
	code_is(strand_read(&s, NULL, see_recovered, &seen, &sum, NULL), FINE);
	unload(&s);
	return seen;
}

static void a_torn_tail_is_set_aside_and_told(void **state)
{
	char path[256], name[200], full[300];
	(void)state;
	snprintf(path, sizeof path, "%s", strand_make(&machine, "l-1", 3));
	struct source whole = load(path);
	size_t second = strcspn(whole.text, "\n") + 1;
	size_t third = second + strcspn(whole.text + second, "\n") + 1;
	/* cut within line 0, within line 2, and just before its LF */
	const size_t cuts[] = {1, second - 1, third + 1, third + 157, whole.len - 1};
	const unsigned before[] = {0, 0, 2, 2, 2};
	for (size_t i = 0; i < sizeof cuts / sizeof *cuts; i++) {
		struct strand *s;
		size_t start = before[i] ? third : 0, torn = cuts[i] - start;
		work_empty(work_path("strands"));
		put(path, whole.text, cuts[i]);
		code_is(open_it(&s), FINE);
		assert_int_equal(strand_torn(s), torn);
		assert_int_equal(strand_count(s), before[i] + 1);
		code_is(add_some(s, 2), FINE);
		strand_close(s);
		assert_int_equal(verify(path, FINE).lines, before[i] + 3);
		struct seen seen = recovered_in(path);
		struct hash h = hash_bytes(whole.text + start, torn);
		assert_int_equal(seen.n, 1);
		assert_int_equal(seen.last.len, torn);
		assert_true(hash_is_equal(&seen.last.content, &h));
		assert_int_equal(names_with(".torn-", name, sizeof name), 1);
		assert_null(strstr(name, ".pending"));
		snprintf(full, sizeof full, "%s/strands/%s", work_folder, name);
		file_is(full, whole.text + start, torn);
		/* and the next opening has nothing to mend */
		code_is(open_it(&s), FINE);
		assert_int_equal(strand_torn(s), 0);
		assert_int_equal(strand_count(s), before[i] + 3);
		strand_close(s);
	}
	unload(&whole);
}

/* ---- ends that are not torn ------------------------------------------------------------------ */

/* The file is left as it is. */
static void not_continued(
	const char *path, const char *bytes, size_t len, enum bad code, const char *words)
{
	struct strand *s = NULL;
	put(path, bytes, len);
	code_is(open_it(&s), code);
	assert_null(s);
	why_has(words);
	file_is(path, bytes, len);
}

static void a_changed_last_line_is_not_continued(void **state)
{
	char path[256];
	(void)state;
	snprintf(path, sizeof path, "%s", strand_make(&machine, "l-1", 3));
	struct source whole = load(path);
	char *copy = mem_get(whole.len);
	size_t last = whole.len - 1;
	memcpy(copy, whole.text, whole.len);
	while (copy[last - 1] != '\n')
		last--;
	copy[last + 10] ^= 1; /* payload */
	not_continued(path, copy, whole.len, BAD_CHAIN, "nothing is added to it");
	copy[last + 10] ^= 1;
	copy[whole.len - 10] = copy[whole.len - 10] == 'A' ? 'B' : 'A'; /* signature */
	not_continued(path, copy, whole.len, BAD_SEAL, "nothing is added to it");
	memcpy(copy, whole.text, whole.len);
	copy[last] = '{'; /* frame */
	not_continued(path, copy, whole.len, BAD_SYNTAX, "nothing is added to it");
	copy[last] = '[';
	/* line 1 taken out: the last does not follow from what stands before it */
	size_t second = strcspn(copy, "\n") + 1;
	memmove(copy + second, copy + last, whole.len - last);
	not_continued(path, copy, second + whole.len - last, BAD_CHAIN, "nothing is added to it");
	not_continued(path, "no strand at all\n", 17, BAD_SYNTAX, "nothing is added to it");
	mem_drop(copy);
	unload(&whole);
}

static void another_learners_strand_is_not_continued(void **state)
{
	char path[256];
	(void)state;
	snprintf(path, sizeof path, "%s", strand_make(&machine, "l-1", 1));
	struct source other = load(strand_make(&machine, "l-2", 2));
	not_continued(path, other.text, other.len, BAD_CHAIN, "nothing is added to it");
	unload(&other);
}

static void too_long_to_be_a_strand_is_not_continued(void **state)
{
	enum { LEN = 4 * CHAIN_LINE_MOST };
	char *junk = mem_get(LEN), path[256];
	(void)state;
	snprintf(path, sizeof path, "%s", strand_make(&machine, "l-1", 1));
	memset(junk, 'x', LEN);
	not_continued(path, junk, LEN, BAD_SYNTAX, "nothing is added to it");
	not_continued(path, junk, CHAIN_LINE_MOST, BAD_SYNTAX, "nothing is added to it");
	junk[LEN - 1] = '\n';
	not_continued(path, junk, LEN, BAD_SYNTAX, "nothing is added to it");
	mem_drop(junk);
}

static size_t frame(const char *payload, const struct sign_pair *pair, char *out, size_t room)
{
	struct hash_state hs;
	char hex[65], text[87];
	unsigned char signature[SIGN_BYTES], message[25 + HASH_BYTES];
	hash_start(&hs);
	hash_add(&hs, "", 1);
	hash_add(&hs, payload, strlen(payload));
	struct hash h = hash_end(&hs);
	hash_hex(&h, hex);
	memcpy(message, "vocational-record/line/1\n", 25);
	memcpy(message + 25, h.byte, HASH_BYTES);
	sign_make(pair, message, sizeof message, signature);
	base64url_write(signature, SIGN_BYTES, text, sizeof text);
	return (size_t)snprintf(out, room, "[%s,\"%s\",\"%s\"]\n", payload, hex, text);
}

static void a_strand_of_another_version_is_left_alone(void **state)
{
	char path[256], line[500];
	(void)state;
	snprintf(path, sizeof path, "%s", strand_make(&machine, "l-1", 1));
	size_t len = frame("{\"new\":true,\"v\":2}", &machine, line, sizeof line);
	not_continued(path, line, len, BAD_VERSION, "a newer program wrote its last line");
}

/* After an erasure, and after a seal by a key that this machine does not know, the strand goes on. */
static void erased_and_sealed_ends_are_continued(void **state)
{
	struct sign_pair instructor = pair_of(test_2);
	struct key_known known = {.name = "instructor"};
	struct key_ring ring = {&known, 1};
	char path[256];
	(void)state;
	memcpy(known.open, instructor.open, SIGN_PUBLIC);
	for (int sealed = 0; sealed < 2; sealed++) {
		struct strand *s;
		char text[8000];
		size_t last = 0;
		work_empty(work_folder);
		snprintf(path, sizeof path, "%s", strand_make(&machine, "l-1", 3));
		struct source whole = load(path);
		for (size_t i = 0; i + 1 < whole.len; i++)
			if (whole.text[i] == '\n')
				last = i + 1;
		size_t len = whole.len;
		memcpy(text, whole.text, len);
		if (sealed) {
			struct chain_slice slice;
			struct strand_line line = {0};
			size_t where, made = 0;
			const char *words;
			code_is(chain_slice(text + last, len - 1 - last, &slice), FINE);
			code_is(chain_hash(&slice, &line.hash), FINE);
			code_is(chain_payload(&slice, &line, &where, &words), FINE);
			line.prev = line.hash;
			line.n++;
			line.id[35] = line.id[35] == '0' ? '1' : '0';
			snprintf(line.kind, sizeof line.kind, "seal");
			char body[] = "{\"size\":3}";
			line.body = body;
			line.body_len = strlen(body);
			code_is(chain_line_write(
					&line, &instructor, text + len, sizeof text - len, &made),
				FINE);
			len += made;
		} else {
			memmove(text + last + 5, text + len - CHAIN_SUFFIX - 1, CHAIN_SUFFIX + 1);
			memcpy(text + last, "[null", 5);
			len = last + 5 + CHAIN_SUFFIX + 1;
		}
		put(path, text, len);
		code_is(open_it(&s), FINE);
		assert_int_equal(strand_count(s), sealed ? 4 : 3);
		code_is(add_some(s, 1), FINE);
		strand_close(s);
		struct source now = load(path);
		struct strand_check how = {.known = &ring};
		struct strand_sum sum;
		code_is(strand_read(&now, &how, NULL, NULL, &sum, NULL), FINE);
		assert_int_equal(sum.lines, sealed ? 5 : 4);
		assert_int_equal(sum.erased, !sealed);
		unload(&now);
		unload(&whole);
	}
}

/* Lines as long as they may be: the end of the file is still found. */
static void the_longest_lines_are_continued(void **state)
{
	struct strand *s;
	char path[256];
	static char body[CHAIN_BODY_MOST];
	(void)state;
	memset(body, 'x', sizeof body);
	memcpy(body, "{\"a\":\"", 6);
	memcpy(body + sizeof body - 2, "\"}", 2);
	for (int i = 0; i < 3; i++) {
		code_is(open_it(&s), FINE);
		if (i == 0)
			code_is(add_some(s, 1), FINE);
		code_is(strand_append(s, "note", body, sizeof body), FINE);
		code_is(strand_append(s, "note", body, sizeof body), FINE);
		snprintf(path, sizeof path, "%s", strand_own_path(s));
		strand_close(s);
	}
	struct source whole = load(path);
	put(path, whole.text, whole.len - 1);
	code_is(open_it(&s), FINE);
	assert_int_equal(strand_count(s), 7);
	assert_in_range(strand_torn(s), CHAIN_BODY_MOST, CHAIN_LINE_MOST);
	strand_close(s);
	assert_int_equal(verify(path, FINE).lines, 7);
	unload(&whole);
}

/* ---- memory ---------------------------------------------------------------------------------- */

static void a_line_is_written_when_memory_is_gone(void **state)
{
	struct strand *s;
	struct line_answer answer = an_answer(1);
	(void)state;
	code_is(open_it(&s), FINE);
	mem_fail_at(1, 1);
	enum bad code = line_open_append(s, &an_open);
	if (!code)
		code = line_answer_append(s, &answer);
	int asked = mem_failed();
	mem_fail_at(0, 0);
	code_is(code, FINE);
	assert_false(asked);
	assert_int_equal(verify(strand_own_path(s), FINE).lines, 2);
	strand_close(s);
}

static void running_out_of_memory_while_opening_loses_nothing(void **state)
{
	char path[256];
	(void)state;
	snprintf(path, sizeof path, "%s", strand_make(&machine, "l-1", 3));
	struct source whole = load(path);
	for (int ever = 0; ever < 2; ever++)
		for (unsigned long n = 1;; n++) {
			struct strand *s = NULL;
			assert_true(n < 100);
			work_empty(work_path("strands"));
			put(path, whole.text, whole.len - 5);
			mem_fail_at(n, ever);
			enum bad code = strand_open(work_folder, "l-1", &machine, &s, NULL);
			int failed = mem_failed();
			mem_fail_at(0, 0);
			code_is(code, failed ? BAD_MEMORY : FINE);
			if (code) /* what was begun is made good by the next one */
				code_is(open_it(&s), FINE);
			assert_true(strand_count(s) >= 3);
			strand_close(s);
			assert_true(recovered_in(path).n >= 1);
			if (!failed)
				break;
		}
	unload(&whole);
}

#define T(name) cmocka_unit_test_setup_teardown(name, begin, end)
int main(void)
{
	const struct CMUnitTest tests[] = {
		T(a_strand_grows_over_several_runs),
		T(the_name_comes_from_learner_and_machine),
		T(two_learners_have_two_strands),
		T(ids_and_salts_differ),
		T(two_programs_cannot_write_one_strand),
		T(what_another_program_writes_can_be_looked_at),
		T(codes_of_learners_have_a_form),
		T(a_folder_that_is_none_or_not_permitted_says_so),
		T(the_first_line_opens_and_names_the_machine),
		T(bodies_that_are_not_canonical_are_not_written),
		T(a_torn_tail_is_set_aside_and_told),
		T(a_changed_last_line_is_not_continued),
		T(another_learners_strand_is_not_continued),
		T(too_long_to_be_a_strand_is_not_continued),
		T(a_strand_of_another_version_is_left_alone),
		T(erased_and_sealed_ends_are_continued),
		T(the_longest_lines_are_continued),
		T(a_line_is_written_when_memory_is_gone),
		T(running_out_of_memory_while_opening_loses_nothing),
	};
	text_init(&why);
	int failed = cmocka_run_group_tests(tests, NULL, NULL);
	text_release(&why);
	return failed;
}
