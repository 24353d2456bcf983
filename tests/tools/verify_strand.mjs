// SPDX-License-Identifier: GPL-3.0-or-later
// verify_strand.mjs FILE - reads a strand by what stands at the top of src/record/chain.c and in
// include/barwright/record/seal.h, with Node's crypto and nothing of this project: a second
// implementation to hold the program against. Prints "N lines, M seals" or "line N: what is wrong".
import { createHash, createPublicKey, verify } from "node:crypto";
import { readFileSync } from "node:fs";

const bytes = readFileSync(process.argv[2]);
const sha = (...parts) => parts.reduce((h, p) => h.update(p), createHash("sha256")).digest();
const zero = Buffer.alloc(32);
const keys = new Map(); // id -> key
let n = 0, prev = zero, seals = 0;
const leaves = [], signatures = createHash("sha256");

function stop(why) {
	console.log(`line ${n + 1}: ${why}`);
	process.exit(1);
}
function introduce(hex) {
	const der = Buffer.from("302a300506032b6570032100" + hex, "hex"); // RFC 8410, 4
	const id = sha(Buffer.from(hex, "hex")).toString("hex").slice(0, 16);
	keys.set(id, createPublicKey({ key: der, format: "der", type: "spki" }));
}
function root(list) { // RFC 9162, 2.1.1
	if (list.length === 1) return list[0];
	let k = 1;
	while (2 * k < list.length) k *= 2;
	return sha(Buffer.from([1]), root(list.slice(0, k)), root(list.slice(k)));
}

for (let at = 0; at < bytes.length; n++) {
	const lf = bytes.indexOf(10, at);
	if (lf < 0) stop("it is not complete");
	const line = bytes.subarray(at, lf), suffix = line.subarray(line.length - 157).toString("latin1");
	const m = /^,"([0-9a-f]{64})","([A-Za-z0-9_-]{86})"\]$/.exec(suffix);
	if (line[0] !== 0x5b || !m) stop("no frame");
	const payload = line.subarray(1, line.length - 157), hash = Buffer.from(m[1], "hex");
	const erased = payload.toString() === "null";
	if (!erased) {
		if (!sha(Buffer.from([0]), payload).equals(hash)) stop("the hash does not fit");
		const p = JSON.parse(payload.toString());
		if (p.n !== n || p.prev !== prev.toString("hex")) stop("it does not follow");
		for (const k of ["machine_pk", "assessor_pk"]) if (p.body[k]) introduce(p.body[k]);
		const key = keys.get(p.key), signature = Buffer.from(m[2], "base64url");
		if (signature.toString("base64url") !== m[2]) stop("spare bits");
		if (!key || !verify(null, Buffer.concat([Buffer.from("vocational-record/line/1\n"), hash]), key, signature))
			stop("the signature does not fit");
		if (p.kind === "seal") {
			const b = p.body;
			if (b.size !== n || b.head !== prev.toString("hex") || b.root !== root(leaves).toString("hex") ||
				b.signatures !== signatures.copy().digest("hex"))
				stop("the seal does not hold");
			seals++;
		}
	}
	leaves.push(hash);
	signatures.update(m[2]);
	prev = hash;
	at = lf + 1;
}
console.log(`${n} lines, ${seals} seals`);
