import { ok } from '#contract';
import { showMass, type UnitChoice } from '../../format/units.ts';
import { cupsInWords, exact, plain, volume, volumeWords, withUnit } from './measure.ts';
import type { ChoiceField, NumberField } from './field.ts';
import { ticks, type Plot } from './picture.ts';
import { moistureField, one, pouredBig, settledBig, settledOn, stoneField, weakFlag, type Spread } from './salt.ts';
import { ask, type Bench, type Given, type Tool } from './tool.ts';
import { barrierPercent } from '../strength.ts';

const number = (name: string, label: string, quantity: NumberField['quantity'], step: number, start: number | null, more: Partial<NumberField> = {}): NumberField => ({ kind: 'number', name, label, quantity, step, start, ...more });

const fruit = number('fruitKg', 'fruit it goes on', 'kilograms', 1, null, { invite: 'Add the fruit it goes on', first: 2, range: { low: 0.01, high: 20_000 } });
const waterC = number('temperatureC', 'water temperature', 'temperature', 1, null, { assumed: 20 });
const saltKind: ChoiceField = {
  kind: 'choice', name: 'saltKind', label: 'Which salt', start: 'table',
  options: ['table', 'pickling', 'coarse-rolled-kosher', 'light-flake-kosher', 'coarse-sea-salt'],
  words: { table: 'table', pickling: 'pickling', 'coarse-rolled-kosher': 'coarse rolled kosher', 'light-flake-kosher': 'light flake kosher', 'coarse-sea-salt': 'coarse sea salt' },
};
const weighed = 'weighed';
const saltName = (kind: string): string => `${saltKind.words[kind] ?? kind} salt`.replace('salt salt', 'salt');

const grams = (value: number, units: UnitChoice): string => {
  const { text, unit } = showMass(value, units);
  return withUnit(text, unit);
};

const mix: Tool = {
  id: 'mix', group: 'Brine', question: 'How much salt for this bucket?', about: 'Mix a brine by weight', calculator: 'brine-mix',
  fields: (values) => [
    number('brineL', 'brine to make', 'litres', 1, 10),
    number('targetPercentWw', 'salt, by weight', 'plain', 0.5, 10, { unit: '%', decimals: 1 }),
    { ...fruit, start: 11, first: 11 },
    { ...saltKind, start: weighed, label: 'Weighed, or by the cup of', options: [weighed, ...saltKind.options], words: { ...saltKind.words, [weighed]: 'on a scale' } },
    waterC,
    ...(values['fruitKg'] === null ? [] : [stoneField, moistureField]),
  ],
  find: (given, bench) => {
    const [brineL, targetPercentWw, temperatureC] = [given.number('brineL'), given.number('targetPercentWw'), given.number('temperatureC')];
    const kind = given.choice('saltKind');
    const answer = ask(bench, 'brine-mix', { brineL, targetPercentWw, temperatureC, ...(kind !== weighed && { saltKind: kind as 'table' }) });
    if (!answer.ok) return answer;
    const strength = ask(bench, 'brine-strength', { basis: 'percent-ww', value: targetPercentWw, temperatureC }, { value: 'targetPercentWw' });
    if (!strength.ok) return strength;
    const fruitKg = given.own('fruitKg');
    const settled = fruitKg === undefined ? null : settledOn({ brineL, gPerL: one(strength.value.gPerL) }, fruitKg, given, bench, 'targetPercentWw');
    if (settled?.ok === false) return settled;
    const { saltG, waterL, cups } = answer.value;
    return ok({
      bigs: [{ label: 'salt, weighed', ...showMass(saltG, bench.units) }, { label: 'water', ...volume(waterL, bench.units) }],
      pair: [pouredBig(one(targetPercentWw)), settledBig(settled?.value ?? null)],
      ...(cups === undefined ? {} : { sentence: `Weigh it: of ${saltName(kind)} this is anywhere from ${plain(cups.low, 1)} to ${plain(cups.high, 1)} cups.` }),
      lines: [{ label: 'Salt in a litre', text: withUnit(plain(strength.value.gPerL, 0), 'g') }, { label: 'Dissolve', text: 'in a bucket of its own, to the last grain, then pour' }],
      ...(settled !== null && { picture: waters({ brineL, percent: targetPercentWw, fleshL: settled.value.fleshWaterL, settled: settled.value.value }) }),
      beside: [answer.value, ...(settled === null ? [] : [settled.value.beside])],
    });
  },
};

