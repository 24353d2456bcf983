/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Keys: what was pressed, and one table of what it does where. The table makes the last line of the
 * screen, the keys page and the action of each key. */
#ifndef BARWRIGHT_SCREEN_KEYS_H
#define BARWRIGHT_SCREEN_KEYS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "surface/page.h"

/* A press is a code point, or one of these. */
enum press {
	PRESS_NONE = 0x110000,
	PRESS_ENTER,
	PRESS_ESCAPE,
	PRESS_TAB,
	PRESS_UP,
	PRESS_DOWN,
	PRESS_LEFT,
	PRESS_RIGHT,
	PRESS_PAGE_UP,
	PRESS_PAGE_DOWN,
	PRESS_HOME,
	PRESS_END,
	PRESS_RUB,
	PRESS_DELETE,
	PRESS_RUB_WORD,
	PRESS_CLEAR,
	PRESS_F1,
	PRESS_F2,
	PRESS_REPAINT,
	PRESS_INTERRUPT, /* Ctrl-C */
	PRESS_RESIZE,
	PRESS_LOST /* the terminal is gone, or a signal asks to stop */
};

/* Where the person is; a key may mean something in several places. */
enum place {
	PLACE_FIELD = 1,
	PLACE_LIST = 2,
	PLACE_GO = 4,
	PLACE_TEXT = 8,   /* reading, with the cursor in the page */
	PLACE_KEYS = 16,  /* on the keys page */
	PLACE_LETTER = 32 /* in a field for one letter */
};

enum {
	PLACE_TYPE = PLACE_FIELD | PLACE_LETTER,
	PLACE_ALL = 63,
	PLACE_ASK = 47,
	PLACE_WORDLESS = 14,
	PLACE_READ = 28
};

/* name, press, another press for the same or 0, places, label, word for the last line or null,
 * sentence for the keys page or null. A letter is never a key in a field. */
#define KEYS(X) \
	X(ANSWER, PRESS_ENTER, 0, PLACE_TYPE, "Enter", "answer", \
		"give the answer, take the line marked with >, or go on") \
	X(CHOOSE, PRESS_ENTER, 0, PLACE_LIST, "Enter", "choose", NULL) \
	X(GO_ON, PRESS_ENTER, 0, PLACE_GO, "Enter", "go on", NULL) \
	X(NEXT, PRESS_DOWN, 0, PLACE_LIST, "Up Down", "move", \
		"move in a list; else scroll the text") \
	X(BEFORE, PRESS_UP, 0, PLACE_LIST, "Up", NULL, NULL) \
	X(FIRST, PRESS_HOME, 0, PLACE_LIST, "Home", NULL, NULL) \
	X(LAST, PRESS_END, 0, PLACE_LIST, "End", NULL, NULL) \
	X(LETTER_NEXT, PRESS_DOWN, 0, PLACE_LETTER, "Up Down", "letter", \
		"where one letter is asked for: go through them") \
	X(LETTER_BEFORE, PRESS_UP, 0, PLACE_LETTER, "Up", NULL, NULL) \
	X(NUMBER, 0, 0, PLACE_LIST, "1 2 3 ...", NULL, "move to that line of a list") \
	X(BACK, PRESS_ESCAPE, 0, PLACE_ASK, "Esc", "back", "go back one page") \
	X(CLOSE, PRESS_ESCAPE, PRESS_ENTER, PLACE_KEYS, "Esc", "back to the page", NULL) \
	X(CLOSE_TOO, PRESS_F1, 'q', PLACE_KEYS, "F1", NULL, NULL) \
	X(KEYS, PRESS_F1, 0, PLACE_ASK, "F1", "keys", "this page; also ? outside a field") \
	X(KEYS_TOO, '?', 0, PLACE_WORDLESS, "?", NULL, NULL) \
	X(DOWN, PRESS_DOWN, 0, PLACE_FIELD | PLACE_READ, "Down", NULL, NULL) \
	X(UP, PRESS_UP, 0, PLACE_FIELD | PLACE_READ, "Up", NULL, NULL) \
	X(PAGE_DOWN, PRESS_PAGE_DOWN, 0, PLACE_ALL, "PgDn PgUp", "scroll", "scroll the text") \
	X(PAGE_UP, PRESS_PAGE_UP, 0, PLACE_ALL, "PgUp", NULL, NULL) \
	X(SWAP, PRESS_TAB, 0, PLACE_TYPE | PLACE_LIST, "Tab", "read", \
		"put the cursor into the text to read, or back") \
	X(SWAP_BACK, PRESS_TAB, 0, PLACE_TEXT, "Tab", "back to the question", NULL) \
	X(SPACE_DOWN, ' ', 0, PLACE_READ, "Space", NULL, "scroll down, outside a field or list") \
	X(TOP, PRESS_HOME, 0, PLACE_READ, "Home End", NULL, \
		"start or end of a field, a list, the text") \
	X(BOTTOM, PRESS_END, 0, PLACE_READ, "End", NULL, NULL) \
	X(LEFT, PRESS_LEFT, 0, PLACE_TYPE, "Left Right", NULL, "move in a field") \
	X(RIGHT, PRESS_RIGHT, 0, PLACE_TYPE, "Right", NULL, NULL) \
	X(HOME, PRESS_HOME, 0, PLACE_TYPE, "Home", NULL, NULL) \
	X(END, PRESS_END, 0, PLACE_TYPE, "End", NULL, NULL) \
	X(RUB, PRESS_RUB, 0, PLACE_TYPE, "Backspace Del", NULL, \
		"delete before or behind the cursor") \
	X(DELETE, PRESS_DELETE, 0, PLACE_TYPE, "Del", NULL, NULL) \
	X(RUB_WORD, PRESS_RUB_WORD, 0, PLACE_TYPE, "Ctrl-W", NULL, \
		"delete the word before the cursor") \
	X(CLEAR, PRESS_CLEAR, 0, PLACE_TYPE, "Ctrl-U", NULL, "empty the field") \
	X(WORDS, PRESS_F2, 0, PLACE_ASK, "F2", NULL, "figures in words, or drawn again") \
	X(LEAVE, 'q', 0, PLACE_WORDLESS, "q", "leave", "leave the program, outside a field") \
	X(CONFIRM, PRESS_INTERRUPT, 0, PLACE_ALL, "Ctrl-C", NULL, \
		"leave the program; it asks first") \
	X(REPAINT, PRESS_REPAINT, 0, PLACE_ALL, "Ctrl-L", NULL, "draw the screen anew") \
	X(SUSPEND, 0, 0, PLACE_ALL, "Ctrl-Z", NULL, "suspend the program; the shell's fg goes on")

enum action {
#define X(name, press, other, places, label, brief, sentence) ACT_##name,
	KEYS(X)
#undef X
		ACT_NOTHING
};

/* What a press does in one place. */
enum action keys_action(uint32_t press, enum place place);
/* Key and word of the i-th hint that matters in a place; null past the last. */
const char *keys_hint(enum place place, size_t i, const char **word);
/* Is this hint about scrolling, of no use where everything is in sight? */
bool keys_is_scroll(const char *word);
/* The keys page: all keys, and the words that may be typed. */
void keys_page(struct page *p);

#endif
