import { byUser, type EntryBodies } from '#domain/journal/entry.ts';
import type { Producer } from '#domain/journal/producer.ts';
import { dayMs, minuteMs, toRfc3339, type EpochMs } from '#domain/units/time.ts';
import type { TimedDraft } from './timed-draft.ts';

/** What the demo bought before the season: invented suppliers, and quantities that bear what its acts use. */
export const bought = { firstSalt: 'salt-1', laterSalt: 'salt-2', vinegar: 'vinegar-1', jars: 'jars-1', lids: 'lids-1', herbs: 'oregano-1', neutralBuffer: 'buffer-7', acidBuffer: 'buffer-4' } as const;

const lots: readonly (Omit<EntryBodies['ingredient-received'], 'receivedAt'> & { readonly daysBefore: number })[] = [
  { id: bought.firstSalt, item: 'salt', name: 'Sea salt, coarse', supplier: 'Salt pans, Lagoon Road', quantity: 50, unit: 'kg', theirLot: 'L 114', daysBefore: 9 },
  { id: bought.laterSalt, item: 'salt', name: 'Sea salt, coarse', supplier: 'Salt pans, Lagoon Road', quantity: 50, unit: 'kg', theirLot: 'L 121', daysBefore: 2 },
  { id: bought.vinegar, item: 'vinegar', name: 'Red wine vinegar, 6 %', supplier: 'Village cellar', quantity: 10, unit: 'L', theirLot: '26-03', daysBefore: 9 },
  { id: bought.jars, item: 'jars', name: 'Jars, 720 mL', supplier: 'Glass dealer, Harbour Street', quantity: 240, unit: 'pieces', theirLot: 'G 5580', daysBefore: 20 },
  { id: bought.lids, item: 'lids', name: 'Twist lids, 82 mm', supplier: 'Glass dealer, Harbour Street', quantity: 250, unit: 'pieces', theirLot: 'T 20771', daysBefore: 20 },
  { id: bought.herbs, item: 'herbs', name: 'Oregano, dried', supplier: 'Own terrace', quantity: 0.5, unit: 'kg', daysBefore: 5 },
  { id: bought.neutralBuffer, item: 'buffer', name: 'Buffer pH 7.00', supplier: 'Laboratory dealer', quantity: 1, unit: 'pieces', theirLot: 'P7-0319', daysBefore: 9 },
  { id: bought.acidBuffer, item: 'buffer', name: 'Buffer pH 4.01', supplier: 'Laboratory dealer', quantity: 1, unit: 'pieces', theirLot: 'P4-0288', daysBefore: 9 },
];

export const demoProducer: Producer = {
  name: 'Demo grower', address: 'Terrace Road 3', licence: null, product: 'Olives in brine with oregano', formula: 'OB-1', productClass: null, bestBeforeMonths: 12,
  storage: 'Keep cool and dark.', afterOpening: 'keep cold and covered with brine', origin: null, statement: null, webAddress: null, weights: [{ jarMl: 720, netG: 660, drainedG: 380 }], sheet: null,
};

/** Written down on the day the book was opened; it came in before. */
export const demoStores = (opened: EpochMs): readonly TimedDraft[] => [
  { time: opened + 30 * minuteMs, draft: { who: byUser('owner'), kind: 'producer-set', body: demoProducer } },
  ...lots.map(({ daysBefore, ...lot }, index): TimedDraft => ({
    time: opened + (31 + index) * minuteMs,
    draft: { who: byUser('owner'), kind: 'ingredient-received', body: { ...lot, receivedAt: toRfc3339(opened - daysBefore * dayMs) } },
  })),
];
