import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { calculatorNames } from '#contract';
import { metric } from '../../dashboard/format/units.ts';
import { evaluate, rangeOf } from '../../dashboard/state/work-out/evaluate.ts';
import { isRows, type NumberField, type Values } from '../../dashboard/state/work-out/field.ts';
import { inputsOf, valuesOf } from '../../dashboard/state/work-out/link.ts';
import type { Tool } from '../../dashboard/state/work-out/tool.ts';
import { tools } from '../../dashboard/state/work-out/tools.ts';
import { parseRoute, pathOf } from '../../dashboard/state/route.ts';
import { serveCalculators, type CalculateServer } from '../helpers/calculate-server.ts';
import { answerFor, benchOf, imperial, loaded, shownFor, toolNamed, watchedBench, wordsOf, type Asked } from '../helpers/work-out.ts';

/** Every question, in each of the ways it can be asked. */
const ways: readonly (readonly [id: string, inputs: string])[] = [
  ...tools.filter(({ id }) => id !== 'maturity').map(({ id }) => [id, ''] as const),
  ['mix', 'saltKind=pickling'], ['mix', 'fruitKg='], ['cups', 'fruitKg=2'], ['settle', 'targetPercent=8&stoneFraction=0.2'], ['hydrometer', 'scale=gravity&specificGravity=1.06'],
  ['electrode', 'points=7_-12*4_160*10_-185'], ['cures', 'cures=16_30'], ['drum', 'timeConstantHours=14'], ['heat', 'activationEnergyKjPerMol=45'],
  ['maturity', 'counts=5*20*35*20*12*5*2*1'], ['yield', 'by=bucket&volumeL=80&pitted=out'], ['heat-in-jars', 'referenceC=70&zC=7'],
  ['sensor', 'kind=thermistor'], ['sensor', 'kind=thermistor&by=coefficients'], ['sensor', 'kind=ds18b20'], ['leaching', 'early=0&later=0&cut=whole'], ['recipe', 'fruitKg=3'], ['recipe', 'text=a+handful+of+salt'],
];

describe('every question', () => {
  it.each(ways)('%s?%s has an answer in either units, without a word for no number', (id, inputs) => {
    for (const units of [metric, imperial]) {
      const words = wordsOf(answerFor(id, inputs, benchOf(units)));
      expect(words).not.toMatch(/NaN|undefined|Infinity|null|\{field\}/);
      expect(words).not.toMatch(/safe to eat|is safe|\bOK\b/);
    }
  });

  it('leaves out none of the calculators', () => {
    const asked: Asked[] = [];
    for (const [id, inputs] of ways) answerFor(id, inputs, watchedBench(asked));
    expect(new Set(asked.map(({ name }) => name))).toEqual(new Set(calculatorNames));
  });

  it('offers every choice that its calculator has', () => {
    for (const tool of tools) {
      for (const field of tool.fields({})) {
        if (field.kind !== 'choice') continue;
        const input = loaded.calculators[tool.calculator].fields.find(({ name }) => name === field.name);
        if (input?.choices === undefined) continue;
        expect(field.options.filter((option) => option !== 'weighed').toSorted()).toEqual(input.choices.map(String).toSorted());
        expect(Object.keys(field.words).length === 0 || field.options.every((option) => (field.words[option] ?? '') !== '')).toBe(true);
      }
    }
  });

  it('has words for every default that is not on the screen', () => {
    for (const [id, inputs] of ways) {
      const shown = shownFor(id, inputs);
      if (shown.kind === 'faults') throw new Error(id);
      for (const words of shown.told.assumed) expect(words, id).toContain(' ');
      expect(shown.told.sources.join(), id).not.toBe('');
    }
  });
});

