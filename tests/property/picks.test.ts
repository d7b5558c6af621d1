import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { brineAt } from '#domain/cure/brine.ts';
import { expectedSaltGPerL } from '#domain/cure/salt-now.ts';
import { drumOfBatchAt } from '#domain/journal/placement.ts';
import { newClashes, stayClashes } from '#domain/journal/stay-clash.ts';
import type { EntryBodies } from '#domain/journal/entry.ts';
import { isAct, type Batch, type Shed } from '#domain/journal/shed.ts';
import { pickBalance } from '#domain/season/pick-balance.ts';
import { toRfc3339 } from '#domain/units/time.ts';
import { createShedBook, type ShedBook } from '../helpers/shed-book.ts';

/** Fruit is neither made nor lost: whatever is picked, sorted, put into drums, moved, split and taken back, in whatever order. */
const start = Date.UTC(2026, 9, 1, 8);
const hour = 3_600_000;
const picks = ['P26-AJ', 'P26-BH'] as const;
const drums = ['a', 'b', 'c', 'd', 'e'] as const;

type Step =
  | { readonly do: 'sort'; readonly pick: number; readonly kg: number }
  | { readonly do: 'open'; readonly drum: number; readonly shares: readonly [number, number] }
  | { readonly do: 'move'; readonly lot: number; readonly drum: number }
  | { readonly do: 'split'; readonly lot: number; readonly drum: number | null; readonly fruit: number; readonly brine: number }
  | { readonly do: 'change'; readonly lot: number; readonly salt: number; readonly fraction: number }
  | { readonly do: 'undo'; readonly nth: number };

const index = fc.nat(9);
const part = fc.double({ min: 0.05, max: 0.9, noNaN: true });
const step: fc.Arbitrary<Step> = fc.oneof(
  fc.record({ do: fc.constant('sort' as const), pick: fc.nat(1), kg: fc.double({ min: 0.1, max: 3, noNaN: true }) }),
  fc.record({ do: fc.constant('open' as const), drum: index, shares: fc.tuple(fc.double({ min: 1, max: 30, noNaN: true }), fc.double({ min: 1, max: 30, noNaN: true })) }),
  fc.record({ do: fc.constant('move' as const), lot: index, drum: index }),
  fc.record({ do: fc.constant('split' as const), lot: index, drum: fc.option(index), fruit: part, brine: part }),
  fc.record({ do: fc.constant('change' as const), lot: index, salt: fc.integer({ min: 0, max: 120 }), fraction: fc.constantFrom(0.5, 1) }),
  fc.record({ do: fc.constant('undo' as const), nth: index }),
);

/** Takes the steps that make sense, an hour apart; answers what went into drums, and what was poured. */
const run = (steps: readonly Step[]): { readonly book: ShedBook; readonly openedKg: number; readonly now: number } => {
  const book = createShedBook();
  for (const id of drums) book.write('drum-added', { id, name: id, volumeL: 60, insulated: false }, start);
  for (const pick of picks) book.write('picked', { pick, at: toRfc3339(start), massKg: 1_000 }, start);
  let now = start;
  let lots = 0;
  let openedKg = 0;
  for (const each of steps) {
    now += hour;
    const at = toRfc3339(now);
    const free = drums.filter((id) => book.shed.drums.get(id)?.lot === null);
    const batches = [...book.shed.batches.values()];
    const batch = 'lot' in each ? batches[each.lot % Math.max(1, batches.length)] : undefined;
    if (each.do === 'sort') book.write('sorted', { pick: picks[each.pick] ?? picks[0], at, culls: [{ cause: 'hail', kg: each.kg }] }, now);
    else if (each.do === 'open' && free.length > 0) {
      const [one, other] = each.shares;
      openedKg += one + other;
      const body: EntryBodies['batch-opened'] = { lot: `L${String((lots += 1))}`, drum: free[each.drum % free.length] as string, pickedAt: toRfc3339(start), startedAt: at, cut: 'slit', style: 'changed-brine', maturity: 'green', fruitKg: one + other, brineL: one + other, saltGPerL: 80, picks: [{ pick: picks[0], kg: one }, { pick: picks[1], kg: other }] };
      book.write('batch-opened', body, now);
    } else if (each.do === 'move' && batch !== undefined && free.length > 0) book.write('moved', { lot: batch.lot, at, drum: free[each.drum % free.length] as string }, now);
    else if (each.do === 'split' && batch !== undefined && (each.drum === null || free.length > 0)) {
      book.write('split', { lot: batch.lot, at, into: `L${String((lots += 1))}`, drum: each.drum === null ? null : (free[each.drum % free.length] as string), fruitKg: batch.fruitKg * each.fruit, brineL: brineAt(batch, now).brineL * each.brine }, now);
    } else if (each.do === 'change' && batch !== undefined) book.write('brine-changed', { lot: batch.lot, at, brineL: brineAt(batch, now).brineL, saltGPerL: each.salt, fraction: each.fraction }, now);
    else if (each.do === 'undo') {
      const acts = batches.flatMap(({ written }) => written.filter((act) => act.standing && (act.kind === 'split' || act.kind === 'moved')));
      const wrong = acts[each.nth % Math.max(1, acts.length)];
      // A part that has a story of its own stays.
      if (wrong !== undefined && !(isAct('split')(wrong) && (book.shed.batches.get(wrong.body.into)?.written.length ?? 0) > 0)) {
        const before = book.shed;
        const trial = createShedBook(book.entries);
        trial.write('corrected', { entry: wrong.sequence, reason: 'slip', replacement: null }, now);
        if (newClashes(before, trial.shed).length === 0) book.write('corrected', { entry: wrong.sequence, reason: 'slip', replacement: null }, now);
      }
    }
  }
  return { book, openedKg, now };
};

