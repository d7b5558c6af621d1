import type { Beside } from './tool.ts';

/** Defaults that a calculator used and that no field of the screen shows, in the grower's words. */
export const assumedWords: Readonly<Record<string, string>> = {
  leachingRate: 'how fast this cut gives up its bitterness',
  hydrolysisRate: 'how fast bitterness breaks down by itself',
  startingBitterness: 'how bitter fruit of this colour begins',
  endPoints: 'a quarter of the bitterness of fresh green fruit is pleasant, a tenth is sweet',
  activationEnergyKjPerMol: 'how much temperature matters (45 kJ/mol): your cures were too alike to tell',
  bulkDensityKgPerL: 'a litre of fruit weighs 0.60 kg',
  drumShape: 'an upright plastic drum, indoors, without insulation',
};

export interface Told {
  readonly sources: readonly string[];
  readonly assumed: readonly string[];
  readonly cautions: readonly string[];
}

const unique = (words: readonly string[]): readonly string[] => [...new Set(words)];

/** Several calculators may warn alike: no sentence is said twice, and the last keeps its end. */
const withoutRepeats = (cautions: readonly string[]): readonly string[] => {
  const said = new Set<string>();
  return cautions
    .toReversed()
    .map((caution) => {
      const fresh = caution.split(/(?<=\.) (?=[A-Z])/).filter((sentence) => !said.has(sentence));
      for (const sentence of fresh) said.add(sentence);
      return fresh.join(' ');
    })
    .filter((caution) => caution !== '')
    .toReversed();
};

export const merged = (beside: readonly Beside[]): Told => ({
  sources: unique(beside.map(({ source }) => source)),
  assumed: unique(beside.flatMap(({ assumed = [] }) => assumed)),
  cautions: withoutRepeats(unique(beside.flatMap(({ caution }) => (caution === undefined ? [] : [caution])))),
});
