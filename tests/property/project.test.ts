import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { genesisHash, type Draft, type Entry } from '#domain/journal/entry.ts';
import { emptyShed, project, projectAll } from '#domain/journal/project.ts';
import { drumWatchedBy, segmentsOf } from '#domain/journal/placement.ts';
import { sequenceOfKey } from '#domain/journal/written-keys.ts';
import { toRfc3339 } from '#domain/units/time.ts';

/** Replay of the journal: the same state in one piece, in pieces, twice, and after a restart. */
const start = Date.UTC(2026, 4, 1);
const minute = 60_000;
const at = fc.integer({ min: 0, max: 5_000 }).map((minutes) => toRfc3339(start + minutes * minute));
const drumId = fc.constantFrom('a', 'b', 'c');
const lot = fc.constantFrom('L1', 'L2', 'L3', 'L4');
const alertId = fc.constantFrom('w1', 'w2');
const key = fc.constantFrom('k1', 'k2', 'k3', 'k4');
const limit = { value: 25, unit: 'Cel', source: 'test', side: 'high' as const };

const draft: fc.Arbitrary<Draft> = fc.oneof(
  drumId.map((id): Draft => ({ who: 'user:owner', kind: 'drum-added', body: { id, name: id, volumeL: 60, insulated: false } })),
  fc.record({ probe: fc.constantFrom('p', 'q'), drum: fc.option(drumId), from: at }).map((body): Draft => ({ who: 'user:owner', kind: 'placed', body: { ...body, channel: 'temperature' } })),
  fc.record({ lot, drum: drumId, startedAt: at }).map((body): Draft => ({ who: 'user:owner', kind: 'batch-opened', body: { ...body, pickedAt: body.startedAt, cut: 'slit', style: 'changed-brine', maturity: 'green', fruitKg: 20, brineL: 20, saltGPerL: 100 } })),
  fc.record({ lot, at, bitterness: fc.integer({ min: 0, max: 10 }) }).map((body): Draft => ({ who: 'user:owner', kind: 'tasted', body })),
  fc.record({ lot, at, key }).map((body): Draft => ({ who: 'user:owner', kind: 'skimmed', body })),
  fc.record({ lot, at, drum: drumId }).map((body): Draft => ({ who: 'user:owner', kind: 'moved', body })),
  // Also a split into a lot that is there already, and one of more than there is: a journal is read whatever it says.
  fc.record({ lot, at, into: fc.constantFrom('L1', 'L4', 'L5'), drum: fc.option(drumId), fruitKg: fc.integer({ min: 1, max: 25 }), brineL: fc.integer({ min: 0, max: 9 }) }).map((body): Draft => ({ who: 'user:owner', kind: 'split', body })),
  fc.record({ pick: fc.constantFrom('P1', 'P2'), at, massKg: fc.integer({ min: 1, max: 50 }), key }).map((body): Draft => ({ who: 'user:owner', kind: 'picked', body })),
  fc.record({ pick: fc.constantFrom('P1', 'P2'), maturity: fc.constantFrom('green' as const, 'black' as const) }).map((body): Draft => ({ who: 'user:owner', kind: 'pick-amended', body })),
  fc.record({ pick: fc.constantFrom('P1', 'P2'), at, kg: fc.integer({ min: 1, max: 5 }), replaces: fc.integer({ min: 1, max: 40 }) }).map(({ kg, ...body }): Draft => ({ who: 'user:owner', kind: 'sorted', body: { ...body, culls: [{ cause: 'hail', kg }] } })),
  fc.record({ lot, at }).map((body): Draft => ({ who: 'user:owner', kind: 'brine-changed', body: { ...body, brineL: 20, saltGPerL: 80 } })),
  fc.record({ lot, at }).map((body): Draft => ({ who: 'user:owner', kind: 'jarred', body: { ...body, jars: 30, jarMl: 500, brine: 'own', ingredients: ['olives'] } })),
  fc.record({ entry: fc.integer({ min: 1, max: 40 }), replaced: fc.boolean(), at }).map(({ entry, replaced, at: when }): Draft => ({ who: 'user:owner', kind: 'corrected', body: { entry, reason: 'slip', replacement: replaced ? { kind: 'tasted', at: when, bitterness: 3 } : null } })),
  fc.record({ id: alertId, drum: drumId, at, value: fc.integer({ min: 20, max: 35 }) }).map(({ at: when, ...body }): Draft => ({ who: 'collector', kind: 'alert-raised', body: { ...body, rule: 'r', lot: null, quantity: 'temperature', priority: 'high', since: when, at: when, limit, text: 't', advice: 'a' } })),
  alertId.map((id): Draft => ({ who: 'user:owner', kind: 'alert-acknowledged', body: { id } })),
  fc.record({ id: alertId, at, peak: fc.integer({ min: 20, max: 40 }) }).map(({ at: when, ...body }): Draft => ({ who: 'collector', kind: 'alert-returned', body: { ...body, until: when, at: when } })),
  fc.record({ task: fc.constantFrom('t1', 't2'), reason: fc.constant('rain') }).map((body): Draft => ({ who: 'user:owner', kind: 'task-skipped', body })),
  fc.record({ medium: fc.constantFrom('water' as const, 'brine' as const), everyDays: fc.option(fc.integer({ min: 1, max: 9 })) }).map(({ medium, everyDays }): Draft => ({ who: 'user:owner', kind: 'schedule-set', body: { style: 'changed-brine', medium, steps: everyDays === null ? null : { afterDays: [], thenEveryDays: [everyDays], source: 'test' } } })),
  fc.record({ limit: fc.constantFrom('l1', 'l2'), drum: fc.option(drumId), high: fc.integer({ min: 1, max: 40 }) }).map(({ high, ...body }): Draft => ({ who: 'user:owner', kind: 'limit-set', body: { ...body, change: { high } } })),
);

