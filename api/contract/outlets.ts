import { z } from 'zod';
import { announcementKinds, announcementResults } from '#domain/announce/announced.ts';
import { announcedPriorities, mailSecurity, outletKinds } from '#domain/announce/outlet.ts';
import { timeOfDayPattern } from '#domain/announce/quiet-hours.ts';
import { text } from './common.ts';

/** Outlets: ways by which word of the shed reaches people. What is secret goes in and never comes out. */
const hostName = z.string().trim().regex(/^[A-Za-z0-9.:[\]-]{1,253}$/, 'is no name of a machine');
const mailAddress = z.email('is no mail address').max(254);
const mailServer = z.object({
  host: hostName,
  port: z.number().int().min(1).max(65_535),
  security: z.enum(mailSecurity),
  user: text(254).nullable(),
  from: mailAddress,
});
const address = z.url({ protocol: /^https?$/, error: 'must be an address that begins with https: or http:' }).max(2_000);
const oneDayMinutes = 24 * 60;

export { outletKinds as outletKindList } from '#domain/announce/outlet.ts';

export const setOutlet = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('mail'), name: text(60), to: mailAddress, server: mailServer.strict(), password: text(500).optional().meta({ description: 'kept beside the databases, in no journal; left out: as before' }) }),
  z.strictObject({ kind: z.literal('webhook'), name: text(60), url: address.optional().meta({ description: 'secret, like a password; left out: as before' }) }),
  z.strictObject({ kind: z.literal('heartbeat'), name: text(60), url: address.optional(), everyMinutes: z.number().int().min(1).max(oneDayMinutes) }),
]);
export type SetOutlet = z.infer<typeof setOutlet>;

const timeOfDay = z.string().regex(timeOfDayPattern, 'is a time such as 22:00');
export const outletRoute = z.object({
  priorities: z.array(z.enum(announcedPriorities)).max(announcedPriorities.length),
  quiet: z.object({ from: timeOfDay, to: timeOfDay }).nullable(),
  remindMinutes: z.number().int().min(5).max(7 * oneDayMinutes).nullable(),
  seals: z.boolean().meta({ description: 'the line of each sealed day, by mail only' }),
});
export type OutletRoute = z.infer<typeof outletRoute>;

export const outlet = z.object({
  id: z.string(),
  kind: z.enum(outletKinds),
  name: z.string(),
  to: z.string().meta({ description: 'the mail address, or the host of a secret address' }),
  server: mailServer.nullable(),
  everyMinutes: z.number().nullable(),
  hasSecret: z.boolean(),
  route: outletRoute,
  status: z.enum(['ok', 'failing', 'not-tried']),
  failures: z.number(),
  detail: z.string().nullable().meta({ description: 'what the other side said where it fails' }),
  lastSentAt: z.string().nullable(),
  nextTryAt: z.string().nullable(),
});
export type Outlet = z.infer<typeof outlet>;

export const announced = z.object({
  entry: z.number(),
  outlet: z.string(),
  what: z.enum(announcementKinds),
  to: z.string(),
  alerts: z.array(z.string()),
  at: z.string(),
  lateS: z.number(),
  attempts: z.number(),
  result: z.enum(announcementResults),
  detail: z.string().nullable(),
});
export type Announced = z.infer<typeof announced>;

export const outlets = z.object({ outlets: z.array(outlet), announced: z.array(announced).meta({ description: 'the last ones, newest first' }) });
/** `key`: the signing key of a new webhook, told once. */
export const outletSet = z.object({ outlet, key: z.string().nullable() });
export const testAsked = z.object({ entry: z.number().meta({ description: 'the answer stands among the announced, under a later entry' }) });
