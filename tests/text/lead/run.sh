#!/bin/sh
# run.sh BARWRIGHT - a learner is led by the hand and let go: an example, then one step more to find with
# each right answer, then none given. An audit makes every task again and scores every answer and every
# step again.
barwright=$(cd "$(dirname "$1")" && pwd)/$(basename "$1")
cd "$(dirname "$0")/../../.." || exit 1
data=$(mktemp -d) || exit 1
trap 'rm -rf "$data"' EXIT
command -v python3 >/dev/null || { echo "no python3 here: the led learner was left out"; echo "ok 0"; exit 0; }
left=$(python3 tests/text/lead/led.py "$barwright" "$data") || { echo "$left"; exit 1; }
[ "$left" = "1 2 3 0 0 0" ] || { echo "steps left to find: want 1 2 3 0 0 0, got $left"; exit 1; }
"$barwright" --data "$data" --courses tests/text/drill/small record audit >"$data/out" || { cat "$data/out"; exit 1; }
grep -q 'Made and scored again: 9 the same, 0 different, 0 could not be made again' "$data/out" ||
	{ cat "$data/out"; exit 1; }
steps=$(cat "$data"/strands/*.jsonl | grep -c '"step":')
[ "$steps" = 3 ] || { echo "steps recorded: want 3, got $steps"; exit 1; }
cat "$data"/strands/*.jsonl | grep '"kind":"draw"' | grep -q '"skew":' || { echo "no features are recorded"; exit 1; }
echo "ok 4"
