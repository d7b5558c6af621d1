import { valueAt } from '../heat/value-at.ts';
import { dayMs, hourMs, minuteMs, type EpochMs } from '../units/time.ts';
import { findJumps, type DrumTrace } from './jumps.ts';

/** New brine that stood in the shed must differ from the drum by this much for its step to be seen for certain. */
const leastDifferenceC = 2;

/**
 * Whether a change that was written down left no trace in the drum although it should have: null where that cannot be told.
 *
 * Nobody writes down how warm a new brine was. What earlier changes of this shed showed (drum before it, plus its jump) is believed where
 * there are at least two; otherwise a brine mixed in the shed lies between the air of that moment and the mean air of the day before
 * (assumption). Where all of these differ from the drum by at least 2 °C on the same side, the smallest difference is what is expected.
 * No jump of 0.3 of that within two hours of the time written: the step is missing.
 *
 * Units: °C. Valid for changes of at least half the brine. Example: drum 20 °C, earlier brines 14 and 15 °C: 5 °C expected.
 */
export const isStepMissing = (trace: DrumTrace, at: EpochMs, earlierBrinesC: readonly number[] = []): boolean | null => {
  const { drum, air } = trace;
  const around = drum.filter(({ t }) => Math.abs(t - at) <= windowMs);
  // Every ten minutes but a few: a step may hide in a gap.
  if (around.length < (2 * windowMs) / (10 * minuteMs) - 4) return null;
  const dayBefore = air.filter(({ t }) => t > at - dayMs && t <= at);
  const isLearned = earlierBrinesC.length >= 2;
  if (!isLearned && dayBefore.length < leastAirMeans) return null;
  const drumC = valueAt(drum, at - windowMs);
  const thinkable = isLearned ? earlierBrinesC : [valueAt(air, at), dayBefore.reduce((sum, { temperatureC }) => sum + temperatureC, 0) / dayBefore.length];
  const differences = thinkable.map((freshC) => freshC - drumC);
  if (!differences.every((each) => each >= leastDifferenceC) && !differences.every((each) => each <= -leastDifferenceC)) return null;
  const expectedC = Math.min(...differences.map(Math.abs));
  return !findJumps(trace, seenShare * expectedC).some((jump) => Math.abs(jump.at - at) <= windowMs);
};

/** How warm the new brine of a change was, as far as its jump shows; null where none is seen. */
export const brineOfChange = (trace: DrumTrace, at: EpochMs): number | null => {
  const jump = findJumps(trace, leastSeenC).find((each) => Math.abs(each.at - at) <= windowMs);
  const before = jump === undefined ? undefined : trace.drum[jump.before];
  return jump === undefined || before === undefined ? null : before.temperatureC + jump.sizeC;
};

const windowMs = 2 * hourMs;
const leastAirMeans = 72;
const seenShare = 0.3;
const leastSeenC = 1;
