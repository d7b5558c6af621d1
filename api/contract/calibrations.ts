import { z } from 'zod';
import { checkDefaults, checkSettingNames, type CheckSettings } from '#domain/calibration/check-settings.ts';
import { lots } from './acts.ts';
import { slug, text, time } from './common.ts';

const ph = z.number().min(0).max(14);
const day = z.iso.date();
const note = text(500).optional();
const at = time.optional();

const bottle = z.strictObject({ lot: text(60).optional(), expiresOn: day.optional(), openedOn: day.optional() }).optional().meta({ description: 'what stands on the bottle of the buffer' });
const areApart = (points: readonly { readonly ph: number }[]): boolean => new Set(points.map((point) => point.ph)).size === points.length;

export const newCalibration = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('ph'),
    points: z.array(z.strictObject({ ph, mv: z.number().min(-2_000).max(2_000), bottle })).min(2).max(5).refine(areApart, 'two points have the same pH'),
    temperatureC: z.number().min(0).max(50),
    asFound: z.array(z.strictObject({ ph, reads: ph })).max(5).optional().meta({ description: 'what the meter showed in buffers before it was adjusted' }),
    at, lots, note,
  }),
  z.strictObject({ kind: z.literal('ice-point'), readingC: z.number().min(-20).max(20), referenceC: z.number().min(-5).max(5), reference: text(120).optional().meta({ description: 'what it was compared with, where it was not ice' }), at, lots, note }),
  z.strictObject({ kind: z.literal('buffer-check'), ph, reads: ph, bottle, at, lots, note }),
]);

/** An instrument that is held in the hand and sends nothing. */
export const newInstrument = z.strictObject({
  id: slug,
  name: text(60),
  measures: z.enum(['ph', 'temperature']),
  serial: text(60).optional(),
  inUseSince: day.optional(),
  certificate: z.strictObject({ number: text(60), laboratory: text(120), dueOn: day }).optional(),
});

const calibrationCheck = z.object({
  sequence: z.number().int(),
  kind: z.enum(['ph', 'ice-point', 'buffer-check']),
  at: z.string(),
  by: z.string(),
  text: z.string(),
  failed: z.string().nullable().meta({ description: 'why it failed; null: it passed' }),
  foundWrong: z.string().nullable().meta({ description: 'what it read wrongly before it was adjusted' }),
  slopePercent: z.number().nullable(),
  offsetMv: z.number().nullable(),
  errorC: z.number().nullable(),
  bufferError: z.number().nullable(),
  buffers: z.array(z.object({ ph: z.number(), lot: z.string().nullable(), expiresOn: z.string().nullable(), openedOn: z.string().nullable() })).meta({ description: 'the buffers of the check, as their bottles said' }),
  note: z.string().nullable(),
});
export type CalibrationCheck = z.infer<typeof calibrationCheck>;

const doubt = z.object({
  check: z.number().int(),
  measured: z.enum(['ph', 'temperature']),
  why: z.string(),
  from: z.string().nullable().meta({ description: 'the last good check; null: there was none' }),
  to: z.string(),
  lots: z.array(z.object({ lot: z.string(), entries: z.array(z.number().int()), watched: z.boolean(), decided: z.object({ decision: z.enum(['stands', 'discarded']), reason: z.string(), by: z.string(), at: z.string() }).nullable() })),
});

export const instrument = z.object({
  id: z.string(),
  name: z.string(),
  kind: z.enum(['probe', 'hand']),
  serial: z.string().nullable(),
  inUseSince: z.string().nullable(),
  certificate: z.object({ number: z.string(), laboratory: z.string(), dueOn: z.string() }).nullable(),
  uses: z.array(z.object({ measured: z.enum(['ph', 'temperature']), notUsable: z.string().nullable(), dueAt: z.string().nullable() })),
  checks: z.array(calibrationCheck),
  doubts: z.array(doubt),
});
export type Instrument = z.infer<typeof instrument>;
export const instruments = z.object({ instruments: z.array(instrument) });

export const doubtDecision = z.strictObject({ check: z.number().int().positive(), lot: text(40), decision: z.enum(['stands', 'discarded']), reason: text(500) });

const settingFields = Object.fromEntries(checkSettingNames.map((name) => [name, z.number().min(checkDefaults[name].low).max(checkDefaults[name].high).optional()]));
export const checkSettingsChange = z.strictObject(settingFields) as unknown as z.ZodType<Partial<CheckSettings>, Partial<CheckSettings>>;
export const checkSettings = z.object({
  settings: z.array(z.object({ name: z.enum(checkSettingNames as unknown as [string, ...string[]]), value: z.number(), byDefault: z.number(), low: z.number(), high: z.number(), unit: z.string(), words: z.string(), source: z.string() })),
});
export type CheckSettingShown = z.infer<typeof checkSettings>['settings'][number];
