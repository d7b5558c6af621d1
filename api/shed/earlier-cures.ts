import { sweetBitterness } from '#domain/cure/batch.ts';
import { finishedCure, oncePerFruit, tellsAbout } from '#domain/cure/finished-cure.ts';
import { growerGuess, type GrowerGuess } from '#domain/cure/grower-guess.ts';
import type { Batch } from '#domain/journal/shed.ts';
import type { CureRecords } from './cure-records.ts';
import type { ShedModel } from './shed-model.ts';

/** What the grower's finished cures of a kind say about a running one; undefined while there are none. */
export type EarlierCures = (batch: Batch) => Promise<GrowerGuess | undefined>;

/** Fitted once for each set of finished cures, and again when one of them is told on or its probe was somewhere else after all. */
export const createEarlierCures = (model: ShedModel, records: CureRecords): EarlierCures => {
  const kept = new Map<string, { readonly basis: readonly unknown[]; readonly guess: Promise<GrowerGuess | undefined> }>();
  return (batch) => {
    const { batches, placements } = model.shed();
    const earlier = oncePerFruit([...batches.values()].filter((other) => tellsAbout(other, batch)));
    if (earlier.length === 0) return Promise.resolve(undefined);
    const basis = [placements, ...earlier.map(({ acts }) => acts)];
    const last = kept.get(batch.lot);
    if (last !== undefined && last.basis.length === basis.length && basis.every((part, index) => part === last.basis[index])) return last.guess;
    const guess = guessFrom(batch, earlier, records);
    kept.set(batch.lot, { basis, guess });
    return guess;
  };
};

const guessFrom = async (batch: Batch, earlier: readonly Batch[], records: CureRecords): Promise<GrowerGuess | undefined> => {
  const told = await Promise.all(earlier.map(async (other) => finishedCure(other, (await records.of(other, sweetBitterness)).temperatures)));
  const cures = told.filter((cure) => cure !== null);
  return cures.length === 0 ? undefined : growerGuess(batch.cut, cures);
};
