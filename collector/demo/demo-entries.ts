import type { ActKind, Draft, EntryBodies, Lot } from '#domain/journal/entry.ts';
import { byCollector, byUser } from '#domain/journal/entry.ts';
import type { PickShare } from '#domain/journal/pick-entries.ts';
import { localDate } from '#domain/cure/stage.ts';
import type { EpochMs } from '#domain/units/time.ts';
import { dayMs, hourMs, minuteMs, toRfc3339 } from '#domain/units/time.ts';
import { airProbe, iceOffsetsC } from './demo-series.ts';
import { demoPicks } from './demo-picks.ts';
import { tastedScores } from './demo-tastings.ts';
import { localTime } from './local-time.ts';
import type { Signal } from './physics/signal.ts';
import type { DatedBatch, DatedStory } from './season-plan.ts';
import type { ShedCourses } from './shed-physics.ts';
import { bought, demoStores } from './demo-stores.ts';
import { demoTreeLoads } from './demo-trees.ts';
import { cupMeter, cupMeterPoints, jarReadings, jars } from './demo-jars.ts';
import { demoDrums, demoSite, roles, saltAddition } from './story.ts';
import type { TimedDraft } from './timed-draft.ts';

export interface LotRequest {
  /** 1 for the first batch of the season. */
  readonly number: number;
  readonly drum: string;
  readonly startedAt: EpochMs;
}

const owner = byUser('owner');
/** Acts are written down when the hands are dry. */
const writtenAfterMs = 4 * minuteMs;

/** Every act of the season, oldest first, none written later than now. */
export const demoEntries = (story: DatedStory, shed: ShedCourses, lotFor: (request: LotRequest) => Lot): readonly TimedDraft[] => {
  const picks = demoPicks(story);
  const entries = [...setUp(story), ...demoStores(story.start), ...picks.entries, ...expectedAir(story)];
  const inOrder = story.batches.toSorted((one, other) => one.startedAt - other.startedAt);
  for (const [index, batch] of inOrder.entries()) {
    const lot = lotFor({ number: index + 1, drum: batch.plan.drum, startedAt: batch.startedAt });
    entries.push(...batchEntries(batch, lot, picks.sharesOf(batch.plan.drum), shed.temperature.get(batch.plan.drum) as Signal, story.now));
    if (batch.plan.drum === roles.fermenting) entries.push(...fermentEntries(batch, lot, shed, story));
    if (batch.plan.drum === roles.silent) entries.push(topUp(lot, story));
    if (batch.plan.drum === roles.forgotten) entries.push(jarOrder(lot, story));
    if (batch.plan.drum === roles.jarred) entries.push(...jarEntries(batch, lot, story));
  }
  return entries.toSorted((one, other) => one.time - other.time);
};

const setUp = function* ({ start, zone, batches }: DatedStory): Generator<TimedDraft> {
  yield { time: start, draft: { who: byCollector, kind: 'site-opened', body: { site: demoSite.slug, name: demoSite.name, zone } } };
  let time = start + 5 * minuteMs;
  for (const { id, name, volumeL } of demoDrums) {
    yield { time, draft: { who: owner, kind: 'drum-added', body: { id, name, volumeL, insulated: false } } };
    time += minuteMs;
  }
  const firstPick = Math.min(...batches.map(({ pickedAt }) => pickedAt));
  for (const body of demoTreeLoads(firstPick, zone)) yield { time, draft: { who: owner, kind: 'tree-load', body } };
  for (const [probe, readingC] of Object.entries(iceOffsetsC)) {
    if (probe === airProbe) continue;
    time += minuteMs;
    yield { time, draft: { who: owner, kind: 'calibrated', body: { probe, kind: 'ice-point', readingC, referenceC: 0, at: toRfc3339(time) } } };
  }
};

const batchEntries = function* (batch: DatedBatch, lot: Lot, picks: readonly PickShare[], temperature: Signal, now: EpochMs): Generator<TimedDraft> {
  const { plan, pickedAt, startedAt } = batch;
  const { drum, probe, variety, trees, cut, style, maturity, fruitKg, brineL, saltGPerL, acid } = plan;
  yield {
    time: startedAt + writtenAfterMs,
    draft: {
      who: owner,
      kind: 'batch-opened',
      body: { lot, drum, pickedAt: toRfc3339(pickedAt), startedAt: toRfc3339(startedAt), cut, style, maturity, variety, trees, fruitKg, brineL, saltGPerL, ...(acid && { acid }), picks, lots: [...(saltGPerL > 0 ? [bought.firstSalt] : []), ...(acid ? [bought.vinegar] : [])] },
    },
  };
  const watched = drum === roles.fermenting ? (['temperature', 'ph', 'salinity'] as const) : (['temperature'] as const);
  for (const [index, channel] of watched.entries())
    yield { time: startedAt + writtenAfterMs + (index + 1) * minuteMs, draft: { who: owner, kind: 'placed', body: { probe, channel, drum, from: toRfc3339(startedAt) } } };
  for (const change of batch.changes) yield act('brine-changed', { lot, at: change.at, brineL, saltGPerL: change.saltGPerL, ...(change.saltGPerL > 0 && { lots: [bought.laterSalt] }) }, now);
  for (const [index, bitterness] of tastedScores(batch, temperature).entries()) {
    const tasting = batch.tastings[index] as DatedBatch['tastings'][number];
    yield act('tasted', { lot, ...tasting, bitterness }, now);
  }
  for (const { at, gPerL } of batch.saltChecks) yield act('measured', { lot, at, quantity: 'salinity', value: gPerL, instrument: 'refractometer' }, now);
};

