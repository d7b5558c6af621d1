import { afterAll, afterEach, describe, expect, test } from 'vitest';
import { calculatorNames, loadCalculators, problem, type CalculatorName, type InputField } from '#contract';
import { calculateExamples } from '../helpers/calculate-examples.ts';
import { serveCalculators } from '../helpers/calculate-server.ts';

const server = await serveCalculators();
afterAll(() => server.close());
afterEach(() => expect(server.faults).toEqual([]));
const { calculators } = await loadCalculators();

type Json = Record<string, unknown>;

const expectRefused = async (name: string, input: unknown, code: string, path: string): Promise<void> => {
  const { status, body } = await server.send(name, input);
  const { code: found, detail, errors = [] } = problem.parse(body);
  expect([status, found], detail).toEqual([422, code]);
  expect(errors.map((error) => error.path), detail).toContain(path);
};

/** Every number of every example, by the path a refusal names it with, and the example with another number in its place. */
const numbersOf = (name: CalculatorName): { readonly path: string; readonly low: number; readonly high: number; readonly put: (value: unknown) => Json }[] =>
  calculateExamples[name].flatMap((given) => {
    const example = given as Json;
    const { fields } = calculators[name];
    const from = (list: readonly InputField[], prefix: string, input: Json, put: (changed: Json) => Json): ReturnType<typeof numbersOf> =>
      list.filter(({ onlyFor }) => onlyFor === undefined || onlyFor === example['kind']).flatMap((field) => {
        const { low, high } = field;
        const value = input[field.name];
        const path = prefix + field.name;
        if (field.rows !== undefined && Array.isArray(value)) {
          const rows = value as Json[];
          return from(field.rows, `${path}.0.`, rows[0] ?? {}, (row) => put({ ...input, [field.name]: [row, ...rows.slice(1)] }));
        }
        if (low === undefined || high === undefined) return [];
        if (Array.isArray(value)) return [{ path: `${path}.0`, low, high, put: (changed: unknown) => put({ ...input, [field.name]: [changed, ...value.slice(1) as unknown[]] }) }];
        return typeof value === 'number' ? [{ path, low, high, put: (changed: unknown) => put({ ...input, [field.name]: changed }) }] : [];
      });
    return from(fields, '', example, (changed) => changed);
  });

/** Where the end of a field's own range is too much together with the rest of the example, by calculator and path. */
const together: ReadonlySet<string> = new Set(Object.keys({
  'brine-strength value high': 'the highest value is a density; as % w/w it is past saturation',
  'hydrometer densityKgPerM3 low': 'lightest only in warm water', 'hydrometer densityKgPerM3 high': 'heaviest only when cold',
  'hydrometer specificGravity low': 'lightest only in warm water', 'hydrometer specificGravity high': 'past saturation',
  'salt-by-cup cups high': 'more salt than the water dissolves', 'salt-by-cup waterL low': 'more salt than the water dissolves',
  'salt-equilibrium fruitKg high': 'no brine can lift so much fruit to the target', 'salt-equilibrium fleshGPerL high': 'saltier than the target', 'salt-equilibrium targetGPerL high': 'needs more than a saturated brine',
  'salt-equilibrium brineL low': 'so little brine cannot reach the target',
  'ph-buffer temperatureC high': 'technical buffers are known to 50 °C',
  'ph-electrode points.0.ph low': 'exchanged buffers', 'ph-electrode points.0.mv high': 'exchanged buffers',
  'ph-from-mv mv low': 'above pH 14', 'ph-from-mv mv high': 'below pH 0', 'ph-from-mv points.0.ph low': 'exchanged buffers', 'ph-from-mv points.0.mv high': 'exchanged buffers',
  'cure-regression cures.0.days low': 'shorter than the days between tastings', 'cure-regression cures.0.tastedEveryDays high': 'longer than the cure',
  'sensor calibration.0.ohm low': 'resistance must fall as it warms', 'sensor calibration.0.temperatureC high': 'resistance must fall as it warms',
}));

test('each of these is one that is tried', () => {
  const tried = new Set(calculatorNames.flatMap((name) => numbersOf(name).flatMap(({ path }) => [`${name} ${path} low`, `${name} ${path} high`])));
  expect([...together].filter((one) => !tried.has(one))).toEqual([]);
});

