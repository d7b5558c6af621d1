import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Entry } from '#domain/journal/entry.ts';
import { channels, type Channel } from '#domain/reading/channel.ts';
import type { Quality, Reading, SeriesId } from '#domain/reading/reading.ts';
import { kindOfRule } from '#domain/rules/act-now.ts';
import { limitsInForce } from '#domain/rules/limits-in-force.ts';
import { hourMs, minuteMs, toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { createShedBook, openDrum, type ShedBook } from '../helpers/shed-book.ts';
import { expectedExcursions } from '../helpers/range-oracle.ts';
import { createWatchBench, type WatchBench } from '../helpers/watch-bench.ts';

const seed = 20_261_125;
const start = Date.parse('2026-09-07T06:00:00Z');
const drums = ['barrel-1', 'barrel-2'] as const;
const probes = ['probe-1', 'probe-2'] as const;
const placedChannels = ['temperature', 'salinity'] as const;

/** One thing that happens; time is taken from the minutes before it. */
type Step = { readonly minutes: number } & (
  | { readonly do: 'read'; readonly values: readonly number[]; readonly quality: Quality }
  | { readonly do: 'tick' | 'acknowledge' | 'jar' | 'change' | 'sweet' | 'bitter' }
  | { readonly do: 'limit'; readonly high: number | null }
  | { readonly do: 'move'; readonly drum: (typeof drums)[number] | null }
);

const minutes = fc.integer({ min: 1, max: 45 });
const readParts = {
  minutes,
  do: fc.constant('read' as const),
  values: fc.tuple(fc.integer({ min: 20, max: 70 }).map((half) => half / 2), fc.integer({ min: 40, max: 110 }), fc.integer({ min: 20, max: 70 }).map((half) => half / 2), fc.integer({ min: 40, max: 110 })),
  quality: fc.constantFrom<Quality>('good', 'good', 'good', 'disconnected'),
};
const read = fc.record(readParts);
const wait = fc.record({ minutes: fc.constantFrom(1, 30, 200, 3_000), do: fc.constantFrom('tick' as const, 'acknowledge' as const, 'acknowledge' as const) });
const act = fc.record({ minutes, do: fc.constantFrom('change' as const, 'jar' as const) });
const turn = fc.record({ minutes, do: fc.constantFrom('sweet' as const, 'bitter' as const) });
const limit = fc.record({ minutes, do: fc.constant('limit' as const), high: fc.constantFrom(null, 24, 27, 30, 33) });
const move = fc.record({ minutes, do: fc.constant('move' as const), drum: fc.constantFrom('barrel-1' as const, 'barrel-2' as const, null) });
const parts = [{ weight: 12, arbitrary: read }, { weight: 3, arbitrary: wait }, { weight: 2, arbitrary: act }, { weight: 1, arbitrary: move }] as const;
/** A story in which the limits stay what they are: none is edited, and no stage brings others. */
const steadyStory = fc.array(fc.oneof(...parts), { minLength: 1, maxLength: 60 });
const story = fc.array(fc.oneof(...parts, { weight: 1, arbitrary: turn }, { weight: 1, arbitrary: limit }), { minLength: 1, maxLength: 60 });
const cutsAfter = fc.array(fc.nat(59), { minLength: 1, maxLength: 4 });

const seriesOf = (probe: string, channel: Channel): SeriesId => `${probe}/${channel}`;

const openShed = (style: 'kept-brine' | 'changed-brine' = 'kept-brine'): ShedBook => {
  const book = createShedBook();
  for (const [index, drum] of drums.entries()) {
    openDrum(book, start, { style, lot: `lot-${String(index)}` }, drum, probes[index]);
    book.write('placed', { probe: probes[index] ?? '', channel: 'salinity', drum, from: toRfc3339(start) }, start);
  }
  return book;
};

const perform = (step: Step, book: ShedBook, bench: WatchBench, at: EpochMs): void => {
  const time = toRfc3339(at);
  const lot = 'lot-0';
  // The clock looks in before anything else happens, as it does once a second.
  bench.tick(at);
  switch (step.do) {
    case 'read':
      bench.arrive(
        probes.flatMap((probe, p) => placedChannels.map((channel, c): Reading => ({ series: seriesOf(probe, channel), at, value: step.values[2 * p + c] ?? 0, quality: step.quality }))),
        at,
      );
      return;
    case 'tick':
      return;
    case 'acknowledge':
      for (const id of book.shed.openAlerts.keys()) book.write('alert-acknowledged', { id }, at);
      break;
    case 'jar':
      book.write('jarred', { lot, at: time, jars: 40, jarMl: 720, brine: 'fresh', ingredients: [] }, at);
      break;
    case 'change':
      book.write('brine-changed', { lot, at: time, brineL: 27, saltGPerL: 100 }, at);
      break;
    case 'sweet':
    case 'bitter':
      book.write('tasted', { lot, at: time, bitterness: step.do === 'sweet' ? 0 : 6 }, at);
      break;
    case 'limit':
      book.write('limit-set', { limit: 'ferment-temperature-danger', drum: null, change: { high: step.high } }, at);
      break;
    case 'move':
      book.write('placed', { probe: 'probe-1', channel: 'temperature', drum: step.drum, from: time }, at);
      break;
  }
  bench.follow(at);
};

/** Runs a story; `cuts` are the steps after which the collector is restarted. */
const tell = (steps: readonly Step[], cuts: ReadonlySet<number> = new Set(), style?: 'kept-brine' | 'changed-brine'): { book: ShedBook; end: EpochMs } => {
  const book = openShed(style);
  const bench = createWatchBench(book, start);
  let at = start;
  steps.forEach((step, index) => {
    at += step.minutes * minuteMs;
    perform(step, book, bench, at);
    if (cuts.has(index)) bench.restart(at);
  });
  bench.tick(at + 3 * hourMs);
  return { book, end: at + 3 * hourMs };
};

const isAlert = ({ kind }: Entry): boolean => kind === 'alert-raised' || kind === 'alert-returned';
const bodies = (book: ShedBook): unknown[] => book.entries.filter(isAlert).map(({ kind, body }) => ({ kind, body }));

describe('watch, whatever happens', () => {
  it('raises and returns by turns, one alert a slot, and never returns what it has not raised', () => {
    fc.assert(
      fc.property(story, (steps) => {
        const lasting = new Map<string, string>();
        for (const entry of tell(steps).book.entries) {
          if (entry.kind === 'alert-raised') {
            const probe = /-probe-\d-/.exec(entry.body.id.slice(`${entry.body.drum ?? ''}-${entry.body.rule}`.length))?.[0] ?? '';
            const slot = `${entry.body.drum ?? ''} ${entry.body.lot ?? ''} ${entry.body.rule} ${probe}`;
            expect([...lasting.values()], 'one alert at a time').not.toContain(slot);
            lasting.set(entry.body.id, slot);
            expect(Date.parse(entry.body.since)).toBeLessThanOrEqual(Date.parse(entry.body.at));
            expect(Date.parse(entry.body.at)).toBeLessThanOrEqual(Date.parse(entry.time));
          } else if (entry.kind === 'alert-returned') {
            expect(lasting.delete(entry.body.id), 'only what was raised returns').toBe(true);
            expect(Date.parse(entry.body.until)).toBeLessThanOrEqual(Date.parse(entry.body.at));
          }
        }
      }),
      { seed, numRuns: 400 },
    );
  });

  it('raises a range alert only for a value outside its limit, with its uncertainty', () => {
    fc.assert(
      fc.property(story, (steps) => {
        for (const { kind, body } of tell(steps).book.entries) {
          if (kind !== 'alert-raised' || kindOfRule(body.rule) !== 'range' || body.limit.side === null || body.value === null || body.limit.value === null) continue;
          const { uncertainty } = channels[body.quantity as 'temperature' | 'salinity'];
          if (body.limit.side === 'high') expect(body.value + uncertainty).toBeGreaterThan(body.limit.value);
          else expect(body.value - uncertainty).toBeLessThan(body.limit.value);
        }
      }),
      { seed, numRuns: 200 },
    );
  });

  it('leaves no alert lasting over a drum that is empty or that its rule no longer watches', () => {
    fc.assert(
      fc.property(story, (steps) => {
        const { book, end } = tell(steps);
        for (const alert of book.shed.openAlerts.values()) {
          if (alert.excursions.at(-1)?.to !== null) continue;
          const drum = book.shed.drums.get(alert.drum ?? '');
          const batch = drum?.lot == null ? null : (book.shed.batches.get(drum.lot) ?? null);
          expect(limitsInForce(book.shed.limitChanges, alert.drum ?? '', batch, end).map(({ id }) => id)).toContain(alert.rule);
        }
      }),
      { seed, numRuns: 300 },
    );
  });

  it('restarted anywhere writes what it would have written without', () => {
    fc.assert(
      fc.property(steadyStory, cutsAfter, fc.constantFrom('kept-brine' as const, 'changed-brine' as const), (steps, cuts, style) => {
        // Right after readings: the grace a restarted watch gives to silent probes is then over before any can be silent.
        const allowed = new Set(cuts.filter((index) => steps[index]?.do === 'read'));
        expect(bodies(tell(steps, allowed, style).book)).toEqual(bodies(tell(steps, new Set(), style).book));
      }),
      { seed, numRuns: 400 },
    );
  });

  it('restarted anywhere in weeks of warmth counts the same degree-hours', () => {
    const slowRead = fc.record({ ...readParts, minutes: fc.integer({ min: 20, max: 700 }) });
    const weeks = fc.array(fc.oneof({ weight: 12, arbitrary: slowRead }, { weight: 1, arbitrary: move }, { weight: 1, arbitrary: wait }), { minLength: 20, maxLength: 120 });
    const exposures = (book: ShedBook): unknown[] => book.entries.filter(isAlert).filter(({ body }) => 'id' in body && body.id.includes('-temperature-exposure-')).map(({ kind, body }) => ({ kind, body }));
    let told = 0;
    fc.assert(
      fc.property(weeks, fc.array(fc.nat(119), { minLength: 1, maxLength: 6 }), (steps, cuts) => {
        const without = exposures(tell(steps).book);
        told += without.length;
        expect(exposures(tell(steps, new Set(cuts)).book)).toEqual(without);
      }),
      { seed, numRuns: 150 },
    );
    expect(told).toBeGreaterThan(100);
  });

  it('restarted between readings differs at most in what it says of silence', () => {
    const withoutSilence = (book: ShedBook): unknown[] => book.entries.filter(isAlert).filter(({ body }) => 'id' in body && !body.id.includes('-silent-')).map(({ kind, body }) => ({ kind, body }));
    fc.assert(
      fc.property(steadyStory, cutsAfter, (steps, cuts) => {
        expect(withoutSilence(tell(steps, new Set(cuts)).book)).toEqual(withoutSilence(tell(steps).book));
      }),
      { seed, numRuns: 400 },
    );
  });

  it('restarted after limits or stages changed, sees the same alerts last once every drum has spoken again', () => {
    const spoken: Step[] = [0, 1].map(() => ({ minutes: 60, do: 'read', values: [31, 60, 20, 40], quality: 'good' }));
    const lasting = (book: ShedBook): string[] => [...book.shed.openAlerts.values()].filter((alert) => alert.excursions.at(-1)?.to === null).map(({ drum, rule }) => `${drum ?? ''} ${rule}`).sort();
    fc.assert(
      fc.property(story, cutsAfter, (steps, cuts) => {
        expect(lasting(tell([...steps, ...spoken], new Set(cuts)).book)).toEqual(lasting(tell([...steps, ...spoken]).book));
      }),
      { seed, numRuns: 300 },
    );
  });

  it('told the readings of one drum loses no excursion and invents none', () => {
    fc.assert(
      fc.property(fc.array(read, { minLength: 1, maxLength: 60 }), (steps) => {
        const { book, end } = tell(steps);
        let at = start;
        const samples = steps.flatMap((step) => {
          at += step.minutes * minuteMs;
          return step.quality === 'good' ? [{ at, value: step.values[0] }] : [];
        });
        const batch = book.shed.batches.get('lot-0') ?? null;
        const rules = limitsInForce(book.shed.limitChanges, 'barrel-1', batch, end).filter(({ kind, quantity }) => kind === 'range' && quantity === 'temperature');
        expect(rules).toHaveLength(4);
        for (const rule of rules) {
          const written = book.entries.flatMap(({ kind, body }) => (kind === 'alert-raised' && body.drum === 'barrel-1' && body.rule === rule.id ? [[Date.parse(body.since), Date.parse(body.at)]] : []));
          const expected = expectedExcursions(samples, rule, channels.temperature.uncertainty, end).map(({ since, raisedAt }) => [since, raisedAt]);
          expect(written, rule.id).toEqual(expected);
        }
      }),
      { seed, numRuns: 300 },
    );
  });

  it('meets alerts of every kind in these stories', () => {
    const kinds = new Set<string>();
    for (const steps of fc.sample(story, { seed, numRuns: 200 })) {
      for (const { kind, body } of tell(steps, new Set(), 'changed-brine').book.entries) if (kind === 'alert-raised') kinds.add(body.rule.replace(/^(?:ferment|leach|hold)-/, ''));
    }
    for (const kind of ['temperature-high', 'temperature-danger', 'temperature-silent', 'temperature-fault', 'change-overdue', 'salinity-low']) expect(kinds, kind).toContain(kind);
  });
});
