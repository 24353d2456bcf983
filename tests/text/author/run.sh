#!/bin/sh
# run.sh BARWRIGHT [accept] - what authors are told: every NAME.args is run and compared, with its exit
# status, with NAME.out ("accept" writes the outputs anew); and each kind of file that "check --new"
# writes must have no fault, and must not be written over.
here=$(cd "$(dirname "$0")" && pwd)
barwright=$(cd "$(dirname "$1")" && pwd)/$(basename "$1")
cd "$here/../../.." || exit 1
said=$(mktemp) || exit 1
new=$(mktemp -d) || exit 1
trap 'rm -rf "$said" "$new"' EXIT
good=0 bad=0
for args in "$here"/*.args; do
	case=${args%.args}
	# The arguments are to be split at blanks.
	# shellcheck disable=SC2046
	LC_ALL=C.UTF-8 "$barwright" --courses tests/text/drill/small $(cat "$args") >"$said" 2>&1 </dev/null
	echo "exit $?" >>"$said"
	if [ "$2" = accept ]; then
		cp "$said" "$case.out"
	elif diff -u "$case.out" "$said"; then
		good=$((good + 1))
	else
		bad=$((bad + 1))
		echo "again: sh tests/text/author/run.sh BARWRIGHT  ($(basename "$case"))"
	fi
done

check() { # WHAT: what it takes to be right stands behind it
	what=$1
	shift
	if "$@"; then good=$((good + 1)); else
		bad=$((bad + 1))
		echo "wrong: $what"
		cat "$said"
	fi
}
begin() { "$barwright" check --new "$1" "$new/$2" >"$said" 2>&1; }
is_clean() { "$barwright" check "$new/$1" >"$said" 2>&1 && grep -q ': no faults$' "$said"; }
is_refused() { ! begin "$1" "$2" && grep -q 'there already' "$said"; }
is_as_before() { cmp -s "$new/$1" "$new/before"; }

for kind in problem item lesson rubric case; do
	check "a new $kind" begin "$kind" "my-$kind"
	check "a new $kind has no fault" is_clean "my-$kind.yaml"
	echo "changed" >"$new/my-$kind.yaml"
	cp "$new/my-$kind.yaml" "$new/before"
	check "a $kind is not written over" is_refused "$kind" "my-$kind.yaml"
	check "a $kind is as it was before" is_as_before "my-$kind.yaml"
	rm "$new/my-$kind.yaml" "$new/before"
done
for kind in module course; do
	check "a new $kind" begin "$kind" "my-$kind/"
	check "a new $kind has no fault" is_clean "my-$kind"
	check "a $kind is not written over" is_refused "$kind" "my-$kind"
done
echo "ok $good"
[ "$bad" = 0 ]
