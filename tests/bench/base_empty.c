/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A program that does nothing, linked with the libraries that ours is linked with. */
int main(void)
{
	return 0;
}
