import type { Bitterness } from '#domain/cure/batch.ts';
import { fleshWaterL } from '#domain/cure/brine-ratio.ts';
import { courseAt } from '#domain/cure/leaching-course.ts';
import { hydrolysisActivationEnergy, hydrolysisRate, leachingActivationEnergy, leachingRates, startingFlesh } from '#domain/cure/leaching-defaults.ts';
import { tastingScore } from '#domain/cure/tasting-score.ts';
import type { TemperatureReading } from '#domain/cure/temperature-dose.ts';
import { temperatureDose } from '#domain/cure/temperature-dose.ts';
import { hourMs } from '#domain/units/time.ts';
import type { Signal } from './physics/signal.ts';
import type { DatedBatch } from './season-plan.ts';
import { growerFactor } from './story.ts';

/** What the grower tasted: the leaching model's own course at this grower's rate, in whole points. */
export const tastedScores = ({ plan, startedAt, changes, tastings }: DatedBatch, temperature: Signal): readonly Bitterness[] => {
  const last = tastings.at(-1);
  if (last === undefined) return [];
  const readings: TemperatureReading[] = [];
  for (let t = startedAt; t <= last.at; t += hourMs) readings.push({ t, temperatureC: temperature(t) });
  const laterC = temperature(last.at);
  const states = courseAt(
    {
      start: startedAt,
      startingFlesh: startingFlesh[plan.maturity],
      ratio: plan.brineL / fleshWaterL(plan),
      leachingPerDay: leachingRates[plan.cut].perDay * growerFactor,
      hydrolysisPerDay: hydrolysisRate.perDay,
      leachingDose: temperatureDose(readings, leachingActivationEnergy, startedAt, laterC),
      hydrolysisDose: temperatureDose(readings, hydrolysisActivationEnergy, startedAt, laterC),
      changes: changes.map(({ at }) => ({ at, fraction: 1 })),
    },
    tastings.map(({ at }) => at),
  );
  return states.map(({ flesh }) => Math.round(tastingScore(flesh)));
};
