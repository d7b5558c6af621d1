import type { JarStock } from '../jar/jar-stock.ts';
import { lostWays } from '../jar/jar-stock.ts';

export interface JarCounts {
  readonly filled: number;
  /** With buyers now: those that came back are not among them. */
  readonly sold: number;
  readonly tested: number;
  readonly broken: number;
  /** Gifts, own use, spoiled. */
  readonly otherwise: number;
  readonly returned: number;
  /** Counted here, besides those that came back. */
  readonly onHand: number;
}

export interface JarBalance extends JarCounts {
  readonly unaccounted: number;
  readonly percentLocated: number;
  readonly verdict: 'balances' | 'does-not-balance';
}

/**
 * Whether every jar of a lot is known of.
 *
 * unaccounted = filled - (sold + tested + broken + otherwise + returned + on hand); located = (filled - unaccounted) / filled.
 * Whole jars: anything but nought does not balance.
 *
 * Source: mass balance as certifiers ask for it (7 CFR 205.103, records that are fully reconcilable).
 * Example: 48 filled = 31 sold + 2 tested + 1 broken + 14 here: 0 unaccounted, 100 % located.
 */
export const jarBalance = (counts: JarCounts): JarBalance => {
  const { filled, sold, tested, broken, otherwise, returned, onHand } = counts;
  const known = sold + tested + broken + otherwise + returned + onHand;
  const unaccounted = filled - known;
  return { ...counts, unaccounted, percentLocated: filled === 0 ? 100 : (Math.min(known, filled) / filled) * 100, verdict: unaccounted === 0 ? 'balances' : 'does-not-balance' };
};

/** From a lot's stock and what was counted when; null: nobody counted, so what should be here is taken for what is here. */
export const jarBalanceOf = (stock: JarStock, counted: { readonly jars: number; readonly leftThen: number } | null): JarBalance => {
  const missing = counted === null ? 0 : counted.leftThen - counted.jars;
  const { tested, broken, ...others } = stock.otherwise;
  return jarBalance({
    filled: stock.jarred,
    sold: stock.out,
    tested,
    broken,
    otherwise: lostWays.reduce((sum, way) => sum + (way === 'tested' || way === 'broken' ? 0 : others[way]), 0),
    returned: stock.returned,
    onHand: stock.left - stock.returned - missing,
  });
};
