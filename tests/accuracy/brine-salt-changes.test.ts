import type { SaltState } from '#domain/brine/salt-change.ts';
import { changeSaltBrine, saltUptakePerDay, settledSalt, takeUpSalt } from '#domain/brine/salt-change.ts';
import type { Cut } from '#domain/cure/batch.ts';
import { checkAccuracy } from '../helpers/accuracy.ts';

const fresh = (brineGPerL: number): SaltState => ({ fleshGPerL: 0, brineGPerL });

const ratio = 7.3 / 5.395;
const brines = [60, 100, 100, 100];
const afterChanges = (count: number, brinePerFleshWater = ratio, fraction = 1): number => {
  let state = fresh(brines[0] ?? 0);
  for (const brine of brines.slice(0, count)) {
    const settled = settledSalt(changeSaltBrine(state, brine, fraction), brinePerFleshWater);
    state = { fleshGPerL: settled, brineGPerL: settled };
  }
  return state.fleshGPerL;
};
checkAccuracy<number>({
  quantity: 'salt in the flesh after settling in brines of 60, 100, 100 and 100 g/L (7.3 L on 5.395 L of flesh water)', unit: 'g/L',
  source: 'mass balance over changes', confidence: 'computed from cited inputs by the cited equation', tolerance: 0.006, reason: 'stated to two decimals',
  rows: [[1, 34.5], [2, 72.17], [3, 88.17], [4, 94.97]],
  actual: (changes) => afterChanges(changes),
  mistakes: { 'the ratio upside down': (changes) => afterChanges(changes, 1 / ratio), 'half of the brine changed': (changes) => afterChanges(changes, ratio, 0.5), 'brine of the drum believed to be the fresh one': (changes) => brines[changes - 1] ?? 0 },
});

type At = readonly [day: number, of: keyof SaltState];
checkAccuracy<At>({
  quantity: 'salt uptake, 0.15 a day, 1.35 L of brine per litre of flesh water, 100 g/L', unit: 'g/L',
  source: 'closed solution of the two-compartment balance', confidence: 'computed from cited inputs by the cited equation', tolerance: 0.06, reason: 'stated to one decimal',
  rows: [
    [[1, 'fleshGPerL'], 13.2], [[1, 'brineGPerL'], 90.2], [[3, 'fleshGPerL'], 31.2], [[3, 'brineGPerL'], 76.9], [[7, 'fleshGPerL'], 48.2], [[7, 'brineGPerL'], 64.3],
    [[14, 'fleshGPerL'], 56], [[14, 'brineGPerL'], 58.6], [[21, 'fleshGPerL'], 57.2], [[21, 'brineGPerL'], 57.6],
  ],
  actual: ([day, of]) => takeUpSalt(fresh(100), 0.15 * day, 1.35)[of],
  mistakes: {
    'an endless brine': ([day, of]) => (of === 'fleshGPerL' ? 100 * (1 - Math.exp(-0.15 * day)) : 100),
    'the rate without the factor 1 + 1/r': ([day, of]) => takeUpSalt(fresh(100), (0.15 * day) / (1 + 1 / 1.35), 1.35)[of],
    'the ratio upside down': ([day, of]) => takeUpSalt(fresh(100), 0.15 * day, 1 / 1.35)[of],
  },
});

checkAccuracy<readonly [cut: Cut, temperatureC: number]>({
  quantity: 'salt uptake rate', unit: 'per day', source: 'Arrhenius equation with 20 kJ/mol on assumed rates at 20 °C', confidence: 'assumption', tolerance: 0.0006, reason: 'stated to three decimals',
  rows: [[['whole', 20], 0.15], [['whole', 10], 0.112], [['slit', 20], 0.35], [['cracked', 30], 1.049]],
  actual: ([cut, temperatureC]) => saltUptakePerDay(cut, temperatureC),
  mistakes: { 'twice as fast every ten degrees': ([cut, temperatureC]) => saltUptakePerDay(cut, 20) * 2 ** ((temperatureC - 20) / 10), 'temperature ignored': ([cut]) => saltUptakePerDay(cut, 20) },
});
