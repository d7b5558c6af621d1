import { afterAll, describe, expect, test } from 'vitest';
import { z } from 'zod';
import { beside, calculatorList, calculatorNames, loadCalculators, problem, type InputField } from '#contract';
import { createApp, type AppDeps } from '../../api/app.ts';
import { openApi } from '../../api/openapi.ts';
import { calculateExamples } from '../helpers/calculate-examples.ts';
import { serveCalculators } from '../helpers/calculate-server.ts';

/** The names and answers other people's programs rely on; written out here so that no change of the registry can take them along. */
const promised: Readonly<Record<string, { readonly inputs: readonly string[]; readonly answers: readonly string[] }>> = {
  'brine-strength': { inputs: ['basis', 'value', 'temperatureC'], answers: ['percentWw', 'gPer100GWater', 'percentWv', 'gPerL', 'molality', 'salometer', 'densityKgPerM3', 'waterActivity'] },
  hydrometer: { inputs: ['densityKgPerM3', 'specificGravity', 'sampleC', 'calibratedAtC'], answers: ['percentWw', 'gPerL', 'densityKgPerM3'] },
  'brine-mix': { inputs: ['brineL', 'targetPercentWw', 'temperatureC', 'saltKind'], answers: ['saltG', 'waterL', 'cups'] },
  'salt-by-cup': { inputs: ['cups', 'saltKind', 'waterL'], answers: ['saltG', 'percentWw'] },
  'salt-equilibrium': { inputs: ['fruitKg', 'stoneFraction', 'fleshMoisture', 'brineL', 'brineGPerL', 'fleshGPerL', 'targetGPerL'], answers: ['fleshWaterL', 'equilibriumGPerL', 'brineForTargetGPerL', 'dryTopUpG'] },
  'ph-buffer': { inputs: ['set', 'temperatureC'], answers: ['ph'] },
  'ph-electrode': { inputs: ['points', 'temperatureC'], answers: ['slopeMvPerPh', 'slopePercent', 'offsetMv', 'verdict'] },
  'ph-from-mv': { inputs: ['mv', 'points', 'calibrationC', 'temperatureC'], answers: ['ph'] },
  'mean-kinetic-temperature': { inputs: ['parts', 'activationEnergyKjPerMol'], answers: ['meanKineticC', 'meanC'] },
  'degree-hours': { inputs: ['parts', 'baseC'], answers: ['degreeHours', 'hoursAbove', 'highestC'] },
  pasteurisation: { inputs: ['parts', 'referenceC', 'zC'], answers: ['units'] },
  leaching: { inputs: ['cut', 'maturity', 'temperatureC', 'parts', 'fruitKg', 'brineL', 'stoneFraction', 'fleshMoisture', 'changes', 'days'], answers: ['ratio', 'curve', 'dayPleasant', 'daySweet'] },
  'cure-regression': { inputs: ['cures', 'at'], answers: ['activationEnergyKjPerMol', 'intercept', 'standardError', 'residual', 'rSquared', 'predictions'] },
  'acid-dose': { inputs: ['benchMl', 'benchAcidMl', 'brineL', 'acidPercent'], answers: ['acidMl', 'aceticPercentAdded'] },
  'drum-warming': { inputs: ['airC', 'parts', 'startC', 'timeConstantHours', 'hours'], answers: ['temperatureC', 'curve'] },
  'maturity-index': { inputs: ['counts'], answers: ['index', 'stage'] },
  yield: { inputs: ['fruitKg', 'volumeL', 'cullFraction', 'pitted', 'jarMl'], answers: ['curedKg', 'jars', 'brineL', 'saltG'] },
  sensor: { inputs: ['kind', 'ohm', 'a', 'b', 'c', 'calibration', 'scratchpadHex'], answers: ['temperatureC'] },
  'recipe-check': { inputs: ['text', 'fruitKg'], answers: ['lines', 'brines', 'rules', 'slips', 'ph'] },
};
const promisedNames = Object.keys(promised);

const server = await serveCalculators();
afterAll(() => server.close());
const { calculators } = await loadCalculators();
const listed = calculatorList.parse((await server.list()).body).calculators;

test('every calculator that was promised is there, and no other', () => {
  expect(promisedNames).toHaveLength(19);
  expect([...calculatorNames].sort()).toEqual([...promisedNames].sort());
  expect(listed.map(({ name }) => name).sort()).toEqual([...promisedNames].sort());
});

