import type { NewEntry } from '#contract';
import { inDrum } from '#domain/cure/batch.ts';
import { stageAt } from '#domain/cure/stage.ts';
import { byUser, type Draft, type EntryReplacement } from '#domain/journal/entry.ts';
import type { Batch, StoryAct } from '#domain/journal/shed.ts';
import { toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { ApiError, unfit } from '../errors.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import { happenedAt } from './times.ts';

/** Writes an act (or a correction of one) in a batch's story and gives it back as it stands there. */
export const writeEntry = (model: ShedModel, batch: Batch, entry: NewEntry, user: string): StoryAct => {
  if (entry.kind === 'corrected') return correct(model, batch, entry, user);
  const { kind, at: _at, ...rest } = entry;
  const at = actTime('at', entry.at, batch, model.clock.now());
  // What was forgotten may be written later; what is said of an empty drum cannot be true.
  if (!inDrum.has(stageAt(batch, at)) && kind !== 'observed' && kind !== 'measured') throw new ApiError('wrong-state', `Lot ${batch.lot} had left its drum by then: ${kind} cannot be written. Correct the jarring first if that was a mistake.`);
  const [written] = model.write([{ who: byUser(user), kind, body: { lot: batch.lot, at: toRfc3339(at), ...rest } } as Draft]);
  return actIn(model, batch.lot, written?.sequence);
};

const correct = (model: ShedModel, batch: Batch, { entry, reason, replacement: given }: Extract<NewEntry, { kind: 'corrected' }>, user: string): StoryAct => {
  const wrong = batch.acts.find(({ sequence }) => sequence === entry);
  if (wrong === undefined) throw unfit('entry', `entry ${entry} is not an act of lot ${batch.lot}`);
  if (!wrong.standing) throw new ApiError('wrong-state', `Entry ${entry} was corrected already by entry ${wrong.correctedBy ?? ''}. Correct that one.`);
  const replacement = given === null ? null : ({ ...given, at: toRfc3339(actTime('replacement.at', given.at, batch, model.clock.now())) } as EntryReplacement);
  const [written] = model.write([{ who: byUser(user), kind: 'corrected', body: { entry, reason, replacement } }]);
  return actIn(model, batch.lot, replacement === null ? entry : written?.sequence);
};

const actIn = (model: ShedModel, lot: string, sequence: number | undefined): StoryAct => {
  const act = model.shed().batches.get(lot)?.acts.find((candidate) => candidate.sequence === sequence);
  if (act === undefined) throw new Error(`entry ${sequence} of lot ${lot} was written and is not in its story`);
  return act;
};

const actTime = (path: string, time: string, batch: Batch, now: EpochMs): EpochMs => {
  const at = happenedAt(path, time, now);
  if (at < batch.pickedAt) throw unfit(path, 'lies before the pick');
  return at;
};
