import type { Sign } from './sign.ts';

/** What it smells of. */
export const smellSigns: readonly Sign[] = [
  {
    id: 'putrid', place: 'smell', see: 'Rotten, faecal, cheesy, old shoe leather', mayBe: 'zapatera or putrid spoilage', check: 'nothing, and no tasting', act: 'discard the lot', discardWhen: 'always', severity: 4, atWorst: 4,
    confidence: 'published', source: 'textbook of fermented foods, defects of table olives',
  },
  {
    id: 'butyric', place: 'smell', see: 'Rancid butter, vomit', mayBe: 'butyric spoilage', check: 'nothing, and no tasting', act: 'discard the lot', discardWhen: 'always', severity: 4, atWorst: 4,
    confidence: 'published', source: 'Lanza 2013, Front. Microbiol. 4:91; home pickling text: foul or rancid fruit is not tasted but discarded',
  },
  {
    id: 'rancid-oil', place: 'smell', see: 'Old oil, crayon, putty', mayBe: 'fat gone off by air, light or age', check: 'which layer; light on the jars', act: 'hold the lot, remove exposed fruit, sell none', discardWhen: 'the whole lot smells', severity: 3, atWorst: 3,
    confidence: 'from memory', source: 'from memory',
  },
  {
    id: 'bad-egg', place: 'smell', see: 'Bad egg, sulphur', mayBe: 'spoilage without air, or sulphur spray near the drum', check: 'pH, and no tasting', act: 'hold the lot', discardWhen: 'unless the cause is proven to lie outside the drum', severity: 3, atWorst: 4,
    confidence: 'from memory', source: 'from memory',
  },
  {
    id: 'solvent', place: 'smell', see: 'Nail varnish, solvent, wine vinegar', mayBe: 'yeasts with air, warm', check: 'temperature, film, pH', act: 'hold the lot, cool, keep air out', discardWhen: 'pH above 4.6, or still there after a week', severity: 2, atWorst: 3,
    confidence: 'from memory', source: 'page on seasonal changes in cures (solvent smell in hot ones); the rest from memory',
  },
  {
    id: 'musty', place: 'smell', see: 'Musty, earthy, cellar', mayBe: 'mould, a dirty drum or weight', check: 'under the plate', act: 'hold the lot, go to mould', discardWhen: 'with mould in the fruit, or it persists', severity: 3, atWorst: 3,
    confidence: 'published', source: 'sensory terms of COI/OT/MO No 1; what to do is an assumption',
  },
  {
    id: 'chemical', place: 'smell', see: 'Chemicals, perfume, fuel, what was in the drum before', mayBe: 'a drum not fit for food', check: 'its history', act: 'discard the lot, take the drum out of use', discardWhen: 'always', severity: 4, atWorst: 4,
    confidence: 'published', source: 'guidance on food-grade plastic: a drum that held anything but food stays out',
  },
];
