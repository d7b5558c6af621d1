import { describe, expect, it } from 'vitest';
import { nearCode } from '#domain/cure/near-code.ts';
import { pickCode, partCode, lotCode } from '#domain/cure/lot-code.ts';
import { hasCheckCharacter } from '#domain/cure/check-character.ts';
import { maturitySpread } from '#domain/season/maturity-spread.ts';
import { pickBalance } from '#domain/season/pick-balance.ts';
import { pickClock } from '#domain/season/pick-clock.ts';
import { massOf, maturityOf, placeOf } from '#domain/season/pick.ts';
import { hourMs, toRfc3339 } from '#domain/units/time.ts';
import { createShedBook } from '../../helpers/shed-book.ts';

const at = Date.UTC(2026, 4, 3, 7);
const time = toRfc3339(at);

describe('a pick', () => {
  const pick = 'P26-AJ';
  const told = () => {
    const book = createShedBook();
    book.write('picked', { pick, at: time }, at);
    return { book, now: () => book.shed.picks.get(pick)! };
  };

  it('is begun with nothing but its time, and told more of later', () => {
    const { book, now } = told();
    expect(massOf(now())).toBeNull();
    book.write('pick-amended', { pick, buckets: 4, bucketKg: 9, trees: ['7', '8'] }, at);
    expect([massOf(now()), placeOf(now())]).toEqual([36, '7, 8']);
    book.write('pick-amended', { pick, massKg: 35.2, block: 'upper terrace' }, at);
    expect([massOf(now()), placeOf(now())]).toEqual([35.2, 'upper terrace']);
    // Counted again in buckets: what is told last is believed.
    book.write('pick-amended', { pick, buckets: 5 }, at);
    expect(massOf(now())).toBe(45);
    expect(now().amendedBy).toHaveLength(3);
  });

  it('is as ripe as its latest count, else as the eye says', () => {
    const { book, now } = told();
    expect(maturityOf(now())).toBeNull();
    book.write('pick-amended', { pick, maturity: 'black' }, at);
    expect(maturityOf(now())).toBe('black');
    book.write('pick-amended', { pick, counts: [5, 20, 35, 20, 12, 5, 2, 1] }, at);
    expect(maturityOf(now())).toBe('turning');
    book.write('sorted', { pick, at: time, culls: [], counts: [90, 10, 0, 0, 0, 0, 0, 0] }, at);
    expect(maturityOf(now())).toBe('green');
  });

  it('counts a sorting that was written anew once', () => {
    const { book, now } = told();
    const wrong = book.write('sorted', { pick, at: time, culls: [{ cause: 'olive fly', kg: 30 }] }, at);
    book.write('sorted', { pick, at: time, culls: [{ cause: 'olive fly', kg: 3 }, { cause: 'hail', kg: 1 }], replaces: wrong }, at);
    book.write('sorted', { pick, at: time, culls: [{ cause: 'olive fly', kg: 0.5 }] }, at);
    expect(pickBalance(now(), []).culls).toEqual([{ cause: 'olive fly', kg: 3.5 }, { cause: 'hail', kg: 1 }]);
  });

  it('says by how much more was used than picked', () => {
    const { book, now } = told();
    book.write('pick-amended', { pick, massKg: 42 }, at);
    book.write('sorted', { pick, at: time, culls: [{ cause: 'hail', kg: 3 }] }, at);
    expect(pickBalance(now(), [{ lot: 'one', picks: [{ pick, kg: 36 }] }])).toMatchObject({ unaccountedKg: 3, overKg: 0 });
    expect(pickBalance(now(), [{ lot: 'one', picks: [{ pick, kg: 36 }] }, { lot: 'two', picks: [{ pick, kg: 5 }] }])).toMatchObject({ unaccountedKg: 0, overKg: 2 });
  });
});

