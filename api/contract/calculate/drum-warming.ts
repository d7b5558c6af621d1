import { z } from 'zod';
import { drumWarming as warm, timeConstantRange } from '#domain/cure/drum-warming.ts';
import { hoursRange, spansOfParts, temperatureRange, totalHours } from '#domain/cure/temperature-span.ts';
import { asFound, calculator, number } from './calculator.ts';
import { warmDrum } from './caution.ts';
import { oneWay, quantity, temperatureParts } from './fields.ts';

/** A point an hour for three weeks; beyond, so many points in all. */
const mostPoints = 504;

export const drumWarming = calculator({
  title: 'Drum in warm or cold air',
  purpose: 'How a drum follows the air around it.',
  source: "Newton's law of cooling, one temperature for the whole drum (its core lags)",
  input: oneWay(
    z.strictObject({
      airC: quantity('Air', temperatureRange).optional(),
      parts: temperatureParts('Air', hoursRange, temperatureRange).optional(),
      startC: quantity('Drum now', temperatureRange),
      timeConstantHours: quantity('Time constant of the drum', timeConstantRange),
      hours: quantity('Hours ahead', hoursRange),
    }),
    ['airC'], ['parts'],
  ),
  answer: { temperatureC: number('°C', 'Drum then'), curve: z.array(z.object({ hours: number('h'), temperatureC: number('°C') })).readonly() },
  find: ({ airC = Number.NaN, parts, ...drum }) => {
    const air = spansOfParts(parts ?? [{ hours: 1, temperatureC: airC }]);
    if (!air.ok) return air;
    const endsEarly = parts !== undefined && totalHours(air.value) < drum.hours;
    return asFound(warm({ ...drum, air: air.value }, Math.max(1, drum.hours / mostPoints)), ({ curve }) => ({
      assumed: endsEarly ? ['airAfterParts'] : [],
      caution: warmDrum(Math.max(...curve.map(({ temperatureC }) => temperatureC))),
    }));
  },
});
