import type { NewBatch, PickShare } from '#contract';
import { firstFree, lotCode } from '#domain/cure/lot-code.ts';
import { byUser, type EntryBodies } from '#domain/journal/entry.ts';
import { dayMs, toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { ApiError, notFound, unfit } from '../errors.ts';
import { batchDetail, batchSummary } from '../shed/batch-view.ts';
import { findBatch, findPick } from '../shed/find-code.ts';
import type { Forecasts } from '../shed/forecasts.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import { answered, writeEntry } from './entries.ts';
import { probePhFor } from './jar-guards.ts';
import { knownLots } from './lots-guard.ts';
import type { Handlers } from './mount.ts';
import { dayOrTimeMs } from './times.ts';

/** Batches: opened, read, and their story told on. */
export const batchRoutes = (model: ShedModel, forecasts: Forecasts, site: string): Handlers<'openBatch' | 'batches' | 'batch' | 'addEntry'> => ({
  openBatch: ({ body, user }) => {
    const shed = model.shed();
    const drum = shed.drums.get(body.drum);
    if (drum === undefined) throw notFound(`drum ${body.drum}`);
    if (drum.lot !== null) throw new ApiError('drum-occupied', `${drum.name} holds lot ${drum.lot}. Jar or move that one first, or choose another drum.`);
    const picks = sharesOf(model, body.picks ?? []);
    const picked = body.pickedAt === undefined ? Math.min(...picks.map(({ pick }) => findPick(model, pick).at)) : dayOrTimeMs(body.pickedAt, model.zone);
    const times = { pickedAt: picked, startedAt: dayOrTimeMs(body.startedAt, model.zone) };
    if (body.lots !== undefined) knownLots(model, body.lots);
    const soak = soakOf(body.soak, times.startedAt, model.zone);
    checkTimes(times, model.clock.now());
    const lot = nextLot(model, site, times.startedAt);
    model.write([{ who: byUser(user.name), kind: 'batch-opened', body: { ...bodyOf(body, lot, times), ...(picks.length > 0 && { picks }), ...(soak && { soak }) } }]);
    return batchDetail(model, forecasts, findBatch(model, lot));
  },
  batches: async () => ({
    batches: await Promise.all([...model.shed().batches.values()].sort((one, other) => other.startedAt - one.startedAt).map((batch) => batchSummary(model, forecasts, batch))),
  }),
  batch: ({ params }) => batchDetail(model, forecasts, findBatch(model, params.lot ?? '')),
  addEntry: async ({ params, body, key, user }) => {
    const probe = await probePhFor(model, findBatch(model, params.lot ?? ''), body);
    return answered(model, writeEntry(model, findBatch(model, params.lot ?? ''), body, { user: user.name, key }, probe));
  },
});

/** A batch may be written down the evening before. */
const checkTimes = ({ pickedAt, startedAt }: { pickedAt: EpochMs; startedAt: EpochMs }, now: EpochMs): void => {
  if (startedAt > now + dayMs) throw unfit('startedAt', 'lies in the future');
  if (pickedAt > startedAt + dayMs) throw unfit('pickedAt', 'lies after the start of the cure');
};

const bodyOf = ({ trees, variety, acid, lots, pickedAt: _picked, startedAt: _started, picks: _shares, soak: _soak, ...rest }: NewBatch, lot: string, times: { pickedAt: EpochMs; startedAt: EpochMs }): EntryBodies['batch-opened'] => ({
  lot,
  ...rest,
  pickedAt: toRfc3339(times.pickedAt),
  startedAt: toRfc3339(times.startedAt),
  ...(variety === undefined ? {} : { variety }),
  ...(trees === undefined ? {} : { trees: Array.isArray(trees) ? trees.join(', ') : String(trees) }),
  ...(acid === undefined ? {} : { acid }),
  ...(lots === undefined ? {} : { lots }),
});

/** The fruit of each pick once, by the codes that were given. */
const sharesOf = (model: ShedModel, shares: readonly PickShare[]): readonly PickShare[] => {
  const known = shares.map(({ pick, kg }) => ({ pick: findPick(model, pick).pick, kg }));
  for (const [index, { pick }] of known.entries()) {
    if (known.findIndex((other) => other.pick === pick) !== index) throw unfit(`picks.${index}.pick`, `pick ${pick} is named twice`);
    if (findPick(model, pick).takenBack !== null) throw unfit(`picks.${index}.pick`, `pick ${pick} was taken back`);
  }
  return known;
};

const soakOf = (soak: NewBatch['soak'], startedAt: EpochMs, zone: string): EntryBodies['batch-opened']['soak'] => {
  if (soak === undefined) return undefined;
  const since = dayOrTimeMs(soak.startedAt, zone);
  if (since > startedAt) throw unfit('soak.startedAt', 'lies after the start of the cure');
  return { startedAt: toRfc3339(since), changes: soak.changes };
};

const nextLot = (model: ShedModel, site: string, startedAt: EpochMs): string => {
  const year = Temporal.Instant.fromEpochMilliseconds(startedAt).toZonedDateTimeISO(model.zone).year;
  const { batches, retiredLots } = model.shed();
  return firstFree((number) => lotCode(site, year, number), (lot) => batches.has(lot) || retiredLots.has(lot));
};
