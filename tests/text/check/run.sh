#!/bin/sh
# run.sh BARWRIGHT [accept] - check every file and folder here, and run every NAME.args; compare with NAME.out.
. "$(dirname "$0")/../../tools/said.sh"
cd "$here" || exit 1
for case in *.yaml */ *.args; do
	case=${case%/}
	args=$case
	[ "${case%.args}" = "$case" ] || args=$(cat "$case")
	# The arguments are to be split at blanks.
	# shellcheck disable=SC2086
	as_before "$case" "$barwright" check $args
done

# Whole files shown in the authors' reference must be without fault.
awk -v to="$d/shown" '
	/^```yaml$/ { in_it = 1; first = 1; next }
	/^```$/ { in_it = 0; next }
	in_it && first { first = 0; whole = /^(lesson|item|problem|rubric|course|module|case|assessment|programme):/
		if (whole) file = to "." ++n ".yaml" }
	in_it && whole { print >file }' ../../../courses/README.md
clean() { "$barwright" check "$1" >"$said" 2>&1; grep -qE 'no faults$|^1 file, 1 assessment: 1 warning$' "$said"; }
for shown in "$d"/shown.*.yaml; do
	holds "what courses/README.md shows has no fault" clean "$shown"
done

# Every key that a procedure is read with stands on its page.
keys=$(grep -hoE 'tree_(find|need)\([a-z]+, "[a-z]+"' ../../../src/course/procedure*.c | grep -oE '"[a-z]+"' | tr -d '"' | sort -u)
on_page() { grep -qE "[\`{. ]$1[:\`]" ../../../courses/procedures/README.md; }
for key in $keys; do
	holds "courses/procedures/README.md has '$key'" on_page "$key"
done
finish
