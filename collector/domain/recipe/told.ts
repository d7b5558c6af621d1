/** What a recipe tells to do besides measuring, as far as a rule asks for it. */
export interface Told {
  readonly soaksInWater: boolean;
  /** Days between changes of the water, as far as they are said; null: not said. */
  readonly changeEveryDays: number | null;
  readonly underOil: boolean;
  readonly acid: boolean;
  readonly garlic: boolean;
  readonly salt: boolean;
  readonly onShelf: boolean;
  readonly cold: boolean;
}

const daily = /\b(?:daily|every day|each day|once a day|twice a day|every morning|every (?:12|24) hours)\b/i;
const seldom: readonly (readonly [RegExp, number])[] = [
  [/\bevery (?:second|other|2nd) day\b/i, 2],
  [/\bevery (?:two|2) days\b/i, 2],
  [/\bevery (?:three|3|third|3rd) days?\b/i, 3],
  [/\b(?:weekly|once a week|every week|each week)\b/i, 7],
];

/** Only where something is changed: fruit stirred daily still stands in old water. Both daily and seldom: it is not clear which is the water. */
const changeEveryDays = (text: string): number | null => {
  const changes = text.split(/[.;\n]/).filter((sentence) => /\b(?:chang|replac|renew|refresh|drain|(?:fresh|new) water)/i.test(sentence)).join('\n');
  const days = seldom.find(([pattern]) => pattern.test(changes))?.[1] ?? null;
  return daily.test(changes) ? (days === null ? 1 : null) : days;
};

/** "No vinegar" names an acid and adds none. */
const withoutDenials = (text: string): string => text.replaceAll(/\b(?:no|not|without|never|instead of)\b[^.,;\n]{0,30}/gi, ' ');

/** Words only: a recipe that says it in other words is "unknown" to the rules, never "inside". */
export const toldIn = (text: string): Told => {
  const says = (pattern: RegExp): boolean => pattern.test(text);
  return {
    soaksInWater: says(/\bsoak|\b(?:plain|fresh|clean|cold) water\b|\bin water\b|\bchange the water\b|\bcover(?:ed)? (?:them |it )?with water\b/i),
    changeEveryDays: changeEveryDays(text),
    underOil: says(/\boils?\b/i),
    acid: /\b(?:vinegars?|lemons?|limes?|citric|lactic|tartaric|acetic)\b/i.test(withoutDenials(text)),
    garlic: says(/\bgarlic\b/i),
    salt: says(/\b(?:salts?|brines?|salted|kosher)\b/i),
    onShelf: says(/\b(?:shelf|pantry|cupboard|larder|unrefrigerated|room temperature|without a fridge|no need to refrigerate|(?:a|one|two|\d+) years?|indefinitely|(?:six|twelve|[6-9]|1[0-2]) months)\b/i),
    cold: says(/\b(?:fridge|refrigerat(?:e|ed|or)|cold store)\b/i) && !says(/\b(?:without a fridge|no need to refrigerate|unrefrigerated)\b/i),
  };
};
