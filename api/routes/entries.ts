import type { NewEntry } from '#contract';
import { inDrum } from '#domain/cure/batch.ts';
import { stageAt } from '#domain/cure/stage.ts';
import { byUser, type Draft, type EntryReplacement } from '#domain/journal/entry.ts';
import type { Batch, StoryAct } from '#domain/journal/shed.ts';
import { toRfc3339 } from '#domain/units/time.ts';
import { ApiError } from '../errors.ts';
import type { ShedModel } from '../shed/shed-model.ts';

/** Writes an act (or a correction of one) in a batch's story and gives it back as it stands there. */
export const writeEntry = (model: ShedModel, batch: Batch, entry: NewEntry, user: string): StoryAct => {
  const now = model.clock.now();
  if (entry.kind === 'corrected') return correct(model, batch, entry, user);
  checkTime('at', entry.at, batch, now);
  const { kind, at, ...rest } = entry;
  if (!inDrum.has(stageAt(batch, now)) && kind !== 'observed' && kind !== 'measured') throw new ApiError('wrong-state', `Lot ${batch.lot} has left its drum: ${kind} cannot be written. Correct the jarring first if that was a mistake.`);
  const body = stripUndefined({ lot: batch.lot, at: utc(at), ...rest });
  const [written] = model.write([{ who: byUser(user), kind, body } as Draft]);
  return actIn(model, batch.lot, written?.sequence);
};

const correct = (model: ShedModel, batch: Batch, entry: Extract<NewEntry, { kind: 'corrected' }>, user: string): StoryAct => {
  const wrong = batch.acts.find(({ sequence }) => sequence === entry.entry);
  const refuse = (message: string): ApiError => new ApiError('does-not-fit', `entry: ${message}. Nothing was written.`, [{ path: 'entry', message }]);
  if (wrong === undefined) throw refuse(`entry ${entry.entry} is not an act of lot ${batch.lot}`);
  if (!wrong.standing) throw new ApiError('wrong-state', `Entry ${entry.entry} was corrected already by entry ${wrong.correctedBy ?? ''}. Correct that one.`);
  if (entry.replacement !== null) checkTime('replacement.at', entry.replacement.at, batch, model.clock.now());
  const replacement = entry.replacement === null ? null : (stripUndefined({ ...entry.replacement, at: utc(entry.replacement.at) }) as EntryReplacement);
  const [written] = model.write([{ who: byUser(user), kind: 'corrected', body: { entry: entry.entry, reason: entry.reason, replacement } }]);
  return actIn(model, batch.lot, entry.replacement === null ? entry.entry : written?.sequence);
};

const actIn = (model: ShedModel, lot: string, sequence: number | undefined): StoryAct => {
  const act = model.shed().batches.get(lot)?.acts.find((candidate) => candidate.sequence === sequence);
  if (act === undefined) throw new Error(`entry ${sequence} of lot ${lot} was written and is not in its story`);
  return act;
};

/** Clocks of phones differ a little; further ahead than this an act has not happened yet. */
const mostAheadMs = 10 * 60_000;

const checkTime = (path: string, at: string, batch: Batch, now: number): void => {
  const ms = Date.parse(at);
  const message = ms > now + mostAheadMs ? 'lies in the future' : ms < batch.pickedAt ? 'lies before the pick' : null;
  if (message !== null) throw new ApiError('does-not-fit', `${path}: ${message}. Nothing was written.`, [{ path, message }]);
};

const utc = (time: string): string => toRfc3339(Date.parse(time));

const stripUndefined = <Shape extends object>(shape: Shape): Shape => Object.fromEntries(Object.entries(shape).filter(([, value]) => value !== undefined)) as Shape;
