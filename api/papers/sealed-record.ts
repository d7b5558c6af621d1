import { createHash } from 'node:crypto';
import { canonical, type SiteKey } from '#collector';
import type { SealedRecord } from '#contract';
import { shortCode } from '#domain/journal/short-code.ts';
import type { LotRecord } from '#domain/record/lot-record.ts';

/** A record, signed, with what stands on its papers. */
export interface SignedRecord {
  readonly sealed: SealedRecord;
  /** SHA-256 over the RFC 8785 form of the record. */
  readonly sha256: string;
  /** The same, speakable: on every page of the paper. */
  readonly code: string;
  readonly fingerprint: string;
}

export const signRecord = (record: LotRecord, key: SiteKey): SignedRecord => {
  const text = canonical(record);
  const sha256 = createHash('sha256').update(text).digest('hex');
  return {
    sealed: { record, seal: { canonicalization: 'JCS', algorithm: 'Ed25519', publicKey: key.publicKey, signature: key.sign(text) } },
    sha256,
    code: shortCode(sha256),
    fingerprint: key.fingerprint,
  };
};
