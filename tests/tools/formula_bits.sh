#!/bin/sh
# formula_bits.sh - do formulas come to the same bits with every compiler here, plain and optimised? Builds
# the test with random formulas four times and compares the hash over all results that it prints.
cd "$(dirname "$0")/../.." || exit 2
build=$(mktemp -d) || exit 2
trap 'rm -rf "$build"' EXIT
flags="-std=c11 -D_POSIX_C_SOURCE=200809L -D_XOPEN_SOURCE=700 -D_DEFAULT_SOURCE -ffp-contract=off
	-Iinclude -Isrc -Itests -include barwright/base/banned.h"
first=
for cc in gcc clang; do
	command -v "$cc" >/dev/null || continue
	for level in -O0 -O3; do
		# shellcheck disable=SC2086,SC2046
		$cc $flags $level tests/unit/formula/test_random.c src/formula/*.c src/calc/*.c src/base/*.c \
			-o "$build/t" $(pkg-config --libs cmocka libsodium gsl) -lm || exit 2
		bits=$("$build/t" 2>&1 | grep '^bits') || exit 1
		printf '%s %s: %s\n' "$cc" "$level" "$bits"
		[ "${first:=$bits}" = "$bits" ] || { echo "not the same bits"; exit 1; }
	done
done
