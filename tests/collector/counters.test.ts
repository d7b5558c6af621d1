import { describe, expect, it } from 'vitest';
import { createCounters, mostClocks } from '../../collector/counters.ts';
import { decodeMessage } from '../../collector/sources/payload.ts';
import type { TimeDoubt } from '#domain/reading/admit.ts';
import type { SeriesId } from '#domain/reading/reading.ts';
import { hourMs } from '#domain/units/time.ts';

const now = Date.UTC(2026, 9, 3, 12);
const doubted = (series: SeriesId, reason: TimeDoubt) => ({ reading: { series, at: 0, value: 18, quality: 'good' as const }, reason });

describe('probes with a wrong clock', () => {
  it('are counted with why and when the last came, and no other is', () => {
    const counters = createCounters();
    const send = (probe: string, at: number, arrivedAt: number): void => {
      const payload = new TextEncoder().encode(JSON.stringify([{ n: 'temperature', u: 'Cel', v: 18, t: at / 1_000 }]));
      counters.keepAside(decodeMessage('home', `brineward/home/probe/${probe}`, payload, arrivedAt).aside, arrivedAt);
    };
    send('p-ahead', now + hourMs, now);
    send('p-ahead', now + 2 * hourMs, now + hourMs);
    send('p-unset', Date.UTC(2000, 0, 1), now);
    send('p-right', now, now);
    expect([...counters.clocks]).toEqual([
      ['p-ahead', { refused: 2, reason: 'time-in-future', at: now + hourMs }],
      ['p-unset', { refused: 1, reason: 'time-before-2020', at: now }],
    ]);
    expect(counters).toMatchObject({ setAside: 3, refused: { 'time-in-future': 2, 'time-before-2020': 1 } });
  });

  it('make no list without end, however many names are invented, and those on it are counted on', () => {
    const counters = createCounters();
    for (let index = 0; index < 3 * mostClocks; index += 1) counters.keepAside([doubted(`p-${String(index)}/temperature`, 'time-in-future')], now);
    counters.keepAside([doubted('p-0/ph', 'time-before-2020')], now + 1);
    expect(counters.clocks.size).toBe(mostClocks);
    expect(counters.clocks.get('p-0')).toEqual({ refused: 2, reason: 'time-before-2020', at: now + 1 });
    expect(counters.setAside).toBe(3 * mostClocks + 1);
  });
});
