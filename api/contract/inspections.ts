import { z } from 'zod';
import { text } from './common.ts';

/** For somebody outside: a code that opens the records of some lots until a time. */
const lotCodes = z.array(text(20)).min(1).max(200);
/** A day at the stall, or the weeks an office takes: never without an end. */
export const mostInspectionHours = 31 * 24;

export const newInspection = z.strictObject({
  name: text(60).meta({ description: 'for whom' }),
  lots: lotCodes,
  hours: z.number().positive().max(mostInspectionHours),
});

/** What was looked at: a lot, in which form, when. */
const seen = z.object({ lot: z.string(), form: z.string(), at: z.string(), by: z.string() });

export const inspection = z.object({
  id: z.string(),
  name: z.string(),
  lots: z.array(z.string()),
  by: z.string(),
  madeAt: z.string(),
  until: z.string(),
  state: z.enum(['open', 'over', 'revoked']),
  endedAt: z.string().nullable().meta({ description: 'when it was revoked' }),
  seen: z.array(seen),
});
export type Inspection = z.infer<typeof inspection>;

/** `others`: what accounts with a name looked at. */
export const inspections = z.object({ inspections: z.array(inspection), others: z.array(seen) });

/** The code is told once. `qr`: the link as an SVG path, one unit a module. */
export const givenInspection = inspection.extend({
  code: z.string().meta({ description: 'to type or to say' }),
  link: z.string(),
  qr: z.object({ size: z.number().int(), path: z.string() }),
});
export type GivenInspection = z.infer<typeof givenInspection>;

export const openInspection = z.strictObject({ code: z.string().min(1).max(40) });

/** Where the code is typed; the link carries it behind `#`, which a browser keeps to itself. */
export const inspectPath = '/inspect';
