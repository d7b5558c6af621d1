import { nothingAnnounced } from '../announce/announced.ts';
import { scheduleKey } from '../cure/own-schedules.ts';
import type { Slug } from '../reading/reading.ts';
import { seriesId } from '../reading/reading.ts';
import type { LimitChange } from '../rules/limit.ts';
import { fromRfc3339 } from '../units/time.ts';
import { isActKind, type ActKind, type Entry, type EntryKind, type EntryOf } from './entry.ts';
import { projectAhead } from './project-ahead.ts';
import { isAlertEntry, projectAlert } from './project-alert.ts';
import { isOutletEntry, projectAnnounce } from './project-announce.ts';
import { isServiceEntry, projectService } from './project-service.ts';
import { correctAct, openBatch, writeAct } from './project-batch.ts';
import { isCheckEntry, projectChecks } from './project-checks.ts';
import { projectDeviation } from './project-deviation.ts';
import { amendPick, pickFruit, sortPick } from './project-pick.ts';
import { isInspectionEntry, noInspections, projectInspection } from './project-inspection.ts';
import { projectStores, isStoresEntry } from './project-stores.ts';
import { withEntry, withoutEntry } from './map.ts';
import type { Drum, Shed } from './shed.ts';
import { withSeal } from './sealed-days.ts';
import { withKeyOf } from './written-keys.ts';

/** A shed of which nothing has been written yet. */
export const emptyShed: Shed = {
  sequence: 0,
  site: null,
  drums: new Map(),
  placements: new Map(),
  batches: new Map(),
  picks: new Map(),
  ingredients: new Map(),
  producer: null,
  recallExercises: [],
  lastBackupAt: null,
  retiredLots: new Set(),
  limitChanges: { site: new Map(), drums: new Map(), outOfService: new Map() },
  schedules: new Map(),
  openAlerts: new Map(),
  pastAlerts: null,
  treeLoads: new Map(),
  alertActions: new Map(),
  outlets: new Map(),
  announced: nothingAnnounced,
  taskOutcomes: new Map(),
  calibrations: new Map(),
  instruments: new Map(),
  doubtDecisions: [],
  checkSettings: {},
  deviations: [],
  recalls: [],
  reviews: [],
  airDays: new Map(),
  questions: new Map(),
  probePasswords: new Map(),
  imports: new Map(),
  inspections: noInspections,
  writtenKeys: null,
  seals: { publicKey: null, days: [], lastAt: null },
};

/**
 * State of the shed after one more entry: pure, total, and the same whoever runs it and in however many pieces.
 * An entry that names something unknown (a lot that was never opened) changes nothing but the sequence: the journal is never edited.
 */
export const project = (shed: Shed, entry: Entry): Shed => {
  // Entries come in order; one already taken in changes nothing.
  if (entry.sequence <= shed.sequence) return shed;
  return { ...projectDeviation(reduce(shed, entry), shed, entry), sequence: entry.sequence, writtenKeys: withKeyOf(shed.writtenKeys, entry) };
};

export const projectAll = (entries: Iterable<Entry>, from: Shed = emptyShed): Shed => {
  let shed = from;
  for (const entry of entries) shed = project(shed, entry);
  return shed;
};

const is = <Kind extends EntryKind>(entry: Entry, kind: Kind): entry is EntryOf<Kind> => entry.kind === kind;

