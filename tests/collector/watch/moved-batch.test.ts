import { describe, expect, it } from 'vitest';
import type { Reading } from '#domain/reading/reading.ts';
import { minuteMs, toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { createShedBook, openDrum } from '../../helpers/shed-book.ts';
import { createWatchBench } from '../../helpers/watch-bench.ts';

/** The watch follows the fruit: what a drum reads belongs to what lies in it. */
const start = Date.parse('2026-09-07T06:00:00Z');
const minute = (count: number): EpochMs => start + count * minuteMs;
const reading = (probe: string, at: EpochMs, value: number): Reading => ({ series: `${probe}/temperature`, at, value, quality: 'good' });

const shed = () => {
  const book = createShedBook();
  const lot = openDrum(book, start);
  book.write('drum-added', { id: 'barrel-2', name: 'Barrel 2', volumeL: 60, insulated: false }, start);
  book.write('placed', { probe: 'probe-2', channel: 'temperature', drum: 'barrel-2', from: toRfc3339(start) }, start);
  const bench = createWatchBench(book, start);
  const follow = (at: EpochMs): void => bench.follow(at);
  const lasting = (): string[] => [...book.shed.openAlerts.values()].filter(({ state, quantity }) => state !== 'returned' && quantity === 'temperature').map(({ drum, lot: of, rule }) => `${drum ?? ''} ${of ?? ''} ${rule}`);
  return { book, lot, bench, follow, lasting };
};
const danger = 'ferment-temperature-danger';

describe('a batch that was moved', () => {
  it('takes its alerts with it: the old drum is quiet, the new one speaks for it', () => {
    const { book, lot, bench, follow, lasting } = shed();
    bench.read(reading('probe-1', minute(1), 31));
    expect(lasting()).toEqual([`barrel-1 ${lot} ${danger}`]);
    book.write('moved', { lot, at: toRfc3339(minute(5)), drum: 'barrel-2' }, minute(5));
    follow(minute(5));
    expect(lasting()).toEqual([]);
    // An empty drum may be as warm as it likes.
    bench.read(reading('probe-1', minute(6), 35));
    expect(lasting()).toEqual([]);
    bench.read(reading('probe-2', minute(7), 31));
    expect(lasting()).toEqual([`barrel-2 ${lot} ${danger}`]);
    // And back again, with an alert of its own time.
    book.write('moved', { lot, at: toRfc3339(minute(10)), drum: 'barrel-1' }, minute(10));
    follow(minute(10));
    bench.read(reading('probe-2', minute(11), 36), reading('probe-1', minute(12), 32));
    expect(lasting()).toEqual([`barrel-1 ${lot} ${danger}`]);
  });

  it('is not charged with what its new drum read before it came', () => {
    const { book, lot, bench, follow, lasting } = shed();
    bench.read(reading('probe-2', minute(1), 40));
    expect(lasting()).toEqual([]);
    book.write('moved', { lot, at: toRfc3339(minute(5)), drum: 'barrel-2' }, minute(5));
    follow(minute(5));
    bench.read(reading('probe-2', minute(6), 18));
    expect([...book.shed.openAlerts.values()].flatMap(({ excursions }) => excursions).filter(({ from }) => from < minute(5))).toEqual([]);
    expect(lasting()).toEqual([]);
  });

  it('leaves each part of a split with a watch of its own', () => {
    const { book, lot, bench, follow, lasting } = shed();
    book.write('split', { lot, at: toRfc3339(minute(5)), into: 'part', drum: 'barrel-2', fruitKg: 10, brineL: 9 }, minute(5));
    follow(minute(5));
    bench.read(reading('probe-1', minute(6), 31), reading('probe-2', minute(6), 32));
    expect(lasting().toSorted()).toEqual([`barrel-1 ${lot} ${danger}`, `barrel-2 part ${danger}`]);
    expect(book.shed.batches.get('part')?.lineage).toEqual([lot, 'part']);
  });
});