const waters = ({ brineL, percent, fleshL, settled }: { readonly brineL: number; readonly percent: number; readonly fleshL: number; readonly settled: number }) => ({
  kind: 'waters' as const,
  summary: `${exact(percent, 1)} % in the brine alone; ${exact(settled, 1)} % once the water of the fruit has its share. The published least is ${String(barrierPercent)} %.`,
  brine: { litres: brineL, percent }, flesh: { litres: fleshL }, settledPercent: settled, leastPercent: barrierPercent,
});

const cups: Tool = {
  id: 'cups', group: 'Brine', question: 'What does a cup of salt make?', about: 'A recipe in cups, told in percent', calculator: 'salt-by-cup',
  fields: (values) => [
    number('cups', 'of salt, level', 'plain', 0.25, 1 / 3, { unit: 'cups', cups: true, hint: 'a US cup: 237 mL' }),
    number('waterL', 'water', 'litres', 0.5, 2),
    saltKind,
    fruit,
    ...(typeof values['fruitKg'] === 'number' ? [stoneField, moistureField] : []),
  ],
  find: (given, bench) => {
    const waterL = given.number('waterL');
    const kind = given.choice('saltKind');
    const answer = ask(bench, 'salt-by-cup', { cups: given.number('cups'), saltKind: kind as 'table', waterL });
    if (!answer.ok) return answer;
    const { saltG, percentWw } = answer.value;
    const fruitKg = given.own('fruitKg');
    const settled = fruitKg === undefined ? null : settledByCup(percentWw, saltG.value, waterL, fruitKg, given, bench);
    if (settled?.ok === false) return settled;
    const under = percentWw.high < barrierPercent ? `This is under the published ${String(barrierPercent)} % for natural olives, whatever the cup weighed.` : percentWw.low < barrierPercent ? `This may be under the published ${String(barrierPercent)} % for natural olives: it depends on how heavy the cup was.` : null;
    return ok({
      bigs: [{ ...pouredBig(percentWw), label: 'poured, by weight', note: `likely ${exact(percentWw.value, 1)} %; weigh it` }],
      ...(settled !== null && { pair: [{ label: 'poured, likely', text: exact(percentWw.value, 1), unit: '%' }, settledBig(settled.value)] as const }),
      sentence: [under, `Weigh it: ${cupsInWords(given.number('cups'))} ${given.number('cups') > 1 ? 'cups' : 'cup'} of ${saltName(kind)} is ${grams(saltG.low, bench.units)} to ${grams(saltG.high, bench.units)}.`].filter((part) => part !== null).join(' '),
      lines: [{ label: 'Salt, likely', text: grams(saltG.value, bench.units) }],
      beside: [answer.value, ...(settled === null ? [] : [settled.value.beside])],
    });
  },
};

/** The volume of the brine from its mass and density, since a recipe in cups tells only the water. */
const settledByCup = (percentWw: Spread, saltG: number, waterL: number, fruitKg: number, given: Given, bench: Bench) => {
  const strengths = [percentWw.value, percentWw.low, percentWw.high].map((value) => ask(bench, 'brine-strength', { basis: 'percent-ww', value, temperatureC: 20 }, { value: 'cups' }));
  const [value, low, high] = strengths;
  if (value?.ok !== true) return value ?? refusedCups;
  if (low?.ok !== true) return low ?? refusedCups;
  if (high?.ok !== true) return high ?? refusedCups;
  const brineL = (waterL * 998.2 + saltG) / value.value.densityKgPerM3;
  return settledOn({ brineL, gPerL: { value: value.value.gPerL, low: low.value.gPerL, high: high.value.gPerL } }, fruitKg, given, bench, 'cups');
};
const refusedCups = { ok: false, error: { field: 'cups', message: 'cups give no brine' } } as const;

