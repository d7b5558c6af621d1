import { ok } from '#contract';
import type { Field, NumberField } from './field.ts';
import { degrees } from './measure.ts';
import { ask, type Given, type Tool } from './tool.ts';

const number = (name: string, label: string, step: number, start: number | null, more: Partial<NumberField> = {}): NumberField => ({ kind: 'number', name, label, quantity: 'plain', step, start, ...more });
const coefficient = (name: string, start: number): NumberField => number(name, name, 1e-6, start, { typedOnly: true, decimals: 12, unit: '1/K' });

const thermistorFields = (byPoints: boolean): readonly Field[] => [
  number('ohm', 'resistance', 10, 12_490, { unit: 'Ω', decimals: 1 }),
  { kind: 'choice', name: 'by', label: 'Its curve is known by', start: 'points', options: ['points', 'coefficients'], words: { points: 'three points', coefficients: 'a, b and c' } },
  ...(byPoints
    ? [{
      kind: 'rows' as const, name: 'calibration', label: 'Three points: ice water, shed, warm', row: 'point', least: 3, most: 3,
      columns: [number('ohm', 'resistance', 10, 10_000, { unit: 'Ω', decimals: 1 }), { ...number('temperatureC', 'at', 1, 25), quantity: 'temperature' as const }],
      start: [[32_650, 0], [10_000, 25], [5_327, 40]],
    }]
    : [coefficient('a', 1.129148e-3), coefficient('b', 2.34125e-4), coefficient('c', 8.76741e-8)]),
];

const sensor: Tool = {
  id: 'sensor', group: 'Probes', question: 'What does this sensor say?', about: 'Pt100, thermistor or DS18B20', calculator: 'sensor',
  fields: (values) => {
    const kind = values['kind'] ?? 'pt100';
    const choice: Field = { kind: 'choice', name: 'kind', label: 'Sensor', start: 'pt100', options: ['pt100', 'thermistor', 'ds18b20'], words: { pt100: 'Pt100', thermistor: 'thermistor', ds18b20: 'DS18B20' } };
    if (kind === 'thermistor') return [choice, ...thermistorFields(values['by'] !== 'coefficients')];
    if (kind === 'ds18b20') return [choice, { kind: 'text', name: 'scratchpadHex', label: 'Scratchpad, nine bytes', hint: '18 hexadecimal digits, spaces are welcome', start: '91 01 4B 46 7F FF 0F 10 25' }];
    return [choice, number('ohm', 'resistance, leads taken off', 0.1, 107.79, { unit: 'Ω' })];
  },
  adjust: (before, after) => {
    if (before['kind'] === after['kind']) return after;
    return { ...after, ohm: after['kind'] === 'thermistor' ? 12_490 : 107.79 };
  },
  find: (given, bench) => {
    const kind = given.choice('kind');
    const answer = ask(bench, 'sensor', kind === 'ds18b20' ? { kind, scratchpadHex: given.choice('scratchpadHex') } : kind === 'thermistor' ? { kind, ohm: given.number('ohm'), ...curve(given) } : { kind: 'pt100', ohm: given.number('ohm') });
    if (!answer.ok) return answer;
    const { temperatureC, fault, faultText, resolutionBits } = answer.value;
    if (temperatureC === undefined) {
      return ok({ bigs: [{ label: 'temperature', text: '–', unit: '', flag: { state: 'unknown', word: (fault ?? 'fault').replaceAll('-', ' ') } }], sentence: `Not a reading: ${faultText ?? 'the sensor is faulty'}.`, lines: [], beside: [answer.value] });
    }
    return ok({
      bigs: [{ label: 'temperature', ...degrees(temperatureC, bench.units) }],
      lines: [...(resolutionBits === undefined ? [] : [{ label: 'Resolution', text: `${String(resolutionBits)} bits` }])],
      beside: [answer.value],
    });
  },
};

const curve = (given: Given) =>
  given.choice('by') === 'coefficients'
    ? { a: given.number('a'), b: given.number('b'), c: given.number('c') }
    : { calibration: given.rows('calibration').map(([ohm = 0, temperatureC = 0]) => ({ ohm, temperatureC })) };

export const probeTools: readonly Tool[] = [sensor];
