import { poundG } from '../units/kitchen.ts';
import type { MeasureName } from './unknown.ts';

/** `factor` counts the named measure (which may be of uncertain size), or litres, kilograms or parts where there is none. */
export interface Unit {
  readonly name: string;
  readonly dimension: 'volume' | 'mass' | 'part';
  readonly measure: MeasureName | null;
  readonly factor: number;
}

const volume = (name: string, factor: number, measure: MeasureName | null = null): Unit => ({ name, dimension: 'volume', measure, factor });
const mass = (name: string, factor: number): Unit => ({ name, dimension: 'mass', measure: null, factor });

export const litre = volume('litre', 1);
export const cup = volume('cup', 1, 'cup');
export const part: Unit = { name: 'part', dimension: 'part', measure: null, factor: 1 };
const ounceG = poundG / 16;
/** An imperial pint has 20 ounces of its own where a US pint has 16, so a fluid ounce does not follow the gallon. */
export const fluidOunce = volume('fluid ounce', 1, 'fluid ounce');

const units: readonly (readonly [Unit, string])[] = [
  [litre, 'l litre litres liter liters lt ltr ltrs'],
  [volume('decilitre', 0.1), 'dl decilitre decilitres deciliter deciliters'],
  [volume('centilitre', 0.01), 'cl centilitre centilitres centiliter centiliters'],
  [volume('millilitre', 0.001), 'ml mls millilitre millilitres milliliter milliliters cc'],
  [cup, 'c cup cups cupful cupfuls'],
  [volume('tablespoon', 1, 'tablespoon'), 'tbsp tbsps tbs tbl tblsp tablespoon tablespoons'],
  [volume('teaspoon', 1, 'teaspoon'), 'tsp tsps teaspoon teaspoons'],
  [volume('gallon', 1, 'gallon'), 'gal gals gallon gallons'],
  [volume('quart', 0.25, 'gallon'), 'qt qts quart quarts'],
  [volume('pint', 0.125, 'gallon'), 'pt pts pint pints'],
  [mass('gram', 0.001), 'g gr gm gms gram grams gramme grammes'],
  [mass('kilogram', 1), 'kg kgs kilo kilos kilogram kilograms'],
  [mass('ounce', ounceG / 1_000), 'oz ozs ounce ounces'],
  [mass('pound', poundG / 1_000), 'lb lbs pound pounds'],
  [part, 'part parts'],
];

const byWord: ReadonlyMap<string, Unit> = new Map(units.flatMap(([unit, words]) => words.split(' ').map((word) => [word, unit] as const)));

/** Cooks write T for a tablespoon and t for a teaspoon; everything else is the same in capitals. */
export const unitOf = (text: string): Unit | null => {
  if (text === 'T') return byWord.get('tbsp') ?? null;
  if (text === 't') return byWord.get('tsp') ?? null;
  if (text === 'C') return null;
  return byWord.get(text.toLowerCase()) ?? null;
};
