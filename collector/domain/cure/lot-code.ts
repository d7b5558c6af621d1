import type { Lot } from '../journal/entry.ts';
import type { PickCode } from '../journal/pick-entries.ts';
import type { Slug } from '../reading/reading.ts';
import { checkCharacter } from './check-character.ts';

/** Letters that number the batches of a year: none that is mistaken for a digit when it is read aloud or written on tape. */
const letters = 'ABCDEFGHJKLMNPQRSTUVWXYZ';

/**
 * A lot code: site, year, batch and check character, such as `ST26-A7`: short, speakable, unique in the site.
 * `number` counts the batches of the year from 1 (A … Z, AA …).
 */
export const lotCode = (site: Slug, year: number, number: number): Lot => codeWith(`${initials(site)}${twoDigits(year)}`, number);

/** A pick of a year: `P26-A3`. */
export const pickCode = (year: number, number: number): PickCode => codeWith(`P${twoDigits(year)}`, number);

/** A part that is split off is numbered with the batches of the year its lot was begun in. */
export const partCode = (lot: Lot, number: number): Lot => codeWith(lot.split('-')[0] ?? '', number);

/** The first code that was not given yet. */
export const firstFree = (codeOf: (number: number) => string, isGiven: (code: string) => boolean): string => {
  for (let number = 1; ; number += 1) {
    const code = codeOf(number);
    if (!isGiven(code)) return code;
  }
};

const twoDigits = (year: number): string => String(year % 100).padStart(2, '0');

const codeWith = (front: string, number: number): string => {
  const serial = serialLetters(number);
  return `${front}-${serial}${checkCharacter(front + serial) ?? ''}`;
};

/** `saltbush-terrace` → ST, `home` → HO. */
const initials = (site: Slug): string => {
  const words = site.toUpperCase().split('-').filter((word) => word !== '');
  const first = words[0] ?? 'X';
  return words.length > 1 ? words.slice(0, 3).map((word) => word[0]).join('') : first.slice(0, 2);
};

const serialLetters = (number: number): string => {
  const rest = Math.floor((number - 1) / letters.length);
  return (rest > 0 ? serialLetters(rest) : '') + (letters[(number - 1) % letters.length] ?? '');
};
