#!/bin/sh
# run.sh BUILD - every bench program, one after the other; each prints ratios taken in one run.
printf '%-52s %12s %12s   %6s\n' 'ours / base' 'ours' 'base' 'ratio'
for b in $(find "$1/tests/bench" -type f -perm -u+x ! -name 'base_*' | sort); do
	"$b" "$1" || exit 1
done
