#!/bin/sh
# run.sh BARWRIGHT [accept] - work every case in courses/cases: the plain report against NAME.out here, the
# JSON read back by Python, the SVG by an XML parser; and what a faulty case and a wrong command line are told.
. "$(dirname "$0")/../../tools/said.sh"
cases=courses/cases
for case in "$cases"/*.yaml; do
	name=$(basename "$case" .yaml)
	as_before "$here/$name" "$barwright" work --plain "$case"
	status=$(sed -n '$s/^exit //p' "$said")
	"$barwright" work --json --svg "$d/$name.svg" "$case" >"$d/$name.json"
	holds "$name: the same exit status with --json" [ $? = "$status" ]
	if command -v python3 >/dev/null; then
		holds "$name: JSON" python3 "$here/judge.py" "$d/$name.json"
		holds "$name: SVG" python3 -c 'import sys, xml.etree.ElementTree as e
root = e.parse(sys.argv[1]).getroot()
assert root.tag == "{http://www.w3.org/2000/svg}svg" and root[0].tag.endswith("title")
assert root[1].tag.endswith("desc") and "site" in root[1].text' "$d/$name.svg"
	fi
done
as_before "$here/faulty" "$barwright" work "$here/faulty.yaml"
LC_ALL=C "$barwright" work --words "$cases/lower-five.yaml" >"$d/ascii"
holds "in the C locale nothing but ASCII comes out" sh -c "! LC_ALL=C grep -q '[^ -~]' '$d/ascii'"
"$barwright" work >/dev/null 2>&1
holds "no case: cannot" [ $? = 2 ]
"$barwright" work nowhere.yaml >/dev/null 2>&1
holds "no such file: cannot" [ $? = 2 ]
"$barwright" work --svg /nowhere/x.svg "$cases/lower-five.yaml" >/dev/null 2>&1
holds "the drawing cannot be written: cannot" [ $? = 2 ]
cp "$cases/lower-five.yaml" "$d/kept.yaml"
"$barwright" work --svg "$d/kept.yaml" "$cases/lower-five.yaml" >/dev/null 2>&1
holds "a drawing over a case: cannot" [ $? = 2 ]
holds "a case is not drawn over" cmp -s "$d/kept.yaml" "$cases/lower-five.yaml"
"$barwright" work --svg /dev/null "$cases/lower-five.yaml" >/dev/null 2>&1
holds "a drawing in the place of a device: cannot" [ $? = 2 ]
holds "a device is not replaced" [ -c /dev/null ]
finish
