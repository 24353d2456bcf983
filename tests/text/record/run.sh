#!/bin/sh
# run.sh BARWRIGHT - a learner's record from the first line to the audit, and what is said when the
# record, the disk or the terminal is not as it should be.
here=$(cd "$(dirname "$0")" && pwd)
barwright=$(cd "$(dirname "$1")" && pwd)/$(basename "$1")
cd "$here/../../.." || exit 1
d=$(mktemp -d) || exit 1
trap 'rm -rf "$d"' EXIT
good=0
say() { "$barwright" --data "$d/data" --courses courses "$@" >"$d/out" 2>&1; status=$?; }
want() { # want STATUS WORDS WHAT: the last command ended with STATUS and said WORDS, in one line or over several
	if [ "$status" != "$1" ] || ! { cat "$d/out"; tr -s ' \n' '  ' <"$d/out"; } | grep -q -- "$2"; then
		echo "$3: want exit $1 and '$2', got exit $status and:"
		cat "$d/out"
		exit 1
	fi
	good=$((good + 1))
}
drill() { printf "$1" | "$barwright" --plain --words --data "$d/data" --courses courses drill --alone --count 1 "$2" >"$d/out" 2>&1; status=$?; }

say record list
want 0 'Nothing is recorded yet' 'a fresh machine'
[ ! -e "$d/data" ] || { echo "looking made a folder"; exit 1; }

say record audit
want 2 'no strand is here, so there is nothing to check' 'nothing to audit is not a yes'
say record audit "$d/nowhere"
want 2 'nowhere: there is no such file or folder' 'a path there is not'
mkdir "$d/empty"
say record audit "$d/empty"
want 2 'Name a strand' 'a folder without strands'
say record audit --foo
want 2 'is not known here' 'an option there is not'

drill '999\non\n' spread
want 0 'Not right' 'a first answer'
drill '999\nagain\n998\non\n1\non\n' thickness
want 0 'Asked, 2 of' 'three answers'
say record list
want 0 ' 4 answers' 'listing'
say record audit
want 0 '4 the same, 0 different, 0 could not' 'an audit of what was just done'
say record audit --json
want 0 '"clean":true' 'the same as JSON'

