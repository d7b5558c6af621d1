import { z } from 'zod';
import { planRanges, seasonPlanDefaults, type PlanNumber, type PlanSpread } from '#domain/season/plan-input.ts';
import { planFigures } from '#domain/season/season-plan.ts';
import { treeLoads } from '#domain/season/tree-load.ts';
import { text } from './common.ts';

const year = z.number().int().min(2000).max(2100);

export const seasonQuery = z.strictObject({ year: z.coerce.number().int().min(2000).max(2100).optional().meta({ description: 'the year of its first pick; default: the last season' }) });

const kilograms = { pickedKg: z.number(), culledKg: z.number(), looseKg: z.number().meta({ description: 'picked and not sorted out, but in no drum; below nothing where more went in than was picked' }), drumKg: z.number(), stoneKg: z.number(), tastedKg: z.number(), curingKg: z.number(), jarredKg: z.number(), soldKg: z.number() };
const counts = { jars: z.number().int(), soldJars: z.number().int(), leftJars: z.number().int() };

export const seasonRow = z.object({
  lot: z.string(),
  drum: z.string(),
  trees: z.string().nullable(),
  variety: z.string().nullable(),
  pickedAt: z.string(),
  jarredAt: z.string().nullable(),
  ...kilograms,
  ...counts,
  unaccountedKg: z.number().nullable().meta({ description: 'null while fruit is in the drum; below nothing where the jars hold more than went in' }),
});
export type SeasonRow = z.infer<typeof seasonRow>;

export const seasonTotals = z.object({
  picks: z.number().int(),
  batches: z.number().int(),
  ...kilograms,
  ...counts,
  unaccountedKg: z.number(),
  unaccountedShare: z.number().nullable().meta({ description: 'of what went into drums that are empty now' }),
});
export type SeasonTotals = z.infer<typeof seasonTotals>;

export const treeYear = z.object({
  year,
  kg: z.number().nullable(),
  load: z.literal(treeLoads).nullable().meta({ description: 'judged from the ground: 0 none, 1 little, 2 fair, 3 heavy' }),
  from: z.enum(['written', 'weighed', 'shared']).meta({ description: 'shared: its even part of fruit weighed together' }),
  bearing: z.enum(['on', 'off']).nullable(),
});
export const treeYears = z.object({
  tree: z.string(),
  years: z.array(treeYear),
  alternateBearing: z.number().nullable().meta({ description: '0 steady, 1 all or nothing (Pearce & Dobersek-Urbanc 1967); null: fewer than two years in a row' }),
  nextYear: z.enum(['on', 'off']).nullable(),
});
export type TreeYears = z.infer<typeof treeYears>;

const range = (field: keyof typeof planRanges, whole: boolean) => {
  const { low, high, unit } = planRanges[field];
  const number = z.number().min(low).max(high);
  return (whole ? number.int() : number).meta({ description: unit });
};
const spread = (field: PlanSpread) => z.strictObject({ low: range(field, false), likely: range(field, false), high: range(field, false) }).meta({ description: `the least, the likely and the most: ${planRanges[field].unit}` });
const number = (field: PlanNumber, whole = false) => range(field, whole);

const planFields = {
  treesOn: number('treesOn', true), treesOff: number('treesOff', true), onKg: spread('onKg'), offKg: spread('offKg'), year: spread('year'), cullShare: spread('cullShare'), jarCullShare: number('jarCullShare'),
  picks: number('picks', true), daysBetweenPicks: number('daysBetweenPicks'), drums: number('drums', true), drumL: number('drumL'), cureDays: spread('cureDays'), brinesPerDrum: number('brinesPerDrum', true),
  brinePercentWw: number('brinePercentWw'), waterChanges: number('waterChanges', true), jarMl: number('jarMl'), jarBrinePercentWw: number('jarBrinePercentWw'), vinegarShare: number('vinegarShare'),
  jarsPerStall: number('jarsPerStall', true), daysBetweenStalls: number('daysBetweenStalls', true),
};
export const planInput = z.strictObject(planFields);
export type PlanInput = z.infer<typeof planInput>;

/** What is left out is assumed; the answer says what it was worked out from. */
export const planQuestion = planInput.partial().extend({ seed: z.number().int().min(0).max(2 ** 32 - 1).default(1).meta({ description: 'the same seed plays the same seasons again' }) });
export const planDefaults: PlanInput = seasonPlanDefaults;

const band = z.object({ p10: z.number(), p50: z.number(), p90: z.number() });
export type PlanBand = z.infer<typeof band>;

export const seasonPlan = z.object({
  input: planInput,
  runs: z.number().int(),
  figures: z.record(z.enum(planFigures), band).meta({ description: 'one season in ten lies below p10, one in ten above p90; days are counted from the first pick' }),
  weeks: z.array(band).meta({ description: 'drums with fruit in them, week by week from the first pick' }),
  shortChance: z.number().meta({ description: 'the share of seasons in which the drums there are do not do' }),
  shopping: z.object({ drums: z.number().int(), saltKg: z.number().int(), jars: z.number().int(), lids: z.number().int(), vinegarL: z.number().int() }).meta({ description: 'enough in four seasons of five, each thing by itself; drums: beside those there are' }),
  measures: z.object({ fruitKgPerDrum: z.number(), brineLPerDrum: z.number(), saltGPerL: z.number(), fruitKgPerJar: z.number(), brineLPerJar: z.number(), jarSaltGPerL: z.number() }),
});
export type SeasonPlan = z.infer<typeof seasonPlan>;

/** A season is a run of picks with less than 120 days between them, named by the year of the first. */
export const season = z.object({
  year: year.nullable().meta({ description: 'null: nothing was ever picked' }),
  seasons: z.array(z.object({ year, batches: z.number().int(), pickedKg: z.number(), jars: z.number().int(), soldJars: z.number().int(), unaccountedShare: z.number().nullable() })),
  ledger: z.object({ firstPick: z.string(), lastPick: z.string(), rows: z.array(seasonRow), totals: seasonTotals, flagged: z.array(z.string()), flaggedAbove: z.number() }).nullable(),
  trees: z.array(treeYears),
  next: z.object({ input: planInput, own: z.array(z.string()).meta({ description: 'the fields that come from this shed; the others are assumptions' }) }),
});
export type Season = z.infer<typeof season>;

export const newTreeLoad = z
  .strictObject({ tree: text(60), year, kg: z.number().min(0).max(2_000).optional(), load: z.literal(treeLoads).optional() })
  .refine(({ kg, load }) => kg !== undefined || load !== undefined, { path: ['kg'], message: 'kg or load must be given' });
export const treeLoadWritten = z.object({ trees: z.array(treeYears) });

/** The ledger of one season as a table; it stands beside the route table, because its answer is not JSON. */
export const seasonCsvPath = '/season.csv';
