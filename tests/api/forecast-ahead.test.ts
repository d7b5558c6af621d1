import { afterEach, describe, expect, it } from 'vitest';
import { dayMs, type Forecast, type Task } from '#contract';
import { toRfc3339 } from '#domain/units/time.ts';
import { harnessStart, openApiHarness, openShed, type ApiHarness } from '../helpers/api-harness.ts';
import { writeCure } from '../helpers/compare-season.ts';

/** What a forecast rests on and what it leads to: earlier seasons, what-ifs, the tasting that teaches most. */
let harness: ApiHarness;
afterEach(() => harness.close());

const open = async (): Promise<string> => {
  harness = await openApiHarness();
  const lot = await openShed(harness, { style: 'changed-brine' });
  await harness.read('probe-1', Array.from({ length: 241 }, () => 16), { everyMs: 3_600_000 });
  return lot;
};
const range = (forecast: Forecast): { readonly from: number; readonly to: number } => {
  if ('unknown' in forecast) throw new Error(forecast.unknown);
  return { from: Date.parse(forecast.readyFrom), to: Date.parse(forecast.readyTo) };
};
const forecastOf = async (lot: string): Promise<Forecast> => (await (await harness.as('helper')).call('batch', { params: { lot } })).forecast;
const taste = async (): Promise<Task | undefined> => (await (await harness.as('helper')).call('tasks')).tasks.find(({ kind }) => kind === 'taste');

describe('earlier seasons', () => {
  it('make the forecast of a like batch narrower from the start, and are counted in its basis', async () => {
    const lot = await open();
    const before = await forecastOf(lot);
    expect(before).toMatchObject({ basis: 'starting guess for slit fruit, no tastings yet' });
    for (const [number, days] of [[2, 40], [3, 44], [4, 38]] as const) await writeCure(harness, number, { temperatureC: 16, days, gapDays: 7, changeDays: [2, 4, 6, 13, 20, 27, 34] }, 200);
    harness.service.tick();
    const after = await forecastOf(lot);
    expect(after).toMatchObject({ basis: 'starting guess from 3 earlier cures of slit fruit, no tastings yet' });
    const width = (forecast: Forecast): number => Math.log((range(forecast).to - (harnessStart - 10 * dayMs)) / (range(forecast).from - (harnessStart - 10 * dayMs)));
    expect(width(after)).toBeLessThan(0.9 * width(before));
  });

  it('count only where cut, style and maturity are the same, and the cure is over', async () => {
    const lot = await open();
    await writeCure(harness, 2, { temperatureC: 16, days: 30, batch: { cut: 'cracked' } }, 200);
    await writeCure(harness, 3, { temperatureC: 16, days: 30, batch: { maturity: 'black' } }, 200);
    await writeCure(harness, 4, { temperatureC: 16, days: 30, batch: { style: 'kept-brine' } }, 200);
    await writeCure(harness, 5, { temperatureC: 16, days: 9, score: 8, jarred: false });
    harness.service.tick();
    expect(await forecastOf(lot)).toMatchObject({ basis: 'starting guess for slit fruit, no tastings yet' });
  });
});

describe('what if', () => {
  it('is asked as a grower does, one thing at a time, each with a range', async () => {
    const lot = await open();
    const { asPlanned, whatIfs } = await (await harness.as('wall')).call('whatIf', { params: { lot } });
    expect(asPlanned).toEqual(await forecastOf(lot));
    expect(whatIfs.map(({ title }) => title)).toEqual(['2 °C warmer', '2 °C cooler', 'Next change left out', 'Next change with half the brine', 'Changed every second day', 'Stronger brine']);
    expect(whatIfs[0]?.laterDays).toBeLessThan(0);
    expect(whatIfs[1]?.laterDays).toBeGreaterThan(0);
    expect(range(whatIfs[0]?.forecast ?? { unknown: '' }).to).toBeLessThan(range(asPlanned).to);
  });

  it('is asked for one thing, or two at once', async () => {
    const lot = await open();
    const helper = await harness.as('helper');
    const { whatIfs } = await helper.call('whatIf', { params: { lot }, query: { warmerC: 3.5, changes: 'skip-next' } });
    expect(whatIfs).toHaveLength(1);
    expect(whatIfs[0]).toMatchObject({ title: '3.5 °C warmer, next change left out', warmerC: 3.5, changes: 'skip-next' });
    await helper.refused('whatIf', 'bad-query', { params: { lot }, query: { warmerC: 40 } });
    await helper.refused('whatIf', 'bad-query', { params: { lot }, query: { changes: 'never' } });
    await helper.refused('whatIf', 'not-found', { params: { lot: 'nothing' } });
  });

  it('has no answer for fruit that is sweet', async () => {
    const lot = await open();
    const helper = await harness.as('helper');
    await helper.call('addEntry', { params: { lot }, body: { kind: 'tasted', at: toRfc3339(harnessStart), bitterness: 0 } });
    expect(await helper.call('whatIf', { params: { lot } })).toMatchObject({ asPlanned: { unknown: 'tasted sweet; waiting for its jars' }, whatIfs: [] });
  });
});

describe('the next tasting', () => {
  it('falls on the day that teaches most, says why, and is the same with the drum', async () => {
    await open();
    const task = await taste();
    expect(task?.text).toMatch(/A taste (on \d+ \w+|on \w+day|today|tomorrow) teaches most; before .* it can hardly be sweet\.$/);
    // By the schedule alone it would be day 14.
    expect(Date.parse(task?.dueAt ?? '')).toBeGreaterThan(harnessStart);
    const drum = await (await harness.as('helper')).call('drum', { params: { drum: 'barrel-1' } });
    if (drum.nextTask?.kind === 'taste') expect(drum.nextTask).toEqual(task);
  });

  it('moves on when one is written, and when one is left out', async () => {
    const lot = await open();
    const helper = await harness.as('helper');
    const before = await taste();
    await helper.call('addEntry', { params: { lot }, body: { kind: 'tasted', at: toRfc3339(harnessStart), bitterness: 8 } });
    const after = await taste();
    expect(after?.id).not.toBe(before?.id);
    expect(Date.parse(after?.dueAt ?? '')).toBeGreaterThan(harnessStart + dayMs / 2);
    // Still bitter: nobody is asked to taste again tomorrow.
    expect(Date.parse(after?.dueAt ?? '')).toBeGreaterThan(harnessStart + 2 * dayMs);
    harness.clock.set(Date.parse(after?.dueAt ?? '') + dayMs);
    await helper.call('skipTask', { params: { id: after?.id ?? '' }, body: { reason: 'away' } });
    expect(Date.parse((await taste())?.dueAt ?? '')).toBeGreaterThan(harness.clock.now());
  });
});