strand=$(ls "$d"/data/strands/*.jsonl)
cp "$strand" "$d/kept"

"$barwright" --data "$d/data" --courses "$d/empty" record audit --lines-only >"$d/out" 2>&1; status=$?
want 0 'The answers were not made and scored again' 'lines and seals, without a course'

# A pipe, a socket, an empty file and a folder among the strands; a damaged key.
cp -r "$d/data" "$d/odd"
mkfifo "$d/odd/strands/pipe.jsonl"; : >"$d/odd/strands/empty.jsonl"; mkdir "$d/odd/strands/folder.jsonl"; echo x >"$d/odd/machine.key"
timeout 10 "$barwright" --data "$d/odd" --courses courses record audit >"$d/out" 2>&1; status=$?
want 1 'it cannot be read: this is not an ordinary file' 'a pipe among the strands is not waited for'
want 1 'the key of this machine is damaged' 'a damaged key of the machine'
timeout 10 "$barwright" --data "$d/odd" record list >"$d/out" 2>&1; status=$?
want 0 'empty.jsonl: nothing is recorded in it yet' 'a strand that was never begun'
timeout 10 "$barwright" --data "$d/odd" --courses courses record audit "$d/odd/strands/pipe.jsonl" >"$d/out" 2>&1; status=$?
want 2 'this is not an ordinary file' 'a pipe by its name'
cp "$d/data/machine.key" "$d/odd/machine.key"; printf 'barwright-learners 1\nl-00000000\tAnn\nBen\n' >"$d/odd/learners.txt"
"$barwright" --plain --data "$d/odd" --courses courses --learner Ben drill spread </dev/null >"$d/out" 2>&1; status=$?
want 2 'learners.txt, line 3: the list of learners is damaged' 'a damaged list is told by its line'

# A clock before 1970 and one far ahead.
if command -v faketime >/dev/null && faketime '1969-12-31 12:00:00' "$barwright" --version >/dev/null 2>&1; then
	for at in '1969-12-31 12:00:00' '2037-01-01 12:00:00'; do
		printf '999\non\n' | faketime "$at" "$barwright" --plain --words --data "$d/clock" --courses courses drill --alone --count 1 spread >"$d/out" 2>&1; status=$?
		want 0 'Not right' "a clock at $at"
	done
	"$barwright" --data "$d/clock" --courses courses record audit >"$d/out" 2>&1; status=$?
	want 0 'from 1969-12-31' 'what that clock said'
	want 0 'clock was set forward' 'and that it was moved'
else
	echo "NOT CHECKED: a clock before 1970 (faketime is not here, or does not go with the sanitizers)"
fi

# Somebody changes a wrong answer into a right one.
sed 's/"outcome":"wrong"/"outcome":"right"/' "$d/kept" >"$strand"
say record audit
want 1 'error' 'a changed answer'
cp "$d/kept" "$strand"

# The program stopped in the middle of a line.
head -c -40 "$d/kept" >"$strand"
say record audit
want 0 'torn' 'a torn tail is told, and is no fault'
drill '999\non\n' spread
want 0 'set aside' 'the record goes on behind a torn tail'
say record audit
want 0 '0 different' 'after going on'
cp "$d/kept" "$strand"

# A problem that was changed since cannot be made again, and that is said.
mkdir "$d/changed" && cp -r courses rubrics "$d/changed"
echo '# changed' >>"$d/changed/courses/hand-made-bar/spread/centre-spread.yaml"
"$barwright" --data "$d/data" --courses "$d/changed/courses" record audit >"$d/out" 2>&1; status=$?
want 0 'changed since' 'a changed problem'

# A last line that somebody changed.
sed 's/"v":1/"v":2/' "$d/kept" >"$strand"
drill '999\non\n' spread
want 2 'nothing is added to it' 'a changed strand is not continued'
cp "$d/kept" "$strand"

# A line in the middle that somebody took out.
sed 2d "$d/kept" >"$strand"
drill '999\non\n' spread
want 2 'nothing is added to it' 'a strand with a gap is not continued'
[ "$(wc -l <"$strand")" = "$(($(wc -l <"$d/kept") - 1))" ] || { echo "a line was added behind a gap"; exit 1; }
cp "$d/kept" "$strand"

# Two programs on one strand.
(flock 9; drill '999\non\n' spread; echo "$status" >"$d/status") 9>>"$strand"
status=$(cat "$d/status")
want 2 'another program' 'a strand in use'
learn() { printf '%040d' 0 | tr 0 '\n' | "$barwright" --plain --data "$d/data" --courses courses learn spread >"$d/out" 2>&1; status=$?; }
(flock 9; learn; echo "$status" >"$d/status") 9>>"$strand"
status=$(cat "$d/status")
want 0 'Practise this topic now - nothing is recorded' 'lessons are read while the record is in use'
! grep -q 'barwright:' "$d/out" || { echo "reading a lesson complains:"; cat "$d/out"; exit 1; }

# Other learners have their own strand; names stay out of it.
printf '999\non\n' | "$barwright" --plain --words --data "$d/data" --courses courses --learner 'Ana Lopez' drill --alone --count 1 spread >"$d/out" 2>&1; status=$?
want 0 'Not right' 'a second learner'
[ "$(ls "$d"/data/strands/*.jsonl | wc -l)" = 2 ] || { echo "two learners share a strand"; exit 1; }
! grep -q Lopez "$d"/data/strands/*.jsonl || { echo "a name stands in a strand"; exit 1; }
say record list
want 0 'Ana Lopez' 'the list knows names'

# Options without their value: "$NAME" where NAME was never set must not name the learner of this machine.
for option in --learner --data --courses; do
	say $option '' drill spread
	want 2 "$option wants a value" "an empty $option"
done
env -u HOME -u XDG_DATA_HOME "$barwright" --plain --courses courses drill >"$d/out" 2>&1; status=$?
want 2 'there is no HOME' 'no HOME'
say --plain --data "$d/kept" drill spread
want 2 'this is not a folder' 'a file where the data folder should be'
say --plain --data "$d/none" --unrecorded </dev/null
want 0 'What the course holds' 'the home page without a record'
[ ! -e "$d/none/machine.key" ] || { echo "--unrecorded made a key"; exit 1; }
say -- record list
want 0 'Ana Lopez' 'a command behind --'

# A folder that cannot be made, a disk that is full.
printf '12\n' | "$barwright" --plain --data /proc/nowhere --courses courses drill --alone --count 1 spread >"$d/out" 2>&1; status=$?
want 2 'nothing can be recorded' 'a data folder that cannot be made'
"$barwright" --help >/dev/full 2>"$d/out"; status=$?
want 2 'could not be written' 'a full disk behind the output'
"$barwright" --data "$d/data" --courses courses record audit >/dev/full 2>"$d/out"; status=$?
want 2 'could not be written' 'a full disk behind an audit'
(ulimit -f 6; printf '1\non\nnext\n2\non\nnext\n3\non\n' | "$barwright" --plain --words --data "$d/small" --courses courses drill --alone spread) >"$d/out" 2>&1; status=$?
want 2 'ended early' 'a file that may not grow'
"$barwright" --data "$d/small" --courses courses record audit >"$d/out" 2>&1; status=$?
want 0 'nothing was changed' 'what was acknowledged before the disk was full'

# A closed stdout, stdin or stderr: its number must not go to the strand, or the dialogue is written into it.
printf '1\non\n' >"$d/answers"
for closed in '>&-' '<&-' '2>&-' '<&- >&- 2>&-'; do
	eval '"$barwright" --plain --data "$d/closed" --courses courses drill --alone --count 1 spread <"$d/answers" >"$d/none" 2>&1' "$closed"
	"$barwright" --data "$d/closed" --courses courses record audit >"$d/out" 2>&1; status=$?
	want 0 'nothing was changed' "closed: $closed"
done

# A second implementation, in another language, reads what was written and sealed, erased and not.
if command -v node >/dev/null; then
	echo 'seven geese over the pond' >"$d/phrase"
	say key new 'D. Ruiz' --key "$d/ruiz.key" --phrase "$d/phrase"
	say record seal --key "$d/ruiz.key" --phrase "$d/phrase" 'Ana Lopez'
	want 0 'lines sealed' 'a seal to be read by another program'
	ana=$(grep -l "\"kind\":\"seal\"" "$d"/data/strands/*.jsonl)
	node tests/tools/verify_strand.mjs "$ana" >"$d/out" 2>&1; status=$?
	want 0 "^$(wc -l <"$ana") lines, 1 seals" 'a strand by Node'
	sed 's/"outcome":"wrong"/"outcome":"right"/' "$ana" >"$d/changed.jsonl"
	node tests/tools/verify_strand.mjs "$d/changed.jsonl" >"$d/out" 2>&1; status=$?
	want 1 'the hash does not fit' 'a changed strand by Node'
	say record erase --yes 'Ana Lopez'
	node tests/tools/verify_strand.mjs "$ana" >"$d/out" 2>&1; status=$?
	want 0 "^$(wc -l <"$ana") lines, 1 seals" 'an erased strand by Node'
else
	echo "NOT CHECKED: strands by a second implementation (node is not here)"
fi
# What src/record/VERIFYING.md tells an accreditor to do, with openssl alone.
if command -v openssl >/dev/null && command -v basenc >/dev/null; then
	for line in 1 2 3; do
		sh tests/tools/verify_line.sh "$strand" $line >"$d/out" 2>&1; status=$?
		want 0 "line $line holds, signed with" 'one line by hand'
	done
	sed '2s/"n":1/"n":7/' "$strand" >"$d/changed.jsonl"
	sh tests/tools/verify_line.sh "$d/changed.jsonl" 2 >"$d/out" 2>&1; status=$?
	want 1 'was changed' 'a changed line by hand'
	{ sed -n 1p "$strand"; sed -n 2p "$strand" | sed 's/....."\]$/AAAAA"]/'; } >"$d/changed.jsonl"
	sh tests/tools/verify_line.sh "$d/changed.jsonl" 2 >"$d/out" 2>&1; status=$?
	want 1 'the signature does not fit' 'another signature by hand'
else
	echo "NOT CHECKED: lines by hand (openssl or basenc is not here)"
fi
echo "ok $good"
