import { connect, type IClientOptions, type MqttClient } from 'mqtt';
import { fail, ok, type Result } from '#domain/result.ts';
import { probeFilter } from '#domain/reading/topic.ts';
import { holdAcknowledgements } from './held-acknowledgements.ts';
import { reconnectPauseMs } from './pause.ts';
import { endingStateFilters, journalHintTopic, ownTopics, type Wire, type WireFailure, type WireHandlers } from './wire.ts';

/**
 * An external broker: MQTT 5, or 3.1.1 where it speaks only that. The session is persistent, so that a broker which keeps
 * messages for us does; a lost connection is retried for ever, with growing, jittered pauses.
 */
export interface MqttSourceOptions {
  readonly site: string;
  readonly url: string;
  readonly handlers: WireHandlers;
  /** Further topic filters that hold readings. */
  readonly filters?: readonly string[];
  /** The certificate authority of an encrypted broker, where it is none the machine knows (PEM). */
  readonly authority?: string | null;
  /** Between 0 and 1; spreads the reconnects of many sites. */
  readonly random: () => number;
  /** How long the first connection may take before it counts as unreachable; null: keep trying (a restart, not a first start). */
  readonly firstConnectMs: number | null;
}

const sessionExpiryS = 7 * 24 * 3_600;
/** MQTT 5 receive maximum: how many QoS 1 messages the broker may have on the way to us. */
const receiveMaximum = 2_000;

export const startMqttSource = async (options: MqttSourceOptions): Promise<Result<Wire, WireFailure>> => {
  const five = await connectAs(5, options);
  if (five.ok || five.error !== 'version') return five.ok ? ok(five.value) : fail(five.error as WireFailure);
  const four = await connectAs(4, options);
  if (four.ok) return ok(four.value);
  return fail(four.error === 'version' ? { code: 'broker-unreachable', message: `The broker ${safeUrl(options.url)} speaks neither MQTT 5 nor 3.1.1.` } : four.error);
};

/** Can the broker be reached at all? Asked before anything is made on disk; leaves no session behind. */
export const checkBroker = async (url: string, withinMs: number, authority: string | null = null): Promise<WireFailure | null> => {
  let client: MqttClient;
  try {
    client = connect(url, { reconnectPeriod: 0, connectTimeout: withinMs, clean: true, ...(authority === null ? {} : { ca: authority }) });
  } catch (cause) {
    return { code: 'broker-unreachable', message: `The broker address ${safeUrl(url)} cannot be used (${messageOf(cause)}). Give mqtt:, mqtts:, ws: or wss: and a host.` };
  }
  const failure = await new Promise<WireFailure | null>((resolve) => {
    client.once('connect', () => resolve(null));
    client.on('error', (error) => resolve({ code: 'broker-unreachable', message: unreachable(url, messageOf(error)) }));
    client.once('close', () => resolve({ code: 'broker-unreachable', message: unreachable(url, 'it closed the connection') }));
  });
  await client.endAsync(true);
  return failure;
};

const connectAs = async (protocolVersion: 4 | 5, options: MqttSourceOptions): Promise<Result<Wire, WireFailure | 'version'>> => {
  const { site, url, handlers, random, firstConnectMs, filters = [], authority = null } = options;
  const settings: IClientOptions = {
    protocolVersion,
    clientId: `brineward-${site}-collector`,
    clean: false,
    reconnectPeriod: 0,
    queueQoSZero: false,
    resubscribe: false,
    connectTimeout: firstConnectMs ?? 10_000,
    ...(authority === null ? {} : { ca: authority }),
    ...(protocolVersion === 5 ? { properties: { sessionExpiryInterval: sessionExpiryS, receiveMaximum } } : {}),
  };
  let client: MqttClient;
  try {
    client = connect(url, settings);
  } catch (cause) {
    return fail({ code: 'broker-unreachable', message: `The broker address ${safeUrl(url)} cannot be used (${messageOf(cause)}). Give mqtt:, mqtts:, ws: or wss: and a host.` });
  }
  const acknowledgements = holdAcknowledgements(client);
  let attempt = 0;
  let closing = false;
  let retry: NodeJS.Timeout | null = null;

  const own = ownTopics(site);
  client.handleMessage = (packet, done) => {
    const settled = packet.qos === 1 ? acknowledgements.taken() : () => {};
    if (own.some((prefix) => packet.topic.startsWith(prefix))) {
      if (packet.retain && packet.payload.length > 0) handlers.kept(packet.topic);
      settled();
    } else if (packet.topic === journalHintTopic(site)) {
      handlers.hint();
      settled();
    } else handlers.message(packet.topic, typeof packet.payload === 'string' ? Buffer.from(packet.payload) : packet.payload, settled, { retained: packet.retain, contentType: packet.properties?.contentType });
    // Holding this callback is what holds the broker back.
    if (handlers.full()) handlers.whenRoom(() => done());
    else done();
  };
  client.on('connect', () => {
    attempt = 0;
    client.subscribe({ ...Object.fromEntries([probeFilter(site), ...filters].map((filter) => [filter, { qos: 1 as const }])), [journalHintTopic(site)]: { qos: 0 }, ...Object.fromEntries(endingStateFilters(site).map((filter) => [filter, { qos: 0 as const, nl: true }])) });
    handlers.connected();
  });

  const first = await new Promise<Result<null, WireFailure | 'version'>>((resolve) => {
    if (firstConnectMs === null) resolve(ok(null));
    client.once('connect', () => resolve(ok(null)));
    client.on('error', (error) => {
      resolve(fail(isVersionRefusal(error) && protocolVersion === 5 ? 'version' : { code: 'broker-unreachable', message: unreachable(url, messageOf(error)) }));
    });
    client.once('close', () => resolve(fail({ code: 'broker-unreachable', message: unreachable(url, 'it closed the connection') })));
  });
  if (!first.ok) {
    client.removeAllListeners('close');
    await client.endAsync(true);
    return first;
  }

  client.on('close', () => {
    if (closing || retry !== null) return;
    retry = setTimeout(() => {
      retry = null;
      if (!closing) client.reconnect();
    }, reconnectPauseMs(attempt, random));
    attempt += 1;
  });

  return ok({
    publish: (topic, payload, retain) => {
      if (client.connected) client.publish(topic, payload, { qos: 0, retain });
    },
    status: () => ({ kind: 'external', status: client.connected ? 'ok' : 'lost', url: safeUrl(url), clients: null }),
    close: async () => {
      closing = true;
      if (retry !== null) clearTimeout(retry);
      await client.endAsync(!client.connected);
    },
  });
};

/** CONNACK 1 (3.1.1) or 132 (5): the broker does not speak the version asked for; some older ones just close. */
const isVersionRefusal = (error: unknown): boolean => {
  const code = typeof error === 'object' && error !== null && 'code' in error ? error.code : null;
  return code === 1 || code === 132;
};

const messageOf = (cause: unknown): string => (cause instanceof Error ? (cause.message === '' && 'code' in cause ? String(cause.code) : cause.message) : String(cause));

const unreachable = (url: string, why: string): string => `The broker ${safeUrl(url)} cannot be reached (${why}). Start it, or correct --broker.`;

/** An address without its password, for screens and logs. */
export const safeUrl = (url: string): string => {
  try {
    const parsed = new URL(url);
    parsed.password = '';
    return parsed.toString();
  } catch {
    return url.replace(/\/\/[^@/]*@/, '//');
  }
};
