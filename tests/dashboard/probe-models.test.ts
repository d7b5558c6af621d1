import { describe, expect, it } from 'vitest';
import type { Health, ImportReport } from '#contract';
import { metric } from '../../dashboard/format/units.ts';
import { arrivalsOf } from '../../dashboard/state/probes/arrivals.ts';
import { clockHint } from '../../dashboard/state/probes/clock-words.ts';
import { entriesOf, iceVerdict, judgeEntries, phOfBuffer } from '../../dashboard/state/probes/calibration.ts';
import { columnWords, reportWords } from '../../dashboard/state/probes/file-words.ts';
import { inNeedOrder, isAirOnly, lastWords, probeFlag } from '../../dashboard/state/probes/probe-words.ts';
import type { ProbeSeen } from '../../dashboard/state/probes/probes.ts';
import { steadiness, withSample, type Sample } from '../../dashboard/state/probes/steady.ts';

describe('a value that settles', () => {
  // An electrode in order settles in 20 to 30 s: common practice, no source.
  const samples = (...values: readonly [seconds: number, value: number][]): Sample[] => values.map(([seconds, value]) => ({ at: seconds * 1_000, value }));
  it('is steady when it has stayed within reach of the newest for twenty seconds', () => {
    expect(steadiness(samples([0, 170], [10, 172.9], [20, 173.4], [30, 173.3], [40, 173.2]), 1)).toMatchObject({ isSteady: true, heldMs: 30_000 });
    expect(steadiness(samples([0, 170], [10, 172], [20, 173.4], [30, 173.3]), 1)).toMatchObject({ isSteady: false, heldMs: 10_000 });
  });
  it('is not, where it creeps: each step is small, and all of them are not', () => {
    expect(steadiness(samples([0, 170], [10, 170.6], [20, 171.2], [30, 171.8]), 1)).toMatchObject({ isSteady: false, heldMs: 10_000 });
  });
  it('is not by one value, nor by the same one told twice', () => {
    expect(steadiness(samples([0, 170]), 1).isSteady).toBe(false);
    expect(withSample(samples([5, 170]), { at: 5_000, value: 170 })).toHaveLength(1);
    expect(withSample(samples([5, 170], [140, 171]), { at: 150_000, value: 171 })).toHaveLength(2);
  });
});

describe('an electrode in its buffers', () => {
  it('is judged by what the buffers are at their temperature, not by the bottle', () => {
    // Manual MI 611-211: a 7.00 buffer is 7.02 at 20 °C. JIS Z 8802: the phosphate buffer is 6.88.
    expect([phOfBuffer('technical-7', 20), phOfBuffer('phosphate', 20), phOfBuffer('technical-10', 80)]).toEqual([7.02, 6.88, null]);
  });
  it('needs two buffers and a temperature, and warns of an old bottle', () => {
    const [seven, four] = entriesOf('technical');
    if (seven === undefined || four === undefined) throw new Error('two buffers');
    const filled = [{ ...seven, mv: '-14,5' }, { ...four, mv: '160', lot: 'B7', expiresOn: '2026-01-31' }];
    expect(judgeEntries(filled, null, '2026-10-03').missing).toMatch('how warm');
    expect(judgeEntries(filled.slice(0, 1), 25, '2026-10-03').missing).toMatch('Two buffers');
    const judged = judgeEntries(filled, 25, '2026-10-03');
    expect(judged.electrode).toMatchObject({ verdict: 'good', slopePercent: expect.closeTo(98.3, 1) as number });
    expect(judged.points).toEqual([{ ph: 7, mv: -14.5 }, { ph: 4, mv: 160, bottle: { lot: 'B7', expiresOn: '2026-01-31' } }]);
    expect(judged.cautions).toHaveLength(1);
  });
  it('that is exchanged, or dead, is told so and gives no slope', () => {
    const [seven, four] = entriesOf('technical');
    if (seven === undefined || four === undefined) throw new Error('two buffers');
    expect(judgeEntries([{ ...seven, mv: '170' }, { ...four, mv: '0' }], 25, '2026-10-03')).toMatchObject({ electrode: null, missing: expect.stringMatching('exchanged') as string });
  });
  it('in ice', () => {
    expect([0.5, -0.6, 1.01].map((off) => iceVerdict(off).word)).toEqual(['good', 'check', 'replace']);
  });
});

