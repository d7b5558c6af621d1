import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { genesisHash, type Draft, type Entry } from '#domain/journal/entry.ts';
import { projectAll } from '#domain/journal/project.ts';
import { readinessOf, readinessWords } from '#domain/readiness/readiness.ts';
import { minuteMs, toRfc3339 } from '#domain/units/time.ts';

/** Whatever a journal says, each check answers, in the order stop, fix, look, and the numbers of deviations have no holes. */
const start = Date.UTC(2026, 4, 1);
const at = fc.integer({ min: 0, max: 100_000 }).map((minutes) => toRfc3339(start + minutes * minuteMs));
const lot = fc.constantFrom('L1', 'L2', 'L3', '');
const words = fc.constantFrom('', ' ', 'x', 'strip', 'meter-1');
const number = fc.oneof(fc.double({ noNaN: true, min: -1e3, max: 1e3 }), fc.constantFrom(0, 4.1, 4.2, 4.7, 14));
const who = fc.constantFrom('user:owner', 'user:helper', 'collector');
const day = fc.constantFrom('2026-01-01', '2027-12-31', '2026-05-20');
const rule = fc.constantFrom('ferment-temperature-danger', 'temperature-silent', 'change-overdue', 'soak-change-danger', 'r');

const body: fc.Arbitrary<Pick<Draft, 'kind' | 'body'>> = fc.oneof(
  fc.constantFrom('a', 'b').map((id) => ({ kind: 'drum-added' as const, body: { id, name: id, volumeL: 60, insulated: false } })),
  fc.record({ probe: fc.constantFrom('p', 'meter-1'), drum: fc.option(fc.constantFrom('a', 'b')), from: at, channel: fc.constantFrom('temperature' as const, 'ph' as const) }).map((each) => ({ kind: 'placed' as const, body: each })),
  fc.record({ lot, drum: fc.constantFrom('a', 'b'), startedAt: at, fruitKg: number, cut: fc.constantFrom('whole' as const, 'slit' as const) }).map((each) => ({ kind: 'batch-opened' as const, body: { ...each, pickedAt: each.startedAt, style: 'kept-brine' as const, maturity: 'green' as const, brineL: 20, saltGPerL: 100 } })),
  fc.record({ lot, at, jars: fc.integer({ min: 0, max: 50 }), coldC: fc.option(fc.constant(4), { nil: undefined }) }).map(({ coldC, ...each }) => ({ kind: 'jarred' as const, body: { ...each, jarMl: 500, brine: 'b', ingredients: [], ...(coldC !== undefined && { coldC }) } })),
  fc.record({ lot, at, value: number, instrument: words }).map((each) => ({ kind: 'jar-ph' as const, body: each })),
  fc.record({ lot, at, value: number, quantity: fc.constantFrom('ph' as const, 'temperature' as const, 'salinity' as const) }).map((each) => ({ kind: 'measured' as const, body: each })),
  fc.record({ lot, at, by: words }).map((each) => ({ kind: 'release' as const, body: each })),
  fc.record({ lot, at, to: words, jars: fc.integer({ min: 0, max: 99 }) }).map((each) => ({ kind: 'distributed' as const, body: each })),
  fc.record({ lot, at, what: fc.constantFrom('counted' as const, 'broken' as const), jars: fc.integer({ min: 0, max: 99 }) }).map((each) => ({ kind: 'jars-noted' as const, body: each })),
  fc.record({ entry: fc.integer({ min: 1, max: 60 }), at, value: number }).map(({ entry, ...each }) => ({ kind: 'corrected' as const, body: { entry, reason: '', replacement: { kind: 'jar-ph' as const, instrument: 'meter-1', ...each } } })),
  fc.record({ id: fc.constantFrom('w1', 'w2'), rule, at, value: number, lot: fc.option(lot), priority: fc.constantFrom('high' as const, 'medium' as const) }).map(({ at: when, ...each }) => ({ kind: 'alert-raised' as const, body: { ...each, drum: 'a', quantity: 'q', since: when, at: when, limit: { value: 1, unit: '', source: '', side: 'high' as const }, text: 't', advice: '' } })),
  fc.record({ id: fc.constantFrom('w1', 'w2'), at }).map(({ id, at: when }) => ({ kind: 'alert-returned' as const, body: { id, until: when, at: when, peak: null } })),
  fc.record({ probe: fc.constantFrom('p', 'meter-1'), at, mv: number, expiresOn: day, openedOn: day, reads: number }).map(({ mv, expiresOn, openedOn, reads, ...each }) => ({ kind: 'calibrated' as const, body: { ...each, kind: 'ph' as const, temperatureC: 25, points: [{ ph: 7, mv: 0, bottle: { expiresOn, openedOn } }, { ph: 4, mv }], asFound: [{ ph: 4, reads }] } })),
  fc.record({ probe: fc.constantFrom('p', 'meter-1'), at, readingC: number }).map((each) => ({ kind: 'calibrated' as const, body: { ...each, kind: 'ice-point' as const, referenceC: 0 } })),
  fc.record({ probe: fc.constantFrom('p', 'meter-1'), at, reads: number }).map((each) => ({ kind: 'calibrated' as const, body: { ...each, kind: 'buffer-check' as const, ph: 4 } })),
  fc.record({ instrument: fc.constantFrom('p', 'meter-1'), check: fc.integer({ min: 0, max: 60 }), lot, decision: fc.constantFrom('stands' as const, 'discarded' as const) }).map((each) => ({ kind: 'doubt-decided' as const, body: { ...each, reason: '' } })),
  fc.record({ id: words, dueOn: day }).map(({ id, dueOn }) => ({ kind: 'instrument-added' as const, body: { id, name: '', measures: 'ph' as const, certificate: { number: '', laboratory: '', dueOn } } })),
  fc.record({ deviation: fc.constantFrom('D-1', 'D-2', 'D-9') }).map((each) => ({ kind: 'deviation-closed' as const, body: { ...each, cause: '', action: '', disposition: 'destroyed' as const, by: '' } })),
  fc.record({ lot: fc.option(lot), until: fc.integer({ min: 0, max: 90 }) }).map((each) => ({ kind: 'reviewed' as const, body: { ...each, name: 'n' } })),
  fc.record({ lot, at }).map((each) => ({ kind: 'recalled' as const, body: { ...each, reason: 'r' } })),
  fc.record({ limit: words, drum: fc.option(fc.constantFrom('a', 'z')), high: number }).map(({ high, ...each }) => ({ kind: 'limit-set' as const, body: { ...each, change: { high } } })),
  fc.record({ id: words, supplier: words, receivedAt: at }).map((each) => ({ kind: 'ingredient-received' as const, body: { ...each, item: 'salt' as const, name: '', quantity: 1, unit: 'kg' as const } })),
);

