import { openHolds } from '../jar/holds.ts';
import { jarGateOf } from '../jar/jar-evidence.ts';
import { packedJarRule } from '../jar/packed-jar-rule.ts';
import { isAct, type Batch, type Shed } from '../journal/shed.ts';
import { hourMs, type EpochMs } from '../units/time.ts';
import { localMorning, stepId, type Outcomes, type Step } from './schedule.ts';
import { localDate, restOver } from './stage.ts';

/** What is to be done with a lot in jars: labelled before one can be taken for another, its packed jars measured until they tell, its rest waited for, its record read. */
export const jarStepsOf = (shed: Shed, batch: Batch, jarredAt: EpochMs, outcomes: Outcomes, now: EpochMs, zone: string): Step[] =>
  [holdStep(batch, outcomes, now), labelStep(batch, jarredAt, outcomes, zone), measureStep(shed, batch, jarredAt, outcomes, now, zone), afterRestStep(batch, jarredAt, outcomes, now, zone)].filter((step) => step !== null);

/** A hold asks for an answer from the moment it stands; one for each hold, numbered by its entry, so that leaving it out once is not leaving it out for good. */
export const holdStep = (batch: Batch, outcomes: Outcomes, now: EpochMs): Step | null => {
  const last = openHolds(batch.acts, now).at(-1);
  if (last === undefined) return null;
  const id = stepId(batch.lot, 'settle-hold', last.entry);
  return outcomes.of(id) === undefined ? { id, kind: 'settle-hold', ordinal: last.entry, dueAt: last.at } : null;
};

/**
 * The next pH of packed jars, when it can tell something: 24 h after packing, 48 h after an earlier one, or the morning after a reading
 * that asks for another. Numbered by the readings so far. None where jars are inside, or where only acid would help.
 */
const measureStep = (shed: Shed, batch: Batch, jarredAt: EpochMs, outcomes: Outcomes, now: EpochMs, zone: string): Step | null => {
  const next = jarGateOf(batch, { calibrations: shed.calibrations, zone, now })?.next ?? null;
  if (next === null || next.code === 'add-acid') return null;
  const readings = batch.acts.filter(isAct('jar-ph')).filter(({ at }) => at <= now);
  const from = 'from' in next ? next.from : Math.max(jarredAt + packedJarRule.hoursAfterPacking * hourMs, readings.at(-1)?.at ?? jarredAt);
  const ordinal = readings.length + 1;
  const id = stepId(batch.lot, 'measure-jars', ordinal);
  const outcome = outcomes.of(id);
  const settled = outcome !== undefined && (outcome.kind === 'skipped' || outcome.entry === null || outcomes.standing(outcome.entry) !== undefined);
  return settled ? null : { id, kind: 'measure-jars', ordinal, dueAt: firstMorning(from, zone) };
};

/** A jar without its lot code belongs to no record: labels on the morning after the jars were filled. */
const labelStep = (batch: Batch, jarredAt: EpochMs, outcomes: Outcomes, zone: string): Step | null => {
  const id = stepId(batch.lot, 'print-labels', 1);
  return outcomes.of(id) === undefined ? { id, kind: 'print-labels', ordinal: 1, dueAt: firstMorning(jarredAt, zone) } : null;
};

/** While the jars rest, the day until which they do; from then on one look at every lid, and the record. */
const afterRestStep = (batch: Batch, jarredAt: EpochMs, outcomes: Outcomes, now: EpochMs, zone: string): Step | null => {
  const dueAt = firstMorning(restOver(jarredAt), zone);
  const kind = now < restOver(jarredAt) ? 'rest' : 'review';
  const id = stepId(batch.lot, kind, 1);
  return outcomes.of(id) === undefined ? { id, kind, ordinal: 1, dueAt } : null;
};

/** The first local morning that is not before a time. */
export const firstMorning = (at: EpochMs, zone: string): EpochMs => {
  const day = localDate(at, zone);
  const morning = localMorning(day, zone);
  return morning >= at ? morning : localMorning(day.add({ days: 1 }), zone);
};
