#!/bin/sh
# run.sh BARWRIGHT [accept] - check every file and folder here, and run every NAME.args; compare what is
# said and the exit status with NAME.out. With "accept" the outputs are written anew: look at the
# difference before you commit it.
here=$(dirname "$0")
barwright=$(cd "$(dirname "$1")" && pwd)/$(basename "$1")
cd "$here" || exit 1
said=$(mktemp) || exit 1
trap 'rm -f "$said"' EXIT
good=0 bad=0
for case in *.yaml */ *.args; do
	case=${case%/}
	args=$case
	[ "${case%.args}" = "$case" ] || args=$(cat "$case")
	# The arguments are to be split at blanks.
	# shellcheck disable=SC2086
	"$barwright" check $args >"$said" 2>&1
	echo "exit $?" >>"$said"
	if [ "$2" = accept ]; then
		cp "$said" "$case.out"
	elif diff -u "$case.out" "$said"; then
		good=$((good + 1))
	else
		bad=$((bad + 1))
		echo "again: cd $here && barwright check $args"
	fi
done

# Whole files shown in the authors' reference must be without fault.
awk -v to="$said" '
	/^```yaml$/ { in_it = 1; first = 1; next }
	/^```$/ { in_it = 0; next }
	in_it && first { first = 0; whole = /^(lesson|item|problem|rubric|course|module|case|assessment|programme):/
		if (whole) file = to "." ++n ".yaml" }
	in_it && whole { print >file }' ../../../courses/README.md
for shown in "$said".*.yaml; do
	if "$barwright" check "$shown" | grep -qE 'no faults$|^1 file, 1 assessment: 1 warning$'; then
		good=$((good + 1))
	else
		bad=$((bad + 1))
		"$barwright" check "$shown"
	fi
	rm "$shown"
done
echo "ok $good"
[ "$bad" = 0 ]
