import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { EntryBodies } from '#domain/journal/entry.ts';
import { openHolds } from '#domain/jar/holds.ts';
import { jarGateOf } from '#domain/jar/jar-evidence.ts';
import { mayDistribute, mayRelease } from '#domain/jar/release-rule.ts';
import { dayMs, hourMs, toRfc3339 } from '#domain/units/time.ts';
import { createShedBook, openDrum } from '../helpers/shed-book.ts';

const start = Date.UTC(2026, 9, 1);
type Kind = 'jarred' | 'jar-ph' | 'hold' | 'release' | 'distributed' | 'observed';
type Told = { [Each in Kind]: { readonly kind: Each; readonly body: Omit<EntryBodies[Each], 'lot' | 'at'> } }[Kind] & { readonly day: number };

const day = fc.integer({ min: 1, max: 30 });
const told: fc.Arbitrary<Told> = fc.oneof(
  fc.record({ kind: fc.constant('jarred' as const), day: fc.integer({ min: 1, max: 6 }), body: fc.constant({ jars: 20, jarMl: 500, brine: 'fresh', ingredients: [] }) }),
  { weight: 10, arbitrary: fc.record({ kind: fc.constant('jar-ph' as const), day, body: fc.record({ value: fc.constantFrom(3.9, 3.9, 3.9, 3.95, 3.95, 4, 4, 4.4), instrument: fc.constantFrom('meter', 'meter', 'meter', 'strip'), jar: fc.constantFrom('1', '2') }) }) },
  fc.record({ kind: fc.constant('hold' as const), day, body: fc.constant({ reason: 'leak' }) }),
  fc.record({ kind: fc.constant('release' as const), day, body: fc.oneof(fc.constant({ by: 'owner' }), fc.constant({ by: 'owner', exception: 'report' })) }),
  fc.record({ kind: fc.constant('observed' as const), day, body: fc.record({ sign: fc.constantFrom('film', 'mould', 'odd') }) }),
  fc.record({ kind: fc.constant('distributed' as const), day, body: fc.record({ to: fc.constant('stall'), jars: fc.integer({ min: 1, max: 15 }) }) }),
);

const lotOf = (story: readonly Told[]) => {
  const book = createShedBook();
  const lot = openDrum(book, start);
  for (let each = 1; each <= 30; each += 1) {
    book.write('calibrated', { probe: 'meter', kind: 'ph', temperatureC: 20, points: [{ ph: 7.02, mv: 0 }, { ph: 4, mv: 174.5 }, { ph: 4, mv: 174 }], at: toRfc3339(start + each * dayMs) }, start);
  }
  for (const { kind, day: at, body } of story) book.write(kind, { lot, at: toRfc3339(start + at * dayMs + hourMs), ...body }, start);
  const batch = book.shed.batches.get(lot);
  if (batch === undefined) throw new Error('no batch');
  const now = start + 40 * dayMs;
  return { batch, now, gate: jarGateOf(batch, { calibrations: book.shed.calibrations, zone: 'UTC', now }) };
};

test('jars leave only when nothing is held, and inside, or by an exception that a person named', () => {
  const left = { 'packed-jar-rule': 0, exception: 0, unproven: 0, blocked: 0 };
  fc.assert(
    fc.property(fc.array(told, { minLength: 4, maxLength: 16 }), (story) => {
      const state = lotOf(story);
      const answer = mayDistribute(state, { jars: 1 });
      left[answer.may ? answer.by : 'blocked'] += 1;
      if (!answer.may) return;
      expect(openHolds(state.batch.acts, state.now)).toEqual([]);
      expect(story.some(({ kind }) => kind === 'jarred')).toBe(true);
      if (answer.by === 'packed-jar-rule') expect(state.gate?.verdict).toBe('inside');
      else expect(story.some(({ kind, body }) => kind === 'release' && 'exception' in body)).toBe(true);
      expect(answer.left).toBeGreaterThanOrEqual(0);
    }),
    { seed: 20260712, numRuns: 2_000 },
  );
  expect(left.unproven).toBe(0);
  for (const count of [left['packed-jar-rule'], left.exception, left.blocked]) expect(count).toBeGreaterThan(20);
});

test('a release without an exception is answered by the packed jars alone, and ends exactly what is held', () => {
  fc.assert(
    fc.property(fc.array(told, { maxLength: 12 }), (story) => {
      const state = lotOf(story);
      const answer = mayRelease(state);
      if (answer.may) {
        expect([answer.basis, state.gate?.verdict]).toEqual(['packed-jar-rule', 'inside']);
        expect(answer.ends).toEqual(openHolds(state.batch.acts, state.now));
      } else expect(state.gate?.verdict).not.toBe('inside');
      const released = lotOf([...story, { kind: 'release', day: 30, body: { by: 'owner', exception: 'report' } }]);
      expect(openHolds(released.batch.acts, released.now)).toEqual([]);
    }),
    { seed: 20260713, numRuns: 500 },
  );
});
