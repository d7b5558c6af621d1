import { defaultStoneFraction } from '../cure/leaching-defaults.ts';
import { cutPackingKgPerL, wholePackingKgPerL } from '../jar/jar-fill.ts';
import { jarStock } from '../jar/jar-stock.ts';
import type { Lot } from '../journal/entry.ts';
import { isAct, type Batch } from '../journal/shed.ts';
import type { Slug } from '../reading/reading.ts';
import type { EpochMs } from '../units/time.ts';

/** Where the fruit of one batch went. Every kilogram picked is in exactly one place, or unaccounted for. */
export interface LedgerRow {
  readonly lot: Lot;
  readonly drum: Slug;
  readonly trees: string | null;
  readonly variety: string | null;
  readonly pickedAt: EpochMs;
  readonly jarredAt: EpochMs | null;
  readonly pickedKg: number;
  readonly culledKg: number;
  /** Picked and not sorted out, but in no drum: waiting, eaten, or weighed roughly; below nothing where more went in than was picked. */
  readonly looseKg: number;
  readonly drumKg: number;
  readonly stoneKg: number;
  readonly tastedKg: number;
  /** Still in the drum, as it was weighed in. */
  readonly curingKg: number;
  readonly jars: number;
  readonly jarredKg: number;
  readonly soldJars: number;
  readonly soldKg: number;
  /** Filled less sold; below nothing where more was written out than in. */
  readonly leftJars: number;
  /** What is missing once the drum is empty; below nothing where the jars hold more than went in. Null while fruit is in the drum. */
  readonly unaccountedKg: number | null;
}

/** What the picks of a batch lost before the drum, as far as it falls to this batch. */
export interface Beside {
  readonly culledKg: number;
  readonly looseKg: number;
}

/** Five fruit a tasting (the task asks for five), 250 fruit to the kilogram (assumption). */
export const tastedKgEach = 5 / 250;

/**
 * The fruit of one batch.
 *
 * Jarred = Σ jars × mL × packing (0.55 kg/L whole, 0.50 cut); stones = kg × 0.17 where pitted; tasted = tastings × 5 fruit;
 * unaccounted = in the drum - stones - tasted - jarred.
 *
 * Source: mass balance; packing and stone share are assumptions, so a few per cent of unaccounted fruit tell nothing. Units: kg.
 * Example: 36 kg pitted, 3 tastings, 80 jars of 720 mL: 6.12 kg of stones, 0.06 kg tasted, 28.8 kg in jars, 1.02 kg unaccounted for.
 */
export const ledgerRow = (batch: Batch, { culledKg, looseKg }: Beside, now: EpochMs): LedgerRow => {
  const past = batch.written.filter(({ at }) => at <= now);
  const packing = batch.cut === 'whole' ? wholePackingKgPerL : cutPackingKgPerL;
  const { jarred: jars, distributed: soldJars, left: leftJars } = jarStock(batch.written, now);
  const jarredKg = past.filter(isAct('jarred')).reduce((sum, { body }) => sum + body.jars * (body.jarMl / 1_000) * packing, 0);
  const tastings = past.filter(isAct('tasted')).length;
  const drumKg = batch.fruitKg;
  const stoneKg = batch.cut === 'pitted' ? drumKg * defaultStoneFraction : 0;
  const tastedKg = tastings * tastedKgEach;
  const isOut = batch.jarredAt !== null && batch.jarredAt <= now;
  const rest = drumKg - stoneKg - tastedKg - jarredKg;
  return {
    lot: batch.lot, drum: batch.drum, trees: batch.trees, variety: batch.variety, pickedAt: batch.pickedAt, jarredAt: isOut ? batch.jarredAt : null,
    pickedKg: drumKg + culledKg + looseKg, culledKg, looseKg, drumKg, stoneKg, tastedKg, curingKg: isOut ? 0 : Math.max(0, rest), jars, jarredKg, soldJars, soldKg: jars === 0 ? 0 : (jarredKg * soldJars) / jars, leftJars,
    unaccountedKg: isOut ? rest : null,
  };
};
