#!/bin/sh
# run.sh BARWRIGHT [accept] - what authors are told: every NAME.args is run and compared with NAME.out; and each
# kind of file that "check --new" writes must have no fault, and must not be written over.
. "$(dirname "$0")/../../tools/said.sh"
export LC_ALL=C.UTF-8
for args in "$here"/*.args; do
	# The arguments are to be split at blanks.
	# shellcheck disable=SC2046
	as_before "${args%.args}" "$barwright" --courses tests/text/drill/small $(cat "$args") </dev/null
done

new=$d/new
mkdir "$new"
begin() { "$barwright" check --new "$1" "$new/$2" >"$said" 2>&1; }
is_clean() { "$barwright" check "$new/$1" >"$said" 2>&1 && grep -q ': no faults$' "$said"; }
is_refused() { ! begin "$1" "$2" && grep -q 'there already' "$said"; }
is_as_before() { cmp -s "$new/$1" "$new/before"; }

for kind in problem item lesson rubric case procedure programme; do
	holds "a new $kind" begin "$kind" "my-$kind"
	holds "a new $kind has no fault" is_clean "my-$kind.yaml"
	echo "changed" >"$new/my-$kind.yaml"
	cp "$new/my-$kind.yaml" "$new/before"
	holds "a $kind is not written over" is_refused "$kind" "my-$kind.yaml"
	holds "a $kind is as it was before" is_as_before "my-$kind.yaml"
	rm "$new/my-$kind.yaml" "$new/before"
done
for kind in module course; do
	holds "a new $kind" begin "$kind" "my-$kind/"
	holds "a new $kind has no fault" is_clean "my-$kind"
	holds "a $kind is not written over" is_refused "$kind" "my-$kind"
done
holds "a module is named by its file" begin module my-course/second/module.yaml
holds "and is written in its folder" test -f "$new/my-course/second/module.yaml"
holds "a module after that" begin module my-course/third
sed 's/modules: \[first/&, second, third/' "$new/my-course/course.yaml" >"$new/named"
cp "$new/named" "$new/my-course/course.yaml"
holds "new modules bring no code twice" is_clean my-course
holds "a procedure of a course" begin procedure my-course/procedures/sawn
holds "a procedure of a course has no fault" is_clean my-course/procedures
holds "a procedure of a course is found" sh -c 'echo quit | "$0" --plain --data "$1/data" --courses "$1" bench --unrecorded sawn >"$2" 2>&1
	grep -q "A bar sawn and ground to length" "$2"' "$barwright" "$new" "$said"
holds "a new assessment in a course" begin assessment my-course/assessments/second
holds "a new assessment draws on its course" is_clean my-course
holds "a new assessment can be sat" sh -c 'echo later | "$0" --plain --learner Ada --data "$1/data" --courses "$1" sit second >"$2" 2>&1
	grep -q "Tasks: 2" "$2"' "$barwright" "$new" "$said"
finish