const settle: Tool = {
  id: 'settle', group: 'Brine', question: 'Where will it settle?', about: 'Once the fruit has taken its share of the salt', calculator: 'salt-equilibrium',
  fields: () => [
    number('pouredPercent', 'brine as poured', 'plain', 0.5, 10, { unit: '%', decimals: 1, range: { low: 0, high: 26.5 } }),
    number('brineL', 'brine', 'litres', 1, 10),
    number('fruitKg', 'fruit, with stones', 'kilograms', 1, 11),
    number('targetPercent', 'wanted once settled', 'plain', 0.5, null, { unit: '%', decimals: 1, invite: 'Add the strength you want', first: 8, range: { low: 0, high: 26.5 } }),
    stoneField, moistureField,
  ],
  find: (given, bench) => {
    const [percent, brineL, fruitKg] = [given.number('pouredPercent'), given.number('brineL'), given.number('fruitKg')];
    const target = given.own('targetPercent');
    const strength = ask(bench, 'brine-strength', { basis: 'percent-ww', value: percent, temperatureC: 20 }, { value: 'pouredPercent' });
    if (!strength.ok) return strength;
    const settled = settledOn({ brineL, gPerL: one(strength.value.gPerL) }, fruitKg, given, bench, 'pouredPercent');
    if (!settled.ok) return settled;
    const answer = {
      bigs: [pouredBig(one(percent)), settledBig(settled.value)],
      lines: [{ label: 'Water in the flesh', text: volumeWords(settled.value.fleshWaterL, bench.units) }],
      picture: waters({ brineL, percent, fleshL: settled.value.fleshWaterL, settled: settled.value.value }),
      beside: [settled.value.beside],
    };
    if (target === undefined) return ok(answer);
    const wanted = ask(bench, 'brine-strength', { basis: 'percent-ww', value: target, temperatureC: 20 }, { value: 'targetPercent' });
    if (!wanted.ok) return wanted;
    const plan = ask(bench, 'salt-equilibrium', {
      fruitKg, brineL, brineGPerL: strength.value.gPerL, targetGPerL: wanted.value.gPerL, stoneFraction: given.number('stoneFraction'), fleshMoisture: given.number('fleshMoisture'),
    }, { targetGPerL: 'targetPercent' });
    if (!plan.ok) return plan;
    const fresh = ask(bench, 'brine-strength', { basis: 'g-per-l', value: plan.value.brineForTargetGPerL ?? 0, temperatureC: 20 }, { value: 'targetPercent' });
    if (!fresh.ok) return fresh;
    const { dryTopUpG } = plan.value;
    return ok({
      ...answer,
      lines: [
        { label: `To settle at ${withUnit(plain(target, 1), '%')}, pour`, text: `${withUnit(exact(fresh.value.percentWw, 1), '%')} brine, ${withUnit(plain(fresh.value.gPerL, 0), 'g')} in a litre` },
        { label: 'Or, once this has settled, add', text: dryTopUpG === undefined ? 'no salt: it settles above that' : `${grams(dryTopUpG, bench.units)} of salt, dissolved in some of its brine first` },
        ...answer.lines,
      ],
    });
  },
};

const bases = {
  'percent-ww': ['by weight: g in 100 g of brine', '%', 'percentWw', 0.5, 1], 'g-per-100g-water': ['g to 100 g of water', 'g', 'gPer100GWater', 0.5, 2], 'percent-wv': ['g in 100 mL of brine', 'g', 'percentWv', 0.5, 2],
  'g-per-l': ['g in a litre of brine', 'g', 'gPerL', 5, 1], molality: ['mol to 1 kg of water', 'mol', 'molality', 0.1, 3], salometer: ['salometer degrees', '°S', 'salometer', 1, 1], density: ['density', 'kg/m³', 'densityKgPerM3', 1, 1],
} as const;
type Basis = keyof typeof bases;
const basisOf = (value: unknown): Basis => (typeof value === 'string' && value in bases ? (value as Basis) : 'percent-ww');

