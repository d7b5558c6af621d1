import type { Amount, RecipeItem, RecipeReading } from './amount.ts';
import type { Span } from './span.ts';
import type { MeasureSystem } from './unknown.ts';
import { measureSpan, saltDensity } from './unknown.ts';

/** `partly`: something on the line was read and something was not; `nothing-measured`: no amount stands there. */
export const lineVerdicts = ['understood', 'partly', 'not-understood', 'nothing-measured'] as const;

/** One line of a recipe, and in words what was made of it. */
export interface CheckedLine {
  readonly text: string;
  readonly understood: (typeof lineVerdicts)[number];
  readonly words: readonly string[];
}

export const checkedLines = ({ items, lines, lineOf, system }: RecipeReading): readonly CheckedLine[] => {
  const byLine = lines.map((): RecipeItem[] => []);
  items.forEach((item, index) => byLine[lineOf[index] ?? 0]?.push(item));
  return lines.flatMap((line, index): CheckedLine[] => {
    const text = line.trim();
    if (text === '') return [];
    const found = byLine[index] ?? [];
    const read = found.some(({ kind }) => kind === 'amount' || kind === 'strength');
    const refused = found.some(({ kind }) => kind === 'refusal');
    return [{ text, understood: read ? (refused ? 'partly' : 'understood') : refused ? 'not-understood' : 'nothing-measured', words: found.flatMap((item) => wordsOf(item, system)) }];
  });
};

const wordsOf = (item: RecipeItem, system: MeasureSystem | null): readonly string[] => {
  if (item.kind === 'amount') return [amountWords(item.amount, system)];
  if (item.kind === 'strength') return [`${item.strength.substance} of ${range(item.strength.percent)} %`];
  if (item.kind === 'refusal') return [`"${item.refusal.text}": ${item.refusal.reason}`];
  return [];
};

const named: Readonly<Record<Amount['substance'], string>> = {
  salt: 'salt', water: 'water', vinegar: 'vinegar', brine: 'brine', fruit: 'olives', oil: 'oil', 'other-acid': 'another acid', 'other-liquid': 'another liquid', garlic: 'garlic', other: 'something else',
};

/** What an amount comes to in metric, between the least and the most it can mean. */
const amountWords = (amount: Amount, system: MeasureSystem | null): string => {
  const { substance, percent, guessed, waterOrBrine } = amount;
  if (substance === 'other' || substance === 'oil' || substance === 'garlic') return `${named[substance]}, left out of the sum`;
  const name = waterOrBrine ? 'water or brine' : named[substance];
  return `${name}, ${sizeOf(amount, system)}${percent === null ? '' : `, of ${range(percent)} %`}${guessed && !waterOrBrine ? ' (not named: taken so by its use)' : ''}`;
};

const sizeOf = ({ count, unit, substance, saltName }: Amount, system: MeasureSystem | null): string => {
  if (unit.dimension === 'part') return `${range(count)} ${count.high === 1 ? 'part' : 'parts'}`;
  const measured = times(count, unit.measure === null ? { low: unit.factor, high: unit.factor } : times({ low: unit.factor, high: unit.factor }, measureSpan(unit.measure, system)));
  if (unit.dimension === 'mass') return inThousandths(measured, 'kg', 'g');
  return substance === 'salt' ? inThousandths(times(measured, saltDensity(saltName)), 'kg', 'g') : inThousandths(measured, 'L', 'mL');
};

const times = (one: Span, other: Span): Span => ({ low: one.low * other.low, high: one.high * other.high });

const inThousandths = (span: Span, unit: string, small: string): string => (span.high < 1 ? `${range(times(span, { low: 1_000, high: 1_000 }))} ${small}` : `${range(span)} ${unit}`);

const range = ({ low, high }: Span): string => {
  const [from, to] = [short(low), short(high)];
  return from === to ? from : `${from} to ${to}`;
};

/** Three figures, and no more noughts than a person writes. */
const short = (value: number): string => String(Number(value.toPrecision(3)));
