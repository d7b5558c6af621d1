import { localDate, restOver } from '../cure/stage.ts';
import type { JarGate } from '../jar/jar-gate.ts';
import { openHolds } from '../jar/holds.ts';
import type { Producer } from '../journal/producer.ts';
import { isAct, type Batch } from '../journal/shed.ts';
import { fail, ok, type Result } from '../result.ts';
import { dayOf } from '../trace/trace-words.ts';
import type { EpochMs } from '../units/time.ts';
import { markAllergens, type Run } from './allergens.ts';

export const labelFields = ['product', 'ingredients', 'weights', 'lot', 'dates', 'best-before', 'storage', 'after-opening', 'origin', 'statement', 'producer', 'key', 'code'] as const;
export type LabelField = (typeof labelFields)[number];

export interface LabelText {
  readonly field: LabelField;
  readonly runs: readonly Run[];
  /** How much larger than the rest. */
  readonly scale: number;
  /** Figures are at least so high, however small the rest is. */
  readonly leastFigureMm?: number;
}

export interface Label {
  readonly lot: string;
  readonly texts: readonly LabelText[];
  /** What the square says to a phone. */
  readonly code: string;
}

export interface LabelIncomplete {
  readonly code: 'label-incomplete';
  readonly missing: readonly { readonly field: string; readonly message: string }[];
}

export interface LabelInput {
  readonly batch: Batch;
  readonly producer: Producer | null;
  /** Where the record is read, without a stroke at the end. */
  readonly address: string;
  /** Of the key that seals the record; null: there is none yet. */
  readonly fingerprint: string | null;
  readonly zone: string;
  readonly now: EpochMs;
}

/**
 * What stands on the label of a lot: name, ingredients with allergen words set apart, net and drained weight, lot, dates, storage, who made it.
 *
 * Source: Regulation (EU) 1169/2011, articles 9 and 21 and annex IX 5 (drained weight of food in a liquid); Codex CXS 1-1985, section 4.
 * Countries differ: a producer leaves out or adds by the fields of the settings, and asks the local authority.
 * What is missing is told, and nothing is guessed: weights are those somebody weighed for that jar.
 */
export const labelOf = ({ batch, producer, address, fingerprint, zone, now }: LabelInput): Result<Label, LabelIncomplete> => {
  const packed = batch.acts.filter(isAct('jarred')).findLast(({ at }) => at <= now);
  const missing: { field: string; message: string }[] = [];
  const need = <Value>(field: string, value: Value | null | undefined, message: string): Value | null => {
    if (value === null || value === undefined || value === '') missing.push({ field, message });
    return value ?? null;
  };
  const jarMl = packed?.body.jarMl ?? 0;
  const product = need('product', producer?.product, 'the name of the product is not set');
  const name = need('name', producer?.name, 'who makes it is not set');
  const address1 = need('address', producer?.address, 'the address of the producer is not set');
  const weight = need('weights', producer?.weights.find((each) => each.jarMl === jarMl), `net and drained weight of a jar of ${jarMl} mL are not set: weigh a few`);
  const months = need('bestBeforeMonths', producer?.bestBeforeMonths, 'nobody chose how many months it keeps: best before rests on tests, not on habit');
  const storage = need('storage', producer?.storage, 'how it is kept is not set');
  const key = need('key', fingerprint, 'the key of the site is not made yet');
  const ingredients = packed?.body.ingredients ?? [];
  if (ingredients.length === 0) missing.push({ field: 'ingredients', message: 'the ingredients were not written when the jars were filled' });
  if (packed?.body.acid !== undefined && !ingredients.some((each) => /acid|vinegar|lemon|E2[67]0|E330/i.test(each))) missing.push({ field: 'ingredients', message: `acid went into the jars (${packed.body.acid}) and is not among the ingredients` });
  if (packed === undefined || product === null || name === null || address1 === null || weight === null || months === null || storage === null || key === null || missing.length > 0) return fail({ code: 'label-incomplete', missing });

  const plain = (field: LabelField, text: string, scale = 1): LabelText => ({ field, runs: [{ text, strong: false }], scale });
  const strong = (field: LabelField, text: string, scale = 1): LabelText => ({ field, runs: [{ text, strong: true }], scale });
  const bestBefore = localDate(packed.at, zone).add({ months });
  const maybe = (field: LabelField, text: string | null | undefined, words: (told: string) => string = (told) => told): readonly LabelText[] => (text == null ? [] : [plain(field, words(text))]);
  return ok({
    lot: batch.lot,
    code: `${address}/api/records/${encodeURIComponent(batch.lot)}.html#key=${key.replaceAll(' ', '-')}`,
    texts: [
      strong('product', product, 1.6),
      { field: 'ingredients', runs: [{ text: 'Ingredients: ', strong: false }, ...markAllergens(ingredients.join(', ')), { text: '.', strong: false }], scale: 1 },
      { ...strong('weights', `Net weight ${grams(weight.netG)}`, 1.15), leastFigureMm: leastFigureMm(weight.netG) },
      strong('weights', `Drained weight ${grams(weight.drainedG)}`),
      strong('lot', `Lot ${batch.lot}`, 1.15),
      strong('best-before', `Best before ${dayOf(bestBefore.toZonedDateTime({ timeZone: zone }).epochMilliseconds, zone)}`),
      plain('dates', `Packed on ${dayOf(packed.at, zone)}. Ready from ${dayOf(restOver(packed.at), zone)}.`),
      plain('storage', storage),
      ...maybe('after-opening', producer?.afterOpening, (told) => `After opening: ${told}`),
      ...maybe('origin', producer?.origin, (told) => `Origin: ${told}`),
      ...maybe('statement', producer?.statement),
      plain('producer', `Made by ${name}, ${address1}${producer?.licence == null ? '' : `, licence ${producer.licence}`}`),
      plain('key', `Record key ${key}`),
    ],
  });
};

/** Height of the figures of the net weight: Directive 76/211/EEC, annex I 3.1 (from memory): 2, 3, 4 and 6 mm up to 50, 200, 1,000 g and above. */
export const leastFigureMm = (netG: number): number => (netG <= 50 ? 2 : netG <= 200 ? 3 : netG <= 1_000 ? 4 : 6);

const grams = (g: number): string => (g >= 1_000 ? `${String(Math.round(g / 10) / 100)} kg` : `${String(Math.round(g))} g`);

export type NotReleased = { readonly code: 'not-jarred' | 'on-hold' | 'packed-jars-outside' | 'packed-jars-unknown'; readonly text: string };

/** Why jars of a lot get no label yet: a label on a jar says to everybody that it may go. Null: they do. */
export const notReleased = (batch: Batch, gate: Pick<JarGate, 'verdict'> | null, now: EpochMs): NotReleased | null => {
  if (batch.jarredAt === null || batch.jarredAt > now) return { code: 'not-jarred', text: `Lot ${batch.lot} is not in jars yet.` };
  const holds = openHolds(batch.acts, now);
  if (holds.length > 0) return { code: 'on-hold', text: `Lot ${batch.lot} is on hold: ${holds.map(({ reason }) => reason).join('; ')}.` };
  if (gate?.verdict === 'inside') return null;
  return gate?.verdict === 'outside'
    ? { code: 'packed-jars-outside', text: `The packed jars of lot ${batch.lot} are outside the limit.` }
    : { code: 'packed-jars-unknown', text: `Whether the packed jars of lot ${batch.lot} are inside the limit is not known.` };
};
