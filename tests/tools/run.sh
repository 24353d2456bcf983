#!/bin/sh
# run.sh BUILD - run every test that is built under BUILD, then the text tests; print one line a test
# that failed and, last, "N passed, N failed".
B=$1
pass=0 fail=0
out=$(mktemp) || exit 1
trap 'rm -f "$out"' EXIT
export LC_ALL=C.UTF-8 ASAN_OPTIONS="${ASAN_OPTIONS:-detect_leaks=1:allocator_may_return_null=1}"
unset NO_COLOR CLICOLOR CLICOLOR_FORCE XDG_DATA_HOME XDG_STATE_HOME XDG_CONFIG_HOME

for t in $(find "$B/tests" -type f -name 'test_*' -perm -u+x | sort); do
	if CMOCKA_MESSAGE_OUTPUT=STDOUT "$t" >"$out" 2>&1; then
		n=$(grep -c '^\[       OK \]' "$out")
		pass=$((pass + n))
	else
		n=$(grep -c '^\[       OK \]' "$out")
		f=$(sed -n 's/^\[  FAILED  \] .*: \([0-9][0-9]*\) test(s).*/\1/p' "$out" | tail -n 1)
		pass=$((pass + n)) fail=$((fail + ${f:-1}))
		printf 'FAILED %s\n' "$t"
		sed 's/^/    /' "$out" | grep -v '       OK \|  RUN  ' | tail -n 40
	fi
done

for t in tests/text/*/run.sh; do
	[ -f "$t" ] || continue
	if sh "$t" "$B/barwright" >"$out" 2>&1; then
		n=$(sed -n 's/^ok \([0-9][0-9]*\)$/\1/p' "$out" | tail -n 1)
		pass=$((pass + ${n:-1}))
	else
		fail=$((fail + 1))
		printf 'FAILED %s\n' "$t"
		sed 's/^/    /' "$out" | tail -n 60
	fi
done

printf '%d passed, %d failed\n' "$pass" "$fail"
[ "$fail" = 0 ]