describe('the same answers as the server', () => {
  let server: CalculateServer;
  beforeAll(async () => {
    server = await serveCalculators();
  });
  afterAll(() => server.close());

  it('because the same is asked in the same metric units, whatever the reader prefers', async () => {
    const asked: Asked[] = [];
    for (const [id, inputs] of ways) for (const units of [metric, imperial]) answerFor(id, inputs, watchedBench(asked, units));
    const different = [...new Map(asked.map((one) => [JSON.stringify([one.name, one.input]), one])).values()];
    expect(different.length).toBeGreaterThan(60);
    for (const { name, input, answer } of different) {
      const { status, body } = await server.send(name, input);
      expect(status, `${name} ${JSON.stringify(input)}`).toBe(200);
      expect(body).toEqual(JSON.parse(JSON.stringify(answer)));
    }
    expect(server.faults).toEqual([]);
  });
});

describe('a link', () => {
  it.each(ways)('carries all figures of %s?%s', (id, inputs) => {
    const tool = toolNamed(id);
    const values = valuesOf(tool, inputs);
    const once = inputsOf(tool.fields(values), values);
    const back = valuesOf(tool, once);
    expect(Object.keys(back).toSorted()).toEqual(Object.keys(values).toSorted());
    expect(inputsOf(tool.fields(back), back)).toBe(once);
    // What is read is the same, though a third has endless digits.
    expect(wordsOf(answerFor(id, once))).toBe(wordsOf(answerFor(id, inputs)));
  });

  it('brings any number back to nine digits', () => {
    const tool = toolNamed('mix');
    fc.assert(
      fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), (brineL) => {
        const values = { ...valuesOf(tool, ''), brineL };
        const back = valuesOf(tool, inputsOf(tool.fields(values), values))['brineL'];
        expect(Math.abs(Number(back) - brineL)).toBeLessThanOrEqual(Math.abs(brineL) * 1e-8);
      }),
    );
  });

  it('is read leniently: what it does not say, or says wrongly, begins as always', () => {
    const start = valuesOf(toolNamed('electrode'), '');
    for (const inputs of ['points=7', 'points=7_1_2*4_5_6', 'temperatureC=warm', 'other=1', '%', 'points=7_1']) expect(valuesOf(toolNamed('electrode'), inputs)).toEqual(start);
    // The figures to begin with are those of the choice that the link makes, not of the first one.
    expect(valuesOf(toolNamed('sensor'), 'kind=thermistor')).toMatchObject({ kind: 'thermistor', ohm: 12_490, by: 'points' });
    expect(valuesOf(toolNamed('cups'), 'saltKind=magic')['saltKind']).toBe('table');
    expect(valuesOf(toolNamed('mix'), 'brineL=1e999')['brineL']).toBe(10);
  });

  it('keeps an answer left out as left out, and an emptied field as it began', () => {
    const values: Values = { ...valuesOf(toolNamed('mix'), ''), fruitKg: null };
    expect(inputsOf(toolNamed('mix').fields(values), values)).toContain('fruitKg=&');
    expect(valuesOf(toolNamed('mix'), 'fruitKg=')['fruitKg']).toBeNull();
  });

  it('is an address of the page', () => {
    const inputs = 'brineL=12&targetPercentWw=8';
    expect(parseRoute(`/work-out/mix?${inputs}`)).toEqual({ view: 'work-out', tool: 'mix', inputs });
    for (const route of [{ view: 'work-out', tool: null, inputs: '' }, { view: 'work-out', tool: 'mix', inputs }] as const) expect(parseRoute(pathOf(route))).toEqual(route);
    expect(parseRoute('/work-out/mix/more').view).toBe('unknown');
    expect(parseRoute('/start?x=1')).toEqual({ view: 'start' });
  });
});

