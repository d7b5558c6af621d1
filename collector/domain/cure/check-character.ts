/**
 * Check character of ISO 7064, system MOD 37,36 (hybrid): catches every single wrong character and nearly all swapped neighbours.
 * Characters 0-9 A-Z count 0 to 35. P starts at 36; for each character: S = P + value (S mod 36, 36 for 0), P = 2·S mod 37.
 * The check character c makes (P + c) mod 36 = 1. Source: ISO/IEC 7064:2003, clause 9 (procedure from memory).
 * Worked example: `A12425GABC1234002` has check character `M` (Global Release Identifier, published example).
 */
const alphabet = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ';
const modulus = 36;

/** The check character of a string of 0-9 A-Z; null when it holds anything else. */
export const checkCharacter = (text: string): string | null => {
  let product = modulus;
  for (const character of text) {
    const value = alphabet.indexOf(character);
    if (value < 0) return null;
    const sum = (product + value) % modulus || modulus;
    product = (2 * sum) % (modulus + 1);
  }
  return alphabet[(modulus + 1 - product) % modulus] ?? null;
};

export const hasCheckCharacter = (text: string): boolean => text.length > 1 && checkCharacter(text.slice(0, -1)) === text.at(-1);
