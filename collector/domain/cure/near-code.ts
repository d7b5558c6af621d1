import { hasCheckCharacter } from './check-character.ts';

/**
 * What to say of a code that nobody gave: whether it was mistyped, and what was meant.
 *
 * A wrong check character (ISO 7064 MOD 37,36) tells a slip of the fingers from a code of another site. Near is one character replaced,
 * left out or too many, or two neighbours swapped; letters and digits that look alike on tape come first.
 * Source: ISO/IEC 7064:2003 for the check character; what looks alike is common practice, no source.
 * Example: of ST26-A7 and ST26-B5, `ST26-A8` is near the first only.
 */
export interface NearCode {
  /** mistyped: the check character does not fit the rest; unknown: a sound code that was not given here. */
  readonly reason: 'mistyped' | 'unknown';
  /** At most two, the likeliest first. */
  readonly near: readonly string[];
}

const mostNear = 2;
const alike = ['O0', 'I1', 'L1', 'S5', 'B8', 'Z2', 'G6', 'D0', 'Q0'];

/** Letters and digits only, in capitals: dashes and blanks are for the eye. */
export const bareCode = (code: string): string => code.toUpperCase().replaceAll(/[^0-9A-Z]/g, '');

export const nearCode = (typed: string, known: readonly string[]): NearCode => {
  const bare = bareCode(typed);
  const ranked = known.map((code) => ({ code, rank: slipRank(bare, bareCode(code)) })).filter(({ rank }) => rank !== null);
  const best = Math.min(...ranked.map(({ rank }) => rank ?? 0));
  return { reason: hasCheckCharacter(bare) ? 'unknown' : 'mistyped', near: ranked.filter(({ rank }) => rank === best).map(({ code }) => code).slice(0, mostNear) };
};

/** How likely a slip makes one of the other: 0 looks alike, 1 one other character or two swapped, 2 one too many or too few; null: more than one slip. */
const slipRank = (typed: string, meant: string): 0 | 1 | 2 | null => {
  if (typed.length !== meant.length) return Math.abs(typed.length - meant.length) === 1 && lacksOne(...(typed.length < meant.length ? [typed, meant] as const : [meant, typed] as const)) ? 2 : null;
  const wrong = typed.split('').flatMap((character, index) => (character === meant[index] ? [] : [index]));
  if (wrong.every((index) => looksAlike(typed[index] ?? '', meant[index] ?? ''))) return 0;
  const [first = 0, second = 0] = wrong;
  if (wrong.length === 1) return 1;
  return wrong.length === 2 && second === first + 1 && typed[first] === meant[second] && typed[second] === meant[first] ? 1 : null;
};

const looksAlike = (one: string, other: string): boolean => alike.some((pair) => pair.includes(one) && pair.includes(other));

const lacksOne = (shorter: string, longer: string): boolean => longer.split('').some((_, index) => longer.slice(0, index) + longer.slice(index + 1) === shorter);
