import { randomInt } from 'node:crypto';

/** Codes that are read from a screen and typed on a phone: without 0, O, 1, I, L. Eight letters are some 39 bits. */
const letters = 'ABCDEFGHJKMNPQRSTUVWXYZ23456789';

/** Eight letters, not grouped. */
export const newCode = (): string => Array.from({ length: 8 }, () => letters[randomInt(letters.length)] ?? 'A').join('');

/** As it is shown and read aloud: `K7QD-M2XP`. */
export const grouped = (code: string): string => `${code.slice(0, 4)}-${code.slice(4)}`;

/** As it was typed, whatever the case, the spaces and the dash. */
export const bare = (typed: string): string => typed.toUpperCase().replaceAll(/[^A-Z0-9]/g, '');
