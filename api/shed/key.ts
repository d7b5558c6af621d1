import { fingerprintOf } from '#collector';
import type { Site } from '#contract';
import type { Shed } from '#domain/journal/shed.ts';

/** The key of the site as the journal names it; null before it is made. */
export const keyShape = ({ seals: { publicKey } }: Shed): Site['key'] => (publicKey === null ? null : { algorithm: 'Ed25519', publicKey, fingerprint: fingerprintOf(publicKey) });
