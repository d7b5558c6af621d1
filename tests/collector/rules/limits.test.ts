import { describe, expect, it } from 'vitest';
import { cureStyles, inDrum, stages, type CureStyle, type Stage } from '#domain/cure/batch.ts';
import { drumChannels, channels } from '#domain/reading/channel.ts';
import { slugPattern } from '#domain/reading/reading.ts';
import { defaultLimits } from '#domain/rules/default-limits.ts';
import { limitsInForce, limitsOf, strictest, weakBrineGPerL } from '#domain/rules/limits-in-force.ts';
import type { Limit } from '#domain/rules/limit.ts';
import type { EntryBodies } from '#domain/journal/entry.ts';
import { toRfc3339 } from '#domain/units/time.ts';
import { createShedBook, openDrum } from '../../helpers/shed-book.ts';

const start = Date.parse('2026-10-05T06:00:00Z');
const now = start + 1_000;

/** What stands for one batch, after some acts. */
const inForce = (batch: Partial<EntryBodies['batch-opened']>, act?: (lot: string, write: ReturnType<typeof createShedBook>['write']) => void): readonly Limit[] => {
  const book = createShedBook();
  const lot = openDrum(book, start, batch);
  act?.(lot, book.write);
  const drum = book.shed.drums.get('barrel-1');
  return limitsInForce(book.shed.limitChanges, 'barrel-1', drum?.lot == null ? null : (book.shed.batches.get(drum.lot) ?? null), now);
};
const taste = (lot: string, write: ReturnType<typeof createShedBook>['write']): void => void write('tasted', { lot, at: toRfc3339(start), bitterness: 1 }, start);
const edges = (limits: readonly Limit[], quantity: string) =>
  limits.filter((limit) => limit.kind === 'range' && limit.quantity === quantity).map(({ low, high, priority }) => [low === null ? 'above' : 'below', low ?? high, priority]);

describe('default limits', () => {
  it('have slugs of their own, one side each, a source, and a known stage and style', () => {
    expect(new Set(defaultLimits.map(({ id }) => id)).size).toBe(defaultLimits.length);
    for (const limit of defaultLimits) {
      expect(limit.id).toMatch(slugPattern);
      expect(limit.source.length).toBeGreaterThan(10);
      expect([limit.low, limit.high].filter((side) => side !== null)).toHaveLength(1);
      expect(limit.stage === null || (stages.includes(limit.stage) && inDrum.has(limit.stage))).toBe(true);
      expect(limit.style === null || cureStyles.includes(limit.style)).toBe(true);
    }
  });

  it('raise at once and clear late wherever they are of high priority', () => {
    for (const limit of defaultLimits.filter(({ kind, priority }) => kind === 'range' && priority === 'high')) {
      expect(limit.onDelayS, limit.id).toBe(0);
      expect(limit.offDelayS, limit.id).toBeGreaterThan(0);
      expect(limit.deadband, limit.id).toBeGreaterThan(0);
    }
  });

  it('watch every quantity a probe can measure for silence and fault', () => {
    for (const name of drumChannels) {
      for (const kind of ['silence', 'fault'] as const) expect(defaultLimits.filter((limit) => limit.kind === kind && limit.quantity === channels[name].quantity), `${kind} of ${name}`).toHaveLength(1);
    }
  });

  it('keep every range limit in the unit of its channel', () => {
    const ranges = defaultLimits.filter(({ kind }) => kind === 'range');
    const strange = ranges.filter(({ quantity, unit }) => !drumChannels.some((name) => channels[name].quantity === quantity && channels[name].unit === unit));
    expect(ranges).not.toEqual([]);
    expect(strange).toEqual([]);
  });

  // Temperature of fermenting olives: 12 least, below 15 slow, 25 high, 30 alarm. An assumption drawn from practice advice (blocked below 15 °C,
  // risk above 25 °C), Int. J. Food Microbiol. 1999, 51:133 (12 to 15 °C still work) and Tassou et al. 2002 (25 °C best in one trial).
  it('of temperature in kept brine', () => {
    expect(edges(inForce({ style: 'kept-brine' }), 'temperature')).toEqual([['below', 15, 'low'], ['below', 12, 'medium'], ['above', 25, 'medium'], ['above', 30, 'high']]);
  });

  // Water and brine under 6 %: below 5 °C slow, above 20 °C caution, above 25 °C alarm (assumption: this stage has no acid barrier).
  it('of temperature in water, and in a leach in weak brine', () => {
    const weak = [['below', 5, 'low'], ['above', 20, 'medium'], ['above', 25, 'high']];
    expect(edges(inForce({ style: 'water-then-brine', saltGPerL: 0 }), 'temperature')).toEqual(weak);
    expect(edges(inForce({ style: 'changed-brine', saltGPerL: weakBrineGPerL - 1 }), 'temperature')).toEqual(weak);
  });

  it('of temperature in a leach at full strength', () => {
    expect(edges(inForce({ style: 'changed-brine', saltGPerL: weakBrineGPerL }), 'temperature')).toEqual([['below', 5, 'low'], ['above', 25, 'medium'], ['above', 30, 'high']]);
  });

  // Ruiz Bellido et al. 2017, Front. Microbiol. 8:2326, Table 6 (NaCl in % weight by volume): above 6.0 best, below 5.0 worst;
  // above 8 % lactic bacteria are inhibited (Garrido Fernández et al. 1996).
  it('of salt in kept brine', () => {
    expect(edges(inForce({ style: 'kept-brine' }), 'salinity')).toEqual([['below', 60, 'medium'], ['below', 50, 'high'], ['above', 80, 'note'], ['above', 100, 'low']]);
  });

  // CXS 66-1981 (read in a national adoption, South Africa R.589 reg. 10): natural olives pH at most 4.3, salt at least 6.0 %; 21 CFR 114.3: 4.6.
  it('of pH and salt in fruit that waits for its jars', () => {
    expect(edges(inForce({ style: 'kept-brine' }, taste), 'ph')).toEqual([['above', 4.3, 'medium'], ['above', 4.6, 'high']]);
    expect(edges(inForce({ style: 'changed-brine' }, taste), 'ph')).toEqual([['above', 4.6, 'medium']]);
    expect(edges(inForce({ style: 'kept-brine' }, taste), 'salinity')).toEqual([['below', 60, 'medium']]);
  });

  it('let 31 °C raise a high alert with any batch, in every stage in the drum', () => {
    const seen = new Set<Stage | null>();
    for (const style of cureStyles) {
      for (const saltGPerL of [0, 40, 60, 100]) {
        for (const act of [undefined, taste]) {
          const limits = inForce({ style, saltGPerL }, act);
          const hot = limits.filter((limit) => limit.kind === 'range' && limit.quantity === 'temperature' && limit.high !== null && limit.high < 31 - channels.temperature.uncertainty && limit.priority === 'high' && limit.onDelayS === 0);
          expect(hot.length, `${style} at ${saltGPerL}`).toBeGreaterThan(0);
          for (const { stage } of hot) seen.add(stage);
        }
      }
    }
    expect([...seen].map(String).sort()).toEqual(['ferment', 'hold', 'leach', 'soak']);
  });
});

