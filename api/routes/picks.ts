import type { NewPick, PickAmendment } from '#contract';
import { firstFree, pickCode } from '#domain/cure/lot-code.ts';
import { byUser, type EntryBodies } from '#domain/journal/entry.ts';
import type { FruitPick } from '#domain/season/pick.ts';
import { sequenceOfKey } from '#domain/journal/written-keys.ts';
import { toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { ApiError, unfit } from '../errors.ts';
import { findPick } from '../shed/find-code.ts';
import { pickShape } from '../shed/pick-view.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import type { Handlers } from './mount.ts';
import { dayOrTimeMs, happenedAt } from './times.ts';

/** Picks: written down, told more of, sorted. */
export const pickRoutes = (model: ShedModel): Handlers<'picks' | 'pick' | 'addPick' | 'amendPick' | 'sortPick'> => {
  const shown = (pick: string) => pickShape(model.shed(), findPick(model, pick), model.clock.now());
  const time = (path: string, given: string | undefined): EpochMs => (given === undefined ? model.clock.now() : happenedAt(path, toRfc3339(dayOrTimeMs(given, model.zone)), model.clock.now()));
  /** What the same sender wrote under this key before; null: nothing. */
  const before = (key: string | null, of: readonly FruitPick[], has: (pick: FruitPick, sequence: number) => boolean): string | null => {
    const sequence = key === null ? null : sequenceOfKey(model.shed().writtenKeys, key);
    if (sequence === null) return null;
    const pick = of.find((candidate) => has(candidate, sequence));
    if (pick === undefined) throw new ApiError('key-used', `The key ${key ?? ''} marks entry ${sequence}, which is another act. Nothing was written.`);
    return pick.pick;
  };

  return {
    picks: () => ({ picks: [...model.shed().picks.values()].sort((one, other) => other.at - one.at || other.sequence - one.sequence).map(({ pick }) => shown(pick)) }),
    pick: ({ params }) => shown(params.pick ?? ''),
    addPick: ({ body, key, user }) => {
      const written = before(key, [...model.shed().picks.values()], ({ sequence }, wanted) => sequence === wanted);
      if (written !== null) return shown(written);
      const at = time('at', body.at);
      checkFacts(body, null, at, model.clock.now());
      const year = Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(model.zone).year;
      const pick = firstFree((number) => pickCode(year, number), (code) => model.shed().picks.has(code));
      model.write([{ who: byUser(user.name), kind: 'picked', body: { pick, ...factsOf(body), at: toRfc3339(at), ...keyed(key) } }]);
      return shown(pick);
    },
    amendPick: ({ params, body, key, user }) => {
      const known = findPick(model, params.pick ?? '');
      const written = before(key, [known], ({ amendedBy }, wanted) => amendedBy.includes(wanted));
      if (written !== null) return shown(written);
      checkStands(known);
      const at = body.at === undefined ? undefined : time('at', body.at);
      checkFacts(body, known, at ?? known.at, model.clock.now());
      if (body.takenBack !== undefined) checkUnused(model, known);
      model.write([{ who: byUser(user.name), kind: 'pick-amended', body: { pick: known.pick, ...factsOf(body), ...(at !== undefined && { at: toRfc3339(at) }), ...keyed(key) } }]);
      return shown(known.pick);
    },
    sortPick: ({ params, body, key, user }) => {
      const known = findPick(model, params.pick ?? '');
      const written = before(key, [known], ({ sortings }, wanted) => sortings.some(({ sequence }) => sequence === wanted));
      if (written !== null) return shown(written);
      checkStands(known);
      const at = time('at', body.at);
      if (at < known.at) throw unfit('at', 'lies before the pick');
      if (body.replaces !== undefined && !known.sortings.some(({ sequence, standing }) => sequence === body.replaces && standing)) throw unfit('replaces', `entry ${body.replaces} is no standing sorting of pick ${known.pick}`);
      model.write([{ who: byUser(user.name), kind: 'sorted', body: { pick: known.pick, ...given(body), at: toRfc3339(at), ...keyed(key) } }]);
      return shown(known.pick);
    },
  };
};

const keyed = (key: string | null): { readonly key?: string } => (key === null ? {} : { key });

const checkFacts = ({ until, buckets, bucketKg, massKg, damage }: NewPick | PickAmendment, known: FruitPick | null, at: EpochMs, now: EpochMs): void => {
  const ended = until === undefined ? known?.until : happenedAt('until', until, now);
  if (ended != null && ended < at) throw unfit('until', 'lies before the first fruit was picked');
  if (buckets !== undefined && massKg === undefined && (bucketKg ?? known?.bucketKg ?? null) === null) throw unfit('bucketKg', 'is needed to know the mass of the buckets');
  const shares = Object.values(damage ?? {}).reduce((sum, share) => sum + share, 0);
  if (shares > 1.001) throw unfit('damage', 'makes more than all the fruit');
};

const checkStands = ({ pick, takenBack }: FruitPick): void => {
  if (takenBack !== null) throw new ApiError('wrong-state', `Pick ${pick} was taken back: ${takenBack}. Write the fruit down as a new pick. Nothing was written.`);
};

const checkUnused = (model: ShedModel, { pick }: FruitPick): void => {
  const lots = [...model.shed().batches.values()].filter(({ picks }) => picks.some((share) => share.pick === pick)).map(({ lot }) => lot);
  if (lots.length > 0) throw new ApiError('wrong-state', `Fruit of pick ${pick} is in ${lots.join(', ')}: it cannot be taken back. Mend what is wrong about it instead. Nothing was written.`);
};

/** Without the fields that were left out. */
const given = <Body extends object>(body: Body): { readonly [Key in keyof Body]: Exclude<Body[Key], undefined> } => Object.fromEntries(Object.entries(body).filter(([, value]) => value !== undefined)) as never;

const factsOf = ({ at: _at, trees, ...facts }: NewPick | PickAmendment): Omit<EntryBodies['pick-amended'], 'pick' | 'at' | 'key'> => ({
  ...given(facts),
  ...(trees === undefined ? {} : { trees: (Array.isArray(trees) ? trees : [trees]).map(String) }),
});
