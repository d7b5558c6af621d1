import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sheetOf } from '#domain/record/lot-sheet.ts';
import { makeRecord } from '#domain/record/make-record.ts';
import { limitStretches } from '#domain/record/stretches.ts';
import type { Summed, WatchedInput } from '#domain/record/watched.ts';
import { localDays } from '#domain/record/local-time.ts';
import { dayMs, toRfc3339 } from '#domain/units/time.ts';
import { isKindOf } from '../helpers/entries.ts';
import { createShedBook, openDrum } from '../helpers/shed-book.ts';

/** Whatever was written about a lot, in whatever order, its record can be made and drawn, and claims nothing it may not. */
const start = Date.UTC(2026, 9, 20, 6);
const now = start + 30 * dayMs;
const lot = 'A-1';

const day = fc.double({ min: -2, max: 32, noNaN: true });
const at = day.map((days) => toRfc3339(Math.round(start + days * dayMs)));
const text = fc.string({ unit: 'grapheme', maxLength: 20 });
const written = fc.oneof(
  fc.record({ kind: fc.constant('tasted' as const), at, bitterness: fc.integer({ min: 0, max: 10 }), note: text }),
  fc.record({ kind: fc.constant('measured' as const), at, quantity: fc.constantFrom('ph' as const, 'salinity' as const, 'temperature' as const), value: fc.double({ min: 0, max: 60, noNaN: true }), instrument: fc.constantFrom('meter-1', 'strip') }),
  fc.record({ kind: fc.constant('brine-changed' as const), at, brineL: fc.integer({ min: 1, max: 60 }), saltGPerL: fc.integer({ min: 0, max: 200 }) }),
  fc.record({ kind: fc.constant('jarred' as const), at, jars: fc.integer({ min: 1, max: 90 }), jarMl: fc.constant(680), brine: text, ingredients: fc.array(text, { maxLength: 3 }) }),
  fc.record({ kind: fc.constant('jar-ph' as const), at, value: fc.double({ min: 2, max: 8, noNaN: true }), instrument: fc.constantFrom('meter-1', 'strip'), jar: text }),
  fc.record({ kind: fc.constant('distributed' as const), at, to: text, jars: fc.integer({ min: 1, max: 200 }) }),
  fc.record({ kind: fc.constant('hold' as const), at, reason: text }),
  fc.record({ kind: fc.constant('release' as const), at, by: text }),
);
const summed: fc.Arbitrary<Summed | null> = fc.option(fc.tuple(fc.double({ min: -20, max: 60, noNaN: true }), fc.double({ min: 0, max: 20, noNaN: true })).map(([min, wide]) => ({ n: 9, min, max: min + wide, mean: min + wide / 2 })));

describe('the record of any lot', () => {
  it('is made and drawn, is plain JSON, and counts nothing unknown as inside', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(written, fc.double({ min: 0, max: 40, noNaN: true })), { maxLength: 12 }), fc.array(fc.integer({ min: 3, max: 20 }), { maxLength: 3 }), summed, (acts, corrected, sum) => {
        const book = createShedBook();
        openDrum(book, start, { lot });
        for (const [{ kind, ...body }, later] of acts) book.write(kind, { lot, ...body }, Math.round(Date.parse(body.at) + later * 3_600_000));
        for (const entry of corrected) book.write('corrected', { entry, reason: 'mistake', replacement: null }, now);
        const batch = book.shed.batches.get(lot);
        if (batch === undefined) throw new Error('no such lot');
        const stretches = limitStretches(batch, book.entries.filter(isKindOf('limit-set')), now);
        const days = localDays(start, Math.max(start, Math.min(now, batch.stays.at(-1)?.to ?? now)), 'Europe/Athens').map((each) => ({ ...each, summed: sum, gaps: sum === null ? [{ from: each.from, to: each.to }] : [] }));
        const watched: WatchedInput[] = [{ channel: 'temperature', probes: ['probe-1'], days, stretches: stretches.map(() => sum) }];
        const record = makeRecord({ shed: book.shed, batch, site: { id: 'home', name: 'Home', zone: 'Europe/Athens' }, now, alerts: [], entries: book.entries, stretches, watched, series: ['probe-1/temperature'] });
        expect(JSON.parse(JSON.stringify(record))).toEqual(record);
        for (const { outcome, worst, uncertainty, value, side, quantity } of record.limits) {
          if (outcome !== 'inside') continue;
          expect(worst).not.toBeNull();
          if (quantity !== 'jar-ph') expect(side === 'high' ? (worst ?? 0) + (uncertainty ?? 0) <= value + 1e-3 : (worst ?? 0) - (uncertainty ?? 0) >= value - 1e-3).toBe(true);
        }
        // A probe that nobody checked bears no inside.
        expect(record.limits.filter(({ quantity, outcome }) => quantity === 'temperature' && outcome === 'inside')).toEqual([]);
        const sheet = sheetOf(record);
        expect(sheet.sections.length).toBeGreaterThan(10);
        for (const { parts } of [{ parts: sheet.front }, ...sheet.sections]) for (const part of parts) if (part.kind === 'table') for (const { cells } of part.rows) expect(cells.length).toBe(part.columns.length);
      }),
      { numRuns: 150 },
    );
  });
});
