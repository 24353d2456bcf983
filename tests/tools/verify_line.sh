#!/bin/sh
# verify_line.sh STRAND LINE - checks one line of a strand (from 1) with coreutils and openssl alone: that its
# hash fits its bytes, and that its signature fits the hash under the key that the strand's first line names.
# A seal is signed with the key that stands in the seal itself. src/record/VERIFYING.md explains it.
d=$(mktemp -d) || exit 2
trap 'rm -rf "$d"' EXIT
bytes() { tr a-f A-F | basenc -d --base16; } # of hex digits
sed -n "$2p" "$1" | tr -d '\n' >"$d/line"
n=$(wc -c <"$d/line")
[ "$n" -gt 158 ] || { echo "there is no such line"; exit 2; }
tail -c +2 "$d/line" | head -c $((n - 158)) >"$d/payload"
tail -c 157 "$d/line" >"$d/suffix"
hash=$(cut -c3-66 "$d/suffix")
if [ "$(cat "$d/payload")" = null ]; then
	echo "line $2 was erased; its hash still stands in the chain"
elif [ "$({ printf '\0'; cat "$d/payload"; } | sha256sum | cut -c1-64)" != "$hash" ]; then
	echo "line $2 was changed: the hash does not fit"
	exit 1
fi
key=$(grep -o '"assessor_pk":"[0-9a-f]*"' "$d/payload" | cut -d'"' -f4)
[ -n "$key" ] || key=$(sed -n 1p "$1" | grep -o '"machine_pk":"[0-9a-f]*"' | cut -d'"' -f4)
{ printf 'vocational-record/line/1\n'; printf %s "$hash" | bytes; } >"$d/message"
{ cut -c70-155 "$d/suffix" | tr -d '\n'; printf '=='; } | basenc -d --base64url >"$d/signature"
printf '302a300506032b6570032100%s' "$key" | bytes >"$d/key.der" # RFC 8410, 4
openssl pkeyutl -verify -pubin -keyform DER -inkey "$d/key.der" -rawin -in "$d/message" -sigfile "$d/signature" >/dev/null 2>&1 ||
	{ echo "line $2: the signature does not fit the key $key"; exit 1; }
echo "line $2 holds, signed with $key"
