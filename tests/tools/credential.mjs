// SPDX-License-Identifier: GPL-3.0-or-later
// credential.mjs FILE - a second implementation, of nothing but Node.js: checks each line as a verifiable
// credential with a proof of eddsa-jcs-2022, and the members that W3C Verifiable Credentials 2.0 and Open
// Badges 3.0 ask for. Prints the competencies; fails at the first that does not hold.
import { createHash, createPublicKey, verify } from 'node:crypto';
import { readFileSync } from 'node:fs';

const alphabet = '123456789ABCDEFGHJKLMNPQRSTUVWXYZabcdefghijkmnopqrstuvwxyz';
function base58(text) {
	if (text[0] !== 'z') throw new Error('not base58btc');
	let n = 0n;
	for (const c of text.slice(1)) n = n * 58n + BigInt(alphabet.indexOf(c));
	let hex = n.toString(16);
	if (hex.length % 2) hex = '0' + hex;
	const zeros = /^z(1*)/.exec(text)[1].length;
	return Buffer.concat([Buffer.alloc(zeros), Buffer.from(hex, 'hex')]);
}
// RFC 8785: sort() without a function compares UTF-16 code units; JSON.stringify writes numbers and texts as
// that document asks.
function jcs(v) {
	if (Array.isArray(v)) return '[' + v.map(jcs).join(',') + ']';
	if (v && typeof v === 'object')
		return '{' + Object.keys(v).sort().map((k) => JSON.stringify(k) + ':' + jcs(v[k])).join(',') + '}';
	return JSON.stringify(v);
}
const sha = (s) => createHash('sha256').update(s, 'utf8').digest();

function holds(document) {
	const { proof, ...bare } = document;
	const { proofValue, ...options } = proof;
	if (options.type !== 'DataIntegrityProof' || options.cryptosuite !== 'eddsa-jcs-2022')
		throw new Error('another kind of proof');
	if (options.proofPurpose !== 'assertionMethod') throw new Error('another purpose');
	if (jcs(options['@context']) !== jcs(bare['@context'])) throw new Error('another context');
	const [did, fragment] = options.verificationMethod.split('#');
	if (did !== 'did:key:' + fragment) throw new Error('not a did:key');
	if (bare.issuer.id !== did) throw new Error('somebody else than the issuer signed');
	const key = base58(fragment);
	if (key[0] !== 0xed || key[1] !== 0x01 || key.length !== 34) throw new Error('not an Ed25519 key');
	const der = Buffer.concat([Buffer.from('302a300506032b6570032100', 'hex'), key.subarray(2)]);
	const publicKey = createPublicKey({ key: der, format: 'der', type: 'spki' });
	return verify(null, Buffer.concat([sha(jcs(options)), sha(jcs(bare))]), publicKey, base58(proofValue));
}

function members(d) {
	const need = (truth, words) => { if (!truth) throw new Error(words); };
	const time = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?Z$/;
	need(d['@context'][0] === 'https://www.w3.org/ns/credentials/v2', 'the first context');
	need(d['@context'].length >= 2, 'the second context');
	need(d.type.includes('VerifiableCredential') && d.type.includes('AchievementCredential'), 'type');
	need(/^urn:uuid:[0-9a-f-]{36}$/.test(d.id), 'id');
	need(d.issuer.id && d.issuer.type.includes('Profile'), 'issuer');
	need(time.test(d.validFrom), 'validFrom');
	need(time.test(d.proof.created), 'created');
	const s = d.credentialSubject, a = s.achievement;
	need(s.id && s.type.includes('AchievementSubject'), 'credentialSubject');
	need(a.id && a.type.includes('Achievement') && a.name && a.description && a.criteria.narrative, 'achievement');
	const r = a.resultDescription[0];
	need(r.id && r.name && r.resultType === 'Percent' && typeof r.requiredValue === 'string', 'resultDescription');
	need(s.result[0].resultDescription === r.id && typeof s.result[0].value === 'string', 'result');
	need(d.evidence[0].narrative.includes('RFC 9162'), 'evidence');
}

for (const line of readFileSync(process.argv[2], 'utf8').split('\n').filter(Boolean)) {
	const document = JSON.parse(line);
	if (jcs(document) !== line) throw new Error('this is not the canonical form');
	if (!holds(document)) throw new Error('the signature does not hold');
	members(document);
	document.credentialSubject.result[0].value = '100';
	if (holds(document)) throw new Error('a changed value holds too');
	console.log(document.name);
}