const sum = (numbers: readonly number[]): number => numbers.reduce((total, each) => total + each, 0);
const all = (shed: Shed): readonly Batch[] => [...shed.batches.values()];
const stories = fc.array(step, { minLength: 20, maxLength: 45 });

describe('picks, batches, moves and splits', () => {
  it('conserve the mass of the fruit, and tell where the fruit of each pick is', () => {
    let splits = 0;
    fc.assert(
      fc.property(stories, (steps) => {
        const { book, openedKg } = run(steps);
        const batches = all(book.shed);
        splits += batches.filter(({ from }) => from !== null).length;
        expect(sum(batches.map(({ fruitKg }) => fruitKg))).toBeCloseTo(openedKg, 6);
        expect(sum(batches.flatMap((batch) => batch.picks.map(({ kg }) => kg)))).toBeCloseTo(openedKg, 6);
        for (const pick of book.shed.picks.values()) {
          const { pickedKg, culledKg, inBatchesKg, unaccountedKg, overKg } = pickBalance(pick, batches);
          expect(culledKg + inBatchesKg + (unaccountedKg ?? 0) - overKg).toBeCloseTo(pickedKg ?? 0, 6);
        }
      }),
      { seed: 11, numRuns: 300 },
    );
    // The stories do what they are there for.
    expect(splits).toBeGreaterThan(300);
  });

  it('never put two lots into one drum at a time, nor one lot into two', () => {
    fc.assert(
      fc.property(stories, (steps) => {
        const { book, now } = run(steps);
        expect(stayClashes(book.shed)).toEqual([]);
        for (const { stays } of all(book.shed)) {
          for (const [position, stay] of stays.entries()) expect(stay.from).toBeGreaterThanOrEqual(stays[position - 1]?.to ?? 0);
        }
        for (const drum of book.shed.drums.values()) {
          expect(all(book.shed).filter((batch) => drumOfBatchAt(batch, now) === drum.id).map(({ lot }) => lot)).toEqual(drum.lot === null ? [] : [drum.lot]);
        }
      }),
      { seed: 12, numRuns: 300 },
    );
  });

  it('divide brine and keep its strength: the salt of the parts is the salt of the whole', () => {
    fc.assert(
      fc.property(stories, part, part, (steps, fruit, brine) => {
        const { book, now } = run(steps);
        const whole = all(book.shed).find((batch) => book.shed.drums.get(batch.drum)?.lot === batch.lot);
        fc.pre(whole !== undefined);
        const at = now + hour;
        const before = brineAt(whole, at);
        const settled = expectedSaltGPerL(whole, at);
        book.write('split', { lot: whole.lot, at: toRfc3339(at), into: 'part', drum: null, fruitKg: whole.fruitKg * fruit, brineL: before.brineL * brine }, at);
        const [rest, taken] = [book.shed.batches.get(whole.lot) as Batch, book.shed.batches.get('part') as Batch];
        for (const batch of [rest, taken]) {
          expect(brineAt(batch, at).saltGPerL).toBeCloseTo(before.saltGPerL, 9);
          expect(brineAt(batch, at).renewedAt).toBe(before.renewedAt);
          expect(expectedSaltGPerL(batch, at)).toBeCloseTo(settled, 6);
        }
        expect(brineAt(rest, at).brineL + brineAt(taken, at).brineL).toBeCloseTo(before.brineL, 9);
        // What was poured at the start is divided alike, so that the ratio the cure runs at follows.
        expect(taken.brineL / whole.brineL).toBeCloseTo(brine, 9);
      }),
      { seed: 13, numRuns: 200 },
    );
  });
});
