import type { NewEntry, WrittenEntry } from '#contract';
import { inDrum } from '#domain/cure/batch.ts';
import { stageAt } from '#domain/cure/stage.ts';
import { byUser, type Draft, type EntryReplacement } from '#domain/journal/entry.ts';
import type { Batch, StoryAct } from '#domain/journal/shed.ts';
import { sequenceOfKey } from '#domain/journal/written-keys.ts';
import { toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { ApiError, unfit } from '../errors.ts';
import { holdsOf } from '../shed/jar-view.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import { storyEntryOf } from '../shed/story-view.ts';
import { guardAct, guardJarsGone, without, type ProbePh } from './jar-guards.ts';
import { guardOutcome, guardPlace, guardPlaceCorrection, nextPart, untold } from './place-guards.ts';
import { happenedAt } from './times.ts';

/** Who writes, and the mark by which the same act sent again is known. */
export interface Sender {
  readonly user: string;
  readonly key: string | null;
}

/** Writes an act (or a correction of one) in a batch's story and gives it back as it stands there. What was written before under its key is only given back. */
export const writeEntry = (model: ShedModel, batch: Batch, entry: NewEntry, sender: Sender, probe: ProbePh = null): StoryAct => {
  const { user, key } = sender;
  const before = key === null ? null : writtenBefore(model, batch, entry, key);
  if (before !== null) return before;
  if (entry.kind === 'corrected') return correct(model, batch, entry, sender, probe);
  const { kind, at: _at, writtenAt, ...rest } = entry;
  const at = actTime('at', entry.at, batch, model.clock.now());
  const onPaper = paperTime('writtenAt', writtenAt, at, model.clock.now());
  // What was forgotten may be written later; what is said of an empty drum cannot be true.
  if (!inDrum.has(stageAt(batch, at)) && !alsoOfJars.has(kind)) throw new ApiError('wrong-state', `Lot ${batch.lot} had left its drum by then: ${kind} cannot be written. Correct the jarring first if that was a mistake.`);
  guardPlace(model, batch, entry, at);
  const hold = guardAct(model, batch, entry, at, probe);
  const into = kind === 'split' ? { into: nextPart(model, batch) } : {};
  const act = { who: byUser(user), kind, body: { lot: batch.lot, at: toRfc3339(at), ...onPaper, ...rest, ...into, ...keyed(key) } } as Draft;
  if (kind === 'moved' || kind === 'split') guardOutcome(model.shed(), [act], model.clock.now());
  const [written] = model.write([act, ...holdWith(batch, at, hold, user)]);
  return actIn(model, batch.lot, written?.sequence);
};

/** What may be said of a lot whose fruit is in jars. */
const alsoOfJars: ReadonlySet<NewEntry['kind']> = new Set<NewEntry['kind']>(['observed', 'measured', 'jarred', 'jar-ph', 'hold', 'release', 'distributed', 'jars-noted']);

/** The hold that an act opens, written with it or not at all. */
const holdWith = (batch: Batch, at: EpochMs, reason: string | null, user: string): Draft[] => (reason === null ? [] : [{ who: byUser(user), kind: 'hold', body: { lot: batch.lot, at: toRfc3339(at), reason } }]);

/** The act as it is answered: with the holds it opened, if it did. */
export const answered = (model: ShedModel, act: StoryAct): WrittenEntry => {
  const batch = model.shed().batches.get(act.body.lot);
  const opened = batch === undefined || !act.standing ? [] : holdsOf(batch, model.clock.now()).filter(({ entry }) => entry === act.sequence || (act.kind === 'jarred' && entry === act.sequence + 1));
  return { ...storyEntryOf(model, act), ...(opened.length === 0 ? {} : { holds: opened }) };
};

const keyed = (key: string | null): { readonly key?: string } => (key === null ? {} : { key });

/** The act that came with this key earlier: the answer to it was lost on the way. A key of another act is refused, never guessed about. */
const writtenBefore = (model: ShedModel, batch: Batch, entry: NewEntry, key: string): StoryAct | null => {
  const sequence = sequenceOfKey(model.shed().writtenKeys, key);
  if (sequence === null) return null;
  // A correction stands in the story as what it put in place, or by what it took back.
  const act = batch.acts.find((candidate) => candidate.sequence === sequence) ?? batch.acts.find((candidate) => candidate.correctedBy === sequence);
  const isCorrection = act !== undefined && (act.correctedBy === sequence || act.corrects !== null);
  if (act === undefined || isCorrection !== (entry.kind === 'corrected') || (entry.kind !== 'corrected' && act.kind !== entry.kind)) {
    throw new ApiError('key-used', `The key ${key} marks entry ${sequence}, which is another act. Nothing was written.`);
  }
  return act;
};

const correct = (model: ShedModel, batch: Batch, { entry, reason, replacement: given }: Extract<NewEntry, { kind: 'corrected' }>, { user, key }: Sender, probe: ProbePh): StoryAct => {
  const wrong = batch.acts.find(({ sequence }) => sequence === entry);
  if (wrong === undefined) throw unfit('entry', `entry ${entry} is not an act of lot ${batch.lot}`);
  if (!wrong.standing) throw new ApiError('wrong-state', `Entry ${entry} was corrected already by entry ${wrong.correctedBy ?? ''}. Correct that one.`);
  const replacement = guardPlaceCorrection(model.shed(), batch, wrong, given === null ? null : replaced(given, batch, model.clock.now()));
  guardJarsGone(batch, wrong, given);
  // A hold that was opened by a jarring goes with it; what is put in place of the jarring opens its own where it must.
  const opened = batch.acts.find((act) => wrong.kind === 'jarred' && act.kind === 'hold' && act.standing && act.sequence === entry + 1 && act.at === wrong.at);
  const stands = opened === undefined ? without(batch, entry) : without(without(batch, entry), opened.sequence);
  if (given !== null && replacement !== null) guardPlace(model, untold(model, batch, wrong), given, Date.parse(replacement.at));
  const hold = given === null || replacement === null ? null : guardAct(model, stands, given, Date.parse(replacement.at), probe);
  const goesWith: Draft[] = opened === undefined ? [] : [{ who: byUser(user), kind: 'corrected', body: { entry: opened.sequence, reason, replacement: null } }];
  const newHold = replacement === null ? [] : holdWith(batch, Date.parse(replacement.at), hold, user);
  const correction: Draft = { who: byUser(user), kind: 'corrected', body: { entry, reason, replacement, ...keyed(key) } };
  if (wrong.kind === 'moved' || wrong.kind === 'split') guardOutcome(model.shed(), [correction], model.clock.now());
  const [written] = model.write([correction, ...newHold, ...goesWith]);
  return actIn(model, batch.lot, replacement === null ? entry : written?.sequence);
};

const replaced = (given: NonNullable<Extract<NewEntry, { kind: 'corrected' }>['replacement']>, batch: Batch, now: EpochMs): EntryReplacement => {
  const at = actTime('replacement.at', given.at, batch, now);
  return { ...given, at: toRfc3339(at), ...paperTime('replacement.writtenAt', given.writtenAt, at, now) } as EntryReplacement;
};

const actIn = (model: ShedModel, lot: string, sequence: number | undefined): StoryAct => {
  const act = model.shed().batches.get(lot)?.acts.find((candidate) => candidate.sequence === sequence);
  if (act === undefined) throw new Error(`entry ${sequence} of lot ${lot} was written and is not in its story`);
  return act;
};

const actTime = (path: string, time: string, batch: Batch, now: EpochMs): EpochMs => {
  // A hold from a phone whose clock is ahead is in force at once.
  const at = Math.min(happenedAt(path, time, now), now);
  if (at < batch.pickedAt) throw unfit(path, 'lies before the pick');
  return at;
};

/** The time on paper, where there is one: between what it tells of and now. */
const paperTime = (path: string, time: string | undefined, at: EpochMs, now: EpochMs): { readonly writtenAt?: string } => {
  if (time === undefined) return {};
  const writtenAt = happenedAt(path, time, now);
  if (writtenAt < at) throw unfit(path, 'lies before what it tells of');
  return { writtenAt: toRfc3339(writtenAt) };
};