const strength: Tool = {
  id: 'strength', group: 'Brine', question: 'How strong is it?', about: 'One brine, however its strength is told', calculator: 'brine-strength',
  fields: (values) => {
    const [, unit, , step, decimals] = bases[basisOf(values['basis'])];
    return [
      { kind: 'choice', name: 'basis', label: 'How it is told', start: 'percent-ww', options: Object.keys(bases), words: Object.fromEntries(Object.entries(bases).map(([name, [words]]) => [name, words])) },
      // How far it may go depends on the basis and the temperature; the calculator knows.
      number('value', 'strength', 'plain', step, 8, { unit, decimals, range: { low: -Infinity, high: Infinity } }),
      number('temperatureC', 'of the brine', 'temperature', 1, 20),
    ];
  },
  /** Another basis, the same brine. */
  adjust: (before, after, bench) => {
    const [from, to] = [basisOf(before['basis']), basisOf(after['basis'])];
    const [value, temperatureC] = [after['value'], after['temperatureC']];
    if (from === to || typeof value !== 'number' || typeof temperatureC !== 'number') return after;
    const answer = ask(bench, 'brine-strength', { basis: from, value, temperatureC });
    return answer.ok ? { ...after, value: Number(answer.value[bases[to][2]].toFixed(bases[to][4] + 1)) } : after;
  },
  find: (given, bench) => {
    const basis = basisOf(given.choice('basis'));
    const answer = ask(bench, 'brine-strength', { basis, value: given.number('value'), temperatureC: given.number('temperatureC') });
    if (!answer.ok) return answer;
    const found = answer.value;
    const others = (Object.keys(bases) as Basis[]).filter((name) => name !== 'percent-ww');
    return ok({
      bigs: [{ label: 'salt, by weight', text: exact(found.percentWw, 1), unit: '%', ...weakFlag(one(found.percentWw)) }],
      lines: [
        ...others.map((name) => ({ label: bases[name][0], text: withUnit(plain(found[bases[name][2]], bases[name][4]), bases[name][1]) })),
        { label: 'water activity at 25 °C', text: exact(found.waterActivity, 3) },
      ],
      picture: densityPicture(found.percentWw, found.densityKgPerM3, given.number('temperatureC'), bench),
      beside: [found],
    });
  },
};

const densityPicture = (percentWw: number, densityKgPerM3: number, temperatureC: number, bench: Bench): Plot => {
  const points = Array.from({ length: 14 }, (_, index) => index * 2).flatMap((value) => {
    const at = ask(bench, 'brine-strength', { basis: 'percent-ww', value, temperatureC });
    return at.ok ? [{ x: value, y: at.value.densityKgPerM3 }] : [];
  });
  return {
    kind: 'plot', summary: `Density against salt at this temperature; your brine is at ${exact(percentWw, 1)} % and ${plain(densityKgPerM3, 0)} kg/m³.`,
    x: { from: 0, to: 26.5, ticks: ticks(0, 26, 4, ' %') }, y: { from: 980, to: 1_210, ticks: ticks(1_000, 1_200, 2) },
    lines: [{ points, tone: 'trace' }], here: { x: percentWw, y: densityKgPerM3 },
  };
};

const hydrometer: Tool = {
  id: 'hydrometer', group: 'Brine', question: 'What does the hydrometer say?', about: 'Salt, put right for the temperature', calculator: 'hydrometer',
  fields: (values) => [
    { kind: 'choice', name: 'scale', label: 'Its scale', start: 'density', options: ['density', 'gravity'], words: { density: 'density, kg/m³', gravity: 'specific gravity' } },
    values['scale'] === 'gravity' ? number('specificGravity', 'reading', 'plain', 0.001, 1.06, { decimals: 4 }) : number('densityKgPerM3', 'reading', 'plain', 1, 1_059, { unit: 'kg/m³', decimals: 1 }),
    number('sampleC', 'the sample now', 'temperature', 1, 10),
    number('calibratedAtC', 'printed on the hydrometer', 'temperature', 1, 20),
  ],
  find: (given, bench) => {
    const read = given.choice('scale') === 'gravity' ? { specificGravity: given.number('specificGravity') } : { densityKgPerM3: given.number('densityKgPerM3') };
    const calibratedAtC = given.number('calibratedAtC');
    const answer = ask(bench, 'hydrometer', { ...read, sampleC: given.number('sampleC'), calibratedAtC });
    if (!answer.ok) return answer;
    const careless = ask(bench, 'hydrometer', { ...read, sampleC: calibratedAtC, calibratedAtC });
    return ok({
      bigs: [{ label: 'salt, by weight', text: exact(answer.value.percentWw, 1), unit: '%', ...weakFlag(one(answer.value.percentWw)) }],
      sentence: 'Juices of the fruit read as salt: in an old brine expect up to half a percent too much.',
      lines: [
        { label: 'salt in a litre', text: withUnit(plain(answer.value.gPerL, 0), 'g') },
        { label: 'true density', text: withUnit(plain(answer.value.densityKgPerM3, 1), 'kg/m³') },
        ...(careless.ok ? [{ label: 'without the temperature you would read', text: withUnit(exact(careless.value.percentWw, 1), '%') }] : []),
      ],
      beside: [answer.value],
    });
  },
};

export const brineTools: readonly Tool[] = [mix, strength, cups, settle, hydrometer];
