import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import { dayMs, hourMs } from '../units/time.ts';
import type { OutsideValidRange } from '../valid-range.ts';
import { findOutside, outsideValidRange } from '../valid-range.ts';
import { batchCourse } from './batch-course.ts';
import type { Cut, Maturity } from './batch.ts';
import type { FruitAndBrine } from './brine-ratio.ts';
import { courseAt, courseReaches } from './leaching-course.ts';
import { endPointFlesh } from './leaching-defaults.ts';
import type { TemperatureReading } from './temperature-dose.ts';
import type { TemperatureSpan } from './temperature-span.ts';
import { totalHours } from './temperature-span.ts';

export interface LeachingPlan extends FruitAndBrine {
  readonly cut: Cut;
  readonly maturity: Maturity;
  /** Temperature over the cure; the last one is held when it ends before `days`. */
  readonly temperatures: readonly TemperatureSpan[];
  /** Share of the brine replaced, all of it when not said. */
  readonly changes: readonly { readonly day: number; readonly fraction?: number | undefined }[];
  readonly days: number;
}

export interface LeachingCurve {
  readonly ratio: number;
  /** One point a day and one at the end; on the day of a change the brine is still the old one. */
  readonly curve: readonly { readonly day: number; readonly flesh: number; readonly brine: number }[];
  /** Null: not within `days`. */
  readonly dayPleasant: number | null;
  readonly daySweet: number | null;
}

/**
 * The course of a cure that is planned or remembered, with the starting guesses of its cut and maturity.
 *
 * Source: two-compartment leaching (`leach`); rates and end points are assumptions. It says nothing about safety.
 * Units: °C, h, days, kg, L. Valid range: 0 to 45 °C, 0 to 1,500 days, changes of 0 to 1.
 * Example: cracked green fruit at 20 °C, r 1.5, changed daily: pleasant after 7.2 days, sweet after 12.1.
 */
export const leachingCurve = (plan: LeachingPlan): Result<LeachingCurve, OutsideValidRange> => {
  const { days, temperatures, changes } = plan;
  const outside = findOutside({ days }, { days: leachingDaysRange });
  if (outside !== null) return outside;
  if (!(totalHours(temperatures) > 0)) return outsideValidRange('parts', 'parts must hold some hours');
  for (const [i, { fromC, toC }] of temperatures.entries()) {
    const field = `parts.${i}.temperatureC`;
    const wrong = findOutside({ [field]: fromC }, { [field]: leachingTemperatureRange }) ?? findOutside({ [field]: toC }, { [field]: leachingTemperatureRange });
    if (wrong !== null) return wrong;
  }
  for (const [i, { day, fraction = 1 }] of changes.entries()) {
    const wrong = findOutside(
      { [`changes.${i}.day`]: day, [`changes.${i}.fraction`]: fraction },
      { [`changes.${i}.day`]: leachingDaysRange, [`changes.${i}.fraction`]: fractionRange },
    );
    if (wrong !== null) return wrong;
  }
  const course = batchCourse({ ...plan, startedAt: 0 }, {
    temperatures: endsOf(temperatures),
    laterC: temperatures.at(-1)?.toC ?? Number.NaN,
    changes: changes.map(({ day, fraction = 1 }) => ({ at: day * dayMs, fraction })),
  });
  if (!course.ok) return course;
  const points = Array.from({ length: Math.floor(days) + 1 }, (_, day) => day);
  if (days > Math.floor(days)) points.push(days);
  const states = courseAt(course.value, points.map((day) => day * dayMs));
  const dayOf = (target: number): number | null => {
    const at = courseReaches(course.value, target, days * dayMs);
    return at === null ? null : at / dayMs;
  };
  return ok({
    ratio: course.value.ratio,
    curve: states.map(({ flesh, brine }, i) => ({ day: points[i] as number, flesh, brine })),
    dayPleasant: dayOf(endPointFlesh.pleasant),
    daySweet: dayOf(endPointFlesh.sweet),
  });
};

export const leachingTemperatureRange = { low: 0, high: 45, unit: '°C' } as const;
export const leachingDaysRange = { low: 0, high: 1_500, unit: 'days' } as const;
export const fractionRange = { low: 0, high: 1, unit: '' } as const;

/** Two readings a span, so that a step from one to the next stays a step. */
const endsOf = (spans: readonly TemperatureSpan[]): TemperatureReading[] => {
  let t = 0;
  return spans.flatMap(({ hours, fromC, toC }) => {
    const from = { t, temperatureC: fromC };
    t += hours * hourMs;
    return [from, { t, temperatureC: toC }];
  });
};
