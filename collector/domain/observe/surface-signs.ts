import type { Sign } from './sign.ts';

/** What floats or grows on top. */
export const surfaceSigns: readonly Sign[] = [
  {
    id: 'film', place: 'surface', see: 'Thin flat film, white or cream, perhaps wrinkled, no fuzz, smells of bread', mayBe: 'film yeast, which needs air and eats acid',
    check: 'level, air above the brine, salt, pH today: up by 0.2, or above 4.6, it is a sign of its own', act: 'skim, wipe wall and weight, bring the level up with brine of the same strength, leave less air, look again in two days',
    discardWhen: null, severity: 2, atWorst: 2, confidence: 'published', source: 'several practice pages agree; that it eats acid is from memory',
  },
  {
    id: 'mould', place: 'surface', see: 'Fuzzy, raised or coloured patches on brine, plate or fruit', mayBe: 'mould',
    check: 'how deep it goes, soft fruit below, pH, salt',
    act: 'hold the lot. Only where it is small and on exposed fruit or plate, with pH at most 4.3, salt at least 6 % and firm fruit: lift it off widely, with all exposed fruit and 5 cm of brine, and measure on days 1 and 3',
    discardWhen: 'in water or below 6 % salt, pH above 4.6 or unknown, soft or slimy fruit below, mixed through, or back again', severity: 3, atWorst: 4,
    confidence: 'published, limits assumed', source: 'sources conflict (rinse and go on, or discard): the stricter stands',
  },
  {
    id: 'solid-oil', place: 'surface', see: 'White waxy flakes or discs on a cold brine', mayBe: 'olive oil that has set', check: 'warm a spoonful: oil melts to a clear liquid',
    act: 'leave it or lift it off; if it does not melt take it for film or mould', discardWhen: null, severity: 1, atWorst: 1, confidence: 'published', source: 'question-and-answer page on scum on olives, 2005',
  },
  {
    id: 'foam', place: 'surface', see: 'Heavy foam, brine runs over', mayBe: 'violent gas: too warm or too full', check: 'temperature, pH, salt, blisters in 50 fruit',
    act: 'hold the lot, lower the level, cool, bring the salt into its range, clean the outside', discardWhen: 'with a foul smell, or as for gas blisters', severity: 2, atWorst: 3,
    confidence: 'published, limits assumed', source: 'table olive glossary of the International Olive Council',
  },
  {
    id: 'early-float', place: 'surface', see: 'Whole fruit floats in the first two weeks', mayBe: 'raw fruit (1.02 to 1.06) is lighter than a 10 % brine (1.07)', check: 'nothing',
    act: 'weigh it down', discardWhen: null, severity: 1, atWorst: 1, confidence: 'worked out', source: 'densities of fruit and brine',
  },
  {
    id: 'late-float', place: 'surface', see: 'Fruit floats late, with blisters, gas when pricked, or split flesh', mayBe: 'coliform bacteria or yeasts: little salt, high pH, warm',
    check: 'pH, salt, temperatures so far, a count in 50 fruit', act: 'hold the lot, bring salt and acid into range, cull gassy fruit',
    discardWhen: 'with an off smell, softness or pH above 4.6, or more than 10 of 50 fruit', severity: 3, atWorst: 3, confidence: 'published, limits assumed',
    source: 'textbook of fermented foods, defects of table olives; 20 % is an assumption',
  },
  {
    id: 'dry-top', place: 'surface', see: 'Top layer brown, dry or shrivelled', mayBe: 'it lay in the air', check: 'the level over the last days', act: 'remove that layer, bring the cover back',
    discardWhen: 'mouldy or soft: go to those signs', severity: 2, atWorst: 2, confidence: 'published', source: 'table olive glossary of the International Olive Council',
  },
];
