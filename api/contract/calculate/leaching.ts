import { z } from 'zod';
import { cuts, maturities } from '#domain/cure/batch.ts';
import { fruitAndBrineRanges as ranges } from '#domain/cure/brine-ratio.ts';
import { fractionRange, leachingCurve, leachingDaysRange, leachingTemperatureRange } from '#domain/cure/leaching-curve.ts';
import { defaultFleshMoisture, defaultStoneFraction } from '#domain/cure/leaching-defaults.ts';
import { hoursRange, spansOfParts, totalHours } from '#domain/cure/temperature-span.ts';
import { asFound, calculator, number } from './calculator.ts';
import { bitternessIsNotSafety } from './caution.ts';
import { choice, oneWay, quantity, rows, temperatureParts } from './fields.ts';

const mostChanges = 500;

export const leaching = calculator({
  title: 'Days to sweet',
  purpose: 'How bitterness leaves the fruit with the brine changes, and when it is likely pleasant or sweet.',
  source: 'Two-compartment leaching with first-order exchange (as brined cucumbers, Potts 1986). Rates, starting bitterness and end points are assumptions: no published table of bitterness against days was found',
  input: oneWay(
    z.strictObject({
      cut: choice('Cut', cuts),
      maturity: choice('Colour at picking', maturities),
      temperatureC: quantity('Temperature', leachingTemperatureRange).optional(),
      parts: temperatureParts('Temperatures', hoursRange, leachingTemperatureRange).optional(),
      fruitKg: quantity('Fruit', ranges.fruitKg),
      brineL: quantity('Brine', ranges.brineL),
      stoneFraction: quantity('Share that is stone', ranges.stoneFraction).default(defaultStoneFraction),
      fleshMoisture: quantity('Water in the flesh', ranges.fleshMoisture).default(defaultFleshMoisture),
      changes: rows('Brine changes', { day: quantity('Day', leachingDaysRange), fraction: quantity('Share changed', fractionRange).default(1) }, mostChanges),
      days: quantity('Days to look at', leachingDaysRange),
    }),
    ['temperatureC'], ['parts'],
  ),
  answer: {
    ratio: number('L/L', 'Brine to flesh water'),
    curve: z.array(z.object({ day: number('d'), flesh: number(''), brine: number('') })).readonly().meta({ title: 'Bitterness, fresh green flesh is 1' }),
    dayPleasant: number('d', 'Pleasantly bitter').nullable(),
    daySweet: number('d', 'Sweet').nullable(),
  },
  find: ({ temperatureC = Number.NaN, parts, ...plan }) => {
    const spans = spansOfParts(parts ?? [{ hours: 24, temperatureC }]);
    if (!spans.ok) return spans;
    const endsEarly = parts !== undefined && totalHours(spans.value) < plan.days * 24;
    return asFound(leachingCurve({ ...plan, temperatures: spans.value }), () => ({
      assumed: ['leachingRate', 'hydrolysisRate', 'startingBitterness', 'endPoints', ...(endsEarly ? ['temperatureAfterParts'] : [])],
      caution: bitternessIsNotSafety(plan.cut),
    }));
  },
});
