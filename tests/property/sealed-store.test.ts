import fc from 'fast-check';
import { expect, test } from 'vitest';
import { qualities, type Reading } from '#domain/reading/reading.ts';
import type { ReadingStore } from '#domain/reading/store.ts';
import { dayMs, hourMs, minuteMs, secondMs } from '#domain/units/time.ts';
import { createMemoryStore } from '../../collector/stores/memory.ts';
import { openSqliteStore } from '../../collector/stores/sqlite/open.ts';
import { faultsOf } from '../helpers/block-checks.ts';
import { air, brine, start } from '../helpers/readings.ts';
import { createDataDirectory } from '../helpers/store-harness.ts';
import { valueOf } from '../helpers/value-of.ts';

/** Three days in which times crowd, so that readings repeat and come late into sealed days; sixteenths, so that sums are exact. */
const someReading: fc.Arbitrary<Reading> = fc.record({
  series: fc.constantFrom(brine, air),
  at: fc.oneof(
    { weight: 2, arbitrary: fc.integer({ min: 0, max: 20 }).map((step) => start + step * 30 * secondMs) },
    { weight: 1, arbitrary: fc.integer({ min: 0, max: 72 * 60 - 1 }).map((step) => start + step * minuteMs) },
  ),
  value: fc.oneof(fc.constantFrom(18, 18.25), fc.integer({ min: -300, max: 900 }).map((sixteenths) => sixteenths / 16)),
  quality: fc.oneof({ weight: 4, arbitrary: fc.constant('good' as const) }, { weight: 1, arbitrary: fc.constantFrom(...qualities) }),
});

/** Local days: cut at the hour of the zone, one of 23 hours, one of 25. */
const days = [
  { from: start - hourMs, to: start + 22 * hourMs },
  { from: start + 22 * hourMs, to: start + 47 * hourMs },
  { from: start + 47 * hourMs, to: start + 71 * hourMs },
  // The site moved its zone by half an hour: these bounds cut through days that may be sealed.
  { from: start + 90 * minuteMs, to: start + 90 * minuteMs + dayMs },
];

type Step = { readonly append: readonly Reading[] } | { readonly seal: number } | { readonly ask: readonly [from: number, minutes: number, limit: number] };
const someSteps: fc.Arbitrary<readonly Step[]> = fc.array(
  fc.oneof(
    { weight: 3, arbitrary: fc.record({ append: fc.array(someReading, { minLength: 1, maxLength: 60 }) }) },
    { weight: 3, arbitrary: fc.record({ seal: fc.nat(days.length - 1) }) },
    { weight: 2, arbitrary: fc.record({ ask: fc.tuple(fc.integer({ min: -60, max: 72 * 60 }), fc.integer({ min: 0, max: 72 * 60 }), fc.integer({ min: 0, max: 30 })) }) },
  ),
  { minLength: 4, maxLength: 14 },
);

const testimony = async (store: ReadingStore, [fromMinute, minutes, limit]: readonly [number, number, number]): Promise<unknown> => {
  const span = { from: start + fromMinute * minuteMs, to: start + (fromMinute + minutes) * minuteMs };
  const said: unknown[] = [await store.latest(), await store.latest([air, 'nobody/ph']), await store.summaries()];
  for (const series of [brine, air]) {
    said.push(await store.raw(series, span, limit), await store.raw(series, span, Infinity), await store.recent(series, limit), await store.recent(series, limit, span.to));
    for (const points of [1, 5, 50, 2_000]) said.push(await store.view([{ series, ...span }], span, points));
  }
  return said;
};
const everything = [-120, 76 * 60, 25] as const;

test('whatever is appended, sealed and asked in whatever order, the answers are those of a store that never seals', async () => {
  let amendments = 0;
  let repeatedIntoBlocks = 0;
  await fc.assert(
    fc.asyncProperty(someSteps, async (steps) => {
      const { file, remove } = createDataDirectory();
      const store = valueOf(openSqliteStore({ file }));
      // The other process, with a cache of its own.
      const reader = valueOf(openSqliteStore({ file, readOnly: true }));
      const plain = createMemoryStore();
      for (const step of steps) {
        if ('append' in step) {
          const outcome = await store.append(step.append);
          expect(outcome).toEqual(await plain.append(step.append));
          repeatedIntoBlocks += outcome.conflicts + outcome.duplicates;
        } else if ('seal' in step) amendments += (await store.seal(days[step.seal] ?? { from: 0, to: 1 })).filter(({ part }) => part > 0).length;
        else {
          expect(await testimony(store, step.ask)).toEqual(await testimony(plain, step.ask));
          expect(await testimony(reader, step.ask)).toEqual(await testimony(plain, step.ask));
        }
      }
      expect(await testimony(store, everything)).toEqual(await testimony(plain, everything));
      for (const day of days) await store.seal(day);
      expect(await testimony(reader, everything)).toEqual(await testimony(plain, everything));
      expect(await faultsOf(reader, (await Promise.all(days.map(async (day) => await reader.digests(day)))).flat())).toEqual([]);
      await reader.close();
      await store.close();
      remove();
    }),
    { endOnFailure: true, seed: 20_261_126, numRuns: 60 },
  );
  // That the histories are such ones as they should be.
  expect(amendments).toBeGreaterThan(10);
  expect(repeatedIntoBlocks).toBeGreaterThan(100);
}, 60_000);