describe('a probe on its card', () => {
  const probe = (id: string, over: { readonly channel?: string; readonly drum?: string; readonly kinds?: readonly ProbeSeen['about']['signs'][number]['kind'][]; readonly state?: 'unknown' | 'caution'; readonly quality?: string } = {}): ProbeSeen => ({
    id, presence: 'unknown', calibrations: [], health: 'ok', hasPassword: false, clock: null, isJudged: true,
    channels: [{ channel: over.channel ?? 'temperature', unit: 'Cel', count: 3, last: { value: 85, at: '2026-10-03T12:00:00Z', ageS: 30, quality: over.quality ?? 'good' }, placement: over.drum === undefined ? null : { drum: over.drum, from: '2026-10-01T12:00:00Z' } }],
    about: { id, electrode: null, icePointOffC: null, intervalS: 60, isFromFile: false, placements: [], signs: (over.kinds ?? []).map((kind) => ({ kind, channel: 'temperature', value: null, state: over.state ?? 'caution', title: kind, hint: '' })) },
  });
  it('stands first where it hangs nowhere, then where it wants a look', () => {
    expect(inNeedOrder([probe('a', { drum: 'd' }), probe('b', { drum: 'd', kinds: ['stuck'] }), probe('c')]).map(({ id }) => id)).toEqual(['c', 'b', 'a']);
  });
  it('has one word: silent before faulty before look', () => {
    expect(probeFlag(probe('a'))).toEqual({ state: 'inside', word: 'speaks' });
    expect(probeFlag(probe('a', { kinds: ['jumps'] })).word).toBe('look');
    // What nobody has judged is never green.
    expect(probeFlag({ ...probe('a'), isJudged: false })).toEqual({ state: 'unknown', word: 'not judged yet' });
    expect(probeFlag(probe('a', { kinds: ['power-on', 'jumps'], state: 'unknown' })).word).toBe('faulty');
    expect(probeFlag(probe('a', { kinds: ['jumps', 'silent'] }))).toEqual({ state: 'unknown', word: 'silent' });
    expect(probeFlag(probe('a', { kinds: ['never-calibrated'], state: 'unknown' })).word).toBe('look');
  });
  it('shows no number for what is no measurement', () => {
    expect(lastWords(probe('a', { quality: 'power-on' }).channels[0]!, metric, 5_000)).toEqual({ value: '–', when: '35 s ago, probe restarting' });
    expect(lastWords(probe('a').channels[0]!, metric, 0).value).toBe('85.0\u00a0°C');
  });
  it('of the air alone needs no drum', () => {
    expect([isAirOnly(probe('a', { channel: 'air-temperature' })), isAirOnly(probe('a'))]).toEqual([true, false]);
  });
  it('with a wrong clock wants a look, and is never one of the air nor green for want of readings', () => {
    const now = Date.UTC(2026, 9, 3, 12);
    const clock = { refused: 1_200, reason: 'time-in-future', at: '2026-10-03T11:55:00Z' };
    expect(clockHint(null, now)).toBeNull();
    expect(clockHint(clock, now)?.hint).toMatch(/^1,200 readings were set aside, the last 5 min ago: their time lies ahead of now\. .*time of arrival counts/);
    expect(clockHint({ ...clock, refused: 1, reason: 'time-before-2020' }, now)?.hint).toMatch(/^1 reading was set aside 5 min ago: its time lies before 2020.* It is kept/);
    expect(probeFlag({ ...probe('a'), clock })).toEqual({ state: 'caution', word: 'look' });
    const unseen = { ...probe('z'), channels: [], clock };
    expect(probeFlag(unseen)).toEqual({ state: 'unknown', word: 'wrong clock' });
    expect([isAirOnly(unseen), isAirOnly({ channels: [] })]).toEqual([false, false]);
    expect(inNeedOrder([probe('a', { drum: 'd' }), { ...probe('b', { drum: 'd' }), clock }]).map(({ id }) => id)).toEqual(['b', 'a']);
  });
});

