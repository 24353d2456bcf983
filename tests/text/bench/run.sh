#!/bin/sh
# run.sh BARWRIGHT [accept] - hold the dialogues NAME.in with the arguments in NAME.args and compare what was
# said, and the exit status, with NAME.out. With "accept" the outputs are written anew.
here=$(cd "$(dirname "$0")" && pwd)
barwright=$(cd "$(dirname "$1")" && pwd)/$(basename "$1")
cd "$here/../../.." || exit 1
said=$(mktemp) || exit 1
data=$(mktemp -d) || exit 1
trap 'rm -rf "$said" "$data"' EXIT
good=0 bad=0
for input in "$here"/*.in; do
	case=${input%.in}
	locale=C.UTF-8
	[ -f "$case.locale" ] && locale=$(cat "$case.locale")
	# shellcheck disable=SC2046
	LC_ALL=$locale "$barwright" --data "$data/none" --courses courses $(cat "$case.args") <"$input" >"$said" 2>&1
	echo "exit $?" >>"$said"
	if [ "$2" = accept ]; then
		cp "$said" "$case.out"
	elif diff -u "$case.out" "$said"; then
		good=$((good + 1))
	else
		bad=$((bad + 1))
		echo "again: sh tests/text/bench/run.sh BARWRIGHT  ($(basename "$case"))"
	fi
done
# None of these may leave a file behind.
[ ! -e "$data/none" ] || { echo "a dialogue that records nothing made $data/none"; bad=$((bad + 1)); }
[ "$bad" = 0 ] && echo "ok $good"
