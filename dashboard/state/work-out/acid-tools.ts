import { ok } from '#contract';
import type { NumberField, RowsField } from './field.ts';
import { amount, exact, plain, smallVolume, withUnit } from './measure.ts';
import { ticks, type Plot } from './picture.ts';
import { ask, type Big, type Given, type Tool } from './tool.ts';

const number = (name: string, label: string, quantity: NumberField['quantity'], step: number, start: number | null, more: Partial<NumberField> = {}): NumberField => ({ kind: 'number', name, label, quantity, step, start, ...more });

const buffers: RowsField = {
  kind: 'rows', name: 'points', label: 'What the electrode gave in each buffer', row: 'buffer', least: 2, most: 5,
  columns: [number('ph', 'pH of the buffer', 'plain', 0.01, 7), number('mv', 'electrode', 'plain', 1, 0, { unit: 'mV', decimals: 1 })],
  start: [[7, -12], [4, 160]],
};
const points = (given: Given) => given.rows('points').map(([ph = 0, mv = 0]) => ({ ph, mv }));

const verdicts = {
  good: { state: 'inside', word: 'passes' },
  check: { state: 'caution', word: 'check it' },
  replace: { state: 'danger', word: 'replace it' },
} as const satisfies Record<string, Big['flag']>;

const electrode: Tool = {
  id: 'electrode', group: 'pH and acid', question: 'Can I trust the electrode?', about: 'Slope and offset from two buffers or three', calculator: 'ph-electrode',
  fields: () => [buffers, number('temperatureC', 'of the buffers', 'temperature', 1, 25)],
  find: (given, bench) => {
    const answer = ask(bench, 'ph-electrode', { points: points(given), temperatureC: given.number('temperatureC') });
    if (!answer.ok) return answer;
    const { slopePercent, slopeMvPerPh, offsetMv, verdict, worstResidualPh } = answer.value;
    return ok({
      bigs: [{ label: 'slope', text: exact(slopePercent, 1), unit: '%', flag: verdicts[verdict] }, { label: 'offset at pH 7', text: exact(offsetMv, 1), unit: 'mV' }],
      sentence: `${verdict === 'good' ? '' : 'Clean it, take fresh buffers and measure again first. '}It passes between 95 and 102 % with an offset within 30 mV. The pH is that of the buffer at its temperature, not the number on the bottle.`,
      lines: [
        { label: 'Slope', text: withUnit(exact(slopeMvPerPh, 2), 'mV a pH') },
        ...(given.rows('points').length > 2 ? [{ label: 'Buffer farthest off the line', text: withUnit(exact(worstResidualPh, 2), 'pH') }] : []),
      ],
      beside: [answer.value],
    });
  },
};

/** Readings in brine are trusted to a tenth (the calculator's caution assumes the same). */
const readingError = 0.1;
const jarLimit = 4.3;
const botulinumLimit = 4.6;

const phPicture = (ph: number): Plot => {
  const from = Math.min(3, Math.floor(ph - 0.5));
  const to = Math.max(7, Math.ceil(ph + 0.5));
  return {
    kind: 'plot', flat: true, summary: `pH ${exact(ph, 2)}, a tenth up or down, against the limits ${String(jarLimit)} and ${String(botulinumLimit)}.`,
    x: { from, to, ticks: ticks(from, to, 5) }, y: { from: 0, to: 1, ticks: [] },
    lines: [{ points: [{ x: ph - readingError, y: 0.5 }, { x: ph + readingError, y: 0.5 }], tone: 'trace' }],
    limits: [{ x: jarLimit, label: 'jars 4.3' }, { x: botulinumLimit, label: '4.6' }], here: { x: ph, y: 0.5 },
  };
};

const phFlag = (ph: number): NonNullable<Big['flag']> => {
  if (ph <= jarLimit - readingError) return { state: 'inside', word: `inside ${String(jarLimit)} for jars` };
  if (ph <= jarLimit + readingError) return { state: 'unknown', word: `too near ${String(jarLimit)} to tell` };
  return ph <= botulinumLimit ? { state: 'caution', word: `outside ${String(jarLimit)} for jars` } : { state: 'danger', word: `above ${String(botulinumLimit)}` };
};

