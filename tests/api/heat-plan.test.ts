import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { toRfc3339, dayMs, hourMs, minuteMs } from '#domain/units/time.ts';
import { drumOfMany, runTwoNodeDrum, type TwoNodeDrum } from '../helpers/two-node-drum.ts';
import { harnessStart, openApiHarness, openShed, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';

let harness: ApiHarness;
let owner: ApiClient;
let lot: string;
beforeEach(async () => {
  harness = await openApiHarness();
  owner = await harness.as('owner');
  lot = await openShed(harness);
});
afterEach(() => harness.close());

const days = 4;
const from = harnessStart - days * dayMs;

/** Four days of a made-up drum in the barrel, and of the air beside it. */
const live = async (more: Partial<TwoNodeDrum> = {}): Promise<void> => {
  const trace = runTwoNodeDrum({ ...drumOfMany(3, from, days), timeConstantHours: 9, offsetC: 0, meanC: 21, swingC: 9, weatherSdC: 0.3, noiseC: 0.05, ...more });
  await harness.read('probe-1', trace.drum.map(({ temperatureC }) => temperatureC), { everyMs: 10 * minuteMs, until: harnessStart - 5 * minuteMs });
  // Placed last, it is the one believed.
  await owner.call('place', { params: { probe: 'probe-1' }, body: { channel: 'temperature', drum: 'barrel-1', from: toRfc3339(from) } });
  await harness.read('shed-air', trace.air.map(({ temperatureC }) => temperatureC), { channel: 'air-temperature', everyMs: 10 * minuteMs, until: harnessStart - 5 * minuteMs });
};

describe('GET /api/heat-plan', () => {
  it('says nothing where nothing is known', async () => {
    const { air, drums } = await owner.call('heatPlan');
    expect(air).toBeNull();
    expect(drums).toMatchObject([{ drum: 'barrel-1', lot, ahead: [], response: null, crossing: null, helps: [] }]);
    expect(drums[0]?.unknown).not.toBeNull();
  });

  it('fits the drum, repeats the last day, and goes by what is typed for tomorrow', async () => {
    await live();
    const before = await owner.call('heatPlan');
    expect(before.air?.basis).toBe('repeated');
    expect(before.drums[0]?.ahead).toHaveLength(97);
    expect(before.drums[0]?.response).toMatchObject({ basis: 'fitted' });
    expect(Math.abs((before.drums[0]?.response?.timeConstantHours ?? 0) / 9 - 1)).toBeLessThan(0.2);
    const helper = await harness.as('helper');
    await helper.call('setAirForecast', { body: { day: '2026-10-04', lowC: 22, highC: 38 } });
    const after = await owner.call('heatPlan');
    expect(after.air?.basis).toBe('entered');
    const { crossing, helps, text } = after.drums[0] ?? {};
    expect(crossing).toMatchObject({ side: 'high' });
    expect(Date.parse(crossing?.earliest ?? '')).toBeLessThan(Date.parse(crossing?.at ?? ''));
    expect(helps?.map(({ kind }) => kind)).toEqual(expect.arrayContaining(['floor', 'ice']));
    expect(text).toMatch(/^Passes \d\d °C tomorrow about \d\d:\d0 \(± (\d+|½) h\)\.$/);
    await helper.call('setAirForecast', { body: { day: '2026-10-04', lowC: null, highC: null } });
    expect((await owner.call('heatPlan')).air?.basis).toBe('repeated');
  });

  it('refuses a low above the high, one without the other, and days nobody can foretell', async () => {
    await owner.refused('setAirForecast', 'does-not-fit', { body: { day: '2026-10-04', lowC: 20, highC: 10 } });
    await owner.refused('setAirForecast', 'does-not-fit', { body: { day: '2026-10-04', lowC: 20, highC: null } });
    await owner.refused('setAirForecast', 'does-not-fit', { body: { day: '2026-10-02', lowC: 10, highC: 20 } });
    await owner.refused('setAirForecast', 'does-not-fit', { body: { day: '2026-11-02', lowC: 10, highC: 20 } });
    expect((await owner.call('journal')).entries.some(({ kind }) => kind === 'air-forecast')).toBe(false);
    await (await harness.as('wall')).refused('setAirForecast', 'not-allowed', { body: { day: '2026-10-04', lowC: 10, highC: 20 } });
  });
});

describe('questions', () => {
  /** Poured over a quarter of an hour from here on. */
  const at = harnessStart - 6 * hourMs;

  it('a change nobody wrote down is asked once, across restarts, and one tap logs it at its own time', async () => {
    await live({ changes: [{ at, differenceC: -6 }] });
    const stream = await owner.listen();
    await harness.service.ask();
    await harness.service.ask();
    await harness.restart();
    await harness.service.ask();
    stream.close();
    const { questions } = await owner.call('questions');
    expect(questions).toHaveLength(1);
    const [question] = questions;
    expect(question).toMatchObject({ kind: 'unlogged-change', drum: 'barrel-1', lot, text: 'Was brine changed in Barrel 1 today about 06:10?' });
    expect(Math.abs(Date.parse(question?.at ?? '') - at)).toBeLessThan(10 * minuteMs);
    expect((await owner.call('drum', { params: { drum: 'barrel-1' } })).questions).toHaveLength(1);

    const helper = await harness.as('helper');
    const { entry } = await helper.call('answerQuestion', { params: { id: question?.id ?? '' }, body: { answer: 'yes' } });
    const batch = await owner.call('batch', { params: { lot } });
    expect(batch.entries.find(({ sequence }) => sequence === entry)).toMatchObject({ kind: 'brine-changed', at: question?.at, by: 'helper' });
    expect((await owner.call('questions')).questions).toEqual([]);
    expect((await owner.call('drum', { params: { drum: 'barrel-1' } })).questions).toBeUndefined();
    await helper.refused('answerQuestion', 'wrong-state', { params: { id: question?.id ?? '' }, body: { answer: 'no' } });
    await harness.service.ask();
    expect((await owner.call('questions')).questions).toEqual([]);
  });

  it('no is an answer too, and is not asked again', async () => {
    await live({ changes: [{ at, differenceC: -6 }] });
    await harness.service.ask();
    const id = (await owner.call('questions')).questions[0]?.id ?? '';
    await owner.refused('answerQuestion', 'does-not-fit', { params: { id }, body: { answer: 'no', brineL: 20 } });
    await owner.call('answerQuestion', { params: { id }, body: { answer: 'no' } });
    await harness.service.ask();
    expect((await owner.call('questions')).questions).toEqual([]);
    expect((await owner.call('batch', { params: { lot } })).entries.filter(({ kind }) => kind === 'brine-changed')).toEqual([]);
  });

  it('is not asked about a change that is written down, nor about a quiet drum', async () => {
    await live({ changes: [{ at, differenceC: -6 }] });
    await owner.call('addEntry', { params: { lot }, body: { kind: 'brine-changed', at: toRfc3339(at + hourMs), brineL: 25, saltGPerL: 80 } });
    await harness.service.ask();
    expect((await owner.call('questions')).questions).toEqual([]);
  });

  it('a probe that follows the air is asked about', async () => {
    await live({ outOfBrine: { from: harnessStart - 30 * hourMs, to: harnessStart } });
    await harness.service.ask();
    await harness.service.ask();
    expect((await owner.call('questions')).questions).toMatchObject([{ kind: 'probe-in-air', text: 'Is the probe of Barrel 1 in the brine, and the fruit covered?' }]);
    await owner.refused('answerQuestion', 'not-found', { params: { id: 'nothing' }, body: { answer: 'no' } });
  });
});
