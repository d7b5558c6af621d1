import { maturityClasses, ok } from '#contract';
import { showMass } from '../../format/units.ts';
import type { NumberField } from './field.ts';
import { exact, plain, volume, withUnit } from './measure.ts';
import { stoneField } from './salt.ts';
import { ask, type Tool } from './tool.ts';

const number = (name: string, label: string, quantity: NumberField['quantity'], step: number, start: number | null, more: Partial<NumberField> = {}): NumberField => ({ kind: 'number', name, label, quantity, step, start, ...more });

const maturity: Tool = {
  id: 'maturity', group: 'Jars and harvest', question: 'How ripe is the pick?', about: 'Count a hundred fruits by colour', calculator: 'maturity-index',
  fields: () => [{ kind: 'counts', name: 'counts', label: 'How many of each colour', looks: maturityClasses }],
  find: (given, bench) => {
    const answer = ask(bench, 'maturity-index', { counts: given.rows('counts').map(([count = 0]) => count) });
    if (!answer.ok) return answer;
    const { index, stage, fruits } = answer.value;
    return ok({
      bigs: [{ label: 'maturity index, of 7', text: exact(index, 2), unit: '' }, { label: 'taken as', text: stage, unit: '' }],
      ...(fruits < 100 && { sentence: `From ${String(fruits)} ${fruits === 1 ? 'fruit' : 'fruits'}: a hundred tell more.` }),
      lines: [{ label: 'Counted', text: `${String(fruits)} fruits` }, { label: 'Green up to', text: '1' }, { label: 'Black from', text: '3.5' }],
      beside: [answer.value],
    });
  },
};

const harvest: Tool = {
  id: 'yield', group: 'Jars and harvest', question: 'How many jars will it make?', about: 'From the pick to jars, brine and salt', calculator: 'yield',
  fields: (values) => [
    { kind: 'choice', name: 'by', label: 'The pick', start: 'weight', options: ['weight', 'bucket'], words: { weight: 'weighed', bucket: 'in buckets' } },
    values['by'] === 'bucket' ? number('volumeL', 'of fruit in buckets', 'litres', 10, 40) : number('fruitKg', 'of fruit', 'kilograms', 1, 28),
    number('jarMl', 'a jar holds to the brim', 'millilitres', 10, 720),
    { kind: 'choice', name: 'pitted', label: 'Stones', start: 'in', options: ['in', 'out'], words: { in: 'left in', out: 'pitted' } },
    number('cullFraction', 'thrown out', 'share', 0.01, null, { assumed: 0.05 }),
    ...(values['pitted'] === 'out' ? [stoneField] : []),
    number('weightChange', 'gained in curing', 'share', 0.01, null, { assumed: 0, hint: 'less than nothing: shrivelled' }),
    number('packingKgPerL', 'of fruit in a litre of jar', 'plain', 0.01, null, { unit: 'kg', assumed: values['pitted'] === 'out' ? 0.5 : 0.55 }),
    number('brinePercentWw', 'salt in the jar brine', 'plain', 0.5, null, { unit: '%', decimals: 1, assumed: 8 }),
    number('brineLoss', 'of the brine spilled', 'share', 0.01, null, { assumed: 0.1 }),
  ],
  find: (given, bench) => {
    const pitted = given.choice('pitted') === 'out';
    const own = Object.fromEntries(['cullFraction', 'weightChange', 'packingKgPerL', 'brinePercentWw', 'brineLoss', ...(pitted ? ['stoneFraction'] : [])].flatMap((name) => (given.own(name) === undefined ? [] : [[name, given.own(name)]])));
    const amount = given.choice('by') === 'bucket' ? { volumeL: given.number('volumeL') } : { fruitKg: given.number('fruitKg') };
    const answer = ask(bench, 'yield', { ...amount, jarMl: given.number('jarMl'), pitted, ...own });
    if (!answer.ok) return answer;
    const { jars, brineL, saltG, curedKg, fruitKg } = answer.value;
    const kilograms = (kg: number): string => withUnit(showMass(kg * 1_000, bench.units).text, showMass(kg * 1_000, bench.units).unit);
    return ok({
      bigs: [{ label: 'whole jars', text: plain(jars, 0), unit: '' }],
      pair: [{ label: 'brine for them', ...volume(brineL, bench.units) }, { label: 'salt in it, weighed', ...showMass(saltG, bench.units) }],
      lines: [{ label: 'Fruit', text: kilograms(fruitKg) }, { label: 'Cured', text: kilograms(curedKg) }],
      beside: [answer.value],
    });
  },
};

const pasteurise: Tool = {
  id: 'heat-in-jars', group: 'Jars and harvest', question: 'How much heat did the jars get?', about: 'Pasteurisation units', calculator: 'pasteurisation',
  fields: () => [
    {
      kind: 'rows', name: 'parts', label: 'At the coldest point of the jar', row: 'stretch', least: 1, most: 40,
      columns: [number('minutes', 'for', 'plain', 1, 10, { unit: 'min', decimals: 1 }), number('temperatureC', 'at', 'temperature', 1, 65)],
      start: [[5, 60], [15, 65]],
    },
    number('referenceC', 'is the reference', 'temperature', 0.1, null, { assumed: 62.4 }),
    number('zC', 'is z', 'temperature-step', 0.25, null, { assumed: 5.25, hint: 'so many degrees more do it ten times as fast' }),
  ],
  find: (given, bench) => {
    const [referenceC, zC] = [given.own('referenceC'), given.own('zC')];
    const answer = ask(bench, 'pasteurisation', { parts: given.rows('parts').map(([minutes = 0, temperatureC = 0]) => ({ minutes, temperatureC })), ...(referenceC !== undefined && { referenceC }), ...(zC !== undefined && { zC }) });
    if (!answer.ok) return answer;
    const { units } = answer.value;
    return ok({
      bigs: [{ label: 'pasteurisation units', text: plain(units, units < 10 ? 1 : 0), unit: 'PU' }],
      sentence: 'Minutes at the reference that would have done as much. What a pack needs, a process authority says.',
      lines: [], beside: [answer.value],
    });
  },
};

export const jarTools: readonly Tool[] = [maturity, harvest, pasteurise];