describe.each(calculatorNames)('%s', (name) => {
  const numbers = numbersOf(name);

  test.each(numbers)('refuses $path just outside $low to $high, by name', async ({ path, low, high, put }) => {
    const step = Math.max(1e-9, 1e-9 * Math.max(Math.abs(low), Math.abs(high)));
    const whole = name === 'maturity-index' ? 1 : step;
    await expectRefused(name, put(low - whole), 'outside-valid-range', path);
    await expectRefused(name, put(high + whole), 'outside-valid-range', path);
  });

  test.each(numbers)('takes both ends of $path, or says why not with the rest', async ({ path, low, high, put }) => {
    for (const [end, value] of [['low', low], ['high', high]] as const) {
      const { status, body } = await server.send(name, put(value));
      const excused = together.has(`${name} ${path} ${end}`);
      expect(status, `${path} = ${value}: ${JSON.stringify(body)}`).toBe(excused ? 422 : 200);
      if (status === 422) expect([problem.parse(body).code, problem.parse(body).errors?.length]).toEqual(['outside-valid-range', 1]);
    }
  });

  test.each(numbers)('refuses what is no number in $path', async ({ path, put }) => {
    for (const wrong of ['7', '', 'NaN', null, true, [1], {}]) await expectRefused(name, put(wrong), 'does-not-fit', path);
    // JSON has no infinity, but a number too large for a double becomes one.
    for (const wrong of ['1e999', '-1e999']) await expectRefused(name, JSON.stringify(put('@')).replace('"@"', wrong), 'does-not-fit', path);
  });

  test('names each required input that is missing, and one it does not know', async () => {
    const example = calculateExamples[name][0] as Json;
    const required = calculators[name].fields.filter((field) => field.required && field.name in example);
    expect(required.length).toBeGreaterThan(0);
    for (const { name: field } of required) {
      const { [field]: _left, ...rest } = example;
      await expectRefused(name, rest, 'does-not-fit', field);
    }
    const { status, body } = await server.send(name, { ...example, pounds: 1 });
    expect([status, problem.parse(body).code]).toEqual([422, 'does-not-fit']);
    expect(problem.parse(body).detail).toContain('pounds');
  });

  test.each([[[]], [null], ['"text"'], [7], [{}]])('refuses a body that is no such input: %j', async (input) => {
    expect(await server.send(name, input)).toMatchObject({ status: 422, body: { code: 'does-not-fit' } });
  });

  test.each(['{', '{"value": NaN}', '{"value": Infinity}', "{'value': 1}"])('refuses what is not JSON: %s', async (text) => {
    expect(await server.send(name, text)).toMatchObject({ status: 400, body: { code: 'not-json' } });
  });
});

const steady = { hours: 1, temperatureC: 20 };
const many = <Row>(count: number, row: Row): Row[] => Array.from({ length: count }, () => row);
const leach = calculateExamples.leaching[0];

test.each<[CalculatorName, string, object]>([
  ['mean-kinetic-temperature', 'parts', { parts: many(2_001, steady) }],
  ['degree-hours', 'parts', { parts: many(2_001, steady), baseC: 15.6 }],
  ['pasteurisation', 'parts', { parts: many(2_001, { minutes: 1, temperatureC: 70 }) }],
  ['leaching', 'changes', { ...leach, changes: many(501, { day: 1 }) }],
  ['drum-warming', 'parts', { startC: 15, timeConstantHours: 14, hours: 24, parts: many(2_001, steady) }],
  ['cure-regression', 'cures', { cures: many(101, { temperatureC: 15, days: 40 }), at: [15] }],
  ['cure-regression', 'at', { ...calculateExamples['cure-regression'][0], at: many(101, 15) }],
  ['ph-electrode', 'points', { points: many(21, { ph: 7, mv: 0 }), temperatureC: 25 }],
  ['maturity-index', 'counts', { counts: many(9, 1) }],
  ['maturity-index', 'counts', { counts: many(7, 1) }],
])('%s: too many %s', async (name, path, input) => {
  await expectRefused(name, input, 'does-not-fit', path);
});

test('as many as are allowed are answered', async () => {
  expect(await server.send('mean-kinetic-temperature', { parts: many(2_000, steady) })).toMatchObject({ status: 200, body: { meanC: 20 } });
  expect(await server.send('cure-regression', { cures: many(100, { temperatureC: 15, days: 40 }), at: many(100, 15) })).toMatchObject({ status: 200, body: { method: 'energy-assumed' } });
});

