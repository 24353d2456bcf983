/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Keys and signatures as texts of the web: base58 of bitcoin's alphabet, which the multibase draft of the
 * IETF marks with z ("The Multibase Data Format", draft-multiformats-multibase), and did:key for Ed25519
 * (W3C Credentials Community Group, "The did:key Method"): the bytes ed 01, which stand for an Ed25519
 * public key in the multicodec table, and the key. */
#ifndef BARWRIGHT_EXPORT_DID_H
#define BARWRIGHT_EXPORT_DID_H

#include <stddef.h>

#include <barwright/base/bad.h>
#include <barwright/base/cipher.h>

/* n bytes, at most BASE58_BYTES, as "z" and base58; out has room for BASE58_TEXT. */
enum { BASE58_BYTES = 80, BASE58_TEXT = 128 };
void base58_write(const unsigned char *bytes, size_t n, char out[static BASE58_TEXT]);
/* Back to exactly n bytes. BAD_SYNTAX: no z, another alphabet; BAD_SIZE: another length. */
enum bad base58_read(const char *text, size_t len, unsigned char *out, size_t n);

enum { DID_KEY = 57 };
/* "did:key:z6Mk..." */
void did_key(const unsigned char open[static SIGN_PUBLIC], char out[static DID_KEY]);
/* That, alone. BAD_SYNTAX: no did:key; BAD_TYPE: of another kind of key. */
enum bad did_key_read(const char *text, size_t len, unsigned char open[static SIGN_PUBLIC]);

#endif
