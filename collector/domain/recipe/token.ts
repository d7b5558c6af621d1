/** A recipe cut into numbers, words and marks, each with its place in the text. */
export type Token = { readonly from: number; readonly to: number } & (
  | { readonly kind: 'number'; readonly value: number; readonly isFraction?: true }
  /** Digits that can be read in two ways (`1,000`), or in none (`1/0`). */
  | { readonly kind: 'doubtful' }
  | { readonly kind: 'word'; readonly word: string; readonly written: string }
  | { readonly kind: 'mark'; readonly mark: string }
);

const fractions: Readonly<Record<string, string>> = {
  '¼': '1/4', '½': '1/2', '¾': '3/4', '⅐': '1/7', '⅑': '1/9', '⅒': '1/10', '⅓': '1/3', '⅔': '2/3', '⅕': '1/5', '⅖': '2/5', '⅗': '3/5', '⅘': '4/5', '⅙': '1/6', '⅚': '5/6', '⅛': '1/8', '⅜': '3/8', '⅝': '5/8', '⅞': '7/8',
};

/** Every way a line may end. */
export const lineEnds = /\r\n?|[\n\v\f\u0085\u2028\u2029]/gu;

/** One spelling for what is written in many: fraction signs, dashes, spaces, `U.S.`, `per cent`. */
export const plainText = (text: string): string =>
  text
    .replaceAll(lineEnds, '\n')
    // A number at the end of one line and a fraction at the start of the next are two numbers.
    .replaceAll(/(\d)?[^\S\n]?([¼½¾⅐-⅞])/gu, (_whole, digit: string | undefined, sign: string) => `${digit === undefined ? ' ' : `${digit} `}${fractions[sign] ?? sign} `)
    .replaceAll(/[⁄∕]/gu, '/')
    .replaceAll(/[‐-―−]/gu, '-')
    .replaceAll(/[^\S\n]+/gu, ' ')
    .replaceAll(/\bu\. ?s\.?(?: ?a\.?)?(?=\W|$)/giu, 'US')
    .replaceAll(/\bper ?cent\b/giu, '%');

const pieces = /(\d+)(?: |-)(\d+)\/(\d+)|(\d+) ?\/ ?(\d+)|((?:\d+|(?<![\p{L}\d])\.\d+)(?:[.,]\d+)*)|(\p{L}[\p{L}']*)|(\n)|(\S)/gu;

export const tokensOf = (plain: string): readonly Token[] => [...plain.matchAll(pieces)].map((match) => tokenOf(match));

const tokenOf = (match: RegExpMatchArray): Token => {
  const [piece, whole, above, below, numerator, denominator, decimal, word, line] = match;
  const place = { from: match.index ?? 0, to: (match.index ?? 0) + piece.length };
  if (whole !== undefined) return { ...place, ...numberOr(Number(whole) + Number(above) / Number(below)) };
  if (numerator !== undefined) return { ...place, ...fractionOf(Number(numerator) / Number(denominator)) };
  if (decimal !== undefined) return { ...place, ...decimalOf(decimal) };
  if (word !== undefined) return { ...place, kind: 'word', word: word.toLowerCase(), written: word };
  return { ...place, kind: 'mark', mark: line === undefined ? piece : 'line' };
};

type NumberOrDoubt = { readonly kind: 'number'; readonly value: number } | { readonly kind: 'doubtful' };

/** `1,5` and `1.5` are one and a half; `1,000` may be a thousand or one: not for this reader to choose. */
const decimalOf = (text: string): NumberOrDoubt => {
  const isDecimal = /^(?:\d+(?:[.,]\d+)?|\.\d+)$/.test(text) && !/^[1-9]\d{0,2},\d{3}$/.test(text);
  return isDecimal ? numberOr(Number(text.replace(',', '.'))) : { kind: 'doubtful' };
};

const numberOr = (value: number): NumberOrDoubt => (Number.isFinite(value) && value <= largestNumber ? { kind: 'number', value } : { kind: 'doubtful' });

const fractionOf = (value: number): FractionOrDoubt => {
  const read = numberOr(value);
  return read.kind === 'number' ? { ...read, isFraction: true } : read;
};

type FractionOrDoubt = { readonly kind: 'number'; readonly value: number; readonly isFraction: true } | { readonly kind: 'doubtful' };

/** No recipe has more of anything. */
const largestNumber = 1_000_000;

export const wordAt = (tokens: readonly Token[], index: number): string | null => {
  const token = tokens[index];
  return token?.kind === 'word' ? token.word : null;
};

export const markAt = (tokens: readonly Token[], index: number): string | null => {
  const token = tokens[index];
  return token?.kind === 'mark' ? token.mark : null;
};