describe.each(Object.entries(promised))('%s', (name, { inputs, answers }) => {
  const { fields } = calculators[name as keyof typeof calculators];
  const examples: readonly object[] = calculateExamples[name as keyof typeof calculateExamples];

  test('takes the promised inputs', () => {
    expect(fields.map((field) => field.name)).toEqual(expect.arrayContaining([...inputs]));
  });

  test('the examples use every input', () => {
    const used = new Set(examples.flatMap((example) => Object.keys(example)));
    expect(fields.map((field) => field.name).filter((field) => !used.has(field))).toEqual([]);
  });

  test.each(examples)('answers over HTTP with the promised keys, a source and its ranges: %j', async (example) => {
    const { status, body } = await server.send(name, example);
    expect(status).toBe(200);
    // Keys the schema does not know would be left out of what OpenAPI says.
    expect(z.strictObject(calculators[name as keyof typeof calculators].answer.shape).safeParse(body).error).toBeUndefined();
    const told = beside.parse(body);
    expect(told.source).toMatch(/\w{3}/);
    expect(Object.keys(told.validRange).length).toBeGreaterThan(0);
    for (const { low, high } of Object.values(told.validRange)) expect(low).toBeLessThanOrEqual(high);
  });

  test('has all promised answers', async () => {
    const { body } = await server.send(name, examples[0]);
    expect(Object.keys(body as object)).toEqual(expect.arrayContaining([...answers]));
  });

  test('tells a valid range for every number it takes; everything else is a choice, yes or no, or rows of such', () => {
    const ranges: Readonly<Record<string, object>> = listed.find((one) => one.name === name)?.validRange ?? {};
    const check = (field: InputField, prefix: string): void => {
      const path = prefix + field.name;
      if (field.kind === 'rows') for (const column of field.rows ?? []) check(column, `${path}.`);
      else if (field.kind === 'choice') expect(field.choices?.length ?? 0, path).toBeGreaterThan(1);
      else if (field.kind !== 'yes-no') expect(ranges[path], path).toBeDefined();
      if (field.kind === 'rows' || field.kind === 'numbers') expect(field.most, path).toBeGreaterThan(2);
      expect(field.title, path).toMatch(/\w/);
    };
    for (const field of fields) check(field, '');
  });

  test('stands in OpenAPI with its inputs and answers', () => {
    const document = openApi('test') as { paths: Record<string, { post?: { requestBody: Content; responses: Record<string, Content> } }> };
    const { post } = document.paths[`/api/calculate/${name}`] ?? {};
    const takes = post?.requestBody.content['application/json']?.schema;
    const gives = post?.responses['200']?.content['application/json']?.schema;
    const properties = takes?.oneOf !== undefined && takes.properties === undefined ? Object.assign({}, ...takes.oneOf.map((one) => one.properties)) as object : takes?.properties;
    expect(Object.keys(properties ?? {})).toEqual(expect.arrayContaining([...inputs]));
    expect(Object.keys(gives?.properties ?? {})).toEqual(expect.arrayContaining([...answers, 'source', 'validRange', 'assumed', 'caution']));
  });
});

interface Schema { readonly properties?: object; readonly oneOf?: readonly Schema[] }
interface Content { readonly content: Record<string, { readonly schema: Schema }> }

test.each(['brine', 'BRINE-MIX', 'constructor', '__proto__', 'brine-mix/', '../limits'])('an unknown calculator is 404: %s', async (name) => {
  const { status, body } = await server.send(name, {});
  expect([status, problem.parse(body).code]).toEqual([404, 'not-found']);
});

test.each(['owner', 'helper', 'wall'] as const)('whoever works in the shed or watches it may work things out: %s', async (role) => {
  expect((await server.send('maturity-index', calculateExamples['maturity-index'][0], role)).status).toBe(200);
  expect((await server.list(role)).status).toBe(200);
});

test('a stranger may not', async () => {
  expect((await server.send('maturity-index', calculateExamples['maturity-index'][0], null)).status).toBe(401);
  expect((await server.list(null)).status).toBe(401);
});

test('an inspector, who reads records only, may not', async () => {
  expect((await server.list('inspector')).status).toBe(403);
});

test('the whole server mounts them under /api', async () => {
  const untouched = new Proxy({}, { get: (_target, name) => { throw new Error(`a calculator needs no ${String(name)}`); } });
  const facts = { site: 'home', version: 'test' };
  const app = createApp({ model: untouched, forecasts: untouched, access: { userOf: () => null }, live: untouched, facts, demo: null, presenceOf: () => null, log: () => undefined, dashboard: null } as unknown as AppDeps);
  const listening = app.listen(0, '127.0.0.1');
  await new Promise((resolve) => listening.once('listening', resolve));
  const { port } = listening.address() as { port: number };
  const response = await fetch(`http://127.0.0.1:${port}/api/calculate/maturity-index`, { method: 'POST', headers: { 'content-type': 'application/json' }, body: '{}' });
  listening.close();
  // Asked to sign in, and not told that there is no such path.
  expect(response.status).toBe(401);
});