describe('limits in force', () => {
  it('are none in an empty drum, and none once the fruit is in jars', () => {
    const book = createShedBook();
    const lot = openDrum(book, start);
    expect(limitsInForce(book.shed.limitChanges, 'barrel-1', null, now)).toEqual([]);
    book.write('jarred', { lot, at: toRfc3339(start), jars: 40, jarMl: 720, brine: 'fresh', ingredients: [] }, start);
    expect(limitsInForce(book.shed.limitChanges, 'barrel-1', book.shed.batches.get(lot) ?? null, now)).toEqual([]);
  });

  it('hold the hygiene limits of changes in water and weak brine only (24 h home curing guidance; 48 h assumption)', () => {
    const hygiene = (limits: readonly Limit[]) => limits.filter(({ quantity }) => quantity === 'brine-age').map(({ high, priority }) => [high, priority]);
    const strict = [[24, 'medium'], [48, 'high']];
    expect(hygiene(inForce({ style: 'water-then-brine', saltGPerL: 0 }))).toEqual(strict);
    expect(hygiene(inForce({ style: 'changed-brine', saltGPerL: 30 }))).toEqual(strict);
    expect(hygiene(inForce({ style: 'changed-brine', saltGPerL: 30 }, taste))).toEqual(strict);
    expect(hygiene(inForce({ style: 'changed-brine', saltGPerL: 100 }))).toEqual([]);
    expect(hygiene(inForce({ style: 'kept-brine', saltGPerL: 50 }))).toEqual([]);
  });

  it('follow the strength of the brine as it is poured', () => {
    const salted = inForce({ style: 'water-then-brine', saltGPerL: 0 }, (lot, write) => void write('brine-changed', { lot, at: toRfc3339(start), brineL: 27, saltGPerL: 100 }, start));
    expect(edges(salted, 'temperature').at(-1)).toEqual(['above', 30, 'high']);
    const thinned = inForce({ style: 'changed-brine', saltGPerL: 60 }, (lot, write) => void write('brine-topped-up', { lot, at: toRfc3339(start), brineL: 3, saltGPerL: 0 }, start));
    expect(edges(thinned, 'temperature').at(-1)).toEqual(['above', 25, 'high']);
  });

  it('take changes for the site, and for one drum before those', () => {
    const book = createShedBook();
    const lot = openDrum(book, start);
    book.write('limit-set', { limit: 'ferment-temperature-danger', drum: null, change: { high: 28, source: 'house rule' } }, start);
    book.write('limit-set', { limit: 'ferment-temperature-danger', drum: 'barrel-1', change: { high: 27 } }, start);
    const of = (drum: string | null) => limitsOf(book.shed.limitChanges, drum).find(({ id }) => id === 'ferment-temperature-danger');
    expect(of(null)).toMatchObject({ high: 28, source: 'house rule', priority: 'high' });
    expect(of('barrel-1')).toMatchObject({ high: 27, source: 'house rule' });
    expect(of('barrel-2')).toMatchObject({ high: 28 });
    const standing = limitsInForce(book.shed.limitChanges, 'barrel-1', book.shed.batches.get(lot) ?? null, now);
    expect(standing.find(({ id }) => id === 'ferment-temperature-danger')).toMatchObject({ high: 27 });
  });

  it('show the strictest on each side', () => {
    const { low, high } = strictest(inForce({ style: 'kept-brine' }), 'temperature');
    expect([low?.low, high?.high]).toEqual([15, 25]);
    // A note is written down, not a side of the safe range.
    expect(strictest(inForce({ style: 'kept-brine' }), 'salinity').high?.high).toBe(100);
    expect(strictest([], 'temperature')).toEqual({ low: null, high: null });
  });

  it('never mix styles', () => {
    const styles = new Set(inForce({ style: 'kept-brine' }, taste).map(({ style }) => style));
    expect([...styles].every((style: CureStyle | null) => style === null || style === 'kept-brine')).toBe(true);
  });
});
