/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "export/did.h"

#include <stdio.h>
#include <string.h>

static const char digit[] = "123456789ABCDEFGHJKLMNPQRSTUVWXYZabcdefghijkmnopqrstuvwxyz";
static const char method[] = "did:key:";
static const unsigned char ed25519[2] = {0xed, 0x01};
enum { METHOD = sizeof method - 1 };

/* The number n bytes spell, most significant first, in digits of 58, least significant first. */
static size_t to_digits(const unsigned char *bytes, size_t n, unsigned char *out)
{
	size_t len = 0;
	for (size_t i = 0; i < n; i++) {
		unsigned carry = bytes[i];
		for (size_t k = 0; k < len; k++) {
			carry += (unsigned)out[k] << 8;
			out[k] = (unsigned char)(carry % 58);
			carry /= 58;
		}
		for (; carry; carry /= 58)
			out[len++] = (unsigned char)(carry % 58);
	}
	return len;
}

/* Each leading zero byte is one leading 1. */
void base58_write(const unsigned char *bytes, size_t n, char out[static BASE58_TEXT])
{
	unsigned char value[BASE58_TEXT];
	size_t at = 0;
	out[at++] = 'z';
	for (size_t i = 0; i < n && bytes[i] == 0; i++)
		out[at++] = '1';
	for (size_t len = to_digits(bytes, n, value); len; len--)
		out[at++] = digit[value[len - 1]];
	out[at] = '\0';
}

static enum bad read_number(const char *text, size_t len, unsigned char *out, size_t n)
{
	memset(out, 0, n);
	for (size_t i = 0; i < len; i++) {
		const char *found = text[i] ? strchr(digit, text[i]) : NULL;
		if (!found)
			return BAD_SYNTAX;
		unsigned carry = (unsigned)(found - digit);
		for (size_t k = n; k; k--) {
			carry += 58u * out[k - 1];
			out[k - 1] = (unsigned char)carry;
			carry >>= 8;
		}
		if (carry)
			return BAD_SIZE;
	}
	return FINE;
}

/* Read, written again and compared: one text only stands for these bytes. */
enum bad base58_read(const char *text, size_t len, unsigned char *out, size_t n)
{
	unsigned char bytes[BASE58_BYTES];
	char again[BASE58_TEXT];
	if (len < 1 || *text != 'z')
		return BAD_SYNTAX;
	if (n > BASE58_BYTES || len >= BASE58_TEXT)
		return BAD_SIZE;
	enum bad code = read_number(text + 1, len - 1, bytes, n);
	if (code)
		return code;
	base58_write(bytes, n, again);
	if (strlen(again) != len || memcmp(again, text, len) != 0)
		return BAD_SIZE;
	memcpy(out, bytes, n);
	return FINE;
}

void did_key(const unsigned char open[static SIGN_PUBLIC], char out[static DID_KEY])
{
	unsigned char bytes[sizeof ed25519 + SIGN_PUBLIC];
	char text[BASE58_TEXT];
	memcpy(bytes, ed25519, sizeof ed25519);
	memcpy(bytes + sizeof ed25519, open, SIGN_PUBLIC);
	base58_write(bytes, sizeof bytes, text);
	snprintf(out, DID_KEY, "%s%.48s", method, text);
}

enum bad did_key_read(const char *text, size_t len, unsigned char open[static SIGN_PUBLIC])
{
	unsigned char bytes[sizeof ed25519 + SIGN_PUBLIC];
	if (len < METHOD || memcmp(text, method, METHOD) != 0)
		return BAD_SYNTAX;
	enum bad code = base58_read(text + METHOD, len - METHOD, bytes, sizeof bytes);
	if (code)
		return code == BAD_SIZE ? BAD_TYPE : code;
	if (memcmp(bytes, ed25519, sizeof ed25519) != 0)
		return BAD_TYPE;
	memcpy(open, bytes + sizeof ed25519, SIGN_PUBLIC);
	return FINE;
}
