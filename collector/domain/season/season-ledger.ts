import type { Shed } from '../journal/shed.ts';
import type { EpochMs } from '../units/time.ts';
import { ledgerRow, type LedgerRow } from './ledger-row.ts';
import { seasonsOf, type Season } from './seasons.ts';

export interface LedgerTotals {
  readonly batches: number;
  readonly pickedKg: number;
  readonly culledKg: number;
  readonly drumKg: number;
  readonly stoneKg: number;
  readonly tastedKg: number;
  readonly curingKg: number;
  readonly jars: number;
  readonly jarredKg: number;
  readonly soldJars: number;
  readonly soldKg: number;
  readonly leftJars: number;
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

/** Where the fruit of one season went, by its batches; null where nothing was picked that year. */
export const seasonLedger = (shed: Shed, year: number, zone: string, now: EpochMs): SeasonLedger | null => {
  const season = seasonsOf(shed, zone).find((each) => each.year === year);
  return season === undefined ? null : ledgerOf(season, now);
};

export const ledgerOf = ({ year, firstPick, lastPick, batches }: Season, now: EpochMs): SeasonLedger => {
  const rows = batches.map((batch) => ledgerRow(batch, now));
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
      batches: rows.length,
      pickedKg: sum((row) => row.pickedKg), culledKg: sum((row) => row.culledKg), drumKg: sum((row) => row.drumKg), stoneKg: sum((row) => row.stoneKg), tastedKg: sum((row) => row.tastedKg),
      curingKg: sum((row) => row.curingKg), jars: sum((row) => row.jars), jarredKg: sum((row) => row.jarredKg), soldJars: sum((row) => row.soldJars), soldKg: sum((row) => row.soldKg),
      leftJars: sum((row) => row.leftJars), unaccountedKg, unaccountedShare: emptiedKg > 0 ? unaccountedKg / emptiedKg : null,
    },
    flagged: emptied.filter(({ unaccountedKg: kg, drumKg }) => Math.abs(kg ?? 0) > unaccountedLimit * drumKg).map(({ lot }) => lot),
  };
};
