#!/bin/sh
# instance_bits.sh - does the same key give the same tasks with every compiler here, plain and optimised?
# Compiles all that makes an instance and its page in up to four ways and compares the hash over
# instances of every problem of the course: numbers, texts, drawings.
cd "$(dirname "$0")/../.." || exit 2
build=$(mktemp -d) || exit 2
trap 'rm -rf "$build"' EXIT
flags="-std=c11 -D_POSIX_C_SOURCE=200809L -D_XOPEN_SOURCE=700 -D_DEFAULT_SOURCE -ffp-contract=off
	-Iinclude -Isrc -include barwright/base/banned.h"
sources="tests/tools/instance_bits.c src/desk/present.c src/desk/lead.c src/desk/picture.c src/figure/*.c
	src/surface/page.c src/surface/canvas.c src/surface/charset.c src/item/*.c src/course/*.c src/formula/*.c
	src/tree/*.c src/measure/*.c src/calc/*.c src/base/*.c"
command -v clang >/dev/null || echo "instance bits: clang is not here, so gcc alone is compared with itself"

one() { # COMPILER LEVEL
	# shellcheck disable=SC2086,SC2046
	"$1" $flags $2 $sources -o "$build/$1$2" \
		$(pkg-config --cflags --libs yaml-0.1 libcjson libsodium gsl) -lm 2>"$build/$1$2.err" ||
		{ cat "$build/$1$2.err"; return 1; }
	"$build/$1$2" courses/hand-made-bar >"$build/$1$2.bits"
}
for cc in gcc clang; do
	command -v "$cc" >/dev/null || continue
	one "$cc" -O0 &
	one "$cc" -O3
	wait
done
first=
for cc in gcc clang; do
	for level in -O0 -O3; do
		command -v "$cc" >/dev/null || continue
		bits=$(cat "$build/$cc$level.bits" 2>/dev/null)
		printf '%s %s: %s\n' "$cc" "$level" "${bits:-nothing}"
		[ "$bits" ] && [ "${first:=$bits}" = "$bits" ] || { echo "not the same bits"; exit 1; }
	done
done
