/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Proofs of the cryptosuite eddsa-jcs-2022 (W3C Recommendation "Data Integrity EdDSA Cryptosuites v1.0",
 * 2025, 3.3): SHA-256 over the canonical proof options, SHA-256 over the canonical document, Ed25519
 * over the 64 bytes. Canonical is RFC 8785; numbers that are not integers are refused. */
#ifndef BARWRIGHT_EXPORT_PROOF_H
#define BARWRIGHT_EXPORT_PROOF_H

#include <stddef.h>

#include <barwright/base/bad.h>
#include <barwright/base/cipher.h>
#include <barwright/base/text.h>

/* Adds the document, a JSON object without "proof", with a proof by this key to `out`, canonical, no
 * LF. `created`: an XML Schema date-time, "2026-11-25T10:00:01Z". BAD_REPEATED: it has a proof
 * already; and as json_read and json_canonical. */
enum bad proof_add(const char *document, size_t len, const struct sign_pair *pair,
	const char *created, struct text *out);

/* Does the proof of a document hold? FINE: yes, under *open, which its verification method names; who
 * that is, and whether it may say such things, is for others. BAD_SEAL: it does not; BAD_TYPE: a
 * proof of another suite or key; BAD_MISSING: there is none; BAD_ORDER: contexts do not go together;
 * and as json_read. */
enum bad proof_check(
	const char *document, size_t len, unsigned char open[static SIGN_PUBLIC], struct text *why);

/* The two hashes that are signed, options first. */
enum bad proof_hashes(const char *document, size_t len, const char *options, size_t options_len,
	struct hash out[static 2]);

#endif
