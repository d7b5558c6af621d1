import type { NewEntry } from '#contract';
import { firstFree, partCode } from '#domain/cure/lot-code.ts';
import { brineAt } from '#domain/cure/brine.ts';
import { byApi, genesisHash, type Draft, type EntryReplacement, type Lot } from '#domain/journal/entry.ts';
import { drumOfBatchAt } from '#domain/journal/placement.ts';
import { project } from '#domain/journal/project.ts';
import { isAct, isInDrum, type Batch, type Shed, type StoryAct } from '#domain/journal/shed.ts';
import { newClashes } from '#domain/journal/stay-clash.ts';
import { toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { ApiError, notFound, unfit } from '../errors.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import type { Act } from './jar-guards.ts';

/** What may be said of where fruit lies: one lot a drum, no more fruit or brine split off than there is, and no story torn apart. */
const drumActs: ReadonlySet<NewEntry['kind']> = new Set<NewEntry['kind']>(['brine-changed', 'brine-topped-up', 'salt-added', 'acid-added', 'skimmed', 'handled']);

/** The lot code of a part: the next one that was never given. */
export const nextPart = (model: ShedModel, { lot }: Batch): Lot => {
  const { batches, retiredLots } = model.shed();
  return firstFree((number) => partCode(lot, number), (code) => batches.has(code) || retiredLots.has(code));
};

/** Refuses what contradicts where the fruit was at that time. `before`: the batch without the act that is corrected, if one is. */
export const guardPlace = (model: ShedModel, before: Batch, act: Act, at: EpochMs): void => {
  const { lot, from } = before;
  if (from !== null && at < from.at) throw unfit('at', `lies before lot ${lot} was split from ${from.lot}: write it there, and both lots share it`);
  if (drumActs.has(act.kind) && drumOfBatchAt(before, at) === null && !isInDrum(before) && before.jarredAt === null) throw new ApiError('wrong-state', `Lot ${lot} was in no drum by then: it was split off for jars. Nothing was written.`);
  if (act.kind === 'jarred') guardNothingLater(before, at);
  if (act.kind !== 'moved' && act.kind !== 'split') return;
  if (at <= before.startedAt) throw unfit('at', 'lies before the start of the cure');
  if (act.drum !== null) {
    const drum = model.shed().drums.get(act.drum);
    if (drum === undefined) throw notFound(`drum ${act.drum}`);
    if (drumOfBatchAt(before, at) === act.drum) throw unfit('drum', `lot ${lot} is in ${drum.name} already`);
  }
  if (act.kind === 'split') guardAmounts(before, act, at);
};

const guardNothingLater = ({ lot, written }: Batch, at: EpochMs): void => {
  const later = written.find((act) => act.standing && (act.kind === 'moved' || act.kind === 'split') && act.at >= at);
  if (later !== undefined) throw new ApiError('wrong-state', `Lot ${lot} was ${later.kind} on ${toRfc3339(later.at).slice(0, 10)}, after that: it cannot have been in jars. Look at the times. Nothing was written.`);
};

const guardAmounts = (before: Batch, { fruitKg, brineL, drum }: Extract<Act, { readonly kind: 'split' }>, at: EpochMs): void => {
  // What was split off later is gone as well: what is left today is the most that can have gone then.
  if (fruitKg >= before.fruitKg) throw unfit('fruitKg', `lot ${before.lot} has ${rounded(before.fruitKg)} kg: some must stay. To take all of it, move the lot, or fill its jars`);
  const brine = brineAt(before, at).brineL;
  if (brineL >= brine) throw unfit('brineL', `there are ${rounded(brine)} L: some must stay with the rest`);
  if (drum !== null && brineL === 0) throw unfit('brineL', 'some brine goes along into a drum: what is poured on fresh is written as an act of the new lot');
};

/** The batch as it would be had the act not been written. */
export const untold = (model: ShedModel, { lot }: Batch, { sequence }: StoryAct): Batch => {
  const batch = afterwards(model.shed(), [{ who: byApi, kind: 'corrected', body: { entry: sequence, reason: '', replacement: null } }], model.clock.now()).batches.get(lot);
  if (batch === undefined) throw new Error(`lot ${lot} cannot be told without entry ${sequence}`);
  return batch;
};

const afterwards = (shed: Shed, drafts: readonly Draft[], now: EpochMs): Shed =>
  drafts.reduce((state, draft) => project(state, { ...draft, sequence: state.sequence + 1, time: toRfc3339(now), previousHash: genesisHash, hash: genesisHash }), shed);

/** What would come of drafts, without writing them. */
export const guardOutcome = (shed: Shed, drafts: readonly Draft[], now: EpochMs): void => {
  const after = afterwards(shed, drafts, now);
  const [clash] = newClashes(shed, after);
  if (clash !== undefined) {
    const [one, other] = clash.lots;
    throw new ApiError('drum-occupied', `${shed.drums.get(clash.drum)?.name ?? clash.drum} would hold ${one} and ${other} at one time. Move or jar one of them first, or look at the times. Nothing was written.`);
  }
  for (const { lot, fruitKg, brineL } of after.batches.values()) {
    if (fruitKg > 0 && brineL >= 0) continue;
    throw new ApiError('wrong-state', `More would have been split from lot ${lot} than there was. Look at the amounts and the times. Nothing was written.`);
  }
};

/** Whether a correction can be: a part with a story of its own cannot be one with its lot again, and what it shares is mended where it was written. */
export const guardPlaceCorrection = (shed: Shed, batch: Batch, wrong: StoryAct, replacement: EntryReplacement | null): EntryReplacement | null => {
  if (!batch.written.includes(wrong)) throw new ApiError('wrong-state', `Entry ${wrong.sequence} was written for ${wrong.body.lot}, before ${batch.lot} was split from it. Correct it there: that mends both. Nothing was written.`);
  const isPlace = (kind: string): boolean => kind === 'moved' || kind === 'split';
  if (replacement !== null && replacement.kind !== wrong.kind && (isPlace(replacement.kind) || isPlace(wrong.kind))) {
    throw unfit('replacement.kind', `a ${wrong.kind} entry cannot become ${replacement.kind}: take it back, and write the other one anew`);
  }
  if (!isAct('split')(wrong)) return replacement;
  const part = shed.batches.get(wrong.body.into);
  const own = part?.written.filter(({ standing }) => standing) ?? [];
  if (replacement === null && own.length > 0) {
    throw new ApiError('wrong-state', `Lot ${wrong.body.into} has a story of its own by now (${own.length} ${own.length === 1 ? 'entry' : 'entries'}): the split cannot be taken back. Take those back first, or move the lot. Nothing was written.`);
  }
  if (replacement?.kind !== 'split') return replacement;
  if (own.some(({ at }) => at < Date.parse(replacement.at))) throw unfit('replacement.at', `lot ${wrong.body.into} has entries from before that time`);
  return { ...replacement, into: wrong.body.into };
};

const rounded = (amount: number): string => String(Math.round(amount * 10) / 10);
