/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A verifiable credential for each competency that was reached: W3C Verifiable Credentials Data Model 2.0
 * (2025) with a proof of eddsa-jcs-2022 (export/proof.h), its subject and achievement in the terms of
 * Open Badges 3.0 (1EdTech, 2024). It can be checked by anybody with the document alone; 1EdTech's own
 * certification knows other proofs, and is not claimed.
 *
 * Reached is what a result line under a seal says: the criterion, the cut and what was scored go into
 * the credential. Practice never gives one. */
#ifndef BARWRIGHT_EXPORT_CREDENTIAL_H
#define BARWRIGHT_EXPORT_CREDENTIAL_H

#include "export/pick.h"

struct credential_how {
	const struct sign_pair *pair;
	const char *issuer;  /* name of who signs */
	const char *base;    /* as in export/xapi.h */
	const char *subject; /* name to put in; null: none, the code alone */
	/* The title of a competency of a course, as the reader's copy of the course has it; null: not at
	 * hand. The function may be null. */
	const char *(*title_of)(void *context, const char *course, const char *competency);
	void *context;
};
/* One line with LF for each competency of the strand's learner, the last result that reached it; *n
 * counts them. */
enum bad credential_strand(const struct source *s, const struct key_ring *assessors,
	const struct credential_how *how, struct text *out, size_t *n, struct diags *d);

#endif
