import { describe, expect, it } from 'vitest';
import type { Entry } from '#domain/journal/entry.ts';
import { isInspectionEntry, isNewLook, noInspections, oneLookMs, projectInspection, type Inspections } from '#domain/journal/project-inspection.ts';
import { toRfc3339 } from '#domain/units/time.ts';

/** What the journal tells of inspectors: who was let in, until when, and what was looked at. */
const start = Date.UTC(2026, 9, 3, 12);
const told = (...entries: readonly (readonly [at: number, kind: string, body: object, who?: string])[]): Inspections =>
  entries.reduce((state, [at, kind, body, who = 'user:owner'], index) => {
    const entry = { sequence: index + 1, time: toRfc3339(start + at), who, kind, body, previousHash: '', hash: '' } as unknown as Entry;
    return isInspectionEntry(entry) ? projectInspection(state, entry) : state;
  }, noInspections);

const given = [0, 'inspection-given', { id: 'a', name: 'Market office', lots: ['H26-A7'], until: toRfc3339(start + 1_000) }] as const;
const look = { lot: 'H26-A7', form: 'pdf', inspection: 'a', who: 'inspection:a' } as const;

describe('accesses', () => {
  it('are told with who gave them, and end once', () => {
    const ended = told(given, [10, 'inspection-ended', { id: 'a' }], [20, 'inspection-ended', { id: 'a' }], [30, 'inspection-ended', { id: 'unknown' }]);
    expect(ended.given).toEqual([{ id: 'a', name: 'Market office', lots: ['H26-A7'], by: 'user:owner', at: start, until: start + 1_000, endedAt: start + 10 }]);
  });

  it('leave other entries alone', () => {
    expect(told([0, 'skimmed', { lot: 'H26-A7' }])).toBe(noInspections);
  });
});

describe('a look', () => {
  const seen = told(given, [0, 'record-seen', { lot: 'H26-A7', form: 'pdf', inspection: 'a' }, 'inspection:a']);

  it('goes on for a quarter of an hour, and is a new one after that', () => {
    expect(oneLookMs).toBe(900_000);
    expect(isNewLook(seen, look, start + oneLookMs - 1)).toBe(false);
    expect(isNewLook(seen, look, start + oneLookMs)).toBe(true);
  });

  it('is a new one for another lot, form or person, and where the clock was set back', () => {
    expect(isNewLook(seen, { ...look, lot: 'H26-B5' }, start + 1)).toBe(true);
    expect(isNewLook(seen, { ...look, form: 'csv' }, start + 1)).toBe(true);
    expect(isNewLook(seen, { ...look, inspection: 'b', who: 'inspection:b' }, start + 1)).toBe(true);
    expect(isNewLook(seen, look, start - 1)).toBe(true);
  });
});
