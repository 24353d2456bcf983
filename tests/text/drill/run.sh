#!/bin/sh
# run.sh BARWRIGHT [accept] - hold the dialogues NAME.in with the arguments in NAME.args (in the locale of
# NAME.locale, if there is one) and compare with NAME.out.
. "$(dirname "$0")/../../tools/said.sh"
export LC_ALL
for input in "$here"/*.in; do
	case=${input%.in}
	LC_ALL=C.UTF-8
	[ -f "$case.locale" ] && LC_ALL=$(cat "$case.locale")
	# The arguments are to be split at blanks.
	# shellcheck disable=SC2046
	as_before "$case" "$barwright" --data "$d/none" --courses courses $(cat "$case.args") <"$input"
done
holds "a dialogue that records nothing leaves nothing behind" [ ! -e "$d/none" ]
finish
