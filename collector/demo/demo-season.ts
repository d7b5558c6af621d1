import type { Lot } from '#domain/journal/entry.ts';
import type { Reading } from '#domain/reading/reading.ts';
import { judgeValue } from '#domain/reading/admit.ts';
import type { EpochMs } from '#domain/units/time.ts';
import type { LotRequest } from './demo-entries.ts';
import { demoEntries } from './demo-entries.ts';
import type { DemoSeries } from './demo-series.ts';
import { demoSeries, speaks } from './demo-series.ts';
import { dateStory } from './season-plan.ts';
import { shedCourses } from './shed-physics.ts';
import { demoSite } from './story.ts';
import type { TimedDraft } from './timed-draft.ts';

export interface DemoSeasonOptions {
  readonly now: EpochMs;
  readonly zone: string;
  readonly lotFor: (request: LotRequest) => Lot;
  readonly seed?: number;
}

/** The whole demo shed for one moment: what was written, and what every probe said and will say. */
export interface DemoSeason {
  readonly site: { readonly slug: string; readonly name: string; readonly zone: string };
  readonly start: EpochMs;
  readonly now: EpochMs;
  /** Oldest first, none later than `now`. */
  readonly entries: readonly TimedDraft[];
  readonly series: readonly DemoSeries[];
  readonly powerCut: { readonly from: EpochMs; readonly to: EpochMs };
}

const defaultSeed = 7;

export const buildDemoSeason = ({ now, zone, lotFor, seed = defaultSeed }: DemoSeasonOptions): DemoSeason => {
  const story = dateStory(now, zone);
  const shed = shedCourses(story, seed);
  return {
    site: { ...demoSite, zone },
    start: story.start,
    now,
    entries: demoEntries(story, shed, lotFor),
    series: demoSeries(story, shed, seed),
    powerCut: story.powerCut,
  };
};

/** What the probe says when its supply returns, before its first measurement (DS18B20 data sheet). */
const powerOnC = 85;

/** The readings of a span, step by step over all series, oldest first; `from <= at < to`. Each probe keeps its own second of the step. */
export const readingsBetween = function* (season: DemoSeason, from: EpochMs, to: EpochMs, stepMs: number): Generator<Reading> {
  const { series, powerCut } = season;
  const probes = [...new Set(series.map(({ probe }) => probe))];
  const delays = series.map(({ probe }) => Math.floor((probes.indexOf(probe) * stepMs) / probes.length));
  const first = Math.floor(from / stepMs) * stepMs;
  for (let step = first; step < to; step += stepMs) {
    for (const [index, one] of series.entries()) {
      const at = step + (delays[index] as number);
      if (at < from || at >= to || !speaks(one, at) || (at >= powerCut.from && at < powerCut.to)) continue;
      const isPowerOn = one.channel === 'temperature' && at - powerCut.to >= 0 && at - powerCut.to < stepMs;
      const value = isPowerOn ? powerOnC : one.valueAt(at);
      yield { series: one.id, at, value, quality: judgeValue(one.channel, value) };
    }
  }
};
