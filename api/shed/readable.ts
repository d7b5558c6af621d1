import { bareCode } from '#domain/cure/near-code.ts';
import { byInspection } from '#domain/journal/inspection-entries.ts';
import { byUser } from '#domain/journal/entry.ts';
import { isNewLook } from '#domain/journal/project-inspection.ts';
import type { Batch } from '#domain/journal/shed.ts';
import type { User } from '../access/access-store.ts';
import { ApiError } from '../errors.ts';
import { findBatch } from './find-code.ts';
import type { ShedModel } from './shed-model.ts';

/** Lots somebody may read: all (null), or those that were named for an inspector. */
const lotsFor = ({ role, reads }: User): readonly string[] | null => (role === 'inspector' ? (reads?.lots ?? []) : null);

/** Whatever the case and the dash they were named with. */
export const mayRead = (user: User, code: string): boolean => lotsFor(user)?.some((lot) => bareCode(lot) === bareCode(code)) ?? true;

/** The batch of a lot whose record the caller may read. Of any other an inspector is not even told whether it is there. */
export const readableBatch = (model: ShedModel, user: User, typed: string): Batch => {
  if (!mayRead(user, typed)) {
    const lots = lotsFor(user) ?? [];
    throw new ApiError('not-allowed', `This access is for ${lots.length === 0 ? 'no lot yet' : lots.join(', ')}; ${typed} is not among them. Ask the owner of the shed.`);
  }
  return findBatch(model, typed);
};

/** Writes down that an inspector looked at the record of a lot; what people of the shed look at is nobody's business. */
export const noteLook = (model: ShedModel, user: User, lot: string, form: string): void => {
  if (user.role !== 'inspector') return;
  const inspection = user.reads?.inspection ?? null;
  const who = inspection === null ? byUser(user.name) : byInspection(inspection);
  if (isNewLook(model.shed().inspections, { lot, form, inspection, who }, model.clock.now())) model.write([{ who, kind: 'record-seen', body: { lot, form, inspection } }]);
};
