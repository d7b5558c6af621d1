import type { Sign } from './sign.ts';

/** What the brine looks like, and what lies in it. */
export const brineSigns: readonly Sign[] = [
  {
    id: 'white-sediment', place: 'brine', see: 'White powdery sediment, slight cloud, clean sour smell, pH falling', mayBe: 'lactic bacteria and spent yeast', check: 'that pH goes on falling',
    act: 'leave it, and do not pour sediment into jars', discardWhen: null, severity: 1, atWorst: 1, confidence: 'published', source: 'practice page on troubled olive brines',
  },
  {
    id: 'ropy-brine', place: 'brine', see: 'Cloud with a foul smell, or ropy, slimy, stringy brine', mayBe: 'spoilage', check: 'nothing, and no tasting', act: 'discard the lot',
    discardWhen: 'always', severity: 4, atWorst: 4, confidence: 'published, limits assumed', source: 'practice page on troubled olive brines; "always" is an assumption on the strict side',
  },
  {
    id: 'cloudy-at-once', place: 'brine', see: 'Cloudy from the minute it was mixed, settles, no smell', mayBe: 'anticaking salt or hard water', check: 'let a glass of it stand for a day',
    act: 'note it, take another salt next time', discardWhen: null, severity: 1, atWorst: 1, confidence: 'published', source: 'recipe page for brine-cured olives',
  },
  {
    id: 'bubbles', place: 'brine', see: 'Bubbles, a hiss on opening, in the first 40 days, pH falling', mayBe: 'ordinary gas', check: 'that the lid vents, and the level', act: 'loosen the lid, keep brine over the plate',
    discardWhen: null, severity: 1, atWorst: 1, confidence: 'published', source: 'home pickling of olives: unsealed until the gas ends',
  },
  {
    id: 'red-brine', place: 'brine', see: 'Red or pink brine', mayBe: 'rust in the water, or the colour of the fruit', check: 'water tap, metal lids; a pink film is mould', act: 'clean water next time',
    discardWhen: 'pink film or slime: as for mould', severity: 1, atWorst: 2, confidence: 'published', source: 'extension page on discoloured pickles',
  },
  {
    id: 'salt-layers', place: 'brine', see: 'Salt reads much higher at the bottom than at the top', mayBe: 'not dissolved, not mixed', check: 'top, middle and bottom', act: 'stir from the bottom, wait half an hour, measure again',
    discardWhen: null, severity: 2, atWorst: 2, confidence: 'assumption', source: 'common practice, no source',
  },
  {
    id: 'salt-crystals', place: 'brine', see: 'Crystals on the bottom', mayBe: 'salt that never dissolved', check: 'weigh or guess how much', act: 'dissolve salt outside the drum, and work the strength out again',
    discardWhen: null, severity: 2, atWorst: 2, confidence: 'published', source: 'pages on preparing salt brines',
  },
  {
    id: 'ice', place: 'brine', see: 'Ice in the drum, or days below 2 °C', mayBe: 'no acid is formed in that cold', check: 'level, cracks', act: 'thaw slowly and look the drum over; there is nothing to taste',
    discardWhen: 'fruit split and soft after thawing', severity: 2, atWorst: 2, confidence: 'from memory', source: 'from memory',
  },
  {
    id: 'metal', place: 'brine', see: 'Metallic taste noted earlier, black stains, pits on a probe tip', mayBe: 'iron, copper, zinc or pitted steel', check: 'every metal that touches brine', act: 'hold the lot, take the metal out, look at another drum',
    discardWhen: 'galvanised, copper or aluminium metal was in the brine', severity: 2, atWorst: 4, confidence: 'published', source: 'Cruess and Vaughn, The Home Pickling of Olives: zinc dissolves and "may make the olives poisonous"',
  },
];