test.each<[CalculatorName, string, object]>([
  ['hydrometer', 'densityKgPerM3', { sampleC: 10, calibratedAtC: 20 }],
  ['hydrometer', 'specificGravity', { densityKgPerM3: 1_059, specificGravity: 1.06, sampleC: 10, calibratedAtC: 20 }],
  ['leaching', 'temperatureC', { ...leach, temperatureC: undefined }],
  ['leaching', 'parts', { ...leach, parts: [steady] }],
  ['drum-warming', 'airC', { startC: 15, timeConstantHours: 14, hours: 24 }],
  ['drum-warming', 'parts', { airC: 20, parts: [steady], startC: 15, timeConstantHours: 14, hours: 24 }],
  ['yield', 'fruitKg', { jarMl: 720 }],
  ['yield', 'volumeL', { fruitKg: 10, volumeL: 20, jarMl: 720 }],
  ['sensor', 'a', { kind: 'thermistor', ohm: 10_000 }],
  ['sensor', 'c', { kind: 'thermistor', ohm: 10_000, a: 1e-3, b: 2e-4 }],
  ['sensor', 'calibration', { ...calculateExamples.sensor[2], a: 1e-3 }],
  ['sensor', 'kind', { kind: 'pt1000', ohm: 1_000 }],
  ['sensor', 'scratchpadHex', { kind: 'ds18b20', scratchpadHex: '91 01 4B 46 7F FF 0F 10' }],
  ['sensor', 'scratchpadHex', { kind: 'ds18b20', scratchpadHex: '91 01 4B 46 7F FF 0F 10 2G' }],
  ['sensor', 'ohm', { kind: 'pt100' }],
  ['recipe-check', 'text', { text: 'salt '.repeat(801) }],
  ['recipe-check', 'text', { fruitKg: 3 }],
  ['brine-strength', 'basis', { basis: '%', value: 8, temperatureC: 20 }],
  ['salt-by-cup', 'saltKind', { cups: 1, saltKind: 'kosher', waterL: 1 }],
  ['maturity-index', 'counts.2', { counts: [1, 2, 3.5, 4, 5, 6, 7, 8] }],
])('%s: the choice of inputs is said clearly, at %s', async (name, path, input) => {
  await expectRefused(name, input, 'does-not-fit', path);
});

// What is possible field by field and impossible together.
test.each<[CalculatorName, string, object]>([
  ['brine-strength', 'value', { basis: 'percent-ww', value: 30, temperatureC: 20 }],
  ['brine-strength', 'value', { basis: 'density', value: 900, temperatureC: 20 }],
  ['brine-strength', 'value', { basis: 'salometer', value: 101, temperatureC: 15.6 }],
  ['hydrometer', 'densityKgPerM3', { densityKgPerM3: 995, sampleC: 10, calibratedAtC: 20 }],
  ['hydrometer', 'specificGravity', { specificGravity: 1.215, sampleC: 20, calibratedAtC: 20 }],
  ['salt-by-cup', 'cups', { cups: 10, saltKind: 'table', waterL: 1 }],
  ['salt-equilibrium', 'targetGPerL', { ...calculateExamples['salt-equilibrium'][0], targetGPerL: 300 }],
  ['ph-buffer', 'temperatureC', { set: 'technical-7', temperatureC: 55 }],
  ['ph-electrode', 'points', { points: [{ ph: 7, mv: 0 }], temperatureC: 25 }],
  ['ph-electrode', 'points', { points: [{ ph: 7, mv: 0 }, { ph: 7, mv: 0 }], temperatureC: 25 }],
  ['ph-electrode', 'points', { points: [{ ph: 7, mv: 177 }, { ph: 4, mv: 0 }], temperatureC: 25 }],
  ['ph-from-mv', 'mv', { ...calculateExamples['ph-from-mv'][0], mv: 900 }],
  ['mean-kinetic-temperature', 'parts', { parts: [] }],
  ['mean-kinetic-temperature', 'parts', { parts: [{ hours: 0, temperatureC: 20 }] }],
  ['degree-hours', 'parts', { parts: [], baseC: 15 }],
  ['pasteurisation', 'parts', { parts: [] }],
  ['leaching', 'parts', { ...leach, temperatureC: undefined, parts: [] }],
  ['cure-regression', 'cures', { cures: [], at: [15] }],
  ['cure-regression', 'cures.0.tastedEveryDays', { cures: [{ temperatureC: 15, days: 10, tastedEveryDays: 11 }], at: [15] }],
  ['drum-warming', 'parts', { parts: [], startC: 15, timeConstantHours: 14, hours: 24 }],
  ['maturity-index', 'counts', { counts: many(8, 0) }],
  ['sensor', 'calibration', { kind: 'thermistor', ohm: 10_000, calibration: [{ ohm: 10_000, temperatureC: 25 }, { ohm: 9_000, temperatureC: 27 }, { ohm: 5_000, temperatureC: 40 }] }],
])('%s: impossible together is refused at %s', async (name, path, input) => {
  await expectRefused(name, input, 'outside-valid-range', path);
});
