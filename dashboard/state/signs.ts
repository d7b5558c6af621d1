/** Signs people see or smell, and which of them mean: stop, measure, hold (common practice, no source; the stricter reading where practice differs). */
export interface Sign {
  readonly words: string;
  readonly grave: boolean;
}

export const signs: readonly Sign[] = [
  { words: 'all well: covered, no film', grave: false },
  { words: 'flat white film', grave: false },
  { words: 'bubbles, gas', grave: false },
  { words: 'cloudy, clean smell', grave: false },
  { words: 'fruit above the brine', grave: false },
  { words: 'wrinkled fruit', grave: false },
  { words: 'mould, fuzzy or coloured', grave: true },
  { words: 'soft or slimy fruit', grave: true },
  { words: 'gas under the skin', grave: true },
  { words: 'foul, butter or egg smell', grave: true },
  { words: 'solvent smell', grave: true },
];

export const graveAdvice = 'Do not taste. Measure pH and salt today, and until pH is known treat it as above 4.6. Hold the lot; discard when in doubt: no look, smell or taste shows toxin. A guide only: local rules decide.';

export const isGrave = (words: string): boolean => signs.some((sign) => sign.grave && sign.words === words);
