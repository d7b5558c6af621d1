import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Compare } from '#contract';
import { dayMs } from '#domain/units/time.ts';
import { openApiHarness, openShed, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';
import { syntheticSix, writeCure, type SeasonCure } from '../helpers/compare-season.ts';

let harness: ApiHarness;
let owner: ApiClient;
beforeEach(async () => {
  harness = await openApiHarness();
  owner = await harness.as('owner');
});
afterEach(() => harness.close());

const season = async (cures: readonly SeasonCure[]): Promise<readonly string[]> => {
  const lots: string[] = [];
  for (const [index, cure] of cures.entries()) lots.push(await writeCure(harness, index + 1, cure));
  return lots;
};
const only = ({ groups }: Compare): Compare['groups'][number] => {
  expect(groups).toHaveLength(1);
  return groups[0] as Compare['groups'][number];
};

describe('an empty shed', () => {
  it('has nothing to compare', async () => {
    expect(await owner.call('compare')).toMatchObject({ bitterness: 1, groups: [] });
  });
});

describe('one to three cures', () => {
  it('are told with how long they took, without a line', async () => {
    await season(syntheticSix.slice(0, 2));
    const { cures, fit, interval, leftOut } = only(await owner.call('compare'));
    expect(cures).toMatchObject([{ days: 46, temperatureC: expect.closeTo(12, 6) as number }, { days: 41, temperatureC: expect.closeTo(14, 6) as number }]);
    expect(fit).toEqual({ method: 'too-few', cures: 2, temperatureC: { low: expect.closeTo(12, 6) as number, high: expect.closeTo(14, 6) as number }, days: { low: 41, high: 46 } });
    expect(interval).toBe(null);
    expect(leftOut).toEqual([]);
  });
});

describe('the six synthetic cures', () => {
  it('give the stated energy, and 37.15 days (33.02 to 41.80) at 15 °C, through journal and readings', async () => {
    await season(syntheticSix);
    const { fit, interval } = only(await owner.call('compare'));
    if (fit === null || fit.method === 'too-few') throw new Error('nothing was fitted');
    expect(fit.activationEnergyKjPerMol).toBeCloseTo(47.2685, 3);
    expect(fit.shrunkenKjPerMol).toBeCloseTo(47.2, 1);
    expect(fit.energyInterval.low).toBeCloseTo(39.75, 2);
    const at = (celsius: number) => interval?.points.find(({ temperatureC }) => temperatureC === celsius);
    expect(at(15)?.days).toBeCloseTo(37.15, 2);
    expect(at(15)?.low).toBeCloseTo(33.02, 2);
    expect(at(15)?.high).toBeCloseTo(41.8, 2);
    expect([at(8)?.extrapolated, at(9)?.extrapolated, at(27)?.extrapolated]).toEqual([true, false, false]);
    expect(at(28)).toMatchObject({ extrapolated: true, days: expect.closeTo(15.85, 2) as number });
  });

  it('take the middle of the days between tastings, and say the interval', async () => {
    await season(syntheticSix.map((cure) => ({ ...cure, gapDays: 4 })));
    const { fit, cures } = only(await owner.call('compare'));
    expect(cures[0]).toMatchObject({ days: 46, bitterDays: 42, likelyDays: 44 });
    expect(fit !== null && fit.method !== 'too-few' && fit.intercept).not.toBeCloseTo(-16.11456, 2);
  });
});

describe('what is not compared', () => {
  it('is listed with the reason', async () => {
    const lots = await season([
      { temperatureC: 15, days: 40, score: 3 }, { temperatureC: 15, days: 40, score: 5, jarred: false }, { temperatureC: 15, days: 40, measured: 0 }, { temperatureC: 15, days: 40, measured: 0.5 }, { temperatureC: 15, days: 40 },
    ]);
    const { cures, leftOut } = only(await owner.call('compare'));
    expect(cures.map(({ lot }) => lot)).toEqual([lots[4]]);
    expect(leftOut.map(({ lot, reason }) => [lot, reason])).toEqual([[lots[0], 'jarred-bitter'], [lots[1], 'not-finished'], [lots[2], 'no-temperatures'], [lots[3], 'too-many-gaps']]);
    expect(leftOut.map(({ text }) => text)).toEqual([
      'jarred at 3 of 10, above 1: it stopped at another end point',
      'still curing: last tasted 5 of 10, above 1',
      'no probe measured its temperature',
      'its temperature is known for 50 % of its hours; 80 % are needed',
    ]);
  });

  it('depends on the end point that is asked for', async () => {
    const [lot] = await season([{ temperatureC: 15, days: 40, score: 3, gapDays: 5 }]);
    expect(only(await owner.call('compare', { query: { bitterness: 4 } })).cures).toMatchObject([{ lot, days: 35, bitterDays: null }]);
    await owner.refused('compare', 'bad-query', { query: { bitterness: 10 } });
    await owner.refused('compare', 'bad-query', { query: { taste: 1 } });
  });

  it('is a batch that has just begun', async () => {
    await openShed(harness);
    expect(only(await owner.call('compare'))).toMatchObject({ cures: [], fit: null, leftOut: [{ reason: 'not-finished', text: 'still curing, not tasted yet', days: null }] });
  });
});

it('never pools brine policies, cuts or maturities', async () => {
  await season([{ temperatureC: 15, days: 40 }, { temperatureC: 15, days: 90, batch: { style: 'kept-brine' } }, { temperatureC: 15, days: 20, batch: { cut: 'cracked' } }, { temperatureC: 15, days: 30, batch: { maturity: 'black' } }]);
  const { groups } = await owner.call('compare');
  expect(groups.map(({ cures }) => cures.map(({ days }) => days))).toEqual([[90], [40], [30], [20]]);
});

it('weights readings by time: a day of one reading a minute counts no more than a day of one an hour', async () => {
  const lot = await writeCure(harness, 1, { temperatureC: 10, days: 20, measured: 0.5 });
  const start = Date.parse((await owner.call('batch', { params: { lot } })).startedAt);
  await harness.read('p1', Array.from({ length: 10 * 288 }, () => 20), { until: start + 20 * dayMs, everyMs: 300_000 });
  // Half the time at 10 °C and half at 20 °C: 15.72 °C at 45 kJ/mol, computed from the definition of the mean kinetic temperature.
  expect(only(await owner.call('compare')).cures[0]?.temperatureC).toBeCloseTo(15.72, 1);
});

describe('as a table', () => {
  it('holds the same numbers, a row a cure or a point of the line (RFC 4180)', async () => {
    await season([...syntheticSix, { temperatureC: 15, days: 40, score: 3, batch: { variety: '=2+3, or so' } }]);
    const { status, headers, body } = await owner.fetch('/api/compare.csv');
    expect(status).toBe(200);
    expect(headers.get('content-type')).toBe('text/csv; charset=utf-8');
    expect(headers.get('content-disposition')).toBe('attachment; filename=cures.csv');
    const lines = (body as string).split('\r\n');
    expect(lines.at(-1)).toBe('');
    const [head = '', ...rows] = lines.slice(0, -1);
    const names = head.split(',');
    const of = (row: string): Record<string, string> => Object.fromEntries((row.match(/("(?:[^"]|"")*"|[^,]*)(?:,|$)/g) ?? []).map((value, i) => [names[i] ?? '', value.replace(/,$/, '')]));
    const table = rows.map(of);
    expect(['cure', 'left-out', 'fit', 'line'].map((kind) => table.filter(({ row }) => row === kind).length)).toEqual([6, 1, 1, 23]);
    expect(table.find(({ row, temperature_c: temperature }) => row === 'line' && temperature === '15')).toMatchObject({ days: '37.15', days_low_95: '33.02', days_high_95: '41.8', extrapolated: 'false' });
    expect(table[0]).toMatchObject({ cut: 'slit', style: 'changed-brine', maturity: 'green', days: '46', bitter_days: '', temperature_c: '12' });
  });

  it('never hands a spreadsheet a formula, and quotes what holds a comma', async () => {
    await season([{ temperatureC: 15, days: 40, batch: { variety: '=2+3, or "so"' } }]);
    expect((await owner.fetch('/api/compare.csv')).body).toContain(`,"'=2+3, or ""so""",`);
  });

  it('is for those who may see the comparison', async () => {
    expect((await harness.stranger().fetch('/api/compare.csv')).status).toBe(401);
    expect((await (await harness.as('inspector')).fetch('/api/compare.csv')).status).toBe(403);
    expect((await owner.fetch('/api/compare.csv?bitterness=x')).status).toBe(422);
  });
});

describe('why one was slower', () => {
  const warm: SeasonCure = { temperatureC: 20, days: 30, gapDays: 2, changeDays: [7, 14, 21, 28] };
  const cold: SeasonCure = { temperatureC: 15, days: 44, gapDays: 4, changeDays: [7, 14, 21, 28, 35, 42] };

  it('shares the days out: parts and rest add up to the difference, and the cold gets its days', async () => {
    const [one = '', other = ''] = await season([cold, warm]);
    const { first, second, attribution } = await owner.call('comparePair', { params: { lot: one, other } });
    if ('unknown' in attribution) throw new Error(attribution.unknown);
    const { parts, differenceDays, unexplainedDays } = attribution;
    expect(differenceDays).toBeCloseTo(42 - 29, 9);
    expect(parts.reduce((sum, { days }) => sum + days, 0) + unexplainedDays).toBeCloseTo(differenceDays, 6);
    expect(parts.map(({ factor }) => factor)).toEqual(['temperature', 'changes', 'cut', 'maturity', 'ratio']);
    expect(parts[0]?.days).toBeGreaterThan(3);
    expect(parts.slice(1).map(({ days }) => days)).toEqual([0, 0, 0, 0]);
    // Two uniform errors, of intervals of 4 and 2 days.
    expect(attribution.uncertaintyDays).toBeCloseTo(Math.sqrt((16 + 4) / 12), 9);
    expect(attribution.basis).toBe(`leaching model with one rate for both, fitted to 4 tastings (${String(Math.round(attribution.priorShare * 100))} % starting guess)`);
    expect(first).toMatchObject({ lot: one, changesToEnd: 6, tastings: [{ day: 40, bitterness: 4 }, { day: 44, bitterness: 1 }], jarredDay: expect.closeTo(44.04, 2) as number });
    expect(second.temperature[0]?.day).toBeCloseTo(0, 6);
    expect(second.temperatureC).toBeCloseTo(20, 6);
  });

  it('turns round with the question', async () => {
    const [one = '', other = ''] = await season([cold, warm]);
    const there = (await owner.call('comparePair', { params: { lot: one, other } })).attribution;
    const back = (await owner.call('comparePair', { params: { lot: other, other: one } })).attribution;
    if ('unknown' in there || 'unknown' in back) throw new Error('not shared out');
    expect(back.differenceDays).toBeCloseTo(-there.differenceDays, 9);
    expect(back.unexplainedDays).toBeCloseTo(-there.unexplainedDays, 6);
  });

  it('is not answered for a cure that has not ended, or whose temperature is not known; both are laid side by side all the same', async () => {
    const [one = '', going = '', blind = ''] = await season([cold, { ...warm, score: 5, jarred: false }, { ...warm, measured: 0 }]);
    expect((await owner.call('comparePair', { params: { lot: going, other: one } })).attribution).toEqual({ unknown: `${going}: still curing: last tasted 5 of 10, above 1` });
    const unknown = await owner.call('comparePair', { params: { lot: blind, other: one } });
    expect(unknown.attribution).toEqual({ unknown: 'the temperature of one of the two was not measured' });
    expect(unknown.first).toMatchObject({ temperature: [], temperatureC: null, changesToEnd: 4 });
  });

  it('wants two lots that are there', async () => {
    const [lot = ''] = await season([cold]);
    await owner.refused('comparePair', 'not-found', { params: { lot, other: 'HO26-ZZ' } });
    const { errors } = await owner.refused('comparePair', 'bad-query', { params: { lot, other: lot.toLowerCase() } });
    expect(errors).toEqual([{ path: 'other', message: 'is the same lot as the first' }]);
  });
});

it('sees an act at once, and late readings after a while', async () => {
  const lot = await writeCure(harness, 1, { temperatureC: 15, days: 40, measured: 0.5, score: 4, jarred: false });
  const now = harness.clock.now();
  const why = async () => only(await owner.call('compare')).leftOut[0]?.reason;
  expect(await why()).toBe('not-finished');
  await owner.call('addEntry', { params: { lot }, body: { kind: 'tasted', at: new Date(now).toISOString(), bitterness: 1 } });
  expect(await why()).toBe('too-many-gaps');
  await harness.read('p1', Array.from({ length: 22 * 24 }, () => 15), { until: now, everyMs: 3_600_000 });
  harness.clock.advance(11 * 60_000);
  expect(await why()).toBe(undefined);
});
