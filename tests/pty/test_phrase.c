/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A passphrase typed at a terminal: never shown, asked twice for a new key, and whatever ends the asking,
 * the terminal shows again what is typed. */
#include "pty.h"

#include <sys/stat.h>

static char program[512], data[64], key[96];
static const char words[] = "seven geese over the pond";

/* BUILD/tests/pty/test_phrase, BUILD/barwright. */
static int find_program(void **state)
{
	char self[400];
	ssize_t n = readlink("/proc/self/exe", self, sizeof self - 1);
	(void)state;
	assert_true(n > 0);
	self[n] = '\0';
	for (int k = 0; k < 3; k++)
		*strrchr(self, '/') = '\0';
	snprintf(program, sizeof program, "%s/barwright", self);
	return 0;
}

static int fresh_data(void **state)
{
	(void)state;
	snprintf(data, sizeof data, "/tmp/barwright-phrase-XXXXXX");
	if (!mkdtemp(data))
		return -1;
	snprintf(key, sizeof key, "%s/ruiz.key", data);
	return 0;
}

static int drop_data(void **state)
{
	char command[128];
	(void)state;
	snprintf(command, sizeof command, "rm -rf %s", data);
	return system(command);
}

static void start(struct pty *p)
{
	static char word[][10] = {"--data", "key", "new", "D. Ruiz", "--key"};
	char *argv[] = {program, word[0], data, word[1], word[2], word[3], word[4], key, NULL};
	pty_start(p, (struct pty_options){.argv = argv});
	pty_sees(p, "Passphrase:");
}

static bool is_shown(struct pty *p)
{
	struct termios t;
	assert_int_equal(tcgetattr(p->slave, &t), 0);
	return t.c_lflag & ECHO;
}

static bool key_is_there(void)
{
	struct stat st;
	return stat(key, &st) == 0;
}

static void shown_nowhere(struct pty *p, const char *what)
{
	if (strstr(pty_look(p), what))
		fail_msg("'%s' is on the screen:\n%s", what, p->seen);
}

static void a_passphrase_is_asked_twice_and_never_shown(void **state)
{
	struct pty p;
	(void)state;
	start(&p);
	assert_false(is_shown(&p));
	pty_send(&p, words);
	pty_send(&p, "\n");
	pty_sees(&p, "The same again:");
	assert_false(is_shown(&p));
	pty_send(&p, words);
	pty_send(&p, "\n");
	assert_int_equal(pty_ended(&p), 0);
	pty_sees(&p, "did:key:");
	shown_nowhere(&p, "geese");
	assert_true(is_shown(&p));
	assert_true(key_is_there());
	pty_close(&p);
}

static void what_was_not_the_same_is_asked_again(void **state)
{
	struct pty p;
	(void)state;
	start(&p);
	pty_send(&p, "too short\n");
	pty_sees(&p, "It wants at least 15 characters");
	pty_sees(&p, "Another one:\nPassphrase:");
	pty_send(&p, "seven geese over the pond\n");
	pty_sees(&p, "The same again:");
	pty_send(&p, "seven geese over the lake\n");
	pty_sees(&p, "That was not the same. Once more, both times:\nPassphrase:");
	assert_false(key_is_there());
	pty_send(&p, "seven geese over the lake\n");
	pty_sees(&p, "both times:\nPassphrase:\nThe same again:");
	pty_send(&p, "seven geese over the lake\n");
	assert_int_equal(pty_ended(&p), 0);
	shown_nowhere(&p, "geese");
	assert_true(key_is_there());
	pty_close(&p);
}

static void interrupting_gives_the_terminal_back(void **state)
{
	static const struct {
		const char *keys;
		int signal;
	} rows[] = {{KEY_CTRL_C_, SIGINT}, {"\034", SIGQUIT}};
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		for (int second = 0; second < 2; second++) {
			struct pty p;
			start(&p);
			if (second) {
				pty_send(&p, words);
				pty_send(&p, "\n");
				pty_sees(&p, "The same again:");
			}
			pty_send(&p, "half a phr");
			pty_send(&p, rows[i].keys);
			pty_ended(&p);
			assert_true(WIFSIGNALED(p.status));
			assert_int_equal(WTERMSIG(p.status), rows[i].signal);
			assert_true(is_shown(&p));
			shown_nowhere(&p, "half");
			assert_false(key_is_there());
			pty_close(&p);
		}
}

