import { afterEach, beforeEach, expect, it } from 'vitest';
import { dayMs } from '#contract';
import { harnessStart, openApiHarness, openShed, type ApiHarness } from '../helpers/api-harness.ts';

let harness: ApiHarness;
beforeEach(async () => {
  harness = await openApiHarness();
});
afterEach(() => harness.close());

it('tells what is open, what is not recorded and where to mend it, and a review clears what it covers', async () => {
  const lot = await openShed(harness);
  const owner = await harness.as('owner');
  await owner.call('addEntry', { params: { lot }, body: { kind: 'measured', at: '2026-10-03T12:00:00Z', quantity: 'ph', value: 4.5, instrument: 'meter-1' } });
  harness.clock.set(harnessStart + 8 * dayMs);
  const find = async (id: string) => (await owner.call('readiness')).checks.find((check) => check.id === id);
  expect(await find('R15')).toMatchObject({ state: 'open', level: 'fix', findings: [{ lot, place: { screen: 'readiness', id: lot } }] });
  expect(await find('R08')).toMatchObject({ state: 'open', findings: [{ place: { screen: 'instruments', id: 'p1' } }] });
  const told = await owner.call('readiness');
  expect(told.words).toMatch(/^Open: .* could not be worked out: not recorded\.$/);
  expect(told.open.stop + told.open.fix + told.open.look).toBe(told.checks.flatMap(({ findings }) => findings).length);

  await owner.refused('review', 'does-not-fit', { body: { lot: null, name: 'Nikos', until: 99_999 } });
  await owner.refused('review', 'not-found', { body: { lot: 'no-such', name: 'Nikos' } });
  const review = await (await harness.as('helper')).call('review', { body: { lot, name: 'Nikos', found: 'one late change' } });
  expect(review).toMatchObject({ lot, name: 'Nikos', found: 'one late change', by: 'helper', at: '2026-10-11T12:00:00.000Z' });
  expect(await find('R15')).toMatchObject({ state: 'nothing-open', findings: [] });
  expect((await owner.call('reviews')).reviews).toEqual([review]);
});

it('is for those who work here', async () => {
  for (const role of ['wall', 'inspector'] as const) expect((await (await harness.as(role)).refused('readiness', 'not-allowed')).status).toBe(403);
});
