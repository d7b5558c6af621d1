import type { Request } from 'express';
import { inspectPath, type Inspection } from '#contract';
import { byUser } from '#domain/journal/entry.ts';
import type { Inspection as Given, SeenRecord } from '#domain/journal/project-inspection.ts';
import { personIn } from '#domain/record/person.ts';
import { hourMs, toRfc3339, type EpochMs } from '#domain/units/time.ts';
import type { AccessStore } from '../access/access-store.ts';
import { setCookie } from '../access/session-cookie.ts';
import { ApiError, notFound } from '../errors.ts';
import { qrDrawing } from '../papers/qr.ts';
import { findBatch } from '../shed/find-code.ts';
import { recordList } from '../shed/record-list.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import type { Handlers } from './mount.ts';

type Names = 'records' | 'inspections' | 'giveInspection' | 'revokeInspection' | 'openInspection';

/** Letting somebody outside read the records of some lots for a time; the journal tells of each access and of what was looked at. */
export const inspectionRoutes = ({ inspections }: AccessStore, model: ShedModel, machineNow: () => EpochMs): Handlers<Names> => ({
  records: ({ user }) => recordList(model, user),
  inspections: () => {
    const { given, seen } = model.shed().inspections;
    return {
      inspections: given.toReversed().map((each) => shapeOf(each, seen, machineNow())),
      others: seen.filter(({ inspection }) => inspection === null).map(seenShape).toReversed(),
    };
  },
  giveInspection: async ({ body, user, request }) => {
    const lots = [...new Set(body.lots.map((typed) => findBatch(model, typed).lot))];
    const until = machineNow() + body.hours * hourMs;
    const { id, code } = await inspections.give(body.name, lots, until);
    try {
      model.write([{ who: byUser(user.name), kind: 'inspection-given', body: { id, name: body.name, lots, until: toRfc3339(until) } }]);
    } catch (error) {
      // What the journal does not know of must not open anything.
      inspections.end(id);
      throw error;
    }
    const { given, seen } = model.shed().inspections;
    const made = given.find((each) => each.id === id);
    if (made === undefined) throw new ApiError('internal', 'The access was written and cannot be read again.');
    const link = `${addressFor(model, request)}${inspectPath}#${code}`;
    return { ...shapeOf(made, seen, machineNow()), code, link, qr: qrDrawing(link) };
  },
  revokeInspection: ({ params, user }) => {
    const known = model.shed().inspections.given.find(({ id }) => id === params.id);
    if (known === undefined) throw notFound(`access ${params.id ?? ''}`);
    inspections.end(known.id);
    if (known.endedAt === null && known.until > machineNow()) model.write([{ who: byUser(user.name), kind: 'inspection-ended', body: { id: known.id } }]);
    return null;
  },
  openInspection: async ({ body, response }) => {
    const opened = await inspections.open(body.code);
    if (opened === null) throw new ApiError('wrong-code', 'It may be mistyped, over, or taken back. Ask the owner of the shed.');
    setCookie(response, opened.session);
    return recordList(model, opened.user);
  },
});

/** Where an inspector reaches this shed: as the owner wrote it, else as the owner reached it just now. */
const addressFor = (model: ShedModel, request: Request): string => model.shed().producer?.webAddress?.replace(/\/+$/, '') ?? `${request.protocol}://${request.get('host') ?? ''}`;

const shapeOf = ({ id, name, lots, by, at, until, endedAt }: Given, seen: readonly SeenRecord[], now: EpochMs): Inspection => ({
  id,
  name,
  lots: [...lots],
  by: personIn(by),
  madeAt: toRfc3339(at),
  until: toRfc3339(until),
  state: endedAt !== null ? 'revoked' : until <= now ? 'over' : 'open',
  endedAt: endedAt === null ? null : toRfc3339(endedAt),
  seen: seen.filter(({ inspection }) => inspection === id).map((each) => ({ ...seenShape(each), by: name })).toReversed(),
});

const seenShape = ({ lot, form, at, who }: SeenRecord): Inspection['seen'][number] => ({ lot, form, at: toRfc3339(at), by: personIn(who) });
