import { readFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { z } from 'zod';
import { fail, ok, type Result } from '#domain/result.ts';
import { slugPattern } from '#domain/reading/reading.ts';
import { mappingList, type Mapping } from './mapping-setting.ts';
import { modbusList, serialList } from './source-setting.ts';
import type { ModbusBus } from './sources/modbus/modbus.ts';
import { anonymousChoices, type Anonymous } from './sources/probe-access.ts';
import type { SerialSpec } from './sources/serial/spec.ts';
import { readInfluxAddress } from './stores/influx/address.ts';

/**
 * Settings: every option of the command line is also an environment variable (`--mqtt-port` = `BRINEWARD_MQTT_PORT`) and a key of
 * the JSON file named by `--config` (`"mqtt-port"`). Precedence: option, environment, file, default.
 */
const number = z.union([z.number(), z.string().trim().regex(/^\d+(\.\d+)?$/).transform(Number)], 'must be a number');
const port = number.pipe(z.number().int('must be a whole number').min(0).max(65_535, 'must be at most 65535'));
const zone = z.string().refine((name) => isZone(name), 'is no time zone of the IANA list (such as Europe/Athens)');
const flag = z.union([z.boolean(), z.enum(['true', 'false', '1', '0', ''])]).transform((value) => value === true || value === 'true' || value === '1');

/** What is said of it never repeats it: it may hold a password. */
const storeUrl = z.string().check((context) => {
  const address = readInfluxAddress(context.value);
  if (!address.ok) context.issues.push({ code: 'custom', message: address.error, input: null });
});

const settings = z.strictObject({
  data: z.string().min(1).optional(),
  host: z.string().min(1).default('127.0.0.1'),
  port: port.default(8470),
  'mqtt-host': z.string().min(1).default('127.0.0.1'),
  'mqtt-port': port.default(1883),
  'mqtt-anonymous': z.enum(anonymousChoices, `must be one of ${anonymousChoices.join(', ')}`).default('auto'),
  'mqtts-host': z.string().min(1).default('0.0.0.0'),
  'mqtts-port': port.optional(),
  'mqtts-cert': z.string().min(1).optional(),
  'mqtts-key': z.string().min(1).optional(),
  'broker-ca': z.string().min(1).optional(),
  broker: z.url({ protocol: /^(mqtts?|wss?)$/, error: 'must be an address that begins with mqtt:, mqtts:, ws: or wss:' }).optional(),
  store: storeUrl.optional(),
  'outbox-readings': number.pipe(z.number().int('must be a whole number').min(10_000, 'must be at least 10000')).optional(),
  serial: serialList,
  modbus: modbusList,
  mappings: mappingList,
  site: z.string().regex(slugPattern, 'must be lower-case letters, digits and dashes').optional(),
  zone: zone.optional(),
  demo: flag.default(false),
  speed: number.pipe(z.number().min(0.1, 'must be at least 0.1').max(100_000, 'must be at most 100000')).default(1),
});

export interface Config {
  readonly dataDirectory: string;
  readonly host: string;
  readonly port: number;
  readonly mqttHost: string;
  readonly mqttPort: number;
  /** Who may speak on the embedded broker without a name. */
  readonly mqttAnonymous: Anonymous;
  /** The encrypted door of the embedded broker. */
  readonly mqtts: { readonly host: string; readonly port: number; readonly certificateFile: string; readonly keyFile: string } | null;
  /** The certificate authority of an external broker. */
  readonly brokerAuthorityFile: string | null;
  /** An external broker, or null for the embedded one. */
  readonly broker: string | null;
  /** Where InfluxDB is, with name and password: never shown; null for SQLite in the data directory. */
  readonly store: string | null;
  /** More readings than this do not wait for InfluxDB. */
  readonly outboxReadings: number | null;
  readonly serial: readonly SerialSpec[];
  readonly modbus: readonly ModbusBus[];
  /** Where readings lie in other people's messages. */
  readonly mappings: readonly Mapping[];
  readonly site: string;
  readonly siteName: string;
  readonly zone: string;
  readonly demo: boolean;
  /** How many times faster than the wall clock the shed's clock runs; other than 1 only in the demo. */
  readonly speed: number;
}

export type ConfigFailure = { readonly code: 'unknown-option' | 'unreadable-config' | 'bad-value'; readonly message: string };

type Key = keyof typeof settings.shape;
const keys = Object.keys(settings.shape) as readonly Key[];
const repeatable: ReadonlySet<Key> = new Set<Key>(['serial', 'modbus']);
const boolean: ReadonlySet<Key> = new Set<Key>(['demo']);

export const environmentName = (key: string): string => `BRINEWARD_${key.toUpperCase().replaceAll('-', '_')}`;

export const readConfig = (argv: readonly string[], environment: Readonly<Record<string, string | undefined>>): Result<Config, ConfigFailure> => {
  const options = Object.fromEntries([...keys.map((key) => [key, { type: boolean.has(key) ? ('boolean' as const) : ('string' as const), multiple: repeatable.has(key) }] as const), ['config', { type: 'string', multiple: false }] as const]);
  let values: Readonly<Record<string, unknown>>;
  try {
    values = parseArgs({ args: [...argv], options, strict: true, allowPositionals: false }).values;
  } catch (cause) {
    const why = cause instanceof Error ? (/^[^\n]*?(?=\. |\.?\n|\.?$)/.exec(cause.message)?.[0] ?? cause.message) : String(cause);
    return fail({ code: 'unknown-option', message: `${why}. Known options: ${[...keys, 'config'].map((key) => `--${key}`).join(' ')}` });
  }
  // A variable that is set to nothing is not set.
  const variable = (key: string): string | undefined => environment[environmentName(key)] || undefined;
  const fromEnvironment = Object.fromEntries(keys.flatMap((key) => (variable(key) === undefined ? [] : [[key, variable(key)]])));
  const { config: named, ...given } = values;
  const file = named ?? variable('config');
  const path = typeof file === 'string' ? file : null;
  const fromFile = path === null ? ok({}) : readFile(path);
  if (!fromFile.ok) return fromFile;
  const parsed = settings.safeParse({ ...fromFile.value, ...fromEnvironment, ...given });
  if (!parsed.success) {
    const issue = parsed.error.issues[0];
    if (issue?.code === 'unrecognized_keys') return fail({ code: 'unknown-option', message: `The settings file ${path ?? ''} has a key nobody knows: ${issue.keys.join(', ')}` });
    const key = issue?.path[0]?.toString() ?? '';
    // Named as it stands where it was given.
    const origin = Object.hasOwn(given, key) ? `--${key}` : Object.hasOwn(fromEnvironment, key) ? environmentName(key) : `The settings file ${path ?? ''}, ${key}`;
    return fail({ code: 'bad-value', message: `${origin}: ${issue?.message ?? 'is wrong'}. Correct it, or leave it out.` });
  }
  return toConfig(parsed.data);
};

const readFile = (file: string): Result<Record<string, unknown>, ConfigFailure> => {
  try {
    const content: unknown = JSON.parse(readFileSync(file, 'utf8'));
    if (typeof content === 'object' && content !== null && !Array.isArray(content)) return ok(content as Record<string, unknown>);
    return fail({ code: 'unreadable-config', message: `The settings file ${file} must hold one JSON object.` });
  } catch (cause) {
    const why = cause instanceof SyntaxError ? 'it is not JSON' : cause instanceof Error && 'code' in cause ? String(cause.code) : String(cause);
    return fail({ code: 'unreadable-config', message: `The settings file ${file} cannot be read (${why}). Correct it, or start without --config.` });
  }
};

const toConfig = (data: z.infer<typeof settings>): Result<Config, ConfigFailure> => {
  const mqtts = mqttsOf(data);
  if (!mqtts.ok) return mqtts;
  const site = data.site ?? (data.demo ? 'saltbush-terrace' : 'home');
  return ok({
    dataDirectory: data.data ?? (data.demo ? './data-demo' : './data'),
    host: data.host,
    port: data.port,
    mqttHost: data['mqtt-host'],
    mqttPort: data['mqtt-port'],
    mqttAnonymous: data['mqtt-anonymous'],
    mqtts: mqtts.value,
    brokerAuthorityFile: data['broker-ca'] ?? null,
    broker: data.broker ?? null,
    store: data.store ?? null,
    outboxReadings: data['outbox-readings'] ?? null,
    serial: data.serial,
    modbus: data.modbus,
    mappings: data.mappings,
    site,
    siteName: nameOf(site),
    zone: data.zone ?? new Intl.DateTimeFormat().resolvedOptions().timeZone,
    demo: data.demo,
    speed: data.demo ? data.speed : 1,
  });
};

const mqttsOf = (data: z.infer<typeof settings>): Result<Config['mqtts'], ConfigFailure> => {
  const { 'mqtts-host': host, 'mqtts-port': tlsPort, 'mqtts-cert': certificateFile, 'mqtts-key': keyFile } = data;
  if (tlsPort === undefined && certificateFile === undefined && keyFile === undefined) return ok(null);
  if (tlsPort !== undefined && certificateFile !== undefined && keyFile !== undefined) return ok({ host, port: tlsPort, certificateFile, keyFile });
  return fail({ code: 'bad-value', message: 'Encrypted MQTT needs all three of --mqtts-port, --mqtts-cert and --mqtts-key. Give the ones that are missing, or leave all out.' });
};

/** `saltbush-terrace` → `Saltbush Terrace`. */
const nameOf = (site: string): string => site.replace(/(^|-)([a-z0-9])/g, (_whole, dash: string, letter: string) => (dash === '' ? '' : ' ') + letter.toUpperCase());

const isZone = (name: string): boolean => {
  try {
    Intl.DateTimeFormat('en', { timeZone: name });
    return true;
  } catch {
    return false;
  }
};