const fromMillivolts: Tool = {
  id: 'ph', group: 'pH and acid', question: 'What pH do these millivolts mean?', about: 'With the calibration and both temperatures', calculator: 'ph-from-mv',
  fields: () => [number('mv', 'electrode in the sample', 'plain', 1, 150, { unit: 'mV', decimals: 1 }), number('temperatureC', 'of the sample', 'temperature', 1, 15), buffers, number('calibrationC', 'of the buffers', 'temperature', 1, 25)],
  find: (given, bench) => {
    const answer = ask(bench, 'ph-from-mv', { mv: given.number('mv'), points: points(given), calibrationC: given.number('calibrationC'), temperatureC: given.number('temperatureC') });
    if (!answer.ok) return answer;
    const { ph } = answer.value;
    return ok({
      bigs: [{ label: 'pH of the sample', text: exact(ph, 2), unit: `± ${String(readingError)}`, flag: phFlag(ph) }],
      sentence: 'The reading tells what the brine is at its own temperature. A tenth of doubt is taken for an electrode in salt.',
      lines: [], picture: phPicture(ph), beside: [answer.value],
    });
  },
};

const sets = {
  'technical-7': ['7.00', 7], 'technical-4': ['4.00', 4], 'technical-10': ['10.01', 10], phosphate: ['6.86', 7], phthalate: ['4.01 phthalate', 4], borax: ['9.18', 9],
} as const;
type Set = keyof typeof sets;

const buffer: Tool = {
  id: 'buffer', group: 'pH and acid', question: 'What is this buffer today?', about: 'A buffer at its temperature', calculator: 'ph-buffer',
  fields: () => [
    { kind: 'choice', name: 'set', label: 'On the bottle, at 25 °C', start: 'technical-7', options: Object.keys(sets), words: Object.fromEntries(Object.entries(sets).map(([name, [words]]) => [name, words])) },
    number('temperatureC', 'of the buffer', 'temperature', 1, 15),
  ],
  find: (given, bench) => {
    const set = given.choice('set') as Set;
    const answer = ask(bench, 'ph-buffer', { set, temperatureC: given.number('temperatureC') });
    if (!answer.ok) return answer;
    const cool = ask(bench, 'ph-buffer', { set, temperatureC: 25 });
    return ok({
      bigs: [{ label: 'pH of the buffer', text: exact(answer.value.ph, 2), unit: '' }],
      sentence: 'Put this number into the meter, unless it knows the set and measures the temperature itself.',
      lines: cool.ok ? [{ label: `At ${amount(25, 'temperature', bench.units)}`, text: exact(cool.value.ph, 2) }] : [],
      beside: [answer.value],
    });
  },
};

const vinegar: Tool = {
  id: 'vinegar', group: 'pH and acid', question: 'How much vinegar?', about: 'The dose of the bench trial, for the drum', calculator: 'acid-dose',
  fields: () => [
    number('benchMl', 'fruit and brine in the bench jar', 'millilitres', 50, 1_000),
    number('benchAcidMl', 'acid that brought it to its pH', 'millilitres', 1, 30),
    number('acidPercent', 'strength on the bottle', 'plain', 0.5, 5, { unit: '%', decimals: 1 }),
    number('brineL', 'fruit and brine in the drum', 'litres', 1, 20),
  ],
  find: (given, bench) => {
    const [benchMl, benchAcidMl, brineL, acidPercent] = [given.number('benchMl'), given.number('benchAcidMl'), given.number('brineL'), given.number('acidPercent')];
    const answer = ask(bench, 'acid-dose', { benchMl, benchAcidMl, brineL, acidPercent });
    if (!answer.ok) return answer;
    return ok({
      bigs: [{ label: 'acid for the drum', ...smallVolume(answer.value.acidMl, bench.units) }],
      sentence: 'The recipe cannot tell the pH: olives take up acid. Measure the drum after a day, and the packed jar again.',
      lines: [{ label: 'Acid added', text: withUnit(plain(answer.value.aceticPercentAdded, 2), 'g in 100 mL') }],
      beside: [answer.value],
    });
  },
};

export const acidTools: readonly Tool[] = [electrode, fromMillivolts, buffer, vinegar];
