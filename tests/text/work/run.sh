#!/bin/sh
# run.sh BARWRIGHT [accept] - work every case in courses/cases: the plain report and the exit status
# against NAME.out here, the JSON read back by Python, the SVG by an XML parser; and what a faulty case
# and a wrong command line are told. With "accept" the outputs are written anew: look at the difference
# before you commit it.
here=$(cd "$(dirname "$0")" && pwd)
barwright=$(cd "$(dirname "$1")" && pwd)/$(basename "$1")
cases=$here/../../../courses/cases
said=$(mktemp -d) || exit 1
trap 'rm -rf "$said"' EXIT
good=0 bad=0

compare() { # NAME: $said/NAME with NAME.out
	if [ "$accept" ]; then
		cp "$said/$1" "$here/$1.out"
	elif diff -u "$here/$1.out" "$said/$1"; then
		good=$((good + 1))
	else
		bad=$((bad + 1))
		echo "again: barwright work --plain courses/cases/$1.yaml"
	fi
}

holds() { # WHAT COMMAND...
	what=$1
	shift
	if "$@"; then
		good=$((good + 1))
	else
		bad=$((bad + 1))
		echo "not so: $what"
	fi
}

[ "$2" = accept ] && accept=1
cd "$cases" || exit 1
for case in *.yaml; do
	name=${case%.yaml}
	"$barwright" work --plain "$case" >"$said/$name" 2>&1
	status=$?
	echo "exit $status" >>"$said/$name"
	compare "$name"
	"$barwright" work --json --svg "$said/$name.svg" "$case" >"$said/$name.json"
	holds "$name: the same exit status with --json" [ $? = $status ]
	if command -v python3 >/dev/null; then
		holds "$name: JSON" python3 "$here/judge.py" "$said/$name.json"
		holds "$name: SVG" python3 -c 'import sys, xml.etree.ElementTree as e
root = e.parse(sys.argv[1]).getroot()
assert root.tag == "{http://www.w3.org/2000/svg}svg" and root[0].tag.endswith("title")
assert root[1].tag.endswith("desc") and "site" in root[1].text' "$said/$name.svg"
	fi
done
cd "$here" || exit 1
"$barwright" work faulty.yaml >"$said/faulty" 2>&1
echo "exit $?" >>"$said/faulty"
compare faulty
LC_ALL=C "$barwright" work --words "$cases/lower-five.yaml" >"$said/ascii"
holds "in the C locale nothing but ASCII comes out" sh -c "! LC_ALL=C grep -q '[^ -~]' '$said/ascii'"
"$barwright" work >/dev/null 2>&1
holds "no case: cannot" [ $? = 2 ]
"$barwright" work nowhere.yaml >/dev/null 2>&1
holds "no such file: cannot" [ $? = 2 ]
"$barwright" work --svg /nowhere/x.svg "$cases/lower-five.yaml" >/dev/null 2>&1
holds "the drawing cannot be written: cannot" [ $? = 2 ]
cp "$cases/lower-five.yaml" "$said/kept.yaml"
"$barwright" work --svg "$said/kept.yaml" "$cases/lower-five.yaml" >/dev/null 2>&1
holds "a drawing over a case: cannot" [ $? = 2 ]
holds "a case is not drawn over" cmp -s "$said/kept.yaml" "$cases/lower-five.yaml"
"$barwright" work --svg /dev/null "$cases/lower-five.yaml" >/dev/null 2>&1
holds "a drawing in the place of a device: cannot" [ $? = 2 ]
holds "a device is not replaced" [ -c /dev/null ]
[ "$bad" = 0 ] && echo "ok $good"
