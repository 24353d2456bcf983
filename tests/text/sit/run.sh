#!/bin/sh
# run.sh BARWRIGHT [accept] - dialogues of sittings and ratings: NAME.in is typed to the command in
# NAME.args, what is said is compared with NAME.out. Then the way of the evidence: a key, a seal, the
# matrix, the transcript, a locked assessment, a result that somebody made up.
here=$(cd "$(dirname "$0")" && pwd)
barwright=$(cd "$(dirname "$1")" && pwd)/$(basename "$1")
cd "$here" || exit 1
d=$(mktemp -d) || exit 1
trap 'rm -rf "$d"' EXIT
good=0 bad=0
accept=$2

# Codes of learners are random; with these each gets the same numbers every time.
learners() {
	mkdir -p "$1"
	printf 'barwright-learners 1\nl-00000001\tAda Lindqvist\nl-00000002\tJo Okafor\nl-00000003\tEve Stranger\n' >"$1/learners.txt"
}

# NAME-2.in goes on with the record that NAME-1.in left.
for input in ./*.in; do
	case=${input%.in}
	data=$d/${case%-[0-9]}
	[ -d "$data" ] || learners "$data"
	sed "s|^|--data $data --courses courses --plain |" "$case.args" >"$d/args"
	eval "set -- $(cat "$d/args")"
	"$barwright" "$@" <"$input" >"$d/said" 2>&1
	echo "exit $?" >>"$d/said"
	if [ "$accept" = accept ]; then
		cp "$d/said" "$case.out"
	elif diff -u "$case.out" "$d/said"; then
		good=$((good + 1))
	else
		bad=$((bad + 1))
		echo "again: sh tests/text/sit/run.sh BARWRIGHT  ($(basename "$case"))"
	fi
done
[ "$accept" = accept ] && exit 0

data=$d/way
learners "$data"
mkdir "$d/stick"
echo 'granite lamp seven river old kettle' >"$d/stick/words"
say() { "$barwright" --data "$data" --courses courses "$@" >"$d/out" 2>&1; status=$?; }
type() { # type TEXT COMMAND...
	text=$1
	shift
	printf "$text" | "$barwright" --plain --words --data "$data" --courses courses "$@" >"$d/out" 2>&1
	status=$?
}
want() { # want STATUS WORDS WHAT: the last command ended with STATUS and said WORDS
	if [ "$status" != "$1" ] || { [ "$2" != '.*' ] && ! grep -q -- "$2" "$d/out"; }; then
		echo "$3: want exit $1 and '$2', got exit $status and:"
		cat "$d/out"
		bad=$((bad + 1))
		return
	fi
	good=$((good + 1))
}
want_not() { # want_not WORDS WHAT
	if grep -q -- "$1" "$d/out"; then
		echo "$2: '$1' was said:"
		cat "$d/out"
		bad=$((bad + 1))
		return
	fi
	good=$((good + 1))
}

say key new 'A. Ortiz' --key "$d/stick/ortiz.key" --phrase "$d/stick/words"
want 0 '.*' 'a key'
say key accept "$d/stick/ortiz.key"
want 0 '.*' 'accepting it'
seal="--key $d/stick/ortiz.key --phrase $d/stick/words --identity photo-card"

type "" --learner Eve sit short
want 1 'is not on the list' 'a sitting of nobody'

# Who is refused leaves nothing behind: no learner, no record.
made() { find "$data" -name '*.jsonl' | wc -l; }
nothing_made() { # nothing_made NAME WHAT
	if grep -q "	$1$" "$data/learners.txt" || [ "$(made)" != "$before" ]; then
		echo "$2: something was made"
		bad=$((bad + 1))
	else
		good=$((good + 1))
	fi
}
before=$(made)
type "" --learner 'No Body' sit short
want 1 "'No Body' is not on the list" 'nobody sits'
nothing_made 'No Body' 'nobody sits'
type "" --learner 'No Body' rate --rater 'B. Lund' --moderate bench
want 2 'no learner of this name' 'settling what nobody rated'
nothing_made 'No Body' 'settling what nobody rated'
type "" --learner 'No Body' rate --rater 'B. Lund' --station nowhere bench
want 2 "no station 'nowhere'" 'a station that is not there'
nothing_made 'No Body' 'a station that is not there'
type "" sit short
want 2 'name the candidate: --learner NAME' 'a sitting without a name'
for self in 'Jo Okafor' 'jo  okafor ' 'L-00000002'; do
	type "" --learner 'Jo Okafor' rate --rater "$self" bench
	want 2 'nobody rates their own work' "rated by $self"
	type "" --learner l-00000002 rate --rater "$self" bench
	want 2 'nobody rates their own work' "by the code, rated by $self"
done
type 'begin\nlist\nhand-in\nhand-in\n\n' --learner 'Ada Lindqvist' sit $seal short
want 1 'sealed by A. Ortiz' 'a supervised sitting'
want 1 'The assessor seals it when you go on' 'what happens next'
type 'begin\nlist\nhand-in\nhand-in\n\n' --learner 'Jo Okafor' sit short
want 1 'not sealed: it counts as practice' 'a sitting without a key'
type 'holes\n0.10\n3\n2\ndone\nshape\n3\ndone\nfinish\n\n' --learner l-00000002 rate $seal bench
want 0 'Passed: 85 %' 'a supervised rating'

say record audit
want 0 '3 strands\|2 strands' 'an audit of it all'
want 0 'Forms, readings and results made again: 2 the same, 0 different' 'forms and results again'
want 0 'Forms, readings and results made again: 4 the same, 0 different' 'readings and results of a rating again'
say record matrix
want 0 'K1  *no 0  *(unsealed)' 'what is sealed counts, what is not is practice'
want 0 'B1  *-  *ok' 'a rating'
want 0 'LO 2  Works at the bench: missing B1 (0 of 2)' 'what is missing for whom'
say record transcript 'Jo Okafor'
want 0 'Bench work; holes, piece 1' 'a transcript'
say record transcript l-00000002 --json
python3 -c '
import json, sys
t = json.load(open(sys.argv[1]))
assert t["name"] == "Jo Okafor"
of = [e for e in t["evidence"] if e["assessed"]]
assert {e["part"] for e in of} == {"holes", "shape"}, of
assert all(e["assessor"] == "A. Ortiz" for e in of)
assert all(not e["assessed"] for e in t["evidence"] if e["of"] == "short")
' "$d/out" && good=$((good + 1)) || bad=$((bad + 1))
say record transcript 'Jo Okafor' --svg "$d/paper.svg"
want 0 'wrote' 'a transcript on paper'
python3 -c 'import sys, xml.dom.minidom as x; r = x.parse(sys.argv[1]).documentElement
assert r.getAttribute("width") == "210mm" and "Jo Okafor" in r.toxml()' "$d/paper.svg" && good=$((good + 1)) || bad=$((bad + 1))
say record transcript 'Nobody'
want 2 "no record here is of 'Nobody'" 'a transcript of nobody'

# A fault in a strand: it gives nothing, and that is said.
strand=$(grep -l '"who":"l-00000002"' "$data"/strands/*.jsonl)
cp "$strand" "$d/kept"
sed 's/"level":2/"level":3/' "$d/kept" >"$strand"
say record matrix
want 0 'Not counted: .*broken\|Not counted: ' 'a strand with a fault'
want_not 'ok 100' 'a strand with a fault gives nothing'
cp "$d/kept" "$strand"

# Locked under a passphrase.
echo 'a passphrase for the room only' >"$d/words"
say sit --lock courses/small/assessments/short.yaml "$d/short.locked" --phrase "$d/words"
want 0 '.*' 'locking'
type 'later\n' --learner 'Ada Lindqvist' sit --phrase "$d/words" "$d/short.locked"
want 1 'A short assessment' 'opening it in the room'
type 'later\n' --learner 'Ada Lindqvist' sit --phrase "$d/stick/words" "$d/short.locked"
want 2 'the passphrase is wrong, or the file was damaged' 'a wrong passphrase'
head -c -5 "$d/short.locked" >"$d/cut.locked"
type 'later\n' --learner 'Ada Lindqvist' sit --phrase "$d/words" "$d/cut.locked"
want 2 'cannot be opened: the' 'a cut file'
echo short >"$d/short"
say sit --lock courses/small/assessments/short.yaml "$d/x" --phrase "$d/short"
want 2 'has at least 15 characters' 'a passphrase that is too short'

# Tasks of its own: nobody reads them before the room, and an audit needs the open file again.
mkdir "$d/own"
cp -r courses "$d/own"
cat >"$d/own.yaml" <<'END'
assessment: own-tasks
title: Tasks of its own
about: For tests.
course: small
time: 10 min
pass: 60 %
sections:
  - section: All
    items: [{item: hidden-sum}, {competency: K2, level: 2}]
problems:
  - problem: hidden-sum
    title: A hidden sum
    competency: K1
    level: 1
    source: Arithmetic.
    draws: {width: {from: 1 mm, to: 9 mm, step: 0.1 mm}}
    text: The width is {width}.
    asks:
      - ask: Twice the width
        unit: mm
        answer: 2 * width
        steps: [{name: it, formula: 2 * width}]
        slips: [{slip: once, formula: width, say: Once.}]
  - item: hidden-choice
    title: A hidden choice
    competency: K2
    level: 2
    source: Course value.
    text: Before work.
    kind: choice
    options:
      - {option: gloves, right: true}
      - {option: paint, say: Not yet.}
    explain: Gloves first.
END
say sit --lock "$d/own.yaml" "$d/own.locked" --phrase "$d/words"
want 0 'its 2 own tasks' 'what is hidden is said'
want 0 'Not hidden: the tasks that are drawn from the course for 1 of 2 places' 'and what is not'
if grep -q 'hidden-sum' "$d/own.locked"; then echo 'it can be read in the locked file'; bad=$((bad + 1)); else good=$((good + 1)); fi
sed 's/competency: K1$/competency: K9/; s/hidden-choice/K9x: 1/' "$d/own.yaml" >"$d/faulty.yaml"
say sit --lock "$d/faulty.yaml" "$d/x" --phrase "$d/words"
want 2 'faulty.yaml has faults and cannot be used' 'a file with faults is not locked'
sed 's/competency: K1$/competency: K9/' "$d/own.yaml" >"$d/own/courses/small/assessments/strange.yaml"
say check "$d/own/courses/small/assessments/strange.yaml"
want 1 "the course has no competency 'K9', which 'hidden-sum' names" 'a competency of nobody'
sed 's/hidden-sum/twice/' "$d/own.yaml" >"$d/own/courses/small/assessments/strange.yaml"
say check "$d/own/courses/small/assessments/strange.yaml"
want 1 "the course has a problem or item 'twice' already" 'a task with the code of another'
rm "$d/own/courses/small/assessments/strange.yaml"
own() { "$barwright" --plain --words --data "$d/own/data" --courses "$d/own/courses" "$@" >"$d/out" 2>&1; status=$?; }
printf 'begin\n0.1\na\nhand-in\nhand-in\n\n' >"$d/typed-own"
own --learner Jo sit --phrase "$d/words" "$d/own.locked" <"$d/typed-own"
want 1 'A hidden sum (1 of 2' 'a hidden task in the room'
own record audit
want 0 'could not be made again' 'an audit without the open file'
cp "$d/own.yaml" "$d/own/courses/small/assessments/own-tasks.yaml"
own record audit
want 0 'Made and scored again: 2 the same, 0 different, 0 could not' 'an audit with the open file'
own record list
want 0 ' 2 answers ' 'the list counts as the audit does, held answers not twice'
own record export --csv "$(ls "$d"/own/data/strands/*.jsonl)"
[ "$(grep -c ',answer,sit,' "$d/out")" = 2 ] && [ "$(grep -c ',held,sit,' "$d/out")" = 2 ] && good=$((good + 1)) || { bad=$((bad + 1)); echo 'a table keeps held answers apart'; }

# kill -9 in the middle of a sitting: it goes on at the same question.
mkfifo "$d/typed"
(printf 'begin\n3\n'; exec sleep 20) >"$d/typed" &
typing=$!
"$barwright" --plain --words --data "$data" --courses courses --learner 'Ada Lindqvist' sit --sitting KILLED short <"$d/typed" >"$d/out" 2>&1 &
sitting=$!
for _ in 1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17 18 19 20; do
	grep -q 'KILLED' "$data"/strands/*.jsonl && tail -n 1 "$data"/strands/*.jsonl | grep -q '"at":2,"used_ms"' && break
	sleep 0.25
done
kill -9 "$sitting" "$typing"
wait "$sitting" "$typing" 2>/dev/null
type 'go-on\n' --learner 'Ada Lindqvist' sit short
want 1 '(2 of 3, 20 min left)' 'after kill -9'
want 1 'Sitting: KILLED' 'the same sitting'

# What cannot be.
type '' --learner Ada sit too-much
want 2 'competency K1 lacks 2 items of level 1: 4 are asked for, the course has 2' 'a blueprint the course cannot fill'
say sit no-such
want 2 "there is no assessment 'no-such'" 'an assessment that is not there'
want 2 '  short: A short assessment, 20 min$' 'which there are'
cp "$d/short.locked" "$d/own/courses/small/assessments/finals.locked"
own sit
want 2 '  finals: locked; the assessor has the passphrase' 'a locked one among them'
rm "$d/own/courses/small/assessments/finals.locked"
say --learner Ada sit --key "$d/no-such.key" short
want 2 'no-such.key' 'a key that is not there, before anything is begun'
want 2 'Nothing was begun' 'a key that is not there'
say --learner Ada rate --rater B --key "$d/typed" bench
want 2 'Nothing was begun' 'what is no key'
echo 'no key' >"$d/no.key"
say --learner Ada sit --key "$d/no.key" short
want 2 "not an assessor" 'another file is no key'
say rate --rater B bench
want 2 'name the candidate' 'a rating of nobody'
say --learner Ada rate bench
want 2 'who rates' 'a rating by nobody'
type '' --learner 'Jo Okafor' rate --rater B --moderate bench
want 1 'fewer than two raters' 'nothing to settle'
echo "ok $good"
[ "$bad" = 0 ]
