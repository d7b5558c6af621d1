import { z } from 'zod';
import { cureFactors } from '#domain/cure/attribute-days.ts';
import { cureStyles, cuts, maturities, sweetBitterness } from '#domain/cure/batch.ts';
import { leftOutReasons } from '#domain/cure/compare-cures.ts';

const span = z.object({ low: z.number(), high: z.number() });
const kind = { cut: z.enum(cuts), style: z.enum(cureStyles), maturity: z.enum(maturities) };

/** At which score a cure counts as ended: growers stop at different points, and each is a comparison of its own. */
export const compareQuery = z.strictObject({
  bitterness: z.coerce.number().int().min(0).max(9).default(sweetBitterness).meta({ description: 'the end point: a cure ends with the first tasting at or below this score of 10' }),
});

/** When a cure came down to the end point: after `bitterDays`, not later than `days`. */
const endFields = {
  sweetAt: z.string(),
  days: z.number().meta({ description: 'from the start to the first tasting at or below the end point' }),
  bitterDays: z.number().nullable().meta({ description: 'to the tasting before that; null: there was none, so days is the latest it can be' }),
  likelyDays: z.number().meta({ description: 'the middle of the two; days where there is no earlier tasting' }),
};

export const finishedCure = z.object({
  lot: z.string(),
  drum: z.string(),
  variety: z.string().nullable(),
  startedAt: z.string(),
  ...endFields,
  temperatureC: z.number().meta({ description: 'mean kinetic temperature from start to end, by the activation energy of the group' }),
  measuredShare: z.number().meta({ description: 'share of its hours with a known temperature' }),
});
export type FinishedCure = z.infer<typeof finishedCure>;

const observed = { cures: z.number().int(), temperatureC: span, days: span };

/** Fewer than four cures: nothing is fitted. Temperatures within four degrees: only the level is, with 45 ± 15 kJ/mol assumed. */
export const compareFit = z.discriminatedUnion('method', [
  z.object({ method: z.literal('too-few'), ...observed }),
  z.object({
    method: z.enum(['fitted', 'energy-assumed']),
    ...observed,
    activationEnergyKjPerMol: z.number(),
    standardError: z.number(),
    energyInterval: span.meta({ description: '95 %' }),
    shrunkenKjPerMol: z.number().meta({ description: 'pulled towards 45 ± 15 kJ/mol as far as its own error allows' }),
    plausible: z.boolean().meta({ description: 'false: something other than temperature decides' }),
    intercept: z.number().meta({ description: 'of ln(days) on 1/(R T) in mol/kJ' }),
    residual: z.number(),
    rSquared: z.number().nullable(),
    degreesOfFreedom: z.number(),
  }),
]);
export type CompareFit = z.infer<typeof compareFit>;

export const curvePoint = z.object({
  temperatureC: z.number(),
  days: z.number(),
  low: z.number(),
  high: z.number(),
  extrapolated: z.boolean().meta({ description: 'more than three degrees outside the observed temperatures' }),
  shrunkenDays: z.number().meta({ description: 'by the shrunken activation energy' }),
});
export type CurvePoint = z.infer<typeof curvePoint>;

export const leftOutCure = z.object({ lot: z.string(), drum: z.string(), reason: z.enum(leftOutReasons), text: z.string(), days: z.number().nullable(), temperatureC: z.number().nullable() });
export type LeftOutCure = z.infer<typeof leftOutCure>;

export const compareGroup = z.object({
  ...kind,
  cures: z.array(finishedCure),
  fit: compareFit.nullable(),
  interval: z.object({ kind: z.literal('prediction of one more cure'), level: z.number(), points: z.array(curvePoint) }).nullable(),
  leftOut: z.array(leftOutCure),
});
export type CompareGroup = z.infer<typeof compareGroup>;

/** Finished cures in groups that may be compared: never pooled across cut, cure style or maturity. */
export const compare = z.object({ bitterness: z.number(), source: z.string(), groups: z.array(compareGroup) });
export type Compare = z.infer<typeof compare>;

/** One cure in days since its start: what is laid over another. */
export const cureCourse = z.object({
  lot: z.string(),
  drum: z.string(),
  variety: z.string().nullable(),
  ...kind,
  startedAt: z.string(),
  jarredDay: z.number().nullable(),
  end: z.union([z.object(endFields), z.object({ reason: z.enum(leftOutReasons), text: z.string() })]),
  temperatureC: z.number().nullable().meta({ description: 'mean kinetic temperature up to the end, or so far' }),
  brineRatio: z.number().nullable().meta({ description: 'litres of brine to a litre of water in the flesh' }),
  changesToEnd: z.number().int(),
  temperature: z.array(z.object({ day: z.number(), min: z.number(), mean: z.number(), max: z.number() })),
  gaps: z.array(z.object({ from: z.number(), to: z.number() })).meta({ description: 'days' }),
  changes: z.array(z.object({ day: z.number(), fraction: z.number() })),
  tastings: z.array(z.object({ day: z.number(), bitterness: z.number() })),
});
export type CureCourse = z.infer<typeof cureCourse>;

export const attribution = z.object({
  differenceDays: z.number().meta({ description: 'how much longer the first cure took; parts and rest add up to it' }),
  parts: z.array(z.object({ factor: z.enum(cureFactors), days: z.number() })),
  unexplainedDays: z.number(),
  uncertaintyDays: z.number().meta({ description: 'of the difference, because of the days between tastings: one standard deviation' }),
  modelDays: z.object({ first: z.number(), second: z.number() }),
  rateFactor: z.number().meta({ description: 'how much faster both leach than the starting guess says' }),
  priorShare: z.number(),
  basis: z.string(),
});
export type Attribution = z.infer<typeof attribution>;

/** Two cures over one time scale, and why the first was slower. */
export const comparePair = z.object({
  bitterness: z.number(),
  first: cureCourse,
  second: cureCourse,
  attribution: z.union([attribution, z.object({ unknown: z.string() })]),
});
export type ComparePair = z.infer<typeof comparePair>;

/** The numbers of `GET /api/compare` as a table beside the route table: its answer is not JSON. */
export const compareCsvPath = '/compare.csv';
