import { describe, expect, it } from 'vitest';
import { createWatch } from '../../../collector/watch/watch.ts';
import type { Draft } from '#domain/journal/entry.ts';
import type { Quality, Reading, SeriesId } from '#domain/reading/reading.ts';
import type { Alert } from '#domain/rules/alert.ts';
import { hourMs, minuteMs, toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { createShedBook, openDrum, type ShedBook } from '../../helpers/shed-book.ts';
import { createWatchBench } from '../../helpers/watch-bench.ts';

const start = Date.parse('2026-09-07T06:00:00Z');
const minute = (count: number): EpochMs => start + count * minuteMs;
const series: SeriesId = 'probe-1/temperature';
const danger = 'ferment-temperature-danger';
const reading = (at: EpochMs, value: number, quality: Quality = 'good'): Reading => ({ series, at, value, quality });

const opened = (batch: Parameters<typeof openDrum>[2] = {}) => {
  const book = createShedBook();
  const lot = openDrum(book, start, batch);
  return { book, lot, bench: createWatchBench(book, start) };
};
const alertsSaid = (book: ShedBook): number => book.entries.filter(({ kind }) => kind.startsWith('alert')).length;
const alertOf = (book: ShedBook, rule: string): Alert | undefined => [...book.shed.openAlerts.values()].find((alert) => alert.rule === rule);

describe('after a restart', () => {
  it('an alert that lasts is not raised again, and returns when its time comes', () => {
    const { book, bench } = opened();
    bench.read(reading(minute(1), 31), reading(minute(2), 32));
    const before = alertsSaid(book);
    bench.restart(minute(3));
    expect(alertsSaid(book)).toBe(before);
    bench.read(reading(minute(4), 20));
    bench.tick(minute(14));
    expect(alertOf(book, danger)).toMatchObject({ state: 'returned', since: minute(1), returnedAt: minute(14), peak: 32, excursions: [{ to: minute(4) }] });
  });

  it('a running off-delay goes on from its own beginning', () => {
    const { book, bench } = opened();
    bench.read(reading(minute(1), 31), reading(minute(2), 20), reading(minute(3), 20));
    bench.restart(minute(9));
    bench.tick(minute(12));
    expect(alertOf(book, danger)).toMatchObject({ state: 'returned', returnedAt: minute(12), excursions: [{ from: minute(1), to: minute(2) }] });
  });

  it('a running on-delay too', () => {
    const { book, bench } = opened();
    bench.read(reading(minute(1), 26), reading(minute(4), 26));
    bench.restart(minute(5));
    bench.tick(minute(11));
    expect(alertOf(book, 'ferment-temperature-high')).toMatchObject({ since: minute(1), raisedAt: minute(11) });
  });

  it('a reading stored but not yet judged (the process died in between) is judged, with the same id as it would have had', () => {
    const live = opened();
    live.bench.read(reading(minute(1), 20), reading(minute(2), 31));
    const dead = opened();
    const stored = [reading(minute(1), 20), reading(minute(2), 31)];
    const drafts: Draft[] = [];
    const watch = createWatch({ append: (more) => drafts.push(...more), zone: 'Europe/Rome' });
    watch.restore({ shed: dead.book.shed, latest: new Map([[series, reading(minute(2), 31)]]), recent: () => stored }, minute(3));
    expect(drafts).toHaveLength(1);
    expect(drafts[0]?.body).toEqual(live.book.entries.at(-1)?.body);
  });

  it('knows the peak of an excursion longer than the readings it is given', () => {
    const { book, bench } = opened();
    bench.read(reading(minute(1), 31));
    const drafts: Draft[] = [];
    const watch = createWatch({ append: (more) => drafts.push(...more), zone: 'Europe/Rome' });
    const latest = new Map([[series, reading(minute(500), 31)]]);
    watch.restore({ shed: book.shed, latest, recent: () => [reading(minute(500), 31)], spanSince: (_series, since) => (since === minute(1) ? { min: 30, max: 38 } : null) }, minute(501));
    watch.readings([reading(minute(502), 20)], minute(502));
    watch.tick(minute(520));
    expect(drafts.find(({ kind }) => kind === 'alert-returned')?.body).toMatchObject({ peak: 38, until: toRfc3339(minute(502)) });
  });

  it('an alert returned but not yet seen is taken up again', () => {
    const { book, bench } = opened();
    bench.read(reading(minute(1), 31), reading(minute(2), 20));
    bench.tick(minute(12));
    const id = alertOf(book, danger)?.id;
    bench.restart(minute(13));
    bench.read(reading(minute(14), 31));
    expect(alertOf(book, danger)).toMatchObject({ id, state: 'unacknowledged' });
  });

  it('a silence goes on, and ends with the first reading', () => {
    const { book, bench } = opened();
    bench.read(reading(minute(1), 20), reading(minute(2), 20));
    bench.tick(minute(13));
    const before = alertsSaid(book);
    bench.restart(minute(20));
    bench.tick(minute(40));
    expect(alertsSaid(book)).toBe(before);
    bench.read(reading(minute(41), 20));
    expect(alertOf(book, 'temperature-silent')).toMatchObject({ state: 'returned', excursions: [{ from: minute(2), to: minute(41) }] });
  });

  it('its own absence is not taken for silence of the probes', () => {
    const { book, bench } = opened();
    bench.read(reading(minute(1), 20), reading(minute(2), 20));
    bench.restart(minute(300));
    bench.tick(minute(300.5));
    bench.read(reading(minute(300.8), 20));
    bench.tick(minute(302));
    expect(alertOf(book, 'temperature-silent')).toBeUndefined();
  });

  it('a fault goes on, and a run of bad readings is counted on', () => {
    const { book, bench } = opened();
    bench.read(reading(minute(1), 20), reading(minute(2), -127, 'disconnected'));
    bench.restart(minute(3));
    bench.read(reading(minute(4), -127, 'disconnected'));
    expect(alertOf(book, 'temperature-fault')).toMatchObject({ since: minute(2), raisedAt: minute(4) });
    const before = alertsSaid(book);
    bench.restart(minute(5));
    expect(alertsSaid(book)).toBe(before);
    bench.read(reading(minute(6), 20));
    expect(alertOf(book, 'temperature-fault')?.state).toBe('returned');
  });

  it('a change overdue stays announced once', () => {
    const { book, bench } = opened({ style: 'changed-brine' });
    const due = Date.parse('2026-09-09T06:00:00Z') + 12 * hourMs;
    bench.tick(due);
    const before = alertsSaid(book);
    bench.restart(due + hourMs);
    bench.tick(due + 2 * hourMs);
    expect(book.entries.filter(({ kind, body }) => kind === 'alert-raised' && 'rule' in body && body.rule === 'change-overdue')).toHaveLength(1);
    expect(alertsSaid(book)).toBe(before);
  });

  it('what ended while nobody watched is ended: jarred, moved, limit raised', () => {
    for (const end of ['jarred', 'moved', 'limit off', 'limit raised'] as const) {
      const { book, lot, bench } = opened();
      bench.read(reading(minute(1), 31));
      const at = toRfc3339(minute(5));
      if (end === 'jarred') book.write('jarred', { lot, at, jars: 40, jarMl: 720, brine: 'fresh', ingredients: [] }, minute(5));
      else if (end === 'moved') book.write('placed', { probe: 'probe-1', channel: 'temperature', drum: null, from: at }, minute(5));
      else book.write('limit-set', { limit: danger, drum: null, change: { high: end === 'limit off' ? null : 33 } }, minute(5));
      bench.restart(minute(10));
      bench.tick(minute(30));
      expect(alertOf(book, danger)?.state, end).toBe('returned');
    }
  });
});
