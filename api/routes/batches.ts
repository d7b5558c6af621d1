import type { NewBatch } from '#contract';
import { lotCode, normalLot } from '#domain/cure/lot-code.ts';
import { byUser, type EntryBodies } from '#domain/journal/entry.ts';
import type { Batch } from '#domain/journal/shed.ts';
import { dayMs, toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { ApiError, notFound, unfit } from '../errors.ts';
import { batchDetail, batchSummary } from '../shed/batch-view.ts';
import type { Forecasts } from '../shed/forecasts.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import { answered, writeEntry } from './entries.ts';
import { probePhFor } from './jar-guards.ts';
import type { Handlers } from './mount.ts';

/** Batches: opened, read, and their story told on. */
export const batchRoutes = (model: ShedModel, forecasts: Forecasts, site: string): Handlers<'openBatch' | 'batches' | 'batch' | 'addEntry'> => ({
  openBatch: ({ body, user }) => {
    const shed = model.shed();
    const drum = shed.drums.get(body.drum);
    if (drum === undefined) throw notFound(`drum ${body.drum}`);
    if (drum.lot !== null) throw new ApiError('drum-occupied', `${drum.name} holds lot ${drum.lot}. Jar or move that one first, or choose another drum.`);
    const times = { pickedAt: dayOrTimeMs(body.pickedAt, model.zone), startedAt: dayOrTimeMs(body.startedAt, model.zone) };
    checkTimes(times, model.clock.now());
    const lot = nextLot(model, site, times.startedAt);
    model.write([{ who: byUser(user.name), kind: 'batch-opened', body: bodyOf(body, lot, times) }]);
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

export const findBatch = (model: ShedModel, typed: string): Batch => {
  const lot = normalLot(typed);
  const batch = [...model.shed().batches.values()].find((candidate) => candidate.lot.toUpperCase() === lot);
  if (batch === undefined) throw notFound(`lot ${typed}`);
  return batch;
};

/** A date is its first moment in the zone of the site. */
const dayOrTimeMs = (given: string, zone: string): EpochMs => (given.length === 10 ? Temporal.PlainDate.from(given).toZonedDateTime({ timeZone: zone }).epochMilliseconds : Date.parse(given));

/** A batch may be written down the evening before. */
const checkTimes = ({ pickedAt, startedAt }: { pickedAt: EpochMs; startedAt: EpochMs }, now: EpochMs): void => {
  if (startedAt > now + dayMs) throw unfit('startedAt', 'lies in the future');
  if (pickedAt > startedAt + dayMs) throw unfit('pickedAt', 'lies after the start of the cure');
};

const bodyOf = ({ trees, variety, acid, pickedAt: _picked, startedAt: _started, ...rest }: NewBatch, lot: string, times: { pickedAt: EpochMs; startedAt: EpochMs }): EntryBodies['batch-opened'] => ({
  lot,
  ...rest,
  pickedAt: toRfc3339(times.pickedAt),
  startedAt: toRfc3339(times.startedAt),
  ...(variety === undefined ? {} : { variety }),
  ...(trees === undefined ? {} : { trees: Array.isArray(trees) ? trees.join(', ') : String(trees) }),
  ...(acid === undefined ? {} : { acid }),
});

const nextLot = (model: ShedModel, site: string, startedAt: EpochMs): string => {
  const year = Temporal.Instant.fromEpochMilliseconds(startedAt).toZonedDateTimeISO(model.zone).year;
  for (let number = 1; ; number += 1) {
    const lot = lotCode(site, year, number);
    if (!model.shed().batches.has(lot)) return lot;
  }
};
