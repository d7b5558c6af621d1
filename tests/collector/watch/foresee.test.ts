import { beforeAll, describe, expect, it } from 'vitest';
import type { Entry } from '#domain/journal/entry.ts';
import type { Reading } from '#domain/reading/reading.ts';
import { dayMs, hourMs, minuteMs, toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { createShedBook, openDrum, type ShedBook } from '../../helpers/shed-book.ts';
import { createWatchBench } from '../../helpers/watch-bench.ts';
import { drumOfMany, runTwoNodeDrum, type TwoNodeDrum } from '../../helpers/two-node-drum.ts';

const start = Date.UTC(2026, 8, 1);
const rule = 'temperature-forecast';
const warm: TwoNodeDrum = { ...drumOfMany(11, start, 4), timeConstantHours: 9, mixingHours: 0.8, brineShare: 0.5, offsetC: 0, meanC: 24, swingC: 10, weatherSdC: 0.6, noiseC: 0.05 };

/** Four days of a made-up drum and its air, a reading each ten minutes, the clock looking in every three; `cuts`: hours after which the collector is started anew. */
const tell = (drum: TwoNodeDrum, cuts: readonly number[] = [], meanwhile: (book: ShedBook, at: EpochMs) => boolean = () => false): ShedBook => {
  const book = createShedBook();
  openDrum(book, start, { style: 'changed-brine' });
  const bench = createWatchBench(book, start, 'UTC');
  const { drum: brine, air } = runTwoNodeDrum(drum);
  const waiting = cuts.map((hours) => start + hours * hourMs);
  for (const [index, { t, temperatureC }] of brine.entries()) {
    const readings: Reading[] = [
      { series: 'probe-1/temperature', at: t, value: temperatureC, quality: 'good' },
      { series: 'shed/air-temperature', at: t, value: air[index]?.temperatureC ?? Number.NaN, quality: 'good' },
    ];
    bench.arrive(readings, t);
    for (const minute of [3, 6, 9]) bench.tick(t + minute * minuteMs);
    if (meanwhile(book, t)) bench.follow(t + 9 * minuteMs);
    if (waiting[0] !== undefined && t >= waiting[0]) {
      waiting.shift();
      bench.restart(t + 9 * minuteMs);
    }
  }
  return book;
};

interface Said {
  readonly kind: 'raised' | 'returned';
  readonly at: EpochMs;
  readonly body: Entry['body'];
}
const forecasts = (book: ShedBook): Said[] => book.entries.flatMap((entry): Said[] => {
  if (entry.kind === 'alert-raised' && entry.body.rule === rule) return [{ kind: 'raised', at: Date.parse(entry.body.at), body: entry.body }];
  return entry.kind === 'alert-returned' && entry.body.id.includes(rule) ? [{ kind: 'returned', at: Date.parse(entry.body.at), body: entry.body }] : [];
});

let whole: ShedBook;
beforeAll(() => {
  whole = tell(warm);
}, 60_000);

describe('a limit that will be crossed', { timeout: 60_000 }, () => {
  it('is announced hours before, with when and what helps, and gives way to the alert of the crossing', () => {
    const book = whole;
    const said = forecasts(book);
    const first = said[0];
    expect(first?.kind).toBe('raised');
    expect(first?.body).toMatchObject({ rule, priority: 'low', drum: 'barrel-1', quantity: 'temperature', limit: { value: 25, unit: 'Cel', side: null } });
    expect(first?.body).toHaveProperty('text', expect.stringMatching(/^(Passes|Is likely to pass) 25 °C on [A-Z][a-z]+day about \d\d:\d0 \(± (\d+|½) h\)\.$/));
    expect(first?.body).toHaveProperty('advice', expect.stringMatching(/sealed bottles? of ice/));
    const crossed = book.entries.find((entry) => entry.kind === 'alert-raised' && entry.body.rule === 'leach-temperature-high' && Date.parse(entry.body.at) > (first?.at ?? 0));
    const lead = (Date.parse(crossed?.time ?? '') - (first?.at ?? 0)) / hourMs;
    console.log(`announced ${lead.toFixed(1)} h before the limit was passed; ${said.length} forecast entries in four days`);
    expect(lead).toBeGreaterThan(1);
    expect(lead).toBeLessThan(24);
    const back = said.find(({ kind, at }) => kind === 'returned' && at >= (first?.at ?? 0));
    expect(Math.abs((back?.at ?? 0) - Date.parse(crossed?.time ?? ''))).toBeLessThan(2 * hourMs);
    // Day and night, one announcement each: it does not come and go.
    expect(said.length).toBeLessThanOrEqual(12);
  });

  it('is not announced of a drum in cool air, nor before the air of a day is known', () => {
    expect(forecasts(tell({ ...warm, meanC: 15 }))).toEqual([]);
    expect(forecasts(whole).every(({ at }) => at > start + 20 * hourMs)).toBe(true);
  });

  it('goes by the day somebody typed, and back when it is taken back', () => {
    const cool = { ...warm, meanC: 16, weatherSdC: 0.1 };
    const typedAt = start + 3 * dayMs + 8 * hourMs;
    const book = tell(cool, [], (journal, t) => {
      const day = '2026-09-05';
      if (t - 5 * minuteMs === typedAt) return journal.write('air-forecast', { day, lowC: 26, highC: 40 }, t) > 0;
      return t - 5 * minuteMs === typedAt + 12 * hourMs ? journal.write('air-forecast', { day, lowC: null, highC: null }, t) > 0 : false;
    });
    const said = forecasts(book);
    expect(said.map(({ kind }) => kind)).toEqual(['raised', 'returned']);
    expect((said[0]?.at ?? 0) >= typedAt).toBe(true);
    expect((said[1]?.at ?? 0) - typedAt).toBeLessThan(12.5 * hourMs);
  });

  it('is the same however often the collector is started anew', () => {
    const uncut = forecasts(whole).map(({ kind, body }) => ({ kind, body }));
    const cut = forecasts(tell(warm, [30, 51.5, 52, 77, 90])).map(({ kind, body }) => ({ kind, body }));
    expect(uncut.length).toBeGreaterThan(1);
    expect(cut).toEqual(uncut);
  });

  it('ends with the batch, and with the limit', () => {
    const book = tell(warm, [], (journal, t) => {
      if (journal.shed.openAlerts.size === 0 || journal.shed.batches.get('barrel-1-a')?.jarredAt !== null || ![...journal.shed.openAlerts.values()].some((alert) => alert.rule === rule)) return false;
      return journal.write('jarred', { lot: 'barrel-1-a', at: toRfc3339(t), jars: 40, jarMl: 720, brine: 'fresh', ingredients: [] }, t) > 0;
    });
    expect(forecasts(book).map(({ kind }) => kind)).toEqual(['raised', 'returned']);
  });
});
