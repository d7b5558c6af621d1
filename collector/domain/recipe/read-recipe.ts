import type { RecipeReading } from './amount.ts';
import type { Place } from './item-at.ts';
import { itemAt } from './item-at.ts';
import { aboutWords, linkWords, moreWords } from './phrase.ts';
import { systems } from './quantity.ts';
import type { RawItem } from './settle-amounts.ts';
import { settleAmounts } from './settle-amounts.ts';
import type { Substance } from './substance.ts';
import { substanceIn } from './substance.ts';
import { lineEnds, plainText, tokensOf } from './token.ts';
import type { MeasureSystem } from './unknown.ts';

/**
 * A recipe as written, read into amounts. English; numbers as people write them (`1 1/2`, `½`, `0.5`, `1,5`, `2-3`), cups, spoons, litres, quarts,
 * gallons, grams, ounces, pounds, parts, per cent. Nothing is guessed silently: what is assumed is marked so, what is no measure is refused by name.
 */
export const readRecipe = (text: string): RecipeReading => {
  const written = text.slice(0, longestText);
  const plain = plainText(written);
  const tokens = tokensOf(plain);
  const items: RawItem[] = [];
  let system: MeasureSystem | null = null;
  let link: Place['link'] = null;
  let before: string[] = [];
  const lineOf: number[] = [];
  let line = 0;
  let at = 0;
  while (at < tokens.length) {
    const read = itemAt({ plain, tokens, at, link, before });
    if (read !== null) {
      items.push(...read.items);
      lineOf.push(...read.items.map(() => line));
      system ??= read.system ?? null;
      link = null;
      before = [];
      at = Math.max(at + 1, read.next);
      continue;
    }
    const token = tokens[at];
    if (token?.kind === 'word') {
      if (forJars.test(token.word)) {
        items.push({ kind: 'for-jars' });
        lineOf.push(line);
      }
      if (newWater.test(token.word)) {
        items.push({ kind: 'new-water' });
        lineOf.push(line);
      }
      if (linkWords.has(token.word)) link = 'denominator';
      else if (moreWords.has(token.word)) link = 'more';
      else if (!aboutWords.has(token.word) && !Object.hasOwn(systems, token.word)) link = null;
      before.push(token.word);
    } else if (token?.kind === 'mark') {
      link = token.mark === '/' ? 'denominator' : token.mark === '+' || token.mark === '&' ? 'more' : null;
      if (/^(?:[;.,]|line)$/.test(token.mark)) {
        items.push({ kind: 'break' });
        lineOf.push(line);
      }
      if (token.mark === 'line') line += 1;
      if (/^(?:[;.]|line)$/.test(token.mark)) before = [];
    }
    at += 1;
  }
  return { items: settleAmounts(items), system, lines: written.split(lineEnds), lineOf, mentioned: mentionedIn(tokens.flatMap((token) => (token.kind === 'word' ? [token.word] : []))) };
};

/** A recipe is a few lines: what is longer is not read to its end. */
export const longestText = 4_000;

const forJars = /^(?:finish|finishing|final|finally|jars?|jarring|bottle|bottling|pack|packing|store|storing|storage|keep|keeping)$/;

const newWater = /^(?:soak(?:ed|ing)?|rinsed?|drain(?:ed)?|discard(?:ed)?|chang(?:e|ed|ing)|replaced?|repeat|cover(?:ed)?|day|week|weeks|days|jars?)$/;

/** `olive oil` speaks of oil, not of olives. */
const mentionedIn = (words: readonly string[]): ReadonlySet<Substance> => {
  const named = words.map((word, index) => substanceIn(/^olives?$/.test(word) && /^oils?$/.test(words[index + 1] ?? '') ? [] : [word]));
  return new Set(named.filter((substance) => substance !== null));
};
