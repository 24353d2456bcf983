/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The least a full-screen program can do: one frame of text by ncursesw, then wait for a key. */
#include <curses.h>
#include <locale.h>

int main(void)
{
	setlocale(LC_CTYPE, "");
	initscr();
	cbreak();
	noecho();
	keypad(stdscr, TRUE);
	for (int row = 0; row < LINES - 1; row++)
		mvprintw(row, 1, "line %d of a page of text, as long as one usually is on a screen",
			row);
	mvprintw(LINES - 1, 1, "Leave");
	refresh();
	getch();
	endwin();
	return 0;
}
