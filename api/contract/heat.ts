import { z } from 'zod';
import { stages } from '#domain/cure/batch.ts';
import { alertPriorities } from '#domain/rules/alert.ts';

const point = z.object({ t: z.number(), temperatureC: z.number() });
const degrees = z.number().min(-30).max(60);

/** What somebody expects of the air in the shed on one local day; both null: like the last day again. */
export const airForecast = z.strictObject({ day: z.iso.date().meta({ description: 'a day in the zone of the site' }), lowC: degrees.nullable(), highC: degrees.nullable() });
export type AirForecast = z.infer<typeof airForecast>;
export const airForecasts = z.object({ days: z.array(airForecast) });

const help = z.union([
  z.object({
    kind: z.enum(['shade', 'floor']),
    coolerC: z.number().meta({ description: 'how much cooler the air beside the drum then is: an assumption' }),
    enough: z.boolean(),
    laterHours: z.number().nullable().meta({ description: 'how much later the limit is passed where it is not enough' }),
    text: z.string(),
  }),
  z.object({ kind: z.literal('ice'), bottles: z.number().int(), bottleL: z.number(), at: z.string(), fits: z.boolean(), text: z.string() }),
]);

export const drumHeat = z.object({
  drum: z.string(),
  name: z.string(),
  lot: z.string(),
  stage: z.enum(stages),
  past: z.array(point),
  ahead: z.array(point.extend({ low: z.number(), high: z.number() })).meta({ description: 'low to high hold the drum four times out of five' }),
  unknown: z.string().nullable().meta({ description: 'why nothing can be foretold' }),
  response: z
    .object({ timeConstantHours: z.number(), lowHours: z.number(), highHours: z.number(), offsetC: z.number(), basis: z.enum(['fitted', 'assumed']) })
    .nullable()
    .meta({ description: 'how fast the drum follows its air; lowHours to highHours: four times out of five' }),
  limits: z.array(z.object({ id: z.string(), limitC: z.number(), side: z.enum(['high', 'low']), priority: z.enum(alertPriorities), source: z.string() })),
  outside: z.object({ limitC: z.number(), side: z.enum(['high', 'low']) }).nullable().meta({ description: 'the worst limit it is past now' }),
  crossing: z
    .object({ at: z.string(), earliest: z.string(), latest: z.string().nullable(), plusMinusMinutes: z.number(), limit: z.string(), limitC: z.number(), side: z.enum(['high', 'low']), peakC: z.number() })
    .nullable(),
  helps: z.array(help),
  urgency: z.number(),
  text: z.string(),
});
export type DrumHeat = z.infer<typeof drumHeat>;

export const heatPlan = z.object({
  now: z.string(),
  zone: z.string(),
  air: z
    .object({
      past: z.array(point),
      ahead: z.array(point),
      basis: z.enum(['entered', 'repeated']).meta({ description: 'entered: a person typed at least one of the days ahead; repeated: the last 24 hours again' }),
      days: z.array(airForecast.extend({ likeLowC: z.number(), likeHighC: z.number() })).meta({ description: 'the days ahead: what was typed, and what the last day would give' }),
    })
    .nullable(),
  drums: z.array(drumHeat).meta({ description: 'the most urgent first: risk of the stage times degrees past the limit' }),
  caution: z.string(),
});
export type HeatPlan = z.infer<typeof heatPlan>;
