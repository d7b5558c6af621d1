import { expect, it } from 'vitest';
import type { BatchSummary } from '#contract';
import { groupLots } from '../../dashboard/state/lots.ts';
import { parseRoute, pathOf } from '../../dashboard/state/route.ts';

const lot = (name: string, over: Partial<BatchSummary>): BatchSummary => ({ lot: name, stage: 'leach', jarredAt: null, jarsLeft: null, held: false, ...over }) as BatchSummary;
const at = '2026-10-03T12:00:00.000Z';

it('lots stand where a person looks for them: held first, wherever they are', () => {
  const lots = [
    lot('A', {}), lot('B', { held: true }), lot('C', { stage: 'rest', jarredAt: at, jarsLeft: 12 }), lot('D', { stage: 'ready', jarredAt: at, jarsLeft: 3 }),
    lot('E', { stage: 'ready', jarredAt: at, jarsLeft: 0 }), lot('F', { stage: 'ready', jarredAt: at, jarsLeft: 5, held: true }),
  ];
  expect(groupLots(lots).map(({ group, lots: some }) => [group, some.map((each) => each.lot).join('')])).toEqual([['On hold', 'BF'], ['In drums', 'A'], ['Resting', 'C'], ['Rested', 'D'], ['Sold out', 'E']]);
  expect(groupLots([])).toEqual([]);
});

it('each lot has an address, and comes back from it', () => {
  for (const route of [{ view: 'batch', lot: 'ST26-A7' }, { view: 'batch', lot: 'a/b %' }, { view: 'lots' }, { view: 'bench' }] as const) expect(parseRoute(pathOf(route))).toEqual(route);
});
