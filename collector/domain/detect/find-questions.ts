import { isAct, type Batch } from '../journal/shed.ts';
import { hourMs, toRfc3339, type EpochMs } from '../units/time.ts';
import { findBrineSteps, judgedAfterMs } from './brine-steps.ts';
import { findJumps, type DrumTrace } from './jumps.ts';
import { isLogged } from './open-questions.ts';
import { followingAir, isInAir } from './probe-in-air.ts';
import type { Question, QuestionKind } from './question.ts';
import { brineOfChange, isStepMissing } from './step-missing.ts';

export interface WatchedDrum {
  readonly batch: Batch;
  /** The last week, or as much of it as there is. */
  readonly trace: DrumTrace;
}

/** How far back changes are looked at: a day and the time a step is waited for. */
const lookedAtMs = 24 * hourMs;
const renewing = 0.5;

/** Everything the readings of the last day make one ask, drum by drum; what was asked before is for the caller to leave out. */
export const findQuestions = (drums: readonly WatchedDrum[], now: EpochMs): readonly Question[] => drums.flatMap((drum) => questionsOf(drum, drums, now));

const questionsOf = ({ batch, trace }: WatchedDrum, all: readonly WatchedDrum[], now: EpochMs): Question[] => {
  const about = (kind: QuestionKind, at: EpochMs, more: Partial<Question> = {}): Question => ({
    id: `${batch.drum}-${kind}-${stamp(at)}`, drum: batch.drum, lot: batch.lot, kind, at, stepC: null, entry: null, otherDrum: null, ...more,
  });
  const following = followingAir(trace.drum, trace.air, now);
  // A probe in the air jumps with every door that opens: one question is enough.
  if (following !== null && isInAir(following)) return [about('probe-in-air', now)];
  const recent = (at: EpochMs): boolean => at >= now - lookedAtMs && at <= now - judgedAfterMs;
  const unlogged = findBrineSteps(trace)
    .filter(({ at }) => recent(at) && at > batch.startedAt && !isLogged(batch, at))
    .map(({ at, sizeC }) => about('unlogged-change', at, { stepC: sizeC }));
  const untraced = batch.acts
    .filter(isAct('brine-changed'))
    .filter(({ at, body }) => recent(at) && (body.fraction ?? 1) >= renewing && isStepMissing(trace, at, earlierBrines(all, at)) === true)
    .map(({ at, sequence }) => about('right-drum', at, { entry: sequence, otherDrum: jumpedInstead(all, batch, at) }));
  return [...unlogged, ...untraced];
};

/** How warm new brine was at the changes of this shed that left a step, before a time. */
const earlierBrines = (all: readonly WatchedDrum[], before: EpochMs): readonly number[] =>
  all.flatMap(({ batch, trace }) => batch.acts.filter(isAct('brine-changed')).filter(({ at, body }) => at < before && (body.fraction ?? 1) === 1).flatMap(({ at }) => brineOfChange(trace, at) ?? []));

/** Another drum that jumped when this one should have, and whose own story does not say why. */
const jumpedInstead = (all: readonly WatchedDrum[], batch: Batch, at: EpochMs): string | null =>
  all.find((other) => other.batch.drum !== batch.drum && !isLogged(other.batch, at) && findJumps(other.trace, 1).some((jump) => Math.abs(jump.at - at) <= 2 * hourMs))?.batch.drum ?? null;

const stamp = (at: EpochMs): string => toRfc3339(at).slice(0, 16).toLowerCase().replaceAll(/[-:]/g, '');
