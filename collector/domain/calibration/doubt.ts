import type { Calibrated, DoubtDecided } from '../journal/check-entries.ts';
import { fromRfc3339, type EpochMs } from '../units/time.ts';
import { checkSettingsWith, type CheckSettings } from './check-settings.ts';
import { failedCheck, foundWrong } from './failed-check.ts';

/** A check as the shed keeps it: with the entry it was written in. */
export type KeptCheck = Calibrated & { readonly by?: string; readonly sequence?: number };

export type Measured = 'ph' | 'temperature';

export const checkMeasures = ({ kind }: Pick<Calibrated, 'kind'>): Measured => (kind === 'ice-point' ? 'temperature' : 'ph');

/** Checks of one quantity by a time, oldest first. */
export const checksOf = (checks: readonly KeptCheck[], measured: Measured, until: EpochMs): readonly (KeptCheck & { readonly madeAt: EpochMs })[] =>
  checks
    .filter((check) => checkMeasures(check) === measured)
    .map((check) => ({ ...check, madeAt: fromRfc3339(check.at) }))
    .filter(({ madeAt }) => madeAt <= until)
    .sort((one, other) => one.madeAt - other.madeAt);

/** A time whose results a failed check put in doubt: from the last good check (null: there was none) up to the failed one. */
export interface Doubt {
  readonly check: number;
  readonly measured: Measured;
  readonly why: string;
  readonly from: EpochMs | null;
  readonly to: EpochMs;
}

/**
 * What failed checks put in doubt: everything since the last good one, because nobody can say when it began.
 * Source: the look-back that makers of measuring rules ask for (21 CFR 820.72, written for medical devices, is the model).
 */
export const doubtsOf = (checks: readonly KeptCheck[], now: EpochMs, settings: CheckSettings = checkSettingsWith()): readonly Doubt[] =>
  (['ph', 'temperature'] as const).flatMap((measured) => {
    const doubts: Doubt[] = [];
    let lastGood: EpochMs | null = null;
    for (const check of checksOf(checks, measured, now)) {
      const failed = failedCheck(check, settings);
      const why = failed ?? foundWrong(check, settings);
      if (why !== null) doubts.push({ check: check.sequence ?? 0, measured, why, from: lastGood, to: check.madeAt });
      if (failed === null) lastGood = check.madeAt;
    }
    return doubts;
  });

/** The doubt that covers a time and that nobody has decided for this lot; a decision that results stand, or do not, ends it. */
export const openDoubtAt = (doubts: readonly Doubt[], decisions: readonly DoubtDecided[], lot: string | null, measured: Measured, at: EpochMs): Doubt | 'discarded' | null => {
  for (const doubt of doubts) {
    if (doubt.measured !== measured || at >= doubt.to || (doubt.from !== null && at < doubt.from)) continue;
    const decided = decisions.findLast(({ check, lot: about }) => check === doubt.check && about === lot);
    if (decided === undefined) return doubt;
    if (decided.decision === 'discarded') return 'discarded';
  }
  return null;
};
