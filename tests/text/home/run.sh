#!/bin/sh
# run.sh BARWRIGHT [accept] - from the home page to all there is: every NAME.in is typed to the program,
# one after the other on the same record; what is said is compared with NAME.out. Dates are taken out.
. "$(dirname "$0")/../../tools/said.sh"
export LC_ALL=C.UTF-8
mkdir -p "$d/data"
# Codes of learners and of sittings are random; what depends on them is taken out below.
printf 'barwright-learners 1\nl-00000001\tAda Lindqvist\n' >"$d/data/learners.txt"

# The places of a desk of their own: assessments and rubric of the sittings' tests, a real procedure.
mkdir -p "$d/courses"
cp -r tests/text/sit/courses/small "$d/courses"
cp -r tests/text/sit/rubrics "$d"
# Another one, and one that cannot be used: it is not offered.
sed 's/^rubric: .*/rubric: other/; s/^title: .*/title: Another rubric/' "$d/rubrics/bench.yaml" >"$d/rubrics/other.yaml"
echo 'rubric: broken' >"$d/rubrics/broken.yaml"
mkdir "$d/courses/procedures"
cp courses/procedures/space-for-the-bar.yaml "$d/courses/procedures"

home() {
	"$barwright" --plain --words --data "$d/data" --courses "$d/courses" --learner 'Ada Lindqvist' "$@" |
		sed 's/20[0-9][0-9]-[0-9][0-9]-[0-9][0-9]/DATE/; s/^strand: .*/strand: .../; s/^Sitting: .*/Sitting: .../
			s/^lines: .*/lines: .../; s/ [0-9.]* mm wide/ ... mm wide/; s|[^ ]*/strands/.*|.../strands/...|; s/[0-9]* seconds ago/just now/'
}

for input in "$here"/*.in; do
	case=${input%.in}
	# shellcheck disable=SC2046
	as_before "$case" home $(cat "$case.args" 2>/dev/null) <"$input"
done
holds "an audit of all that was done from the home page" \
	sh -c '"$@" >"$0"' "$said" "$barwright" --data "$d/data" --courses "$d/courses" record audit
finish
