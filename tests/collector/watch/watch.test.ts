import { describe, expect, it } from 'vitest';
import { createWatch, type Watch } from '../../../collector/watch/watch.ts';
import type { Reading, SeriesId } from '#domain/reading/reading.ts';
import { dayMs, hourMs, minuteMs, secondMs, toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { createShedBook, openDrum, type ShedBook } from '../../helpers/shed-book.ts';

const zone = 'Europe/Rome';
const start = Date.parse('2026-10-05T06:00:00Z');
const series: SeriesId = 'probe-1/temperature';

const good = (at: EpochMs, value: number, from: SeriesId = series): Reading => ({ series: from, at, value, quality: 'good' });

/** A watch wired to a journal the way the collector wires it: what it says is written, and what is written it follows. */
const wired = (book: ShedBook, now: EpochMs): Watch & { read(...readings: Reading[]): void; act(): void } => {
  let time = now;
  const watch = createWatch({ append: (drafts) => book.append(drafts, time), zone });
  watch.follow(book.shed, now);
  return {
    ...watch,
    get late() {
      return watch.late;
    },
    read: (...readings) => {
      for (const reading of readings) {
        time = Math.max(time, reading.at);
        watch.readings([reading], time);
        watch.follow(book.shed, time);
      }
    },
    act: () => watch.follow(book.shed, time),
    tick: (at) => {
      time = at;
      watch.tick(at);
      watch.follow(book.shed, at);
    },
  };
};

const open = (book: ShedBook): string[] => [...book.shed.openAlerts.values()].map(({ rule, state }) => `${rule} ${state}`).sort();
const raisedRules = (book: ShedBook): string[] => book.entries.flatMap((entry) => (entry.kind === 'alert-raised' ? [entry.body.rule] : []));

describe('watch: range', () => {
  it('raises a high alert at once at 31 °C in every stage, whatever the style and strength', () => {
    for (const batch of [{ style: 'kept-brine' }, { style: 'changed-brine' }, { style: 'changed-brine', saltGPerL: 40 }, { style: 'water-then-brine', saltGPerL: 0 }, { style: 'water-then-brine' }] as const) {
      const book = createShedBook();
      openDrum(book, start, batch);
      const watch = wired(book, start);
      watch.read(good(start + secondMs, 31));
      const high = [...book.shed.openAlerts.values()].filter(({ priority }) => priority === 'high');
      expect(high, JSON.stringify(batch)).toHaveLength(1);
      expect(high[0]).toMatchObject({ state: 'unacknowledged', since: start + secondMs, raisedAt: start + secondMs, value: 31, drum: 'barrel-1', lot: 'barrel-1-a', quantity: 'temperature' });
    }
  });

  it('has no range limits in a drum without fruit', () => {
    const book = createShedBook();
    book.write('drum-added', { id: 'barrel-1', name: 'Barrel 1', volumeL: 60, insulated: false }, start);
    book.write('placed', { probe: 'probe-1', channel: 'temperature', drum: 'barrel-1', from: toRfc3339(start) }, start);
    const watch = wired(book, start);
    watch.read(good(start + secondMs, 45));
    expect(open(book)).toEqual([]);
  });
});
void dayMs; void hourMs; void minuteMs; void raisedRules;
