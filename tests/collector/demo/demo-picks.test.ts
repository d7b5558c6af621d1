import { describe, expect, it } from 'vitest';
import type { Entry } from '#domain/journal/entry.ts';
import { projectAll } from '#domain/journal/project.ts';
import { pickBalance } from '#domain/season/pick-balance.ts';
import { countedMaturity, massOf } from '#domain/season/pick.ts';
import { fromRfc3339, toRfc3339 } from '#domain/units/time.ts';
import { buildDemoSeason } from '../../../collector/demo/demo-season.ts';

const ascending = (one: number, other: number): number => one - other;

/** The demo's fruit from tree to drum; over a change of the year as well, where codes begin anew. */
describe.each([
  ['Europe/Athens', Date.UTC(2026, 10, 12, 9)],
  ['Australia/Adelaide', Date.UTC(2027, 0, 8, 3)],
])('the picks of the demo in %s', (zone, now) => {
  const season = buildDemoSeason({ now, zone, lotFor: ({ number }) => `lot-${String(number)}` });
  const entries = season.entries.map(({ time, draft }, index): Entry => ({ ...draft, sequence: index + 1, time: toRfc3339(time), previousHash: '', hash: '' }));
  const { batches, picks } = projectAll(entries);

  it('feed every batch, one of them two drums, and one drum holds two', () => {
    const drumsOf = [...picks.keys()].map((pick) => [...batches.values()].filter((batch) => batch.picks.some((share) => share.pick === pick)).length);
    expect(drumsOf.toSorted(ascending)).toEqual([0, 1, 1, 1, 1, 1, 2]);
    expect([...batches.values()].map((batch) => batch.picks.length).toSorted(ascending)).toEqual([1, 1, 1, 1, 1, 2]);
    for (const { picks: shares, fruitKg, pickedAt } of batches.values()) {
      expect(shares.reduce((sum, { kg }) => sum + kg, 0)).toBeCloseTo(fruitKg, 9);
      expect(Math.min(...shares.map(({ pick }) => picks.get(pick)?.at ?? 0))).toBe(pickedAt);
    }
  });

  it('are weighed, counted of a hundred, sorted, and account for their fruit to within a few per cent', () => {
    for (const pick of picks.values()) {
      const { overKg, unaccountedKg, inBatchesKg } = pickBalance(pick, batches.values());
      expect(countedMaturity(pick)?.fruits).toBe(100);
      expect(overKg).toBe(0);
      if (inBatchesKg > 0) expect((unaccountedKg ?? 0) / (massOf(pick) ?? 0)).toBeLessThan(0.05);
    }
  });

  it('are as ripe as their batches say, and told in the order of time, none later than now', () => {
    for (const { maturity, picks: shares } of batches.values()) {
      const [largest] = shares.toSorted((one, other) => other.kg - one.kg);
      const pick = picks.get(largest?.pick ?? '');
      expect(pick === undefined ? null : countedMaturity(pick)?.stage).toBe(maturity);
    }
    const times = entries.map(({ time }) => fromRfc3339(time));
    expect(times).toEqual(times.toSorted((one, other) => one - other));
    expect(Math.max(...times)).toBeLessThanOrEqual(now);
  });
});
