import { describe, expect, it } from 'vitest';
import type { RecordListed } from '#contract';
import { accessWords, commonLines, lotDates, lotFruit, missingWords, moment, placeWords, reachesOnlyItself } from '../../dashboard/state/record-words.ts';

/** Words beside a record, on the clock of the site. */
const zone = 'Europe/Athens';
const lot: RecordListed = {
  lot: 'ST26-A7',
  drum: 'Barrel 1',
  cut: 'slit',
  style: 'changed-brine',
  maturity: 'green',
  variety: 'Picual',
  pickedAt: '2026-10-03T06:00:00Z',
  startedAt: '2026-10-03T10:00:00Z',
  jarredAt: '2026-11-12T09:00:00Z',
  place: 'released',
  since: '2026-11-17T22:30:00Z',
  by: 'Maria',
  reason: null,
  restsUntil: '2026-11-26T09:00:00Z',
  jars: { filled: 80, left: 68 },
};

describe('where a lot stands', () => {
  it('is told with since when, by whom, how many jars, and the local day', () => {
    // 22:30 UTC is half past midnight of the next day in Athens in winter.
    expect(placeWords(lot, zone)).toBe('since 18\u00a0Nov by Maria, 68 of 80 jars here, resting to 26\u00a0Nov');
    expect(placeWords({ ...lot, place: 'sold out', jars: { filled: 80, left: 0 }, restsUntil: null }, zone)).toBe('0 of 80 jars here');
    expect(placeWords({ ...lot, place: 'on hold', by: null, reason: 'pH in doubt', jars: null, restsUntil: null }, zone)).toBe('since 18\u00a0Nov, pH in doubt');
  });

  it('names fruit and days, and leaves out what is not known', () => {
    expect(lotFruit({ ...lot, variety: null })).toBe('slit · Barrel 1');
    expect(lotDates({ ...lot, jarredAt: null }, zone)).toBe('picked 3\u00a0Oct, started 3\u00a0Oct');
  });
});

describe('what is missing', () => {
  const missing = [
    { what: 'best before not recorded', why: 'nobody has written it down', from: null, to: null },
    { what: 'class not recorded', why: 'nobody has written it down', from: null, to: null },
    { what: 'pH not measured', why: 'no probe', from: null, to: null },
    { what: 'pH not measured', why: 'no probe', from: '2026-10-03T06:00:00Z', to: null },
  ];

  it('has one line for all that nobody wrote down, and no line twice', () => {
    expect(missingWords({ missing })).toEqual(['Not recorded: best before; class', 'pH not measured: no probe']);
    expect(missingWords({ missing: [] })).toEqual([]);
  });

  it('is told once where every record lacks it, of several', () => {
    expect(commonLines([['a', 'b'], ['b', 'c'], ['b']])).toEqual(['b']);
    expect(commonLines([['a', 'b']])).toEqual([]);
    expect(commonLines([['a'], []])).toEqual([]);
    expect(commonLines([])).toEqual([]);
  });
});

describe('an access', () => {
  const now = Date.parse('2026-11-25T13:00:00Z');
  const until = '2026-11-25T17:00:00Z';

  it('says in local time when it ends, ended, or was taken back', () => {
    expect(accessWords({ state: 'open', until, endedAt: null }, now, zone)).toBe('open to today 19:00');
    expect(accessWords({ state: 'over', until: '2026-11-24T17:00:00Z', endedAt: null }, now, zone)).toBe('over since 24\u00a0Nov 19:00');
    expect(accessWords({ state: 'revoked', until, endedAt: '2026-11-25T12:00:00Z' }, now, zone)).toBe('taken back today 14:00');
  });

  it('does not take the same day of another year for today', () => {
    expect(moment('2025-11-25T12:00:00Z', now, zone)).toBe('25\u00a0Nov 14:00');
  });

  it('knows a link that a phone cannot follow', () => {
    for (const link of ['http://127.0.0.1:8470/inspect#A', 'http://localhost:8470/inspect#A', 'http://[::1]:8470/inspect#A']) expect(reachesOnlyItself(link)).toBe(true);
    for (const link of ['http://192.168.1.20:8470/inspect#A', 'https://olives.example/inspect#A', 'https://localhosts.example/']) expect(reachesOnlyItself(link)).toBe(false);
  });
});
