import { bareCode, nearCode } from '#domain/cure/near-code.ts';
import type { Batch } from '#domain/journal/shed.ts';
import type { FruitPick } from '#domain/season/pick.ts';
import { ApiError } from '../errors.ts';
import type { ShedModel } from './shed-model.ts';

/** Finds what a person typed, whatever the case and the dash; what is not there is told with what may have been meant. */
export const findBatch = (model: ShedModel, typed: string): Batch => find('lot', typed, model.shed().batches);

export const findPick = (model: ShedModel, typed: string): FruitPick => find('pick', typed, model.shed().picks);

const find = <Found>(what: 'lot' | 'pick', typed: string, known: ReadonlyMap<string, Found>): Found => {
  const bare = bareCode(typed);
  for (const [code, found] of known) if (bare !== '' && bareCode(code) === bare) return found;
  const { reason, near } = nearCode(typed, [...known.keys()]);
  const why = reason === 'mistyped' ? ' Its last character does not fit the rest, so it was mistyped.' : '';
  const meant = near.length === 0 ? '' : ` Did you mean ${near.join(' or ')}?`;
  throw new ApiError('not-found', `There is no ${what} ${typed}.${why}${meant}`, undefined, near.length === 0 ? {} : { didYouMean: [...near] });
};
