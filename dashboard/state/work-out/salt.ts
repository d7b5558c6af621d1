import { ok, type Result } from '#contract';
import { barrierPercent } from '../strength.ts';
import { exact } from './measure.ts';
import type { NumberField } from './field.ts';
import { ask, type Bench, type Beside, type Big, type Given, type Refusal } from './tool.ts';

export interface Spread {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

export interface Settled extends Spread {
  readonly fleshWaterL: number;
  readonly beside: Beside;
}

/** Published ranges over varieties of table olive; the middle is the assumption where a grower has not weighed their own. */
const stones = { low: 0.12, high: 0.25 };
const moistures = { low: 0.55, high: 0.75 };

export const stoneField: NumberField = { kind: 'number', name: 'stoneFraction', label: 'of the fruit is stone', quantity: 'share', step: 0.01, start: null, assumed: 0.17, hint: 'varieties run from 12 to 25 %' };
export const moistureField: NumberField = { kind: 'number', name: 'fleshMoisture', label: 'of the flesh is water', quantity: 'share', step: 0.01, start: null, assumed: 0.65, hint: 'from 55 to 75 %' };

/** The published least is by weight; grams in a litre are taken at 20 °C, as the calculator's own caution does. */
const percentOf = (gPerL: number, bench: Bench): Result<number, Refusal> => {
  const answer = ask(bench, 'brine-strength', { basis: 'g-per-l', value: gPerL, temperatureC: 20 });
  return answer.ok ? ok(answer.value.percentWw) : answer;
};

/** Where a poured brine settles, between the juiciest and the driest fruit that the assumptions allow. */
export const settledOn = (brine: { readonly brineL: number; readonly gPerL: Spread }, fruitKg: number, given: Given, bench: Bench, strengthField: string): Result<Settled, Refusal> => {
  const stone = given.own('stoneFraction');
  const moisture = given.own('fleshMoisture');
  const settle = (stoneFraction: number, fleshMoisture: number, brineGPerL: number) => ask(bench, 'salt-equilibrium', { fruitKg, brineL: brine.brineL, brineGPerL, stoneFraction, fleshMoisture }, { brineGPerL: strengthField });
  const likely = settle(given.number('stoneFraction'), given.number('fleshMoisture'), brine.gPerL.value);
  if (!likely.ok) return likely;
  const juicy = settle(stone ?? stones.low, moisture ?? moistures.high, brine.gPerL.low);
  if (!juicy.ok) return juicy;
  const dry = settle(stone ?? stones.high, moisture ?? moistures.low, brine.gPerL.high);
  if (!dry.ok) return dry;
  const [value, low, high] = [percentOf(likely.value.equilibriumGPerL, bench), percentOf(juicy.value.equilibriumGPerL, bench), percentOf(dry.value.equilibriumGPerL, bench)];
  if (!value.ok) return value;
  if (!low.ok) return low;
  if (!high.ok) return high;
  const { source, caution } = likely.value;
  return ok({ value: value.value, low: low.value, high: high.value, fleshWaterL: likely.value.fleshWaterL, beside: { source, ...(caution === undefined ? {} : { caution }) } });
};

export const one = (value: number): Spread => ({ value, low: value, high: value });

/** Judged at the weak end, because the limit counts only when it is surely kept. */
export const saltFlag = ({ low, high }: Spread): NonNullable<Big['flag']> => {
  if (high < barrierPercent) return { state: 'caution', word: `under ${String(barrierPercent)} %` };
  return low < barrierPercent ? { state: 'caution', word: `may be under ${String(barrierPercent)} %` } : { state: 'inside', word: `${String(barrierPercent)} % or more` };
};

/** The ends of a range are never drawn nearer together than they are. */
const outward = (value: number, round: (tenths: number) => number): string => exact(round(value * 10) / 10, 1);

/** Where it is not known whether the fruit has had its share yet, only too little is certain. */
export const weakFlag = (percent: Spread): Pick<Big, 'flag'> => (percent.low < barrierPercent ? { flag: saltFlag(percent) } : {});

export const pouredBig = (percent: Spread): Big => ({
  label: 'poured',
  text: percent.low === percent.high ? exact(percent.value, 1) : `${exact(percent.low, 1)} – ${exact(percent.high, 1)}`,
  unit: '%',
  ...weakFlag(percent),
});

export const settledBig = (settled: Spread | null): Big =>
  settled === null
    ? { label: 'where it will settle', text: '–', unit: '', note: 'say how much fruit it goes on' }
    : { label: 'where it will settle', text: exact(settled.value, 1), unit: '%', note: settled.low === settled.high ? '' : `${outward(settled.low, Math.floor)} to ${outward(settled.high, Math.ceil)}`, flag: saltFlag(settled) };
