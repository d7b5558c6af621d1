import { describe, expect, it } from 'vitest';
import type { Channel } from '#domain/reading/channel.ts';
import type { Reading } from '#domain/reading/reading.ts';
import { dayMs, hourMs, minuteMs, toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { createShedBook, openDrum, type ShedBook } from '../../helpers/shed-book.ts';
import { createWatchBench, type WatchBench } from '../../helpers/watch-bench.ts';

/** The rules that look now and then, in the watch: from readings and the journal to alerts. */
const start = Date.UTC(2026, 9, 1, 6);
const rules = (book: ShedBook): string[] => book.entries.flatMap((entry) => (entry.kind === 'alert-raised' && /rate|stuck|day-|rebound|exposure|calibration/.test(entry.body.rule) ? [`${entry.body.rule} ${toRfc3339(Date.parse(entry.body.at))}`] : entry.kind === 'alert-returned' && /rate|stuck|day-|rebound|exposure|calibration/.test(entry.body.id) ? ['returned'] : []));

const read = (bench: WatchBench, probe: string, channel: Channel, value: number, at: EpochMs): void => {
  const reading: Reading = { series: `${probe}/${channel}`, at, value, quality: 'good' };
  bench.arrive([reading], at);
};

const measure = (book: ShedBook, bench: WatchBench, lot: string, value: number, at: EpochMs): void => {
  book.write('measured', { lot, at: toRfc3339(at), quantity: 'ph', value }, at);
  bench.follow(at);
  bench.tick(at + 20 * minuteMs);
};

describe('looking at a drum now and then', () => {
  it('tells once of a probe that warms too fast, restarted or not, and takes it back', () => {
    for (const restarts of [false, true]) {
      const book = createShedBook();
      openDrum(book, start);
      const bench = createWatchBench(book, start);
      for (let minute = 4 * 60; minute < 9 * 60; minute += 5) {
        const at = start + minute * minuteMs;
        read(bench, 'probe-1', 'temperature', minute < 6 * 60 ? 18 : 22.5, at);
        bench.tick(at);
        if (restarts && minute % 35 === 0) bench.restart(at);
      }
      const said = rules(book);
      expect(said).toHaveLength(2);
      expect(said[0]).toMatch(/^temperature-rate 2026-10-01T12:[12]/);
      expect(said[1]).toBe('returned');
    }
  });

  it('tells of a pH above 4.6 on day 14 measured by hand, and takes it back when it is below', () => {
    const book = createShedBook();
    const lot = openDrum(book, start);
    const bench = createWatchBench(book, start);
    measure(book, bench, lot, 4.8, start + 13 * dayMs);
    expect(rules(book)).toEqual([]);
    bench.tick(start + 14 * dayMs + 20 * minuteMs);
    expect(rules(book)).toEqual(['ph-day-14 2026-10-15T06:20:00.000Z']);
    measure(book, bench, lot, 4.5, start + 15 * dayMs);
    expect(rules(book).at(-1)).toBe('returned');
  });

  it('tells of a pH that rises again, and not where fresh brine lifted it', () => {
    const book = createShedBook();
    const lot = openDrum(book, start);
    const bench = createWatchBench(book, start);
    for (const [day, value] of [[3, 4.4], [5, 4.1], [7, 4.35]] as const) measure(book, bench, lot, value, start + day * dayMs);
    expect(rules(book)).toEqual(['ferment-ph-rebound 2026-10-08T06:20:00.000Z']);
    book.write('brine-changed', { lot, at: toRfc3339(start + 8 * dayMs), brineL: 27, saltGPerL: 100 }, start + 8 * dayMs);
    measure(book, bench, lot, 4.6, start + 9 * dayMs);
    expect(rules(book).at(-1)).toBe('returned');
  });

  it('asks for a calibration after a week, of a drum with an electrode only', () => {
    const book = createShedBook();
    openDrum(book, start);
    book.write('calibrated', { probe: 'probe-1', kind: 'ph', points: [{ ph: 7, mv: 0 }, { ph: 4, mv: 176 }], temperatureC: 25, at: toRfc3339(start) }, start);
    const bench = createWatchBench(book, start);
    bench.tick(start + 8 * dayMs);
    expect(rules(book)).toEqual([]);
    book.write('placed', { probe: 'probe-1', channel: 'ph', drum: 'barrel-1', from: toRfc3339(start) }, start + 8 * dayMs);
    bench.follow(start + 8 * dayMs);
    bench.tick(start + 8 * dayMs + hourMs);
    expect(rules(book)).toEqual(['ph-calibration 2026-10-09T07:00:00.000Z']);
  });

  it('tells once of the degree-hours of a cure, when the six hours that make them too many are over, also over a change of probe and a restart', () => {
    for (const restarts of [false, true]) {
      const book = createShedBook();
      openDrum(book, start);
      const bench = createWatchBench(book, start);
      for (let hour = 0; hour < 130; hour += 1) {
        const at = start + hour * hourMs;
        if (hour === 50) {
          book.write('placed', { probe: 'probe-1', channel: 'temperature', drum: null, from: toRfc3339(at) }, at);
          book.write('placed', { probe: 'probe-2', channel: 'temperature', drum: 'barrel-1', from: toRfc3339(at) }, at);
          bench.follow(at);
        }
        // Cool nights take nothing off: 24.9 °C in every second six hours.
        read(bench, hour < 50 ? 'probe-1' : 'probe-2', 'temperature', Math.floor(hour / 6) % 2 === 0 ? 27 : 24.9, at);
        bench.tick(at + 20 * minuteMs);
        if (restarts && hour % 7 === 0) bench.restart(at + 20 * minuteMs);
      }
      // Twelve degree-hours in each half day: 120 after the tenth warm stretch (hour 114), more than 120 only after the eleventh (hour 126).
      expect(rules(book)).toEqual(['temperature-exposure 2026-10-06T12:20:00.000Z']);
    }
  });
});
