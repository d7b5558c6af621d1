import { describe, expect, it } from 'vitest';
import { checkCharacter, hasCheckCharacter } from '#domain/cure/check-character.ts';
import { lotCode } from '#domain/cure/lot-code.ts';

describe('the check character of ISO 7064, MOD 37,36', () => {
  // Published example of the Global Release Identifier standard (IFPI GRid): A1-2425G-ABC1234002-M (from memory).
  it('of the published example is the published one', () => {
    expect(checkCharacter('A12425GABC1234002')).toBe('M');
    expect(hasCheckCharacter('A12425GABC1234002M')).toBe(true);
  });

  it('finds every single wrong character', () => {
    const code = 'A12425GABC1234002M';
    for (let place = 0; place < code.length; place += 1) {
      for (const character of '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ') {
        if (character === code[place]) continue;
        expect(hasCheckCharacter(code.slice(0, place) + character + code.slice(place + 1))).toBe(false);
      }
    }
  });
});

describe('lot codes', () => {
  it('are short, say site and year, and differ for thousands of batches', () => {
    const codes = Array.from({ length: 2_000 }, (_empty, index) => lotCode('saltbush-terrace', 2026, index + 1));
    expect(new Set(codes).size).toBe(2_000);
    for (const code of codes) {
      expect(code).toMatch(/^ST26-[A-HJ-NP-Z]{1,3}[0-9A-Z]$/);
      expect(hasCheckCharacter(code.replace('-', ''))).toBe(true);
    }
  });
});
