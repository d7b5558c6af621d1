import type { BenchDose, TrialJar } from '../acid/bench-trial.ts';
import { benchTrial, benchTrialRanges, defaultTargetPh } from '../acid/bench-trial.ts';
import { fail, ok, type Result } from '../result.ts';
import { findOutside } from '../valid-range.ts';
import type { BenchPlan } from './bench-plan.ts';
import { benchDays } from './bench-plan.ts';

/** pH of blended fruit and brine from a split sample of one trial jar. */
export interface BenchReading {
  readonly jar: number;
  readonly day: number;
  readonly ph: number;
}

export interface BenchResult extends BenchDose {
  readonly day: number;
  readonly targetPh: number;
  readonly batchKg: number;
  /** The largest change of a jar since the reading before: where it is large the acid was not yet at rest. */
  readonly stillMoving: number;
  readonly text: string;
}

export interface BenchRefusal {
  readonly code: 'not-yet' | 'jar-missing' | 'not-crossed' | 'outside-valid-range';
  readonly message: string;
}

/**
 * The vinegar for a batch from its five trial jars: the day-7 line where it crosses the target, scaled by all of fruit and brine.
 *
 * Source: `benchTrial`, which interpolates between the two doses around the target and never extrapolates. Only readings of day 7 or later
 * count, of every jar on the same day, the latest such day; earlier readings look more acid in the brine than the fruit will be.
 * It is a place to start: the packed jars are measured anyway. Example: 335 g jars, 14 mL → 4.20, 21 mL → 4.04, target 4.1: 18.4 mL a jar, 3.1 L for 56.6 kg.
 */
export const benchResult = (plan: BenchPlan, readings: readonly BenchReading[], batchKg: number, targetPh: number = defaultTargetPh): Result<BenchResult, BenchRefusal> => {
  const lastDay = benchDays[benchDays.length - 1] as number;
  const late = readings.filter(({ day }) => day >= lastDay);
  if (late.length === 0) return fail({ code: 'not-yet', message: `No reading of day ${lastDay} or later: the acid is not in the fruit yet.` });
  const daysWithAll = [...new Set(late.map(({ day }) => day))].filter((day) => plan.jars.every(({ jar }) => late.some((reading) => reading.jar === jar && reading.day === day)));
  if (daysWithAll.length === 0) return fail({ code: 'jar-missing', message: `Measure all ${plan.jars.length} jars on one day, day ${lastDay} or later.` });
  const day = Math.max(...daysWithAll);
  const on = (jar: number, when: number): number | null => {
    // Two readings of a jar on a day: the higher one counts.
    const phs = readings.filter((reading) => reading.jar === jar && reading.day === when).map(({ ph }) => ph);
    return phs.length === 0 ? null : Math.max(...phs);
  };
  const jars = plan.jars.map(({ jar, vinegarMl }): TrialJar => ({ acidMl: vinegarMl, ph: on(jar, day) ?? Number.NaN }));
  const dose = benchTrial({ jars, jarMassG: plan.jarMassG, targetPh, batchKg });
  if (!dose.ok) {
    const { field, message } = dose.error;
    const inRange = findOutside({ targetPh }, { targetPh: benchTrialRanges.targetPh }) === null;
    return fail({ code: field === 'targetPh' && inRange ? 'not-crossed' : 'outside-valid-range', message });
  }
  const changes = plan.jars.map(({ jar }) => {
    const before = Math.max(...readings.filter((reading) => reading.jar === jar && reading.day < day).map((reading) => reading.day));
    return Math.abs((on(jar, day) ?? 0) - (on(jar, before) ?? on(jar, day) ?? 0));
  });
  const { jarAcidMl, batchAcidMl, between } = dose.value;
  return ok({
    ...dose.value, day, targetPh, batchKg, stillMoving: Math.max(...changes),
    text: `${jarAcidMl.toFixed(1)} mL a jar, between ${between[0].acidMl.toFixed(0)} mL (pH ${between[0].ph.toFixed(2)}) and ${between[1].acidMl.toFixed(0)} mL (pH ${between[1].ph.toFixed(2)}): ${(batchAcidMl / 1_000).toFixed(2)} L of the same vinegar in place of brine for ${batchKg.toFixed(1)} kg of fruit and brine together. Measure the packed jars all the same.`,
  });
};