const journal = fc.array(draft, { maxLength: 60 }).map((drafts) =>
  drafts.map((each, index): Entry => ({ ...each, sequence: index + 1, time: toRfc3339(start + index * minute), previousHash: genesisHash, hash: genesisHash })),
);

describe('projecting the journal', () => {
  it('gives the same shed in one piece, in two, twice over, and from a copy of itself', () => {
    fc.assert(
      fc.property(journal, fc.nat(60), (entries, cut) => {
        const whole = projectAll(entries);
        const pieces = projectAll(entries.slice(cut), projectAll(entries.slice(0, cut)));
        expect(pieces).toEqual(whole);
        expect(projectAll(entries, whole)).toEqual(whole);
        expect(projectAll(structuredClone(entries))).toEqual(whole);
      }),
      { seed: 1, numRuns: 300 },
    );
  });

  it('knows the first entry of every key, and no key that nobody sent', () => {
    fc.assert(
      fc.property(journal, (entries) => {
        const { writtenKeys } = projectAll(entries);
        for (const each of ['k1', 'k2', 'k3', 'k4', 'k5']) {
          expect(sequenceOfKey(writtenKeys, each)).toBe(entries.find(({ body }) => 'key' in body && body.key === each)?.sequence ?? null);
        }
      }),
      { seed: 2, numRuns: 300 },
    );
  });

  it('never changes an earlier state', () => {
    fc.assert(
      fc.property(journal, (entries) => {
        let shed = emptyShed;
        for (const entry of entries) {
          const before = structuredClone(shed);
          const after = project(shed, entry);
          expect(shed).toEqual(before);
          shed = after;
        }
      }),
      { seed: 2, numRuns: 100 },
    );
  });

  it('keeps every act and every alert: corrected acts stay visible, and no alert is in two places', () => {
    fc.assert(
      fc.property(journal, (entries) => {
        const shed = projectAll(entries);
        for (const batch of shed.batches.values()) {
          for (const act of batch.acts) expect(act.standing).toBe(act.correctedBy === null);
          expect(batch.acts.map((act) => act.at)).toEqual(batch.acts.map((act) => act.at).toSorted((one, other) => one - other));
        }
        for (const [id, alert] of shed.openAlerts) {
          expect(alert.id).toBe(id);
          expect(alert.state).not.toBe('normal');
          expect(alert.excursions.slice(0, -1).every(({ to }) => to !== null)).toBe(true);
          expect(alert.state === 'returned').toBe(alert.excursions.at(-1)?.to !== null);
        }
        for (let past = shed.pastAlerts; past !== null; past = past.before) expect(past.alert.state).toBe('normal');
      }),
      { seed: 3, numRuns: 300 },
    );
  });

  it('finds for each moment the series that watches a drum, as segments and as a question', () => {
    fc.assert(
      fc.property(journal, fc.integer({ min: 0, max: 5_000 }), (entries, minutes) => {
        const shed = projectAll(entries);
        const when = start + minutes * minute;
        const span = { from: start, to: start + 5_001 * minute };
        for (const drum of ['a', 'b', 'c']) {
          const segments = segmentsOf(shed, drum, 'temperature', span);
          for (const [index, segment] of segments.entries()) {
            expect(segment.from).toBeLessThan(segment.to);
            if (index > 0) expect(segments[index - 1]?.to).toBeLessThanOrEqual(segment.from);
          }
          const inForce = segments.find(({ from, to }) => from <= when && when < to);
          const watching = (['p/temperature', 'q/temperature'] as const).filter((series) => drumWatchedBy(shed, series, when) === drum);
          expect(inForce === undefined).toBe(watching.length === 0);
          if (inForce !== undefined) expect(watching).toContain(inForce.series);
        }
      }),
      { seed: 4, numRuns: 300 },
    );
  });
});