/** Two warm days are expected: typed in the evening before, from a weather forecast. */
const expectedAir = ({ now, zone }: DatedStory): readonly TimedDraft[] =>
  [1, 2].map((days): TimedDraft => {
    const day = localDate(now, zone).add({ days }).toString();
    return { time: localTime(now, zone, 1, '20:10') + days * minuteMs, draft: { who: owner, kind: 'air-forecast', body: { day, lowC: 20, highC: 29 } } };
  });

type TimedAct<Kind extends ActKind> = Omit<EntryBodies[Kind], 'at'> & { at: EpochMs };

const act = <Kind extends ActKind>(kind: Kind, body: TimedAct<Kind>, now: EpochMs): TimedDraft => ({
  time: Math.min(body.at + writtenAfterMs, now),
  draft: { who: owner, kind, body: { ...body, at: toRfc3339(body.at) } } as Draft,
});

/** A kept brine is measured twice a week; the electrode is calibrated on the first day, the second, and then weekly. */
const fermentEntries = function* ({ plan, startedAt }: DatedBatch, lot: Lot, shed: ShedCourses, story: DatedStory): Generator<TimedDraft> {
  const { now, zone } = story;
  const at = (daysAgo: number, clock: string): EpochMs => localTime(now, zone, daysAgo, clock);
  for (const [index, daysAgo] of [26, 25, 18, 11, 4].entries()) {
    const time = at(daysAgo, daysAgo === 26 ? '14:40' : '09:00');
    yield { time, draft: { who: owner, kind: 'calibrated', body: { probe: plan.probe, kind: 'ph', points: electrodePoints(index), lots: [bought.neutralBuffer, bought.acidBuffer], temperatureC: 20, at: toRfc3339(time) } } };
  }
  for (const daysAgo of [25, 22, 18, 15, 11, 8, 4, 1]) {
    const measuredAt = at(daysAgo, '09:20');
    yield act('measured', { lot, at: measuredAt, quantity: 'ph', value: Math.round(shed.ph(measuredAt) * 20) / 20, instrument: cupMeter }, now);
  }
  const saltBefore = at(saltAddition.daysAgo, '08:50');
  yield act('measured', { lot, at: saltBefore, quantity: 'salinity', value: Math.round(shed.salinity(saltBefore)), instrument: 'refractometer', note: 'the fruit has taken its share' }, now);
  yield act('salt-added', { lot, at: story.saltAddedAt, saltG: saltAddition.saltG, lots: [bought.laterSalt], note: 'dissolved in two litres of its own brine, stirred' }, now);
  const saltAfter = startedAt + 14 * dayMs + 17 * hourMs;
  yield act('measured', { lot, at: saltAfter, quantity: 'salinity', value: Math.round(shed.salinity(saltAfter)), instrument: 'refractometer' }, now);
  yield act('observed', { lot, at: at(9, '09:00'), sign: 'film', note: 'thin and white, at the rim only' }, now);
  yield act('skimmed', { lot, at: at(9, '09:10') }, now);
};

/** Slope sinks from 97.5 % of the Nernst slope (58.16 mV per pH at 20 °C) as the electrode ages; offset a few millivolts. */
const electrodePoints = (age: number): { ph: number; mv: number }[] => {
  const slope = 58.16 * (0.975 - 0.004 * age);
  const offset = -4 - 0.6 * age;
  return [7.02, 4.0].map((ph) => ({ ph, mv: Math.round((offset + slope * (7 - ph)) * 10) / 10 }));
};

const topUp = (lot: Lot, { now, zone }: DatedStory): TimedDraft => act('brine-topped-up', { lot, at: localTime(now, zone, 2, '08:20'), brineL: 0.8, saltGPerL: 80, lots: [bought.laterSalt] }, now);

/** Jars for what may be sweet soon: ordered in one go, for all that was due by then. */
const jarOrder = (lot: Lot, { now, zone }: DatedStory): TimedDraft => ({ time: localTime(now, zone, 12, '19:20'), draft: { who: owner, kind: 'task-done', body: { task: `${lot}-order-jars-1`, entry: null } } });

const jarEntries = function* ({ plan, jarredAt }: DatedBatch, lot: Lot, { now, zone }: DatedStory): Generator<TimedDraft> {
  const at = jarredAt as EpochMs;
  yield act('measured', { lot, at: at - hourMs, quantity: 'ph', value: 4.55, instrument: cupMeter, note: 'the brine, before the jars' }, now);
  yield act('jarred', { lot, at, ...jars }, now);
  yield act('hold', { lot, at, reason: 'packed with its brine at pH 4.55: on hold until the packed jars are inside' }, now);
  yield { time: at + 2 * writtenAfterMs, draft: { who: owner, kind: 'placed', body: { probe: plan.probe, channel: 'temperature', drum: null, from: toRfc3339(at) } } };
  yield { time: localTime(now, zone, 12, '10:15'), draft: { who: owner, kind: 'task-done', body: { task: `${lot}-print-labels-1`, entry: null } } };
  for (const { daysAgo, clock, ...reading } of jarReadings) yield act('jar-ph', { lot, at: localTime(now, zone, daysAgo, clock), instrument: cupMeter, ...reading }, now);
  for (const daysAgo of new Set(jarReadings.map((reading) => reading.daysAgo))) {
    const time = localTime(now, zone, daysAgo, '16:10');
    yield { time, draft: { who: owner, kind: 'calibrated', body: { probe: cupMeter, kind: 'ph', points: cupMeterPoints, lots: [bought.neutralBuffer, bought.acidBuffer], temperatureC: 20, at: toRfc3339(time) } } };
  }
  yield act('release', { lot, at: localTime(now, zone, 8, '17:00'), by: 'the grower' }, now);
  yield act('distributed', { lot, at: localTime(now, zone, 6, '09:00'), to: 'village shop, to rest there until the date on the label', jars: 12 }, now);
};
