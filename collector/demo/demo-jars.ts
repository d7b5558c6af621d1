import type { EntryBodies } from '#domain/journal/entry.ts';
import { bought } from './demo-stores.ts';
import type { Moment } from './story.ts';

/** What the demo's early batch was packed with, and how its jars were measured: invented, and inside the rule for packed jars. */
export const jars = {
  jars: 80,
  jarMl: 720,
  brine: '80 g/L, fresh',
  acid: 'wine vinegar, dose from the bench trial',
  ingredients: ['olives', 'water', 'salt', 'wine vinegar', 'oregano'],
  saltG: 1_800,
  lots: [bought.laterSalt, bought.vinegar, bought.jars, bought.lids, bought.herbs],
  note: 'for the Saturday market, after their rest',
} as const satisfies Omit<EntryBodies['jarred'], 'lot' | 'at'>;

export const cupMeter = 'cup-meter';

/** Near 97 % of the Nernst slope (58.16 mV per pH at 20 °C); the last one is a second, freshly opened bottle that reads 0.01 off. */
export const cupMeterPoints = [{ ph: 7.02, mv: -4.1 }, { ph: 4, mv: 166.9 }, { ph: 4.01, mv: 166.5 }] as const;

/** Two jars; one of them again three days later. */
export const jarReadings: readonly (Moment & { readonly jar: string; readonly value: number })[] = [
  { daysAgo: 11, clock: '16:30', jar: '14', value: 3.97 },
  { daysAgo: 11, clock: '16:36', jar: '52', value: 4.02 },
  { daysAgo: 8, clock: '16:30', jar: '14', value: 3.95 },
];
