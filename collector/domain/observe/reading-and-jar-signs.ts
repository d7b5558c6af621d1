import type { Sign } from './sign.ts';

/** What an instrument says, and what a packed jar shows. */
export const readingSigns: readonly Sign[] = [
  {
    id: 'ph-not-falling', place: 'reading', see: 'pH above 4.6 on day 14 or later', mayBe: 'cold, leached, too salty, or the buffer is wrong', check: 'a fresh buffer first, then temperature and the number of changes',
    act: 'hold the lot; acidify by a bench trial to at most 4.2; keep salt at 6 % or more',
    discardWhen: 'it stood sealed for more than three days above pH 4.6 with less than 6 % salt and above 10 °C, or nobody knows', severity: 3, atWorst: 3, confidence: 'published, limits assumed',
    source: 'textbook of fermented foods: spoilage where acid is delayed; the three days are an assumption and need a process authority',
  },
  {
    id: 'ph-rising', place: 'reading', see: 'pH 0.2 or more above its lowest', mayBe: 'film yeast, propionic bacteria, plain water topped up, a drifting probe', check: 'fresh buffer, what was topped up, film',
    act: 'hold the lot, mend the cause, measure after 24 and 72 h', discardWhen: 'it goes past 4.6, or there is a smell', severity: 3, atWorst: 3, confidence: 'published, limits assumed',
    source: 'table olive glossary of the International Olive Council: propionic bacteria raise pH; 0.2 is an assumption',
  },
];

export const jarSigns: readonly Sign[] = [
  {
    id: 'domed-lid', place: 'jar', see: 'Lid domed, jar spurts, hisses, leaks or has lost its vacuum', mayBe: 'growth in the jar', check: 'do not open, do not taste; pH of three other jars',
    act: 'discard the jar, hold every jar of that brine', discardWhen: 'always that jar; the lot with a second one, or at pH above 4.6', severity: 4, atWorst: 4, confidence: 'published, limits assumed',
    source: 'trade definitions: swollen or leaking packs are discarded',
  },
  {
    id: 'cloudy-jar', place: 'jar', see: 'Brine of a jar turns cloudy after packing', mayBe: 'live yeast or bacteria with sugar left', check: 'lid, gas, pH', act: 'hold the lot, refrigerate', discardWhen: 'gas, or pH above 4.6', severity: 3, atWorst: 3,
    confidence: 'from memory', source: "one grower's batch, 2015; the rest from memory",
  },
  {
    id: 'mould-in-jar', place: 'jar', see: 'Mould in a jar', mayBe: 'air, a bad seal, too little acid', check: 'pH of three other jars, and no tasting', act: 'discard the jar, hold the lot', discardWhen: 'always that jar', severity: 4, atWorst: 4,
    confidence: 'published', source: 'sources conflict for drums, not for jars',
  },
  {
    id: 'rusty-lid', place: 'jar', see: 'Rust inside the lid, liquid lost, fruit above the liquid', mayBe: 'bad lid, wrong headspace, poor seal', check: 'vacuum', act: 'hold the lot, sell none of those', discardWhen: 'rust inside with a broken seal, swelling or a smell; when in doubt', severity: 3, atWorst: 3,
    confidence: 'published', source: 'extension pages on corroded lids',
  },
];
