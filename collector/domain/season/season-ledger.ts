import type { Lot } from '../journal/entry.ts';
import type { Shed } from '../journal/shed.ts';
import type { EpochMs } from '../units/time.ts';
import { ledgerRow, type Beside, type LedgerRow } from './ledger-row.ts';
import { pickBalance } from './pick-balance.ts';
import { seasonsOf, type Season } from './seasons.ts';

type Summed = 'pickedKg' | 'culledKg' | 'looseKg' | 'drumKg' | 'stoneKg' | 'tastedKg' | 'curingKg' | 'jars' | 'jarredKg' | 'soldJars' | 'soldKg' | 'leftJars';

export interface LedgerTotals extends Pick<LedgerRow, Summed> {
  readonly picks: number;
  readonly batches: number;
  readonly unaccountedKg: number;
  /** Of what went into drums that are empty now; null where none is. */
  readonly unaccountedShare: number | null;
}

export interface SeasonLedger {
  readonly year: number;
  readonly firstPick: EpochMs;
  readonly lastPick: EpochMs;
  /** In the order of picking. */
  readonly rows: readonly LedgerRow[];
  readonly totals: LedgerTotals;
  /** Lots of which more than `unaccountedLimit` is missing, or over. */
  readonly flagged: readonly string[];
}

/** More than this share missing is worth a look (assumption). */
export const unaccountedLimit = 0.05;

/** Where the fruit of one season went, by its picks and batches; null where nothing was picked that year. */
export const seasonLedger = (shed: Shed, year: number, zone: string, now: EpochMs): SeasonLedger | null => {
  const season = seasonsOf(shed, zone).find((each) => each.year === year);
  return season === undefined ? null : ledgerOf(season, now);
};

export const ledgerOf = ({ year, firstPick, lastPick, picks, batches }: Season, now: EpochMs): SeasonLedger => {
  const { beside, alone } = lossesOf(picks, batches);
  const rows = batches.map((batch) => ledgerRow(batch, beside.get(batch.lot) ?? nothing, now));
  const sum = (value: (row: LedgerRow) => number): number => rows.reduce((total, row) => total + value(row), 0);
  const emptied = rows.filter(({ unaccountedKg }) => unaccountedKg !== null);
  const emptiedKg = emptied.reduce((total, { drumKg }) => total + drumKg, 0);
  const unaccountedKg = sum((row) => row.unaccountedKg ?? 0);
  return {
    year,
    firstPick,
    lastPick,
    rows,
    totals: {
      picks: picks.length + batches.filter((batch) => batch.picks.length === 0 && batch.from === null).length,
      batches: rows.length,
      pickedKg: sum((row) => row.pickedKg) + alone.culledKg + alone.looseKg, culledKg: sum((row) => row.culledKg) + alone.culledKg, looseKg: sum((row) => row.looseKg) + alone.looseKg, drumKg: sum((row) => row.drumKg), stoneKg: sum((row) => row.stoneKg), tastedKg: sum((row) => row.tastedKg),
      curingKg: sum((row) => row.curingKg), jars: sum((row) => row.jars), jarredKg: sum((row) => row.jarredKg), soldJars: sum((row) => row.soldJars), soldKg: sum((row) => row.soldKg),
      leftJars: sum((row) => row.leftJars), unaccountedKg, unaccountedShare: emptiedKg > 0 ? unaccountedKg / emptiedKg : null,
    },
    flagged: emptied.filter(({ unaccountedKg: kg, drumKg }) => Math.abs(kg ?? 0) > unaccountedLimit * drumKg).map(({ lot }) => lot),
  };
};

const nothing: Beside = { culledKg: 0, looseKg: 0 };
const add = (one: Beside, culledKg: number, looseKg: number): Beside => ({ culledKg: one.culledKg + culledKg, looseKg: one.looseKg + looseKg });

/** What picks lost before the drum, on the batches by their shares; what is of no batch stands alone. */
const lossesOf = (picks: Season['picks'], batches: Season['batches']): { readonly beside: ReadonlyMap<Lot, Beside>; readonly alone: Beside } => {
  const beside = new Map<Lot, Beside>();
  let alone = nothing;
  for (const pick of picks) {
    const { culledKg, unaccountedKg, overKg, batches: shares, inBatchesKg } = pickBalance(pick, batches);
    const looseKg = (unaccountedKg ?? 0) - overKg;
    if (shares.length === 0) alone = add(alone, culledKg, looseKg);
    for (const { lot, kg } of shares) beside.set(lot, add(beside.get(lot) ?? nothing, (culledKg * kg) / inBatchesKg, (looseKg * kg) / inBatchesKg));
  }
  return { beside, alone };
};
