import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { qualities, type Reading, type SeriesId } from '#domain/reading/reading.ts';
import type { ReadingStore, Segment, Span } from '#domain/reading/store.ts';
import { hourMs, minuteMs, secondMs } from '#domain/units/time.ts';
import { expectPooled, goodWithin, referenceContents, referencePoint } from '../helpers/reading-reference.ts';
import { air, brine, start } from '../helpers/readings.ts';
import { memoryHarness, sqliteHarness, type StoreHarness } from '../helpers/store-harness.ts';

/** Times crowd together so that they repeat, and straddle the epoch-aligned intervals; values are sixteenths, so that sums are exact. */
const someReading: fc.Arbitrary<Reading> = fc.record({
  series: fc.constantFrom(brine, air),
  at: fc.oneof(
    fc.integer({ min: 0, max: 200 }).map((step) => start + step * 30 * secondMs),
    fc.integer({ min: -72 * 60, max: 72 * 60 }).map((step) => start + step * minuteMs),
  ),
  value: fc.integer({ min: -300, max: 900 }).map((sixteenths) => sixteenths / 16),
  quality: fc.oneof({ weight: 4, arbitrary: fc.constant('good' as const) }, { weight: 1, arbitrary: fc.constantFrom(...qualities) }),
});
const someBatches = fc.array(fc.array(someReading, { maxLength: 60 }), { maxLength: 8 });
/** Distinct in series and time; what `uniqueArray` builds comes in no order. */
const shuffledReadings = fc.uniqueArray(someReading, { maxLength: 150, selector: ({ series, at }) => `${series} ${at}` });
/** Stretches of what was delivered, to be delivered again. */
const someRepeats = fc.array(fc.tuple(fc.nat(), fc.integer({ min: 1, max: 50 })), { maxLength: 12 });
const someSpan: fc.Arbitrary<Span> = fc
  .tuple(fc.integer({ min: -5_000_000, max: 5_000_000 }), fc.integer({ min: 0, max: 8_000_000 }))
  .map(([from, seconds]) => ({ from: start + from * 53, to: start + from * 53 + seconds * 61 }));

/** A failure ends the run with its counterexample as found: making these smaller takes minutes. Set to false to have it done. */
const settings = { endOnFailure: true };

const withStore = async (harness: StoreHarness, work: (store: ReadingStore) => Promise<void>): Promise<void> => {
  const place = harness.createPlace();
  const store = place.open();
  try {
    await work(store);
  } finally {
    await store.close();
    place.dispose();
  }
};

const everything: Span = { from: start - 100 * hourMs, to: start + 100 * hourMs };

/** One point each for six hours (a six-hour row) and for the crowded three hours (ten-minute rows): everything a store says, rollups included. */
const testimony = async (store: ReadingStore): Promise<unknown> => {
  const views: unknown[] = [];
  const look = async (series: SeriesId, span: Span) => views.push(await store.view([{ series, ...span }], span, 1));
  for (const series of [brine, air]) {
    views.push(await store.raw(series, everything, 10_000));
    for (let from = everything.from; from < everything.to; from += 6 * hourMs) await look(series, { from, to: from + 6 * hourMs });
    await look(series, { from: start - 10 * minuteMs, to: start + 180 * minuteMs });
  }
  return { views, latest: await store.latest(), summaries: await store.summaries() };
};

for (const { harness, numRuns } of [
  { harness: memoryHarness, numRuns: 150 },
  { harness: sqliteHarness, numRuns: 40 },
]) {
  describe(`any history of appends (${harness.name})`, () => {
    test('any order and any repetition of first deliveries leaves what one sorted append leaves', async () => {
      await fc.assert(
        fc.asyncProperty(shuffledReadings, someRepeats, async (shuffled, repeats) => {
          await withStore(harness, async (store) => {
            let stored = 0;
            for (let index = 0; index < shuffled.length; index += 17) stored += (await store.append(shuffled.slice(index, index + 17))).stored;
            expect(stored).toBe(shuffled.length);
            for (const [at, length] of repeats) {
              const again = shuffled.slice(at % (shuffled.length + 1)).slice(0, length);
              expect(await store.append(again)).toMatchObject({ stored: 0, duplicates: again.length, conflicts: 0 });
            }
            await withStore(harness, async (other) => {
              await other.append(shuffled.toSorted((one, two) => one.at - two.at));
              expect(await testimony(store)).toEqual(await testimony(other));
            });
          });
        }),
        { ...settings, seed: 20_260_501, numRuns },
      );
    });

    test('contents and outcomes are those of a plain list in which the first value wins', async () => {
      await fc.assert(
        fc.asyncProperty(someBatches, async (batches) => {
          await withStore(harness, async (store) => {
            const counts = { stored: 0, duplicates: 0, conflicts: 0 };
            for (const batch of batches) {
              const outcome = await store.append(batch);
              expect(outcome.stored + outcome.duplicates + outcome.conflicts).toBe(batch.length);
              counts.stored += outcome.stored;
              counts.duplicates += outcome.duplicates;
              counts.conflicts += outcome.conflicts;
            }
            const all = batches.flat();
            const contents = referenceContents(all);
            const agreeing = all.filter((each) => contents.find(({ series, at }) => series === each.series && at === each.at)?.value === each.value);
            expect(counts).toEqual({ stored: contents.length, duplicates: agreeing.length - contents.length, conflicts: all.length - agreeing.length });
            for (const series of [brine, air]) expect(await store.raw(series, everything, 10_000)).toEqual(contents.filter((each) => each.series === series));
          });
        }),
        { ...settings, seed: 20_260_502, numRuns },
      );
    });

    test('a view never has more points than asked, and pools to exactly the good readings of its segments', async () => {
      await fc.assert(
        fc.asyncProperty(someBatches, fc.array(someSpan, { minLength: 1, maxLength: 6 }), fc.integer({ min: 0, max: 100 }), async (batches, spans, cut) => {
          await withStore(harness, async (store) => {
            for (const batch of batches) await store.append(batch);
            const contents = referenceContents(batches.flat());
            for (const span of spans) {
              const changedAt = span.from + Math.round(((span.to - span.from) * cut) / 100);
              const segments: Segment[] = [
                { series: brine, from: span.from - hourMs, to: changedAt },
                { series: air, from: changedAt, to: span.to + hourMs },
              ];
              const watched = segments.flatMap(({ series, from, to }) =>
                goodWithin(contents, series, { from: Math.max(from, span.from), to: Math.min(to, span.to) }).map((each) => ({ ...each, series: brine })),
              );
              for (const points of [1, 2, 3, 7, 40, 1_000]) {
                const view = await store.view(segments, span, points);
                expect(view.points.length).toBeLessThanOrEqual(points);
                expectPooled(view.points, referencePoint(watched, brine, span));
                expect(view.points.filter(({ t, mean, min, max }) => t < span.from || t >= span.to || mean < min || mean > max)).toEqual([]);
                expect(view.points.filter(({ t }, index) => t <= (view.points[index - 1]?.t ?? -Infinity))).toEqual([]);
                expect(view.gaps.every((gap) => watched.every(({ at }) => at <= gap.from || at >= gap.to))).toBe(true);
              }
            }
          });
        }),
        { ...settings, seed: 20_260_503, numRuns },
      );
    });
  });
}