const journal = fc.array(fc.tuple(who, body, fc.integer({ min: 0, max: 1_000_000 })), { maxLength: 80 }).map((drafts) =>
  drafts.map(([by, draft, minutes], index) => ({ ...draft, who: by, sequence: index + 1, time: toRfc3339(start + minutes * minuteMs), previousHash: genesisHash, hash: genesisHash }) as Entry),
);

const order = ['stop', 'fix', 'look'];

describe('readiness for inspection', () => {
  it('answers every check of any shed, without throwing, what is open first and the weightiest before the rest', () => {
    let open = 0;
    fc.assert(
      fc.property(journal, fc.integer({ min: 0, max: 2_000_000 }), (entries, minutes) => {
        const shed = projectAll(entries);
        const checks = readinessOf(shed, 'Europe/Athens', start + minutes * minuteMs);
        expect(checks.map(({ id }) => id).toSorted()).toEqual(Array.from({ length: 31 }, (_, index) => `R${String(index + 1).padStart(2, '0')}`));
        const levels = checks.filter(({ state }) => state === 'open').map(({ level }) => order.indexOf(level));
        expect(levels).toEqual(levels.toSorted((one, other) => one - other));
        for (const check of checks) {
          expect(check.state === 'open').toBe(check.findings.length > 0);
          expect(check.state === 'not-recorded').toBe(check.why !== null);
        }
        // Without the facts from outside the journal nobody can say that nothing is open.
        expect(readinessWords(checks)).not.toBe('Nothing open in these checks.');
        expect(readinessWords(checks)).not.toMatch(/safe|approved|compliant|certified|ready/i);
        open += levels.length;
      }),
      { seed: 7, numRuns: 300 },
    );
    expect(open).toBeGreaterThan(200);
  });

  it('numbers deviations D-1, D-2 and on without holes, however the journal is read', () => {
    fc.assert(
      fc.property(journal, fc.nat(80), (entries, cut) => {
        const whole = projectAll(entries);
        expect(whole.deviations.map(({ number: told }) => told)).toEqual(whole.deviations.map((_, index) => `D-${String(index + 1)}`));
        expect(projectAll(entries.slice(cut), projectAll(entries.slice(0, cut)))).toEqual(whole);
      }),
      { seed: 8, numRuns: 200 },
    );
  });
});
