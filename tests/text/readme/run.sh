#!/bin/sh
# run.sh BARWRIGHT [accept] - the dialogue printed in README.md is what the program says to these answers.
. "$(dirname "$0")/../../tools/said.sh"
# The indented block that begins with "$ barwright", up to the first line that is not indented.
awk '/^    \$ barwright/ { on = 1 } on && /^[^ ]/ { exit } on { sub(/^    /, ""); print }' README.md |
	sed -e :a -e '/^\n*$/{$d;N;ba' -e '}' >"$d/told"
args=$(sed -n '1s/^\$ barwright //p' "$d/told")
[ -n "$args" ] || { echo "README.md shows no dialogue"; exit 1; }
sed -n 's/^> //p' "$d/told" >"$d/answers"
sed 1d "$d/told" >"$d/want"
# shellcheck disable=SC2086
LC_ALL=C.UTF-8 "$barwright" --courses courses $args <"$d/answers" >"$d/got" 2>&1
if [ "$accept" = accept ]; then
	awk -v got="$d/got" '
		/^    \$ barwright/ { on = 1; print
			while ((getline line <got) > 0) print line == "" ? "" : "    " line
			print "" }
		on && /^[^ ]/ { on = 0 }
		!on { print }' README.md >"$d/new" && cp "$d/new" README.md
	exit
fi
holds "the dialogue of README.md" diff -u "$d/want" "$d/got"
finish