describe('the clock from pick to processing', () => {
  // Two days for green fruit, one for black (common practice, no source).
  it.each([
    ['green', 47, 'waiting'], ['green', 49, 'late'], ['black', 23, 'waiting'], ['black', 25, 'late'],
    // What nobody looked at is taken as the softest fruit.
    [null, 25, 'late'],
  ] as const)('of %s fruit after %i h: %s', (maturity, hours, state) => {
    expect(pickClock({ at, maturity, processedAt: null }, at + hours * hourMs).state).toBe(state);
    expect(pickClock({ at, maturity, processedAt: at + hours * hourMs }, at + 999 * hourMs)).toMatchObject({ hours, state: state === 'late' ? 'was-late' : 'in-time' });
  });
});

describe('the spread of ripeness', () => {
  it('is that of the middle eight of ten fruits', () => {
    expect(maturitySpread([{ counts: [5, 20, 35, 20, 12, 5, 2, 1], kg: 1 }])).toEqual({ low: 1, high: 4, wide: false });
    expect(maturitySpread([{ counts: [10, 80, 10, 0, 0, 0, 0, 0], kg: 1 }])).toEqual({ low: 0, high: 1, wide: false });
    expect(maturitySpread([{ counts: [20, 20, 20, 10, 10, 10, 5, 5], kg: 1 }])).toMatchObject({ wide: true });
  });

  it('of two picks in one drum weighs each by its mass, not by its count', () => {
    const green = [100, 0, 0, 0, 0, 0, 0, 0];
    const black = [0, 0, 0, 0, 0, 10, 0, 0];
    expect(maturitySpread([{ counts: green, kg: 10 }, { counts: black, kg: 10 }])).toEqual({ low: 0, high: 5, wide: true });
    expect(maturitySpread([{ counts: green, kg: 30 }, { counts: black, kg: 1 }])?.wide).toBe(false);
    expect(maturitySpread([])).toBeNull();
  });
});

describe('a code that nobody gave', () => {
  const known = ['ST26-A7', 'ST26-B5', 'ST26-ABK'];

  it.each([
    ['ST26-A8', 'ST26-A7'], ['ST26-7A', 'ST26-A7'], ['TS26-A7', 'ST26-A7'], ['ST26-B', 'ST26-B5'], ['5T26-A7', 'ST26-A7'], ['ST2G-B5', 'ST26-B5'], ['st26a1', 'ST26-A7'],
  ])('%s is near %s, and told as mistyped', (typed, meant) => {
    expect(nearCode(typed, known)).toEqual({ reason: 'mistyped', near: [meant] });
  });

  it('is told apart from a sound code that is not known here', () => {
    const other = lotCode('saltbush-terrace', 2026, 9);
    expect(nearCode(other, known)).toEqual({ reason: 'unknown', near: [] });
    expect(nearCode('', known)).toEqual({ reason: 'mistyped', near: [] });
  });
});

describe('the check character in the codes people copy (ISO/IEC 7064:2003, MOD 37,36)', () => {
  const alphabet = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ';
  const codes = Array.from({ length: 60 }, (_, index) => [lotCode('saltbush-terrace', 2026, index + 1), pickCode(2027, index + 1), partCode('HO26-AX', index + 1)]).flat().map((code) => code.replace('-', ''));

  it('catches every single wrong character', () => {
    for (const code of codes) {
      expect(hasCheckCharacter(code)).toBe(true);
      for (let place = 0; place < code.length; place += 1) {
        for (const character of alphabet) if (character !== code[place]) expect(hasCheckCharacter(code.slice(0, place) + character + code.slice(place + 1))).toBe(false);
      }
    }
  });

  it('catches every two neighbours swapped in these codes', () => {
    let swapped = 0;
    for (const code of codes) {
      for (let place = 0; place + 1 < code.length; place += 1) {
        const wrong = code.slice(0, place) + (code[place + 1] ?? '') + (code[place] ?? '') + code.slice(place + 2);
        if (wrong === code) continue;
        swapped += 1;
        expect(hasCheckCharacter(wrong), `${code} as ${wrong}`).toBe(false);
      }
    }
    expect(swapped).toBeGreaterThan(800);
  });
});
