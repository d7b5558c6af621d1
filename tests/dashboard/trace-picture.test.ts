import { describe, expect, it } from 'vitest';
import type { Ingredient, Trace } from '#contract';
import { lotsAtFirst, lotsOffered } from '../../dashboard/state/trace/lots-offered.ts';
import { litWith, tracePicture } from '../../dashboard/state/trace/picture.ts';
import { ingredientLine, leftWords } from '../../dashboard/state/trace/trace-words.ts';

/** The picture of a trace without a page: invented things. */
const node = (id: string, kind: Trace['nodes'][number]['kind'], lines = 2): Trace['nodes'][number] => ({ id, kind, name: id, lines: Array.from({ length: lines }, (_, index) => `line ${String(index)}`), at: null, side: 'back' });
const edge = (from: string, to: string, split = false): Trace['edges'][number] => ({ from, to, words: '', at: null, split });
const trace = {
  start: 'A',
  nodes: [node('T', 'trees', 0), node('P', 'pick'), node('salt', 'ingredient'), node('lids', 'ingredient'), node('A', 'batch'), node('B', 'batch'), node('JA', 'jars'), node('JB', 'jars'), node('shop', 'buyer')],
  edges: [edge('T', 'P'), edge('P', 'A'), edge('P', 'B'), edge('salt', 'A'), edge('lids', 'JA'), edge('A', 'JA'), edge('B', 'JB'), edge('JA', 'shop'), edge('JB', 'shop'), edge('A', 'B', true)],
};

describe.each([900, 1_460])('at %i px', (width) => {
  const { nodes, edges, height } = tracePicture(trace, width);
  const at = (id: string) => nodes.find((each) => each.id === id) ?? { x: -1, y: -1, width: 0, height: 0 };

  it('nothing overlaps or lies outside', () => {
    for (const one of nodes) {
      expect(one.x >= 0 && one.x + one.width <= width && one.y + one.height <= height).toBe(true);
      for (const other of nodes) {
        if (one.id < other.id && one.x === other.x) expect(one.y + one.height <= other.y || other.y + other.height <= one.y).toBe(true);
      }
    }
  });

  it('goes from the trees on the left to the buyers on the right; lids stand before the jars, salt before the batch', () => {
    expect(['T', 'P', 'A', 'JA', 'shop'].map((id) => at(id).x)).toEqual(['T', 'P', 'A', 'JA', 'shop'].map((id) => at(id).x).toSorted((one, other) => one - other));
    expect([at('salt').x, at('lids').x]).toEqual([at('P').x, at('A').x]);
  });

  it('ends every thread at the edges of its two things', () => {
    expect(edges).toHaveLength(trace.edges.length);
    for (const { from, to, path } of edges) {
      const numbers = [...path.matchAll(/-?[\d.]+/g)].map(([number]) => Number(number));
      expect(numbers.slice(0, 2)).toEqual([at(from).x + at(from).width, at(from).y + at(from).height / 2]);
      expect(numbers.at(-1)).toBe(at(to).y + at(to).height / 2);
    }
  });
});

it('what is chosen lights its ways both ways, and no sister of it', () => {
  expect([...litWith(trace, 'JB')].sort()).toEqual(['A', 'B', 'JB', 'P', 'T', 'salt', 'shop']);
  expect([...litWith(trace, 'lids')].sort()).toEqual(['JA', 'lids', 'shop']);
  expect(litWith(trace, 'A').size).toBe(trace.nodes.length);
});

describe('an act', () => {
  const lot = (id: string, over: Partial<Ingredient> = {}, onHand: number | null = null): Ingredient => ({
    id, item: 'salt', name: id, supplier: 'x', receivedAt: '2026-10-01T00:00:00Z', quantity: 25, unit: 'kg', theirLot: null, bestBefore: null, note: null, by: 'owner', toldAnew: 0, lastUsedAt: null, uses: [],
    balance: { received: 25, used: 3, usesUnknown: 0, spilled: 0, onHand, expected: 22, unaccounted: null, percent: null, verdict: 'unknown' }, ...over,
  });
  const all = [lot('new', { receivedAt: '2026-10-09T00:00:00Z' }), lot('open', { lastUsedAt: '2026-10-05T00:00:00Z' }), lot('older', { lastUsedAt: '2026-10-02T00:00:00Z' }), lot('empty', { lastUsedAt: '2026-10-08T00:00:00Z' }, 0)];

  it('offers the lot used last, and none that was counted empty', () => {
    expect(lotsOffered(all, 'salt').map(({ id }) => id)).toEqual(['open', 'older', 'new']);
    expect(lotsAtFirst(all, ['salt', 'lids'], undefined)).toEqual({ salt: 'open' });
  });

  it('that is corrected keeps what was written, also where that was nothing', () => {
    expect(lotsAtFirst(all, ['salt'], ['older'])).toEqual({ salt: 'older' });
    expect(lotsAtFirst(all, ['salt'], [])).toEqual({});
  });

  it('of which nobody writes amounts leaves what is left unknown', () => {
    expect([leftWords(lot('a')), leftWords(lot('a', {}, 21.5)), leftWords(lot('a', { item: 'buffer', unit: 'pieces' }))]).toEqual(['about 22 kg left', '21.5 kg left', 'not counted']);
    expect(ingredientLine(lot('a').balance, 'kg').balances).toBeNull();
  });
});
