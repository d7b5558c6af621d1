import { describe, expect, it } from 'vitest';
import { createWatch } from '../../../collector/watch/watch.ts';
import type { Draft } from '#domain/journal/entry.ts';
import type { Channel } from '#domain/reading/channel.ts';
import type { Quality, Reading, SeriesId } from '#domain/reading/reading.ts';
import type { Alert } from '#domain/rules/alert.ts';
import { hourMs, minuteMs, secondMs, toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { createShedBook, openDrum, type ShedBook } from '../../helpers/shed-book.ts';
import { createWatchBench } from '../../helpers/watch-bench.ts';

const start = Date.parse('2026-09-07T06:00:00Z');
const minute = (count: number): EpochMs => start + count * minuteMs;
const series: SeriesId = 'probe-1/temperature';

const reading = (at: EpochMs, value: number, from: SeriesId = series, quality: Quality = 'good'): Reading => ({ series: from, at, value, quality });
const place = (book: ShedBook, probe: string, channel: Channel, drum: string | null, at: EpochMs): number => book.write('placed', { probe, channel, drum, from: toRfc3339(at) }, at);

const opened = (batch: Parameters<typeof openDrum>[2] = {}) => {
  const book = createShedBook();
  const lot = openDrum(book, start, batch);
  return { book, lot, bench: createWatchBench(book, start) };
};
const states = (book: ShedBook): Record<string, string> => Object.fromEntries([...book.shed.openAlerts.values()].map(({ rule, state }): [string, string] => [rule, state]));
const alertOf = (book: ShedBook, rule: string): Alert => {
  const found = [...book.shed.openAlerts.values()].find((alert) => alert.rule === rule);
  if (found === undefined) throw new Error(`no open alert of ${rule}`);
  return found;
};
const said = (book: ShedBook): string[] => book.entries.flatMap((entry) => (entry.kind === 'alert-raised' || entry.kind === 'alert-returned' ? [`${entry.kind.slice(6)} ${entry.body.id}`] : []));

const danger = 'ferment-temperature-danger';
const caution = 'ferment-temperature-high';

describe('a warm drum', () => {
  it('raises a high alert at once at 31 °C, whatever the style and strength', () => {
    for (const batch of [{ style: 'kept-brine' }, { style: 'changed-brine' }, { style: 'changed-brine', saltGPerL: 40 }, { style: 'water-then-brine', saltGPerL: 0 }, { style: 'water-then-brine' }] as const) {
      const { book, bench } = opened(batch);
      bench.read(reading(start + secondMs, 31));
      const high = [...book.shed.openAlerts.values()].filter(({ priority }) => priority === 'high');
      expect(high, JSON.stringify(batch)).toHaveLength(1);
      expect(high[0]).toMatchObject({ state: 'unacknowledged', since: start + secondMs, raisedAt: start + secondMs, value: 31, drum: 'barrel-1', lot: 'barrel-1-a', quantity: 'temperature' });
    }
  });

  it('names rule, limit, source, side, what is wrong and what to do', () => {
    const { book, bench } = opened();
    bench.read(reading(minute(1), 31));
    const alert = alertOf(book, danger);
    expect(alert.id).toBe('barrel-1-ferment-temperature-danger-20260907t060100z');
    expect(alert.limit).toMatchObject({ value: 30, unit: 'Cel', side: 'high' });
    expect(alert.limit.source).toContain('Iorizzo et al. 2016');
    expect(alert.text).toBe('Brine is too warm: 31.0 ± 0.5 °C, limit 30 °C.');
    expect(alert.advice).toMatch(/^Cool the drum now/);
  });

  it('is one alert however long it lasts, and keeps raw start, end and peak', () => {
    const { book, bench } = opened();
    for (let count = 1; count <= 60; count += 1) bench.read(reading(minute(count), 30 + count / 10));
    bench.read(reading(minute(61), 20), reading(minute(75), 20));
    expect(said(book).filter((line) => line.includes(danger))).toEqual([`raised ${alertOf(book, danger).id}`, `returned ${alertOf(book, danger).id}`]);
    expect(alertOf(book, danger)).toMatchObject({ state: 'returned', returnedAt: minute(71), peak: 36, excursions: [{ from: minute(1), to: minute(61), peak: 36 }] });
  });

  it('waits with a caution for ten minutes', () => {
    const { book, bench } = opened();
    bench.read(reading(minute(1), 26));
    bench.tick(minute(10.9));
    expect(states(book)).toEqual({});
    bench.tick(minute(11));
    expect(alertOf(book, caution)).toMatchObject({ since: minute(1), raisedAt: minute(11), priority: 'medium' });
  });

  it('takes up the same alert when it comes back before anyone took notice, and a new one afterwards', () => {
    const { book, bench } = opened();
    bench.read(reading(minute(1), 31), reading(minute(2), 20));
    bench.tick(minute(12));
    const { id } = alertOf(book, danger);
    expect(states(book)[danger]).toBe('returned');
    bench.read(reading(minute(20), 31));
    expect(alertOf(book, danger)).toMatchObject({ id, state: 'unacknowledged', excursions: [{ to: minute(2) }, { from: minute(20), to: null }] });
    bench.read(reading(minute(21), 20));
    bench.tick(minute(40));
    book.write('alert-acknowledged', { id }, minute(41));
    bench.follow(minute(41));
    expect(states(book)[danger]).toBeUndefined();
    bench.read(reading(minute(50), 31));
    expect(alertOf(book, danger).id).not.toBe(id);
  });

  it('raised again before the journal has come back with its first return keeps its id', () => {
    const book = createShedBook();
    openDrum(book, start);
    const drafts: Draft[] = [];
    const watch = createWatch({ append: (more) => drafts.push(...more), zone: 'Europe/Rome' });
    watch.follow(book.shed, start);
    watch.readings([reading(minute(1), 31), reading(minute(2), 20), reading(minute(13), 31)], minute(13));
    const ofDanger = drafts.filter(({ body }) => 'id' in body && body.id.includes(danger));
    expect(ofDanger.map(({ kind }) => kind)).toEqual(['alert-raised', 'alert-returned', 'alert-raised']);
    expect(new Set(ofDanger.map(({ body }) => ('id' in body ? body.id : ''))).size).toBe(1);
  });

  it('is a new alert when the last one was acknowledged while it lasted', () => {
    const { book, bench } = opened();
    bench.read(reading(minute(1), 31));
    const { id } = alertOf(book, danger);
    book.write('alert-acknowledged', { id }, minute(2));
    bench.follow(minute(2));
    bench.read(reading(minute(3), 20), reading(minute(30), 31));
    expect(alertOf(book, danger)).toMatchObject({ state: 'unacknowledged' });
    expect(alertOf(book, danger).id).not.toBe(id);
  });

  it('seen by two probes is one alert, until both are back', () => {
    const { book, bench } = opened();
    place(book, 'probe-2', 'temperature', 'barrel-1', start);
    bench.follow(start);
    bench.read(reading(minute(1), 31), reading(minute(2), 33, 'probe-2/temperature'), reading(minute(3), 20));
    bench.tick(minute(30));
    expect(alertOf(book, danger)).toMatchObject({ state: 'unacknowledged', since: minute(1) });
    bench.read(reading(minute(31), 20, 'probe-2/temperature'));
    bench.tick(minute(41));
    expect(alertOf(book, danger)).toMatchObject({ state: 'returned', peak: 33, excursions: [{ from: minute(1), to: minute(31) }] });
  });

  it('stays alerted while its probe is faulty or silent: unknown is not inside', () => {
    const { book, bench } = opened();
    bench.read(reading(minute(1), 31), reading(minute(2), -127, series, 'disconnected'), reading(minute(3), -127, series, 'disconnected'));
    bench.tick(minute(120));
    expect(states(book)).toMatchObject({ [danger]: 'unacknowledged', 'temperature-fault': 'unacknowledged', 'temperature-silent': 'unacknowledged' });
  });
});

describe('what no longer applies returns', () => {
  const hot = () => {
    const made = opened();
    made.bench.read(reading(minute(1), 31));
    return made;
  };

  it('when the batch is jarred', () => {
    const { book, lot, bench } = hot();
    book.write('jarred', { lot, at: toRfc3339(minute(5)), jars: 40, jarMl: 720, brine: 'fresh', ingredients: [] }, minute(5));
    bench.follow(minute(5));
    expect(alertOf(book, danger)).toMatchObject({ state: 'returned', returnedAt: minute(5), excursions: [{ to: minute(5) }] });
    bench.read(reading(minute(6), 35));
    expect(states(book)).toEqual({ [danger]: 'returned' });
  });

  it('when the probe moves to another drum, which it then watches', () => {
    const { book, bench } = hot();
    openDrum(book, minute(2), { lot: 'other' }, 'barrel-2', 'probe-2');
    place(book, 'probe-1', 'temperature', 'barrel-2', minute(5));
    bench.follow(minute(5));
    expect(alertOf(book, danger)).toMatchObject({ drum: 'barrel-1', state: 'returned' });
    bench.read(reading(minute(6), 31));
    expect([...book.shed.openAlerts.values()].filter(({ rule }) => rule === danger).map(({ drum, state }) => `${drum} ${state}`)).toEqual(['barrel-1 returned', 'barrel-2 unacknowledged']);
  });

  it('but goes on without a gap when a second probe sees it too', () => {
    const { book, bench } = hot();
    place(book, 'probe-2', 'temperature', 'barrel-1', minute(2));
    bench.follow(minute(2));
    bench.read(reading(minute(3), 32, 'probe-2/temperature'));
    place(book, 'probe-1', 'temperature', null, minute(4));
    bench.follow(minute(4));
    expect(states(book)[danger]).toBe('unacknowledged');
    expect(said(book).filter((line) => line.includes(danger))).toHaveLength(1);
  });

  it('when its limit is raised, and comes at once when it is lowered', () => {
    const { book, bench } = hot();
    book.write('limit-set', { limit: danger, drum: 'barrel-1', change: { high: 33, source: 'house rule' } }, minute(2));
    bench.follow(minute(2));
    expect(alertOf(book, danger)).toMatchObject({ state: 'returned', returnedAt: minute(2) });
    book.write('limit-set', { limit: danger, drum: 'barrel-1', change: { high: 28, source: 'house rule' } }, minute(3));
    bench.follow(minute(3));
    expect(alertOf(book, danger)).toMatchObject({ state: 'unacknowledged', excursions: [{}, { from: minute(3), to: null }] });
  });

  it('when the stage changes: the limits of the new one judge the value at hand', () => {
    const { book, lot, bench } = hot();
    book.write('tasted', { lot, at: toRfc3339(minute(2)), bitterness: 0 }, minute(2));
    bench.follow(minute(2));
    expect(states(book)).toMatchObject({ [danger]: 'returned', 'hold-temperature-danger': 'unacknowledged' });
  });

  it('and nothing starts in a drum without fruit', () => {
    const book = createShedBook();
    book.write('drum-added', { id: 'barrel-1', name: 'Barrel 1', volumeL: 60, insulated: false }, start);
    place(book, 'probe-1', 'temperature', 'barrel-1', start);
    const bench = createWatchBench(book, start);
    bench.read(reading(minute(1), 45), reading(minute(2), -127, series, 'disconnected'), reading(minute(3), -127, series, 'disconnected'));
    bench.tick(minute(600));
    expect(said(book)).toEqual([]);
  });
});

describe('late readings', () => {
  it('are counted, not judged', () => {
    const { book, bench } = opened();
    bench.read(reading(minute(10), 20));
    bench.arrive([reading(minute(5), 31), reading(minute(6), 31)], minute(11));
    expect(bench.watch.late).toBe(2);
    expect(said(book)).toEqual([]);
  });

  it('that repeat the last one are neither', () => {
    const { bench } = opened();
    bench.read(reading(minute(10), 20));
    bench.arrive([reading(minute(10), 20)], minute(11));
    expect(bench.watch.late).toBe(0);
  });

  it('in order from a backlog are judged at their own times', () => {
    const { book, bench } = opened();
    bench.read(reading(minute(1), 20));
    bench.arrive([reading(minute(2), 31), reading(minute(3), 32), reading(minute(4), 20), reading(minute(20), 20)], minute(21));
    expect(alertOf(book, danger)).toMatchObject({ state: 'returned', since: minute(2), returnedAt: minute(14), peak: 32 });
  });

  it('from before a placement say nothing about the drum', () => {
    const { book, bench } = opened();
    place(book, 'probe-3', 'temperature', 'barrel-1', minute(30));
    bench.follow(minute(30));
    bench.arrive([reading(minute(20), 40, 'probe-3/temperature')], minute(31));
    expect(said(book)).toEqual([]);
  });
});

describe('silence', () => {
  it('is announced after three usual intervals, and ends with the next reading', () => {
    const { book, bench } = opened();
    for (let count = 0; count < 6; count += 1) bench.read(reading(minute(count * 20), 20));
    bench.tick(minute(159));
    expect(states(book)).toEqual({});
    bench.tick(minute(161));
    expect(alertOf(book, 'temperature-silent')).toMatchObject({
      id: 'barrel-1-temperature-silent-probe-1-20260907t084000z', since: minute(100), raisedAt: minute(160), quantity: 'temperature', priority: 'medium',
      text: 'Probe probe-1 has sent no brine temperature for 60 minutes.', limit: { value: 60, unit: 'min' },
    });
    bench.read(reading(minute(200), 20));
    expect(alertOf(book, 'temperature-silent')).toMatchObject({ state: 'returned', excursions: [{ from: minute(100), to: minute(200) }] });
  });

  it('waits longer for a probe that said it would speak seldom (SenML update time)', () => {
    const { book, bench } = opened();
    bench.watch.announceInterval(series, hourMs);
    bench.read(reading(minute(1), 20), reading(minute(2), 20));
    bench.tick(minute(181));
    expect(states(book)).toEqual({});
    bench.tick(minute(183));
    expect(states(book)).toEqual({ 'temperature-silent': 'unacknowledged' });
  });

  it('is announced of a probe that was placed and never spoke', () => {
    const { book, bench } = opened();
    bench.tick(minute(119));
    expect(states(book)).toEqual({});
    bench.tick(minute(120));
    expect(alertOf(book, 'temperature-silent')).toMatchObject({ text: 'Probe probe-1 has not sent its first brine temperature.', since: start });
  });

  it('is told apart for each probe and quantity of a drum', () => {
    const { book, bench } = opened();
    place(book, 'probe-2', 'temperature', 'barrel-1', start);
    place(book, 'probe-2', 'ph', 'barrel-1', start);
    bench.follow(start);
    for (const at of [minute(0), minute(1)]) bench.read(reading(at, 20), reading(at, 20, 'probe-2/temperature'), reading(at, 4, 'probe-2/ph'));
    bench.tick(minute(30));
    expect([...book.shed.openAlerts.keys()].sort()).toEqual([
      'barrel-1-ph-silent-probe-2-20260907t061100z',
      'barrel-1-temperature-silent-probe-1-20260907t061100z',
      'barrel-1-temperature-silent-probe-2-20260907t061100z',
    ]);
  });

  it('of a probe in an empty drum begins to matter with the batch, and is not dated back', () => {
    const book = createShedBook();
    book.write('drum-added', { id: 'barrel-1', name: 'Barrel 1', volumeL: 60, insulated: false }, start);
    place(book, 'probe-1', 'temperature', 'barrel-1', start);
    const bench = createWatchBench(book, start);
    bench.read(reading(minute(0), 20), reading(minute(1), 20));
    bench.tick(minute(500));
    expect(said(book)).toEqual([]);
    const at = toRfc3339(minute(501));
    book.write('batch-opened', { lot: 'late', drum: 'barrel-1', pickedAt: at, startedAt: at, cut: 'slit', style: 'kept-brine', maturity: 'green', fruitKg: 30, brineL: 27, saltGPerL: 100 }, minute(501));
    bench.follow(minute(501));
    bench.tick(minute(502));
    expect(alertOf(book, 'temperature-silent')).toMatchObject({ since: minute(1), raisedAt: minute(501) });
  });

  it('that nobody ticked through is still written down', () => {
    const { book, bench } = opened();
    bench.read(reading(minute(1), 20), reading(minute(2), 20), reading(minute(90), 20));
    expect(said(book).map((line) => line.split(' ')[0])).toEqual(['raised', 'returned']);
    expect(alertOf(book, 'temperature-silent')).toMatchObject({ raisedAt: minute(12), returnedAt: minute(90) });
  });

  it('is not raised again and again while a backlog comes in', () => {
    const { book, bench } = opened();
    bench.read(reading(minute(1), 20), reading(minute(2), 20));
    bench.tick(minute(200));
    bench.arrive([reading(minute(3), 20), reading(minute(4), 20)], minute(200));
    bench.tick(minute(201));
    bench.arrive([reading(minute(5), 20), reading(minute(6), 20)], minute(202));
    bench.tick(minute(203));
    expect(said(book).map((line) => line.split(' ')[0])).toEqual(['raised', 'returned']);
  });
});

describe('fault', () => {
  it('is announced at the second bad reading in a row, since the first', () => {
    const { book, bench } = opened();
    bench.read(reading(minute(1), 85, series, 'power-on'), reading(minute(2), 20), reading(minute(3), -127, series, 'disconnected'));
    expect(states(book)).toEqual({});
    bench.read(reading(minute(4), -127, series, 'disconnected'));
    expect(alertOf(book, 'temperature-fault')).toMatchObject({ since: minute(3), raisedAt: minute(4), priority: 'medium' });
    expect(alertOf(book, 'temperature-fault').text).toContain('does not answer');
    bench.read(reading(minute(5), 20));
    expect(states(book)).toEqual({ 'temperature-fault': 'returned' });
  });

  it('never counts as a temperature', () => {
    const { book, bench } = opened();
    bench.read(reading(minute(1), 85, series, 'power-on'));
    bench.tick(minute(5));
    expect(states(book)).toEqual({});
  });
});

describe('due', () => {
  it('a change is announced as forgotten in the evening of its day, low, and returns when it is logged', () => {
    const { book, lot, bench } = opened({ style: 'changed-brine' });
    bench.read(reading(minute(1), 15));
    const due = Date.parse('2026-09-09T06:00:00Z'); // 08:00 in Rome, two days after the start
    bench.read(reading(due, 15));
    bench.tick(due + 12 * hourMs - 1);
    expect(states(book)['change-overdue']).toBeUndefined();
    bench.tick(due + 12 * hourMs + 5_000);
    expect(alertOf(book, 'change-overdue')).toMatchObject({ raisedAt: due + 12 * hourMs, priority: 'low', limit: { value: 12, unit: 'h', side: null } });
    const done = due + 14 * hourMs;
    book.write('brine-changed', { lot, at: toRfc3339(done), brineL: 27, saltGPerL: 100 }, done);
    bench.follow(done);
    expect(alertOf(book, 'change-overdue').state).toBe('returned');
  });

  it('keeps hygiene in water apart: 24 and 48 hours since it was renewed, whatever was skipped', () => {
    const { book, lot, bench } = opened({ style: 'water-then-brine', saltGPerL: 0 });
    const hygiene = (): string[] => Object.keys(states(book)).filter((rule) => rule.startsWith('soak-change'));
    book.write('task-skipped', { task: `${lot}-change-water-1`, reason: 'away' }, start);
    bench.follow(start);
    bench.tick(start + 24 * hourMs - 1);
    expect(hygiene()).toEqual([]);
    bench.tick(start + 24 * hourMs);
    expect(alertOf(book, 'soak-change-late')).toMatchObject({ priority: 'medium', text: 'Water or weak brine not changed for 24 hours.' });
    bench.tick(start + 48 * hourMs);
    expect(alertOf(book, 'soak-change-danger').priority).toBe('high');
    const done = start + 49 * hourMs;
    book.write('brine-changed', { lot, at: toRfc3339(done), brineL: 27, saltGPerL: 0 }, done);
    bench.follow(done);
    expect(states(book)).toMatchObject({ 'soak-change-late': 'returned', 'soak-change-danger': 'returned' });
  });

  it('is not dated back to before anyone could know', () => {
    const { book, bench } = opened();
    const later = minute(10);
    book.write('drum-added', { id: 'barrel-2', name: 'Barrel 2', volumeL: 60, insulated: false }, later);
    const begun = toRfc3339(start - 20 * 24 * hourMs);
    book.write('batch-opened', { lot: 'old', drum: 'barrel-2', pickedAt: begun, startedAt: begun, cut: 'slit', style: 'changed-brine', maturity: 'green', fruitKg: 30, brineL: 27, saltGPerL: 100 }, later);
    bench.follow(later);
    bench.tick(later + secondMs);
    expect(alertOf(book, 'change-overdue')).toMatchObject({ drum: 'barrel-2', raisedAt: later });
  });
});

describe('measured by hand', () => {
  const measure = (book: ShedBook, lot: string, value: number, at: EpochMs, quantity: 'ph' | 'temperature' = 'ph', instrument?: string): number =>
    book.write('measured', { lot, at: toRfc3339(at), quantity, value, ...(instrument !== undefined && { instrument }) }, at);
  /** 98 % of the Nernst slope at 25 °C, 59.16 mV: a meter in good order. */
  const calibrate = (book: ShedBook, at: EpochMs, mv = 173.4): number => book.write('calibrated', { probe: 'meter-1', kind: 'ph', points: [{ ph: 4.01, mv }, { ph: 7, mv: 0 }], temperatureC: 25, at: toRfc3339(at) }, at);
  const waiting = () => {
    const made = opened();
    made.book.write('tasted', { lot: made.lot, at: toRfc3339(start), bitterness: 0 }, start);
    made.bench.follow(start);
    return made;
  };

  it('counts as a reading where no probe measures that quantity', () => {
    const { book, lot, bench } = waiting();
    measure(book, lot, 4.8, minute(1));
    bench.follow(minute(2));
    expect(alertOf(book, 'kept-brine-hold-ph-danger')).toMatchObject({ value: 4.8, since: minute(1), text: 'pH is too high: 4.80 ± 0.12 by hand, limit 4.6.' });
    calibrate(book, minute(59));
    measure(book, lot, 4.1, minute(60), 'ph', 'meter-1');
    bench.follow(minute(61));
    expect(states(book)).toMatchObject({ 'kept-brine-hold-ph-danger': 'returned', 'kept-brine-hold-ph-high': 'returned' });
  });

  it('warns, but says that nothing is inside again, where its instrument was not checked as required', () => {
    const { book, lot, bench } = waiting();
    measure(book, lot, 4.8, minute(1));
    bench.follow(minute(2));
    const stillOutside = (at: EpochMs): void => {
      bench.follow(at);
      expect(states(book)).toMatchObject({ 'kept-brine-hold-ph-danger': 'unacknowledged' });
    };
    measure(book, lot, 4.1, minute(60));
    stillOutside(minute(61));
    measure(book, lot, 4.1, minute(62), 'ph', 'meter-1');
    stillOutside(minute(63));
    calibrate(book, minute(64), 120);
    measure(book, lot, 4.1, minute(65), 'ph', 'meter-1');
    stillOutside(minute(66));
    bench.restart(minute(67));
    stillOutside(minute(68));
  });

  it('is judged by the uncertainty its meter and its brine give it: 4.40 is inside 4.6 at 100 g/L, and not at 250', () => {
    for (const [saltGPerL, state] of [[100, 'returned'], [250, 'unacknowledged']] as const) {
      const { book, lot, bench } = waiting();
      measure(book, lot, 4.8, minute(1));
      bench.follow(minute(2));
      book.write('brine-changed', { lot, at: toRfc3339(minute(3)), brineL: 27, saltGPerL }, minute(3));
      calibrate(book, minute(4));
      measure(book, lot, 4.4, minute(5), 'ph', 'meter-1');
      bench.follow(minute(6));
      expect(states(book)['kept-brine-hold-ph-danger']).toBe(state);
    }
  });

  it('is taken back with the act', () => {
    const { book, lot, bench } = waiting();
    const entry = measure(book, lot, 4.8, minute(1));
    bench.follow(minute(2));
    book.write('corrected', { entry, reason: 'other drum', replacement: null }, minute(3));
    bench.follow(minute(3));
    expect(states(book)['kept-brine-hold-ph-danger']).toBe('returned');
  });

  it('does not speak where a probe does', () => {
    const { book, lot, bench } = opened();
    measure(book, lot, 31, minute(1), 'temperature');
    bench.follow(minute(1));
    expect(states(book)).toEqual({});
  });
});

describe('alerts of others', () => {
  it('are left alone, also at a restart', () => {
    const { book, bench } = opened();
    const limit = { value: 60, unit: 's', source: 'assumption', side: null };
    book.write('alert-raised', { id: 'collector-silent-1', rule: 'collector-silent', drum: null, lot: null, quantity: 'collector', priority: 'high', since: toRfc3339(start), at: toRfc3339(start), value: null, limit, text: 'x', advice: 'y' }, start);
    bench.follow(minute(1));
    bench.restart(minute(2));
    bench.tick(minute(3));
    expect(states(book)).toEqual({ 'collector-silent': 'unacknowledged' });
  });
});
