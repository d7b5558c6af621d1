import type { AttributedCure } from '#domain/cure/attribute-days.ts';
import type { Cut, Maturity } from '#domain/cure/batch.ts';
import { courseAt } from '#domain/cure/leaching-course.ts';
import { startingFlesh } from '#domain/cure/leaching-defaults.ts';
import { fleshAtScore, tastingScore } from '#domain/cure/tasting-score.ts';
import { dayMs } from '#domain/units/time.ts';
import { fleshWaterL } from '#domain/cure/brine-ratio.ts';
import { daysTo, every, steadyCourse } from './cures.ts';

/** An invented cure at one temperature whose grower tastes exactly what the model says, at a rate of their own. */
export interface InventedCure {
  readonly temperatureC: number;
  readonly everyDays: number | null;
  readonly cut: Cut;
  readonly maturity: Maturity;
  readonly brineL: number;
  /** How much faster this fruit leaches than the starting guess. */
  readonly rate: number;
  readonly startedAt: number;
}

export const plainCure: InventedCure = { temperatureC: 17, everyDays: 7, cut: 'slit', maturity: 'green', brineL: 27, rate: 1, startedAt: 0 };
const fruitKg = 30;

const courseOf = ({ temperatureC, everyDays, cut, maturity, brineL, rate }: InventedCure) => {
  const course = steadyCourse({ cut, temperatureC, changeDays: everyDays === null ? [] : every(everyDays, Math.ceil(2_000 / everyDays)), ratio: brineL / fleshWaterL({ fruitKg }), startingFlesh: startingFlesh[maturity] });
  return { ...course, leachingPerDay: course.leachingPerDay * rate };
};

/** Days to the first score of 1, straight from the model of one cure: no mixing, no sharing out. */
export const modelDaysOf = (cure: InventedCure): number => daysTo(courseOf(cure), fleshAtScore(1));

export const inventCure = (over: Partial<InventedCure> = {}): AttributedCure => {
  const cure = { ...plainCure, ...over };
  const days = modelDaysOf(cure);
  const tastedDays = [0.2, 0.4, 0.6, 0.8, 1].map((share) => share * days);
  const states = courseAt(courseOf(cure), tastedDays.map((day) => day * dayMs));
  const { startedAt, temperatureC, everyDays } = cure;
  return {
    batch: { cut: cure.cut, maturity: cure.maturity, startedAt, fruitKg, brineL: cure.brineL },
    temperatures: [0, days].map((day) => ({ t: startedAt + day * dayMs, temperatureC })),
    changes: everyDays === null ? [] : every(everyDays, Math.floor(days / everyDays)).map((day) => ({ at: startedAt + day * dayMs, fraction: 1 })),
    changesEveryDays: everyDays,
    tastings: states.map(({ flesh }, i) => ({ at: startedAt + (tastedDays[i] as number) * dayMs, bitterness: tastingScore(flesh) })),
    days,
  };
};
