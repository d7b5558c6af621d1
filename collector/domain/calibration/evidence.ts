import { localDate } from '../cure/stage.ts';
import { isStrip } from '../jar/strip.ts';
import type { DoubtDecided } from '../journal/check-entries.ts';
import { dayMs, type EpochMs } from '../units/time.ts';
import { checkSettingsWith, type CheckSettings } from './check-settings.ts';
import { checksOf, doubtsOf, openDoubtAt, type KeptCheck } from './doubt.ts';
import { failedCheck } from './failed-check.ts';

/** Something measured: with what, for which lot, when. `by`: an instrument held in the hand, or a probe that stays in the brine. */
export interface Measurement {
  readonly quantity: 'ph' | 'temperature' | 'salinity';
  readonly instrument: string | null;
  readonly by: 'hand' | 'probe';
  readonly lot: string | null;
  readonly at: EpochMs;
}

/** What is known of the instruments of a site. */
export interface InstrumentBook {
  readonly calibrations: ReadonlyMap<string, readonly KeptCheck[]>;
  readonly decisions?: readonly DoubtDecided[];
  readonly settings?: CheckSettings;
  readonly zone: string;
  /** Checks up to now count: one that failed later puts what was measured before in doubt. */
  readonly now: EpochMs;
}

export const evidenceReasons = ['no-instrument', 'strip', 'not-calibrated', 'too-old', 'failed-check', 'in-doubt', 'discarded'] as const;
export type EvidenceReason = (typeof evidenceReasons)[number];
export type Evidence = { readonly usable: true } | { readonly usable: false; readonly reason: EvidenceReason; readonly text: string };

const usable: Evidence = { usable: true };
const not = (reason: EvidenceReason, text: string): Evidence => ({ usable: false, reason, text });

/**
 * Whether a value may stand as evidence: whether the instrument was checked as required before it, and has not been found wrong since.
 *
 * pH by hand: calibrated on the same local day (extension pages on acidified foods: two buffers on the day of use). A pH probe: within a
 * week (common practice, no source). A thermometer: an ice point within a month (assumption). Salt is asked no check. What is not
 * usable is still told; it never counts as inside.
 */
export const evidenceOf = ({ quantity, instrument, by, lot, at }: Measurement, { calibrations, decisions = [], settings = checkSettingsWith(), zone, now }: InstrumentBook): Evidence => {
  if (instrument === null) return not('no-instrument', 'no instrument named');
  if (quantity === 'salinity') return usable;
  if (quantity === 'ph' && isStrip(instrument)) return not('strip', 'strip');
  const checks = calibrations.get(instrument) ?? [];
  const last = checksOf(checks, quantity, at).at(-1);
  if (last === undefined) return not('not-calibrated', quantity === 'temperature' ? 'ice point not checked' : by === 'hand' ? 'meter not calibrated that day' : 'not calibrated');
  const failed = failedCheck(last, settings);
  if (failed !== null) return not('failed-check', `failed its last check: ${failed}`);
  // A buffer read as a sample tells that a calibration still holds; it is none.
  const calibratedAt = checksOf(checks, quantity, at).findLast(({ kind }) => kind !== 'buffer-check')?.madeAt;
  if (calibratedAt === undefined) return not('not-calibrated', 'not calibrated');
  if (quantity === 'ph' && by === 'hand') {
    if (localDate(calibratedAt, zone).toString() !== localDate(at, zone).toString()) return not('not-calibrated', 'meter not calibrated that day');
  } else {
    const days = quantity === 'ph' ? settings.probePhDays : settings.icePointDays;
    if (at - calibratedAt > days * dayMs) return not('too-old', `last checked more than ${String(days)} days before`);
  }
  const doubt = openDoubtAt(doubtsOf(checks, now, settings), decisions, lot, quantity, at);
  if (doubt === 'discarded') return not('discarded', 'discarded after a failed check');
  return doubt === null ? usable : not('in-doubt', `in doubt: a later check failed (${doubt.why})`);
};