describe('a file in words', () => {
  it('says what became of each row', () => {
    const report = { rows: 8_759, stored: 8_700, duplicates: 50, conflicts: 1, refused: [{ reason: 'time-skipped', words: '', count: 8 }] } as unknown as ImportReport;
    expect(reportWords(report)).toBe('8,759 rows read: 8,700 readings stored, 50 there already, 1 said something else than what was there (the first value stays), 8 refused');
    expect(reportWords({ ...report, rows: 1, stored: 1, duplicates: 0, conflicts: 0, refused: [] })).toBe('1 row read: 1 reading stored');
  });
  it('names a column by its title and its first value', () => {
    expect([columnWords([['Date', 'T'], ['3.10.', '18,5']], 1, 1), columnWords([['3.10.', '18,5']], 0, 1)]).toEqual(['2 · T (18,5)', '2 (18,5)']);
  });
});

describe('cables and a store elsewhere', () => {
  const now = Date.UTC(2026, 9, 3, 12);
  const bus: NonNullable<Health['sources']>[number] = { kind: 'modbus', name: 'tcp://host', state: 'ok', trouble: null, readings: 1, refused: {}, reopened: 0, lastReadingAt: null, units: [{ unit: 7, state: 'silent', answered: 0, failed: 2, lastAnswerAt: null }] };
  const cable = { kind: 'serial', name: '/dev/ttyUSB0', state: 'lost', trouble: 'the device is gone', readings: 3_000, refused: { 'line-cut': 1, 'not-a-number': 2 }, reopened: 0, lastReadingAt: '2026-10-03T11:00:00.000Z' } as const;
  const outbox = { waiting: 0, refused: 0, mostWaiting: 500_000, settledLate: { duplicates: 0, conflicts: 0 } };
  it('are told with what is lost, silent or waiting; nothing where there are none', () => {
    expect(arrivalsOf({ sources: [], store: { kind: 'sqlite', status: 'ok' } }, now)).toEqual([]);
    expect(arrivalsOf({ sources: [cable, bus] }, now)).toEqual([
      { name: 'Cable /dev/ttyUSB0', state: 'unknown', word: 'lost', detail: '3,000 readings, the last 60 min ago, 3 not usable, the device is gone' },
      { name: 'Bus tcp://host', state: 'caution', word: 'look', detail: '1 reading, device 7 does not answer' },
    ]);
  });
  it('a store that is away is never green, nor one that is behind', () => {
    const store = { kind: 'influx', status: 'ok', place: 'http://shed:8086, cure', trouble: null, outbox } as const;
    expect(arrivalsOf({ store }, now)).toEqual([{ name: 'Store http://shed:8086, cure', state: 'inside', word: 'takes in', detail: 'nothing waits here' }]);
    expect(arrivalsOf({ store: { ...store, outbox: { ...outbox, waiting: 1 } } }, now)).toMatchObject([{ state: 'caution', word: 'behind', detail: '1 reading waits here, room for 500,000' }]);
    expect(arrivalsOf({ store: { ...store, trouble: 'connection refused', outbox: { ...outbox, waiting: 1_200, refused: 2 } } }, now)).toMatchObject([
      { state: 'unknown', word: 'away', detail: '1,200 readings wait here, room for 500,000, 2 readings not taken there and kept here, connection refused' },
    ]);
  });
});