static void a_suspended_question_is_asked_again(void **state)
{
	struct pty p;
	(void)state;
	start(&p);
	pty_send(&p, "seven gee");
	pty_send(&p, KEY_CTRL_Z_);
	assert_true(pty_until(&p, pty_is_stopped, NULL, PTY_WAIT_MS));
	assert_true(is_shown(&p));
	pty_continue(&p);
	pty_sees(&p, "Passphrase:\nPassphrase:");
	assert_false(is_shown(&p));
	pty_send(&p, words);
	pty_send(&p, "\n");
	pty_sees(&p, "The same again:");
	pty_send(&p, words);
	pty_send(&p, "\n");
	assert_int_equal(pty_ended(&p), 0);
	assert_true(key_is_there());
	pty_close(&p);
}

static void the_end_of_input_is_no_passphrase(void **state)
{
	struct pty p;
	(void)state;
	start(&p);
	pty_send(&p, "\004");
	assert_int_equal(pty_ended(&p), 2);
	pty_sees(&p, "no passphrase was given");
	assert_true(is_shown(&p));
	assert_false(key_is_there());
	pty_close(&p);
}

/* ---- opening a key --------------------------------------------------------------------------- */

static void make_key_file(void)
{
	char command[1200];
	snprintf(command, sizeof command,
		"echo '%s' >%s/phrase && '%s' --data %s key new R --key %s --phrase %s/phrase "
		">/dev/null 2>&1",
		words, data, program, data, key, data);
	assert_int_equal(system(command), 0);
}

static void start_erasing(struct pty *p)
{
	static char word[][10] = {"--data", "record", "erase", "--yes", "--key", "l-0000000A"};
	char *argv[] = {
		program, word[0], data, word[1], word[2], word[3], word[4], key, word[5], NULL};
	pty_start(p, (struct pty_options){.argv = argv});
	pty_sees(p, "Passphrase of this key:");
}

static void a_wrong_passphrase_is_asked_again(void **state)
{
	struct pty p;
	(void)state;
	make_key_file();
	start_erasing(&p);
	pty_send(&p, "seven geese over the lake\n");
	pty_sees(&p, "That is not the passphrase. Once more:");
	assert_false(is_shown(&p));
	pty_send(&p, "seven geese over the pond\n");
	assert_int_equal(pty_ended(&p), 2);
	pty_sees(&p, "the key of R is not accepted here"); /* so it was opened */
	shown_nowhere(&p, "geese");
	pty_close(&p);
}

static void three_wrong_ones_are_enough(void **state)
{
	struct pty p;
	(void)state;
	make_key_file();
	start_erasing(&p);
	pty_send(&p, "one wrong passphrase\n");
	pty_sees(&p, "Once more:");
	pty_send(&p, "two wrong passphrases\n");
	pty_sees(&p, "Once more:\nThat is not the passphrase. Once more:");
	pty_send(&p, "three wrong ones\n");
	assert_int_equal(pty_ended(&p), 2);
	pty_sees(&p, "the passphrase does not open");
	assert_true(is_shown(&p));
	pty_close(&p);
}

/* The key's passphrase costs a second or so: what is typed then is neither shown nor kept. */
static void what_is_typed_meanwhile_is_not_shown(void **state)
{
	struct pty p;
	(void)state;
	make_key_file();
	start_erasing(&p);
	pty_send(&p, "seven geese over the lake\nwolf");
	pty_sees(&p, "Once more:");
	pty_send(&p, "seven geese over the pond\nfox\n");
	assert_int_equal(pty_ended(&p), 2);
	pty_sees(&p, "the key of R is not accepted here");
	shown_nowhere(&p, "wolf");
	shown_nowhere(&p, "fox");
	pty_close(&p);
}

int main(void)
{
#define T(name) cmocka_unit_test_setup_teardown(name, fresh_data, drop_data)
	const struct CMUnitTest tests[] = {
		T(a_passphrase_is_asked_twice_and_never_shown),
		T(what_was_not_the_same_is_asked_again),
		T(interrupting_gives_the_terminal_back),
		T(a_suspended_question_is_asked_again),
		T(the_end_of_input_is_no_passphrase),
		T(a_wrong_passphrase_is_asked_again),
		T(three_wrong_ones_are_enough),
		T(what_is_typed_meanwhile_is_not_shown),
	};
	return cmocka_run_group_tests(tests, find_program, NULL);
}
