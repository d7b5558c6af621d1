import { isAct, type Batch } from '../journal/shed.ts';
import { batchCourse } from './batch-course.ts';
import { sweetBitterness } from './batch.ts';
import { changesOf } from './change-rhythm.ts';
import { endOfCure } from './end-of-cure.ts';
import type { TastedCure } from './leaching-fit.ts';
import type { TemperatureReading } from './temperature-dose.ts';
import { timeWeightedMeanC } from './time-weighted.ts';

/** Whether one batch's finished cure tells anything about another's: one cut, one style, one maturity, and not of the same fruit. */
export const tellsAbout = (earlier: Batch, batch: Batch): boolean =>
  earlier.lineage[0] !== batch.lineage[0] &&
  earlier.cut === batch.cut &&
  earlier.style === batch.style &&
  earlier.maturity === batch.maturity &&
  (earlier.jarredAt !== null || endOfCure(earlier, sweetBitterness).ok) &&
  earlier.acts.some(isAct('tasted'));

/** Parts of one cure share what was tasted before they were split: one of them speaks for all. */
export const oncePerFruit = (batches: readonly Batch[]): readonly Batch[] => [...new Map(batches.toReversed().map((batch) => [batch.lineage[0], batch])).values()].toReversed();

/** A cure that is over, as the next one of its kind learns from it: what was tasted in the drum, over the temperatures measured there. */
export const finishedCure = (batch: Batch, temperatures: readonly TemperatureReading[]): TastedCure | null => {
  const laterC = timeWeightedMeanC(temperatures);
  if (Number.isNaN(laterC)) return null;
  const course = batchCourse(batch, { temperatures, laterC, changes: changesOf(batch) });
  if (!course.ok) return null;
  const tastings = batch.acts
    .filter(isAct('tasted'))
    .filter(({ at }) => at >= batch.startedAt && (batch.jarredAt === null || at <= batch.jarredAt))
    .map(({ at, body }) => ({ at, bitterness: body.bitterness }));
  return tastings.length === 0 ? null : { course: course.value, tastings };
};
