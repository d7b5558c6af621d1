import type { MqttClient } from 'mqtt';
import { connect } from 'mqtt';
import type { Slug } from '#domain/reading/reading.ts';
import type { EpochMs } from '#domain/units/time.ts';
import { minuteMs, secondMs } from '#domain/units/time.ts';
import { presenceTopic, probeMessages } from './demo-payloads.ts';
import { speaks } from './demo-series.ts';
import type { DemoSeason } from './demo-season.ts';

export interface DemoPublisherOptions {
  readonly brokerUrl: string;
  readonly site: Slug;
  readonly season: DemoSeason;
  /** The clock of the whole demo; it may run faster than real time. */
  readonly clock: { now(): EpochMs };
  /** How many times faster `clock` runs: readings then come more often, so that the shed is still seen every minute of its own time. */
  readonly speed?: number;
  /** Real time between two readings of one probe; the default follows `speed`. */
  readonly intervalMs?: number;
  readonly log: { info(fields: object, message: string): void; warn(fields: object, message: string): void };
}

export interface DemoPublisher {
  stop(): Promise<void>;
}

const usualIntervalMs = 5 * secondMs;
const leastIntervalMs = 200;

export const publishIntervalMs = (speed: number): number => Math.max(leastIntervalMs, Math.min(usualIntervalMs, minuteMs / speed));

/** Every probe of the shed as a device of its own: its own connection, its own presence and last will, its own second. */
export const startDemoPublisher = (options: DemoPublisherOptions): DemoPublisher => {
  const { season, clock, speed = 1, intervalMs = publishIntervalMs(speed) } = options;
  const probes = [...new Set(season.series.map(({ probe }) => probe))];
  const devices = probes.map((probe, index) => {
    const isHeard = season.series.some((series) => series.probe === probe && speaks(series, clock.now()));
    return isHeard ? startDevice(probe, options, intervalMs, (index * intervalMs) / probes.length) : reportOffline(probe, options);
  });
  return { stop: async () => void (await Promise.all(devices.map((device) => device.stop()))) };
};

const startDevice = (probe: Slug, options: DemoPublisherOptions, intervalMs: number, delayMs: number): DemoPublisher => {
  const { site, season, clock } = options;
  const presence = presenceTopic(site, probe);
  const client = connectProbe(probe, options);
  const speak = (): void => {
    // While the broker is away nothing is kept: these probes have no memory, and the gap is then a true gap.
    if (!client.connected) return;
    for (const { topic, payload } of probeMessages(site, probe, season.series, clock.now())) client.publish(topic, payload, { qos: 1 });
  };
  let timer: NodeJS.Timeout | undefined;
  client.on('connect', () => {
    client.publish(presence, 'online', { qos: 1, retain: true });
    speak();
    // The first word comes at once; after it every probe keeps its own second.
    timer ??= setTimeout(() => {
      speak();
      timer = setInterval(speak, intervalMs);
    }, intervalMs + delayMs);
  });
  return {
    // Cut off as by a pulled plug, so that stopping waits for nothing: the last will says `offline`.
    stop: async () => {
      clearTimeout(timer);
      await client.endAsync(true);
    },
  };
};

/** The probe that fell silent: its broker said `offline` for it hours ago. */
const reportOffline = (probe: Slug, options: DemoPublisherOptions): DemoPublisher => {
  const client = connectProbe(probe, options);
  client.once('connect', () => client.publish(presenceTopic(options.site, probe), 'offline', { qos: 1, retain: true }, () => client.end()));
  return { stop: () => client.endAsync(true) };
};

const connectProbe = (probe: Slug, { brokerUrl, site, log }: DemoPublisherOptions): MqttClient => {
  const client = connect(brokerUrl, {
    clientId: `demo-${site}-${probe}`,
    will: { topic: presenceTopic(site, probe), payload: Buffer.from('offline'), qos: 1, retain: true },
  });
  client.on('connect', () => log.info({ probe }, 'demo probe is connected'));
  client.on('error', (error) => log.warn({ probe, error: error.message }, 'demo probe has trouble with the broker'));
  return client;
};
