#!/bin/sh
# names.sh - every source says its licence, and every header has its guard.
status=0
for f in $(find include src tests -name '*.[ch]' | sort); do
	if ! head -n 1 "$f" | grep -q '^/\* SPDX-License-Identifier: GPL-3.0-or-later \*/$'; then
		echo "$f:1: error: the licence line is missing [name]"
		status=1
	fi
	case $f in
	*.h)
		grep -q '^#ifndef BARWRIGHT_[A-Z0-9_]*_H$' "$f" || {
			echo "$f:1: error: no guard BARWRIGHT_..._H [name]"
			status=1
		}
		;;
	esac
done
[ $status = 0 ] && echo "names: licence lines and guards are there"
exit $status
