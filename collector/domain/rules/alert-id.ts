import type { Slug } from '../reading/reading.ts';
import type { EpochMs } from '../units/time.ts';
import { toRfc3339 } from '../units/time.ts';

/**
 * The id of an alert tells what it is about and when it was raised, so that the same readings give the same id, whoever works it out.
 * A rule about probes carries the probe as well: two probes of one drum may fall silent at once.
 */
export const alertId = (drum: Slug, limit: string, probe: Slug | null, raisedAt: EpochMs): string => `${subject(drum, limit)}${probe === null ? '' : `${probe}-`}${compact(raisedAt)}`;

/** The probe an alert is about, read back from its id; null for a rule about the drum. */
export const probeOfAlert = (id: string, drum: Slug, limit: string): Slug | null => {
  const rest = id.slice(subject(drum, limit).length);
  const probe = rest.slice(0, Math.max(0, rest.lastIndexOf('-')));
  return probe === '' ? null : probe;
};

const subject = (drum: Slug, limit: string): string => `${drum}-${limit}-`;

/** `20261125t095612z`, with milliseconds only where there are any. */
const compact = (at: EpochMs): string => toRfc3339(at).toLowerCase().replace('.000z', 'z').replaceAll(/[-:.]/g, '');