const numbersOf = (tool: Tool): readonly (readonly [path: string, field: NumberField, set: (value: number) => Values])[] => {
  const start = valuesOf(tool, tool.id === 'maturity' ? 'counts=1*1*1*1*1*1*1*1' : '');
  return tool.fields(start).flatMap((field): (readonly [string, NumberField, (value: number) => Values])[] => {
    if (field.kind === 'number') return [[field.name, field, (value) => ({ ...start, [field.name]: value })]];
    if (field.kind !== 'rows') return [];
    const rows = start[field.name];
    if (!isRows(rows)) return [];
    return field.columns.map((column, place) => [`${field.name}.0.${column.name}`, column, (value) => ({ ...start, [field.name]: rows.map((row, index) => (index === 0 ? row.map((cell, at) => (at === place ? value : cell)) : row)) })]);
  });
};

describe('outside what can be worked out', () => {
  it.each(tools.map((tool) => [tool.id, tool] as const))('%s says so at the field, with what is allowed, and works nothing out', (_, tool) => {
    for (const [path, field, set] of numbersOf(tool)) {
      const rows = tool.fields(set(1)).find((one) => one.kind === 'rows' && path.startsWith(`${one.name}.`));
      const range = rangeOf(loaded.calculators, tool, field, rows?.kind === 'rows' ? rows : undefined);
      for (const value of [Number.NaN, ...(range === null || !Number.isFinite(range.high) ? [] : [range.high * 1.01 + 1, range.low - 1])]) {
        const shown = evaluate(tool, set(value), benchOf());
        expect(shown.kind, `${path} ${String(value)}`).toBe('faults');
        if (shown.kind === 'faults') expect(shown.faults.get(path), path).toMatch(Number.isNaN(value) ? /Put in a number/ : /^Too (low|high): this is worked out from .+ to .+\.$/);
      }
      // Both ends belong to what is allowed: nothing is said about this field itself.
      if (range !== null && Number.isFinite(range.high)) {
        for (const value of [range.low, range.high]) {
          const shown = evaluate(tool, set(value), benchOf());
          if (shown.kind === 'faults') expect(shown.faults.get(path) ?? '', path).not.toMatch(/^Too/);
        }
      }
    }
  });

  it('tells the range in the units of the reader', () => {
    const fault = (units: typeof metric): string => {
      const shown = shownFor('mix', 'temperatureC=60', benchOf(units));
      return shown.kind === 'faults' ? (shown.faults.get('temperatureC') ?? '').replaceAll('\u00a0', ' ') : '';
    };
    expect(fault(metric)).toBe('Too high: this is worked out from 0 to 40 °C.');
    // 0 and 40 °C are 32 and 104 °F.
    expect(fault(imperial)).toBe('Too high: this is worked out from 32 to 104 °F.');
  });

  it('names the field as the screen does where only the calculator can tell', () => {
    const said = (id: string, inputs: string, units = metric): Record<string, string> => {
      const shown = shownFor(id, inputs, benchOf(units));
      return shown.kind === 'faults' ? Object.fromEntries(shown.faults) : {};
    };
    expect(said('electrode', 'points=7_0*7.5_-30')).toEqual({ points: 'The buffers must be buffers at least 1 pH apart.' });
    expect(said('electrode', 'points=7_0*4_-170')['points']).toMatch(/^The buffers have millivolts that do not fall with pH/);
    expect(said('cups', 'cups=20&waterL=1')['cups']).toMatch(/more than 1 L of water can dissolve\.$/);
    expect(said('strength', 'value=30')['value']).toMatch(/^Strength must be from 0\.00000 to 26\.5000 % w\/w at 20 °C/);
    expect(said('strength', 'value=30', imperial)['value']).toContain('at 68.0\u00a0°F');
    expect(said('settle', 'targetPercent=20')['targetPercent']).toMatch(/^Wanted once settled needs a brine stronger than saturated/);
    expect(said('sensor', 'kind=ds18b20&scratchpadHex=12')['scratchpadHex']).toMatch(/18 hexadecimal digits/);
    expect(said('maturity', '')).toEqual({ counts: 'Press a colour for each fruit you look at.' });
  });
});
