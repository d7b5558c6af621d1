import { bottlesNeeded } from '#domain/heat/bottles-needed.ts';
import { drumAhead } from '#domain/heat/drum-ahead.ts';
import { drumHeatCapacityKjPerK } from '#domain/heat/drum-heat-capacity.ts';
import { iceBottleKj } from '#domain/heat/ice-bottle.ts';
import { airAhead } from '#domain/heat/air-ahead.ts';
import { hourMs } from '#domain/units/time.ts';
import { checkAccuracy } from '../helpers/accuracy.ts';

checkAccuracy<readonly [brineL: number, fruitKg: number]>({
  quantity: 'heat a drum takes up per degree',
  unit: 'kJ/K',
  source: 'heat balance of 26.5 L of 8 % brine and 28.6 kg of olives, worked out by hand: 26.5 · 1.056 · 3.8 + 28.6 · 3.2',
  confidence: 'computed from cited inputs by the cited equation',
  tolerance: 0.5,
  reason: 'stated to the whole kJ/K',
  rows: [[[26.5, 28.6], 198]],
  actual: ([brineL, fruitKg]) => drumHeatCapacityKjPerK(brineL, fruitKg),
  mistakes: { 'all of it as water': ([brineL, fruitKg]) => (brineL + fruitKg) * 4.186, 'fruit left out': ([brineL]) => brineL * 1.056 * 3.8 },
});

checkAccuracy<readonly [bottleL: number, drumC: number]>({
  quantity: 'heat a bottle of ice takes',
  unit: 'kJ',
  source: 'latent heat of fusion of water 334 kJ/kg and heat capacity 4.186 kJ/(kg·K), refrigeration tables: 2 · (334 + 4.186 · 25)',
  confidence: 'computed from cited inputs by the cited equation',
  tolerance: 1,
  reason: 'stated to the whole kJ',
  rows: [[[2, 25], 877], [[1, 0], 334]],
  actual: ([bottleL, drumC]) => iceBottleKj(bottleL, drumC),
  mistakes: { 'cold water instead of ice': ([bottleL, drumC]) => bottleL * 4.186 * drumC, 'melting only, in calories': ([bottleL]) => bottleL * 79.7 },
});

const flat = (temperatureC: number) => Array.from({ length: 9 }, (_, index) => ({ hours: index / 2, temperatureC: index === 6 ? temperatureC : 20, low: 0, high: 0 }));
checkAccuracy<number>({
  quantity: 'bottles of ice that hold a drum half a degree under 25 °C, for a peak foreseen in three hours',
  unit: 'bottles',
  source: "Newton's law of cooling and the heat balance above, worked out by hand: 26 °C needs 1.5 e^0.3 · 198 = 401 kJ, 30 °C 5.5 e^0.3 · 198 = 1,470 kJ; a bottle takes 877",
  confidence: 'computed from cited inputs by the cited equation',
  tolerance: 0,
  reason: 'a count',
  rows: [[26, 1], [30, 2], [24, 0]],
  actual: (peakC) => bottlesNeeded({ points: flat(peakC), limitC: 25, atHours: 0, untilHours: 4, timeConstantHours: 10, heatCapacityKjPerK: 198, bottleL: 2 }),
  mistakes: { 'one a drum': () => 1, 'rounded down': (peakC) => Math.floor((198 * Math.max(0, peakC - 24.5) * Math.exp(0.3)) / 877) },
});

checkAccuracy<'low' | 'temperatureC' | 'high'>({
  quantity: 'a drum of τ 10 h, 20 °C, ten hours on in air of 30 ± 1.5 °C, with its band of four fifths',
  unit: '°C',
  source: "Newton's law of cooling, worked out by hand: 30 - 10/e = 26.32; ± 1.2816 · 1.5 √(1 - e^(-10/24)) (1 - 1/e) = 0.709",
  confidence: 'computed from cited inputs by the cited equation',
  tolerance: 0.01,
  reason: 'stated to two decimals',
  rows: [['temperatureC', 26.32], ['low', 25.61], ['high', 27.03]],
  actual: (which) => drumAhead({ startC: 20, response: { timeConstantHours: 10, logSd: 0, offsetC: 0, offsetSdC: 0, residualSdC: 0, basis: 'fitted' }, air: [{ hours: 1, fromC: 30, toC: 30 }], airError: { sdC: 1.5, withinHours: 24 }, hours: 10 }).at(-1)?.[which] ?? Number.NaN,
  mistakes: { 'the air as the drum': () => 30, 'the band of the air': (which) => 26.32 + ({ low: -1, temperatureC: 0, high: 1 }[which] * 1.2816 * 1.5) },
});

const now = Date.UTC(2026, 9, 3);
/** Yesterday 12 °C at midnight to 20 °C at noon, straight. */
const yesterday = Array.from({ length: 145 }, (_, index) => ({ t: now - (144 - index) * (hourMs / 6), temperatureC: 12 + (8 * (72 - Math.abs(index - 72))) / 72 }));
checkAccuracy<readonly [hour: number, typed: boolean]>({
  quantity: 'air of tomorrow: the shape of yesterday, moved to a typed 14 and 26 °C',
  unit: '°C',
  source: 'persistence, worked out by hand: L + (p - l)(H - L)/(h - l); the 1 °C that midnight is off, being half of the day before, fades with e^(-t/6 h)',
  confidence: 'computed from cited inputs by the cited equation',
  tolerance: 0.01,
  reason: 'stated to two decimals',
  rows: [[[6, true], 20 - 1 / Math.E], [[12, true], 26 - Math.exp(-2)], [[6, false], 16], [[12, false], 20]],
  actual: ([hour, typed]) => airAhead({ past: yesterday, now, zone: 'UTC', days: new Map(typed ? [['2026-10-03', { lowC: 14, highC: 26 }]] : []) }, 24)?.spans[hour * 2 - 1]?.toC ?? Number.NaN,
  mistakes: { 'moved by the highest only': ([hour, typed]) => 12 + 8 * (hour / 12) + (typed ? 6 : 1), 'the mean of the day': ([, typed]) => (typed ? 20 : 17) },
});
