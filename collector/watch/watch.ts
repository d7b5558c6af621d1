/**
 * Runs the rules on stored readings with a clock, and writes what they say to the journal as alerts raised and returned.
 * May import the domain only. A reading costs the same however long the history is: a map from its series to the conditions it drives.
 */
import type { Draft } from '#domain/journal/entry.ts';
import type { Shed } from '#domain/journal/shed.ts';
import type { Reading, SeriesId, Slug } from '#domain/reading/reading.ts';
import { stepFault } from '#domain/rules/fault.ts';
import { sideOf, stepRange } from '#domain/rules/range.ts';
import { leastSilenceMs } from '#domain/rules/silence.ts';
import type { EpochMs } from '#domain/units/time.ts';
import { adoptSeries, leaveSeries, type Adoption } from './adopt.ts';
import { sayFault, sayRange } from './announce.ts';
import { createExposures } from './exposure.ts';
import { createForesight } from './foresee.ts';
import { createLookout } from './lookout.ts';
import { leaveDrum, ripeDue, watchDrum, type DrumWatch } from './drum.ts';
import type { Restored } from './restore.ts';
import { ripeRanges, ripeSilence, sayInOrder } from './ripe.ts';
import { keepTime, watchSeries, type SeriesWatch } from './series.ts';
import { shelvesOver } from './shelf-over.ts';
import { createSlots } from './slot.ts';

export interface WatchOptions {
  /** Takes drafts in the order they happened. Called at most once a call of the watch, and never with none. */
  readonly append: (drafts: readonly Draft[]) => void;
  /** The zone of the site: schedules fall on its mornings. */
  readonly zone: string;
}

export interface Watch {
  /** Takes over state after a start: open alerts from the journal, running delays from the last readings. */
  restore(from: Restored, now: EpochMs): void;
  /** The journal has grown. */
  follow(shed: Shed, now: EpochMs): void;
  /** Readings just stored. Only those newer than the last of their series are judged; older ones are counted as late. */
  readings(readings: readonly Reading[], now: EpochMs): void;
  /** What comes true by itself: silence, tasks overdue, delays run out. */
  tick(now: EpochMs): void;
  /** A probe has said how often it speaks (SenML update time). */
  announceInterval(series: SeriesId, intervalMs: number): void;
  readonly late: number;
}

