import type { Limit } from '#domain/rules/limit.ts';
import type { EpochMs } from '#domain/units/time.ts';

/**
 * What a range rule over one series ought to say, worked out from the whole history at once, by the definitions of
 * OPC 10000-9 B.1.5 (deadband, on-delay, off-delay), and in no way step by step as the rule does it.
 */
export interface Sample {
  readonly at: EpochMs;
  readonly value: number;
}

export interface ExpectedExcursion {
  readonly since: EpochMs;
  readonly raisedAt: EpochMs;
  readonly peak: number;
  /** Null while it lasts at the horizon. */
  readonly until: EpochMs | null;
  readonly returnedAt: EpochMs | null;
}

interface Stretch {
  readonly from: EpochMs;
  readonly to: EpochMs;
  /** False for a stretch that reaches the horizon because nothing has told of its end. */
  readonly ended: boolean;
  readonly worst: number;
}

/** Stretches outside a high limit; one for a low limit is the mirror image, see `expectedExcursions`. */
const stretchesAbove = (samples: readonly Sample[], high: number, deadband: number, uncertainty: number, horizon: EpochMs): Stretch[] => {
  const isOutside = samples.map((_sample, index) => {
    // The last sample that says clearly in or out decides; those inside the deadband say nothing.
    const told = samples.slice(0, index + 1).findLast(({ value }) => value + uncertainty > high || value + uncertainty <= high - deadband);
    return told !== undefined && told.value + uncertainty > high;
  });
  const stretches: Stretch[] = [];
  let index = 0;
  while (index < samples.length) {
    if (isOutside[index] !== true) {
      index += 1;
      continue;
    }
    const end = isOutside.indexOf(false, index);
    const within = samples.slice(index, end === -1 ? undefined : end);
    stretches.push({ from: samples[index]?.at ?? 0, to: end === -1 ? horizon : (samples[end]?.at ?? horizon), ended: end !== -1, worst: Math.max(...within.map(({ value }) => value)) });
    if (end === -1) break;
    index = end;
  }
  return stretches;
};

export const expectedExcursions = (samples: readonly Sample[], limit: Limit, uncertainty: number, horizon: EpochMs): ExpectedExcursion[] => {
  const sign = limit.high === null ? -1 : 1;
  const edge = sign * (limit.high ?? limit.low ?? Number.NaN);
  const stretches = stretchesAbove(samples.map(({ at, value }) => ({ at, value: sign * value })), edge, limit.deadband, uncertainty, horizon);
  const onDelay = limit.onDelayS * 1_000;
  const offDelay = limit.offDelayS * 1_000;
  const joined: (Stretch & { readonly raisedAt: EpochMs })[] = [];
  for (const stretch of stretches) {
    const last = joined.at(-1);
    if (last !== undefined && stretch.from < last.to + offDelay) joined[joined.length - 1] = { ...last, to: stretch.to, ended: stretch.ended, worst: Math.max(last.worst, stretch.worst) };
    else if (stretch.from + onDelay <= stretch.to) joined.push({ ...stretch, raisedAt: stretch.from + onDelay });
  }
  return joined.map(({ from, to, ended, worst, raisedAt }) => {
    const over = ended && to + offDelay <= horizon;
    return { since: from, raisedAt, peak: sign * worst, until: over ? to : null, returnedAt: over ? to + offDelay : null };
  });
};
