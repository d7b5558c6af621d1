/** A limit of pH for packed jars, and whose rule it is. */
export interface PackLimit {
  readonly id: string;
  readonly ph: number;
  readonly rule: string;
  readonly source: string;
}

/** How a pack is meant to keep: on a shelf, or cold and not for long. */
export const packPlans = ['shelf', 'cold'] as const;
export type PackPlan = (typeof packPlans)[number];

/**
 * The published limits for natural olives in brine. They are trade and legal limits, no approval: local rules and a process authority decide.
 * Sources disagree from 4.3 to 4.7, so the strictest that applies stands; a grower may add a stricter one (some offices advise 4.1 or 4.2).
 */
export const codexNaturalOlives: PackLimit = { id: 'codex-natural-olives', ph: 4.3, rule: 'natural olives in brine: pH at most 4.3', source: 'CXS 66-1981' };
export const acidFood: PackLimit = { id: 'acid-food', ph: 4.6, rule: 'acid or acidified food: equilibrium pH at most 4.6', source: '21 CFR 114.3' };

/**
 * What holds for each plan. Cold packs of plain olives are made up to pH 4.6 at 5 °C or less; non-proteolytic strains made toxin at 5 °C in two
 * to three weeks at pH 5 (Graham et al. 1997), so cold is no barrier above 4.6. The cold row is an assumption built on these two.
 */
const applying: Readonly<Record<PackPlan, readonly PackLimit[]>> = { shelf: [codexNaturalOlives, acidFood], cold: [acidFood] };

/** The strictest limit that applies, of the published ones for the plan and of any the grower or the local office has set. */
export const packLimitInForce = (plan: PackPlan = 'shelf', own: readonly PackLimit[] = []): PackLimit =>
  [...applying[plan], ...own].reduce((strictest, limit) => (limit.ph < strictest.ph ? limit : strictest));