export const createWatch = ({ append, zone }: WatchOptions): Watch => {
  const slots = createSlots();
  const watched = new Map<SeriesId, SeriesWatch>();
  const drums = new Map<Slug, DrumWatch>();
  const foresight = createForesight(zone);
  const exposures = createExposures();
  const lookout = createLookout(foresight.means, exposures.of);
  let placedIn: ReadonlyMap<Slug, readonly SeriesWatch[]> = new Map();
  let shed: Shed | null = null;
  let listeningSince: EpochMs | null = null;
  /** When something written for later comes in force: a placement or an act with a time ahead. */
  let refreshAt = Number.POSITIVE_INFINITY;
  let late = 0;

  const flush = (before: readonly Draft[] = []): void => {
    const drafts = [...before, ...slots.take()];
    if (drafts.length > 0) append(drafts);
  };

  const watchOf = (series: SeriesId): SeriesWatch => {
    let watch = watched.get(series);
    if (watch === undefined) watched.set(series, (watch = watchSeries(series)));
    return watch;
  };

  /** Which series watch which drum now. */
  const place = (next: Shed, now: EpochMs): void => {
    const placed = new Map<Slug, SeriesWatch[]>();
    for (const [series, placements] of next.placements) {
      const watch = watchOf(series as SeriesId);
      const begun = placements.filter(({ from }) => from <= now);
      watch.drum = begun.at(-1)?.drum ?? null;
      // Said again for the same drum, a placement goes on.
      const run = begun.slice(begun.findLastIndex(({ drum }) => drum !== watch.drum) + 1);
      watch.placedFrom = run[0]?.from ?? 0;
      if (watch.drum !== null) placed.set(watch.drum, [...(placed.get(watch.drum) ?? []), watch]);
    }
    placedIn = placed;
  };

  const nextRefresh = (next: Shed, now: EpochMs): EpochMs => {
    let at = Number.POSITIVE_INFINITY;
    for (const placements of next.placements.values()) for (const { from } of placements) if (from > now) at = Math.min(at, from);
    for (const { lot } of next.drums.values()) {
      for (const act of (lot === null ? undefined : next.batches.get(lot))?.acts ?? []) if (act.at > now) at = Math.min(at, act.at);
    }
    return at;
  };

  const refresh = (next: Shed, now: EpochMs, restored: Restored | null): void => {
    const before = refreshAt <= now ? null : shed;
    slots.follow(next);
    shed = next;
    listeningSince ??= now;
    const moved = next.placements !== before?.placements;
    const everywhere = moved || next.limitChanges !== before.limitChanges || next.schedules !== before.schedules || next.taskOutcomes !== before.taskOutcomes;
    if (moved) place(next, now);
    const inputs = { shed: next, slots, zone, now, restoring: restored !== null };
    // What begins comes before what ends, so that an excursion seen by a second probe outlasts the first.
    const ending: (() => void)[] = [];
    const adoptions: Adoption[] = [];
    for (const drum of next.drums.values()) {
      const old = drums.get(drum.id);
      const same = !everywhere && old?.drum === drum && old.batch === (drum.lot === null ? null : (next.batches.get(drum.lot) ?? null));
      if (same) continue;
      const placed = placedIn.get(drum.id) ?? [];
      const watch = watchDrum(drum, placed, old, inputs);
      drums.set(drum.id, watch);
      if (old !== undefined) {
        ending.push(() => {
          leaveDrum(old, watch, slots, now);
          if (old.batch !== null && old.batch.lot !== watch.batch?.lot) slots.forget(drum.id, old.batch.lot);
        });
      }
      for (const series of placed) adoptions.push(adoptSeries(series, watch, slots, restored, now));
    }
    if (moved) for (const series of watched.values()) if (series.drum === null || !next.drums.has(series.drum)) adoptions.push(adoptSeries(series, null, slots, restored, now));
    for (const { news } of adoptions) for (const say of news) say();
    for (const { left } of adoptions) leaveSeries(left, slots, now);
    for (const end of ending) end();
    exposures.follow(next, drums, watched, restored?.sixHourMeans ?? null);
    foresight.follow(drums, slots, now, restored !== null);
    lookout.follow(drums, slots, now, restored !== null);
    refreshAt = nextRefresh(next, now);
  };

  const judgeRanges = (watch: SeriesWatch, value: number, at: EpochMs): void => {
    for (const member of watch.ranges) {
      // Nearly every reading is inside and stays so.
      if (member.condition.phase === 'inside' && sideOf(member.limit, watch.uncertainty, value) === null) continue;
      const { condition, events } = stepRange(member.condition, member.limit, watch.uncertainty, value, at);
      member.condition = condition;
      for (const event of events) sayRange(watch, member, event, slots);
    }
  };

  const judge = (reading: Reading, now: EpochMs): void => {
    const watch = watchOf(reading.series);
    const { last, silence, fault } = watch;
    if (last !== null && reading.at <= last.at) {
      if (reading.at < last.at) late += 1;
      return;
    }
    // A silence that went unseen between two ticks is still a silence.
    ripeSilence(watch, slots, listeningSince ?? now, now)?.say();
    watch.last = reading;
    if (reading.quality === 'good') foresight.take(watch, reading);
    keepTime(watch, reading.at);
    watch.heardAt = now - reading.at < leastSilenceMs ? reading.at : now;
    if (watch.drum === null || reading.at < watch.placedFrom) return;
    if (silence !== null && silence.raisedAt !== null) {
      slots.clear(silence.slot, silence, { until: reading.at, at: Math.max(reading.at, silence.raisedAt), peak: null });
      silence.raisedAt = null;
    }
    if (fault !== null) {
      fault.condition = stepFault(fault.condition, reading.quality, reading.at);
      sayFault(watch, fault, reading.at, reading.value, slots);
    }
    if (reading.quality !== 'good') return;
    exposures.take(watch, reading);
    judgeRanges(watch, reading.value, reading.at);
  };

  return {
    restore: (from, now) => {
      listeningSince = now;
      for (const [series, reading] of from.latest) {
        const watch = watchOf(series);
        watch.last = reading;
        watch.heardAt = reading.at;
        watch.timesKept = 0;
        const recent = from.recent(series).filter(({ at }) => at <= reading.at);
        for (const { at } of recent) keepTime(watch, at);
        foresight.restore(watch, from.means?.(series) ?? recent.filter(({ quality }) => quality === 'good').map(({ at, value }) => ({ t: at, mean: value, count: 1 })));
      }
      refresh(from.shed, now, from);
      slots.endOrphans(now);
      flush();
    },

    follow: (next, now) => {
      refresh(next, now, null);
      flush();
    },

    readings: (readings, now) => {
      for (const reading of readings) judge(reading, now);
      flush();
    },

    tick: (now) => {
      if (shed !== null && refreshAt <= now) refresh(shed, now, null);
      const ripe = [...watched.values()].flatMap((watch) => {
        const silence = ripeSilence(watch, slots, listeningSince ?? now, now);
        return silence === null ? ripeRanges(watch, slots, now) : [...ripeRanges(watch, slots, now), silence];
      });
      const foreseen = shed === null ? [] : foresight.ripe(shed, drums, watched, slots, now);
      const found = shed === null ? [] : lookout.ripe(shed, drums, watched, now);
      sayInOrder([...ripe, ...[...drums.values()].flatMap((watch) => ripeDue(watch, slots, now)), ...foreseen, ...found]);
      flush(shed === null ? [] : shelvesOver(shed, now));
    },

    announceInterval: (series, intervalMs) => {
      watchOf(series).announcedIntervalMs = intervalMs;
    },

    get late() {
      return late;
    },
  };
};
