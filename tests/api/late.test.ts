import { afterEach, describe, expect, it } from 'vitest';
import { dayMs, hourMs, type Task } from '#contract';
import { toRfc3339 } from '#domain/units/time.ts';
import { harnessStart, openApiHarness, openShed, tenDaysMs, type ApiHarness } from '../helpers/api-harness.ts';

/** What a late change costs, as callers see it: in the list, with the drum, in the live stream. */
let harness: ApiHarness;
afterEach(() => harness.close());
const open = async (batch: Parameters<typeof openShed>[1] = {}): Promise<string> => {
  harness = await openApiHarness();
  return openShed(harness, batch);
};
const change = async (): Promise<Task> => {
  const found = (await (await harness.as('helper')).call('tasks')).tasks.find(({ kind }) => kind.startsWith('change-'));
  if (found === undefined) throw new Error('no change is due');
  return found;
};

describe('a change that is due', () => {
  it('says what a day costs, in days and in words, with what is poured either way', async () => {
    await open();
    const { late } = await change();
    expect(late).toMatchObject({ guess: true });
    expect(late?.text).toMatch(/^A day later .* Mostly the starting guess: fewer than three tastings\.$/);
    expect(late?.outcomes.map(({ choice }) => choice)).toEqual(['on-time', 'day-late', 'three-days-late', 'left-out', 'half']);
    expect(late?.days).toBe(late?.outcomes[1]?.laterDays);
    // Nothing was changed for ten days: the first change is worth more than a day by the model.
    expect(late?.outcomes[3]?.laterDays).toBeGreaterThan(0);
    expect(late).not.toHaveProperty('hygiene');
    const { nextTask } = await (await harness.as('helper')).call('drum', { params: { drum: 'barrel-1' } });
    expect(nextTask?.late).toEqual(late);
  });

  it('is worked out anew once it is made: the next one has costs of its own, told live', async () => {
    await open();
    const helper = await harness.as('helper');
    const before = await change();
    const stream = await helper.listen();
    await stream.find(({ name, data }) => name === 'task' && JSON.stringify(data).includes(before.id));
    await helper.call('finishTask', { params: { id: before.id }, body: { brineL: 27, saltGPerL: 100 } });
    const after = await change();
    expect(after.id).not.toBe(before.id);
    expect(after.late).not.toEqual(before.late);
    const { data } = await stream.find(({ name, data: told }) => name === 'task' && JSON.stringify(told).includes(`"${after.id}"`));
    expect(data).toEqual(after);
  });

  it('is worked out anew when the plan alone has changed: a step left out', async () => {
    await open();
    const helper = await harness.as('helper');
    const before = await change();
    await helper.call('skipTask', { params: { id: before.id }, body: { reason: 'away' } });
    expect((await change()).late?.outcomes[0]?.readyLikely).not.toBe(before.late?.outcomes[0]?.readyLikely);
  });

  it('in plain water tells the hours of hygiene apart from the date', async () => {
    await open({ style: 'water-then-brine', saltGPerL: 0 });
    expect((await change()).late?.hygiene).toMatchObject({ limitAt: toRfc3339(harnessStart - tenDaysMs + dayMs), limitHours: 24 });
    const at = toRfc3339(harnessStart - hourMs);
    await (await harness.as('helper')).call('finishTask', { params: { id: (await change()).id }, body: { at, brineL: 27 } });
    expect((await change()).late?.hygiene?.limitAt).toBe(toRfc3339(harnessStart - hourMs + dayMs));
  });

  it('without a temperature says that the cost is not known, and still tells the hours of hygiene', async () => {
    harness = await openApiHarness();
    const owner = await harness.as('owner');
    await owner.call('addDrum', { body: { id: 'barrel-1', name: 'Barrel 1', volumeL: 60 } });
    const day = toRfc3339(harnessStart - dayMs);
    await owner.call('openBatch', { body: { drum: 'barrel-1', pickedAt: day, startedAt: day, cut: 'cracked', style: 'water-then-brine', maturity: 'green', fruitKg: 9, brineL: 9, saltGPerL: 0 } });
    expect((await change()).late).toMatchObject({ days: null, outcomes: [], text: 'What a late change costs is not known: no temperature readings of this drum yet.', hygiene: { limitHours: 24 } });
  });
});