const reduce = (shed: Shed, entry: Entry): Shed => {
  if (isActKind(entry.kind)) return writeAct(shed, entry as EntryOf<ActKind>);
  if (is(entry, 'site-opened')) return { ...shed, site: entry.body };
  if (is(entry, 'drum-added')) return { ...shed, drums: withEntry(shed.drums, entry.body.id, { ...entry.body, lot: null, revision: entry.sequence }) };
  if (is(entry, 'placed')) return place(shed, entry);
  if (isCheckEntry(entry)) return projectChecks(shed, entry);
  if (is(entry, 'limit-set')) return setLimit(shed, entry);
  if (is(entry, 'schedule-set')) return setSchedule(shed, entry);
  if (is(entry, 'batch-opened')) return openBatch(shed, entry);
  if (is(entry, 'picked')) return pickFruit(shed, entry);
  if (is(entry, 'pick-amended')) return amendPick(shed, entry);
  if (is(entry, 'sorted')) return sortPick(shed, entry);
  if (is(entry, 'corrected')) return correctAct(shed, entry);
  if (isAlertEntry(entry)) return projectAlert(shed, entry);
  if (isInspectionEntry(entry)) return { ...shed, inspections: projectInspection(shed.inspections, entry) };
  if (isStoresEntry(entry)) return projectStores(shed, entry);
  if (isServiceEntry(entry)) return projectService(shed, entry);
  if (isOutletEntry(entry)) return projectAnnounce(shed, entry);
  if (is(entry, 'tree-load')) return { ...shed, treeLoads: withEntry(shed.treeLoads, `${entry.body.tree} ${entry.body.year}`, entry.body) };
  if (is(entry, 'task-done')) {
    return { ...shed, taskOutcomes: withEntry(shed.taskOutcomes, entry.body.task, { kind: 'done', entry: entry.body.entry, at: fromRfc3339(entry.time), by: entry.who }) };
  }
  if (is(entry, 'task-skipped')) {
    return { ...shed, taskOutcomes: withEntry(shed.taskOutcomes, entry.body.task, { kind: 'skipped', reason: entry.body.reason, at: fromRfc3339(entry.time), by: entry.who }) };
  }
  if (is(entry, 'probe-password-set')) {
    const { probe, digest } = entry.body;
    return { ...shed, probePasswords: digest === null ? withoutEntry(shed.probePasswords, probe) : withEntry(shed.probePasswords, probe, digest) };
  }
  if (is(entry, 'import-ordered')) return { ...shed, imports: withEntry(shed.imports, entry.body.id, { ...entry.body, by: entry.who, orderedAt: entry.time, finished: null }) };
  if (is(entry, 'import-finished')) {
    const ordered = shed.imports.get(entry.body.id);
    return ordered === undefined ? shed : { ...shed, imports: withEntry(shed.imports, ordered.id, { ...ordered, finished: entry.body }) };
  }
  if (is(entry, 'key-made')) return { ...shed, seals: { ...shed.seals, publicKey: entry.body.publicKey } };
  if (is(entry, 'day-sealed')) return { ...shed, seals: { ...shed.seals, days: withSeal(shed.seals.days, entry), lastAt: fromRfc3339(entry.time) } };
  if (is(entry, 'air-forecast') || is(entry, 'question-asked') || is(entry, 'question-answered')) return projectAhead(shed, entry);
  // User acts are written for the record; who may do what is not a matter of the shed.
  return shed;
};

const place = (shed: Shed, entry: EntryOf<'placed'>): Shed => {
  const { probe, channel, drum, from } = entry.body;
  const series = seriesId(probe, channel);
  const placement = { probe, channel, drum, from: fromRfc3339(from) };
  // A placement holds from its time on: what was said earlier about later times is overruled by what is said last.
  const kept = (shed.placements.get(series) ?? []).filter((earlier) => earlier.from < placement.from);
  const touched = [...(shed.placements.get(series) ?? []).map((earlier) => earlier.drum), drum];
  return { ...shed, placements: withEntry(shed.placements, series, [...kept, placement]), drums: touched.reduce((drums, id) => touch(drums, id, entry.sequence), shed.drums) };
};

const setLimit = (shed: Shed, entry: EntryOf<'limit-set'>): Shed => {
  const { limit, drum, change } = entry.body;
  const { site, drums } = shed.limitChanges;
  if (drum === null) return { ...shed, limitChanges: { ...shed.limitChanges, site: withEntry(site, limit, { ...site.get(limit), ...change }) } };
  const own = drums.get(drum) ?? new Map<string, LimitChange>();
  return {
    ...shed,
    limitChanges: { ...shed.limitChanges, drums: withEntry(drums, drum, withEntry(own, limit, { ...own.get(limit), ...change })) },
    drums: touch(shed.drums, drum, entry.sequence),
  };
};

const setSchedule = (shed: Shed, { body, who, time }: EntryOf<'schedule-set'>): Shed => {
  const { style, medium, steps } = body;
  const key = scheduleKey(style, medium);
  return { ...shed, schedules: steps === null ? withoutEntry(shed.schedules, key) : withEntry(shed.schedules, key, { style, medium, steps, by: who, at: time }) };
};

const touch = (drums: ReadonlyMap<Slug, Drum>, id: Slug | null, revision: number): ReadonlyMap<Slug, Drum> => {
  const drum = id === null ? undefined : drums.get(id);
  return drum === undefined ? drums : withEntry(drums, drum.id, { ...drum, revision });
};
