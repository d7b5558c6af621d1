import { z } from 'zod';
import { forecast } from './batches.ts';
import { drum, nowValue } from './drums.ts';

/** A cable or a bus: what is there, what came, and what of it could not be used. */
const source = z.object({
  kind: z.enum(['serial', 'modbus']),
  name: z.string(),
  state: z.enum(['opening', 'ok', 'lost']),
  trouble: z.string().nullable(),
  readings: z.number(),
  refused: z.record(z.string(), z.number()),
  reopened: z.number(),
  lastReadingAt: z.string().nullable(),
  bytesDropped: z.number().optional(),
  device: z.string().nullable().optional(),
  deviceChanges: z.number().optional(),
  units: z.array(z.object({ unit: z.number(), state: z.enum(['waiting', 'ok', 'refusing', 'silent']), answered: z.number(), failed: z.number(), lastAnswerAt: z.string().nullable() })).optional(),
});

export const health = z.object({
  status: z.enum(['ok', 'degraded', 'down']),
  version: z.string(),
  collector: z.object({ status: z.enum(['ok', 'silent']), since: z.string().nullable(), memoryMb: z.number().nullable() }).optional(),
  broker: z.object({ kind: z.enum(['embedded', 'external']), status: z.enum(['ok', 'lost']), url: z.string(), clients: z.number().nullable() }).optional(),
  store: z
    .object({
      kind: z.string(),
      status: z.enum(['ok', 'lost']),
      place: z.string().optional(),
      trouble: z.string().nullable().optional(),
      outbox: z.object({ waiting: z.number(), refused: z.number(), mostWaiting: z.number(), settledLate: z.object({ duplicates: z.number(), conflicts: z.number() }) }).optional(),
    })
    .optional(),
  readings: z
    .object({ stored: z.number(), duplicates: z.number(), conflicts: z.number(), late: z.number(), refused: z.record(z.string(), z.number()), waiting: z.number(), setAside: z.number() })
    .optional(),
  sources: z.array(source).optional(),
  outlets: z.array(z.object({ kind: z.string(), status: z.string() })).optional(),
});
export type Health = z.infer<typeof health>;

/** The key that seals days and records: whoever has its fingerprint from here can tell that a record came from this site. */
const siteKey = z.object({ algorithm: z.literal('Ed25519'), publicKey: z.string(), fingerprint: z.string() });

/** What a first visitor needs to send a first reading. */
export const site = z.object({
  site: z.string(),
  name: z.string(),
  zone: z.string(),
  version: z.string(),
  demo: z.boolean(),
  mqtt: z.object({ host: z.string(), port: z.number(), external: z.boolean() }),
  now: z.string(),
  key: siteKey.nullable(),
});
export type Site = z.infer<typeof site>;

const span = z.object({ from: z.number(), to: z.number() });

/** All that one row of the wall draws beside its drum; `t`, `from`, `to` are epoch ms. */
export const ribbon = z.object({
  from: z.number(),
  /** The far end of the forecast, or of the rest; never before now. */
  to: z.number(),
  band: z.object({ low: z.number().nullable(), high: z.number().nullable() }).nullable(),
  temperature: z.array(z.object({ t: z.number(), min: z.number(), mean: z.number(), max: z.number() })),
  gaps: z.array(span),
  outside: z.array(z.object({ from: z.number(), to: z.number(), side: z.enum(['high', 'low']) })),
  changes: z.array(z.object({ t: z.number(), sequence: z.number() })),
  tastings: z.array(z.object({ t: z.number(), sequence: z.number(), bitterness: z.number() })),
  jarredAt: z.number().nullable(),
  readyToEatAt: z.number().nullable(),
  forecast,
});
export type Ribbon = z.infer<typeof ribbon>;

export const wall = z.object({
  site: z.object({ name: z.string(), zone: z.string(), keyFingerprint: z.string().nullable() }),
  now: z.string(),
  air: nowValue,
  drums: z.array(drum.extend({ ribbon: ribbon.nullable() })),
  counts: z.object({ alerts: z.number(), dueToday: z.number(), probes: z.number(), probesSilent: z.number() }),
});
export type Wall = z.infer<typeof wall>;
