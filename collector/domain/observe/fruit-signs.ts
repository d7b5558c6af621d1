import type { Sign } from './sign.ts';

/** What the fruit looks and feels like. */
export const fruitSigns: readonly Sign[] = [
  {
    id: 'soft', place: 'fruit', see: 'Soft, mushy fruit', mayBe: 'moulds of a film that eat pectin, over-ripe fruit, a long soak in plain water, a hot week', check: 'press 50 fruit; pH, smell, film',
    act: 'hold the lot, cull, cool; neither pit nor heat', discardWhen: 'soft and any of off smell, slime, mould or pH above 4.6, or more than 5 of 50 soft', severity: 3, atWorst: 3,
    confidence: 'published, limits assumed', source: 'textbook of fermented foods, defects of table olives; 10 % is an assumption',
  },
  {
    id: 'shrivelled', place: 'fruit', see: 'Wrinkled through the whole drum in the first week', mayBe: 'brine too strong too soon', check: 'salt at the start and now',
    act: 'add no salt; next brine 2 % weaker, step up later; about three weeks in the right strength to recover', discardWhen: null, severity: 1, atWorst: 2, confidence: 'published', source: "a botanical garden's diary, 2019; trade page on transport",
  },
  {
    id: 'colour', place: 'fruit', see: 'Green fruit goes olive-brown, cracked fruit browns, black fruit fades, brine goes purple', mayBe: 'acid on the green, air, light, colour leaching out', check: 'light, cover, pH',
    act: 'cover, keep dark', discardWhen: null, severity: 1, atWorst: 1, confidence: 'published', source: 'J. Agric. Food Chem. 2007, 55:7434 on stored cracked olives',
  },
  {
    id: 'still-bitter', place: 'fruit', see: 'Long past the forecast and still bitter', mayBe: 'cold, kept brine at its floor, whole green fruit, few changes', check: 'the forecast with your own tastings',
    act: 'more brine, more changes, or patience', discardWhen: null, severity: 1, atWorst: 1, confidence: 'worked out', source: 'leaching model of this program',
  },
  {
    id: 'flat', place: 'fruit', see: 'Not bitter but flat, soft, watery', mayBe: 'leached too far: take pH for above 4.6', check: 'pH of blended fruit', act: 'hold the lot, acidify, keep cold and not for long',
    discardWhen: 'pH above 4.6 and it stood sealed', severity: 2, atWorst: 3, confidence: 'assumption', source: 'assumption: leached fruit has lost the sugar that makes acid',
  },
  {
    id: 'maggots', place: 'fruit', see: 'Exit holes, brown tunnels, maggots', mayBe: 'olive fruit fly', check: '100 fruit', act: 'cull before the start; found late: cull and measure again',
    discardWhen: 'rot around the tunnels in more than 5 of 100', severity: 2, atWorst: 2, confidence: 'published, limits assumed', source: 'pages on the olive fruit fly; PDO decrees allow 1 to 3 % worm-hit; 5 % is an assumption',
  },
  {
    id: 'white-specks', place: 'fruit', see: 'White specks under the skin of firm fruit', mayBe: 'colonies in the pores of the skin', check: 'firm? pH in its range?', act: 'note it',
    discardWhen: 'with softness or a smell', severity: 1, atWorst: 1, confidence: 'published', source: 'table olive glossary of the International Olive Council',
  },
  {
    id: 'blue-garlic', place: 'fruit', see: 'Garlic turns blue or green', mayBe: 'acid on its pigments, a trace of copper', check: 'pH of the jars: fresh garlic raises it', act: 'note it', discardWhen: null, severity: 1, atWorst: 1,
    confidence: 'published', source: 'extension page on discoloured pickles',
  },
];
