import type { Season, SeasonPlan } from '#contract';
import type { SeasonPlanInput } from '#domain/season/plan-input.ts';
import { planFromShed } from '#domain/season/plan-from-shed.ts';
import type { SeasonPlan as Plan } from '#domain/season/season-plan.ts';
import { ledgerOf, unaccountedLimit, type SeasonLedger } from '#domain/season/season-ledger.ts';
import { seasonsOf } from '#domain/season/seasons.ts';
import { treeYearsOf } from '#domain/season/tree-years.ts';
import { toRfc3339 } from '#domain/units/time.ts';
import type { ShedModel } from './shed-model.ts';

/** One season, how it compares with the others, what the trees bore, and where the next plan begins. */
export const seasonView = (model: ShedModel, asked: number | null): Season => {
  const now = model.clock.now();
  const seasons = seasonsOf(model.shed(), model.zone).map((each) => ledgerOf(each, now));
  const year = asked ?? seasons.at(-1)?.year ?? null;
  const trees = treesView(model);
  const { input, own } = planFromShed(model.shed(), treeYearsOf(model.shed(), model.zone));
  const ledger = seasons.find((each) => each.year === year);
  return {
    year,
    seasons: seasons.map(({ year: one, totals: { batches, pickedKg, jars, soldJars, unaccountedShare } }) => ({ year: one, batches, pickedKg, jars, soldJars, unaccountedShare })),
    ledger: ledger === undefined ? null : ledgerView(ledger),
    trees,
    next: { input, own: [...own] },
  };
};

export const treesView = (model: ShedModel): Season['trees'] => treeYearsOf(model.shed(), model.zone).map(({ years, ...rest }) => ({ ...rest, years: [...years] }));

const ledgerView = ({ firstPick, lastPick, rows, totals, flagged }: SeasonLedger): NonNullable<Season['ledger']> => ({
  firstPick: toRfc3339(firstPick),
  lastPick: toRfc3339(lastPick),
  rows: rows.map(({ pickedAt, jarredAt, ...row }) => ({ ...row, pickedAt: toRfc3339(pickedAt), jarredAt: jarredAt === null ? null : toRfc3339(jarredAt) })),
  totals,
  flagged: [...flagged],
  flaggedAbove: unaccountedLimit,
});

export const planView = (input: SeasonPlanInput, { weeks, ...plan }: Plan): SeasonPlan => ({ input, ...plan, weeks: [...weeks] });
