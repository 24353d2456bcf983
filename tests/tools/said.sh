#!/bin/sh
# What the text tests share; read with "." by tests/text/*/run.sh, whose arguments are BARWRIGHT [accept].
# It goes to the top of the checkout and gives:
#
#	$barwright  the program                $here  the folder of the test, from the top
#	$said       what was said last         $d     a folder that goes away again
#
# With "accept" the texts NAME.out are written anew: look at the difference before you commit it.
barwright=$(cd "$(dirname "$1")" && pwd)/$(basename "$1")
accept=${2:-}
cd "$(dirname "$0")/../../.." || exit 1
here=tests/text/$(basename "$(cd - >/dev/null && cd "$(dirname "$0")" && pwd)")
d=$(mktemp -d) || exit 1
trap 'rm -rf "$d"' EXIT
said=$d/said
good=0 bad=0

# as_before NAME COMMAND...: what the command says, and its exit status, is what NAME.out holds.
as_before() {
	held=$1.out
	shift
	"$@" >"$said" 2>&1
	echo "exit $?" >>"$said"
	if [ "$accept" = accept ]; then
		cp "$said" "$held"
	elif diff -u "$held" "$said"; then
		good=$((good + 1))
	else
		bad=$((bad + 1))
		echo "again: $*"
	fi
}

# holds WHAT COMMAND...: the command ends well.
holds() {
	what=$1
	shift
	if "$@"; then
		good=$((good + 1))
	else
		bad=$((bad + 1))
		echo "not so: $what"
		[ ! -s "$said" ] || tail -n 20 "$said"
	fi
}

# The last word of a test: how many things held, if all did.
finish() {
	[ "$bad" = 0 ] && echo "ok $good"
}
