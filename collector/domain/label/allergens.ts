/** A stretch of text, set apart or not. */
export interface Run {
  readonly text: string;
  readonly strong: boolean;
}

/**
 * Words for what people are allergic to, so that a label can set them apart by type and capitals: the fourteen groups of
 * Regulation (EU) 1169/2011, annex II, which hold the nine of the United States (21 U.S.C. 321(qq), sesame since 2023).
 * English words only; other names are for whoever writes the list, who may write a word in capitals to have it set apart.
 */
const words = [
  'wheat', 'rye', 'barley', 'oats?', 'spelt', 'kamut', 'gluten', 'malt', 'semolina',
  'crustaceans?', 'crabs?', 'prawns?', 'shrimps?', 'lobsters?', 'crayfish',
  'eggs?', 'fish', 'anchov(?:y|ies)', 'tunas?', 'sardines?', 'salmon', 'cod', 'mackerel', 'bonito',
  'peanuts?', 'soy(?:a|beans?)?', 'miso', 'tamari',
  'milk', 'cream', 'butter', 'cheeses?', 'feta', 'ricotta', 'mozzarella', 'parmesan', 'yogh?urt', 'whey', 'casein', 'lactose',
  'nuts?', 'almonds?', 'hazelnuts?', 'walnuts?', 'cashews?', 'pecans?', 'brazil nuts?', 'pistachios?', 'macadamias?', 'marzipan',
  'celery', 'celeriac', 'mustard', 'sesame', 'tahini', 'sul(?:ph|f)ites?', 'sul(?:ph|f)ur dioxide', 'met[ae]bisul(?:ph|f)ites?', 'E22[0-8]',
  'lupins?', 'molluscs?', 'mollusks?', 'mussels?', 'oysters?', 'squids?', 'clams?', 'octopus', 'scallops?',
] as const;

const allergen = new RegExp(String.raw`(?<![\p{L}\d])(?:${words.join('|')})(?![\p{L}\d])`, 'giu');
const inCapitals = /(?<![\p{L}\d])\p{Lu}{3,}(?![\p{L}\d])/gu;

/** Ingredient text with what sets people at risk in capitals and strong. `coconut`, `nutmeg` and `butterbean` are other words and are left. */
export const markAllergens = (text: string): readonly Run[] => {
  const found = [...text.matchAll(allergen), ...text.matchAll(inCapitals)].map((match) => ({ from: match.index, to: match.index + match[0].length })).sort((one, other) => one.from - other.from || other.to - one.to);
  const runs: Run[] = [];
  let at = 0;
  for (const { from, to } of found) {
    if (from < at) continue;
    if (from > at) runs.push({ text: text.slice(at, from), strong: false });
    runs.push({ text: text.slice(from, to).toUpperCase(), strong: true });
    at = to;
  }
  return at < text.length ? [...runs, { text: text.slice(at), strong: false }] : runs;
};
