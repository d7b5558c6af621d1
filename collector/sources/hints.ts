import { connect, type MqttClient } from 'mqtt';
import { journalHintTopic } from './wire.ts';

/**
 * The other process's ear on the bus: "the journal has grown", "this drum has news". A hint carries no state, so a forged or lost
 * one does no harm: who hears it looks in the data directory, and looks there every second anyway.
 */
export interface Hints {
  /** Tells the others that the journal has grown. */
  sayJournal(sequence: number): void;
  close(): Promise<void>;
}

export interface HintsOptions {
  readonly url: string;
  readonly authority?: string | null;
  readonly site: string;
  journal(): void;
  drum(drum: string): void;
}

export const listenToHints = ({ url, authority = null, site, journal, drum }: HintsOptions): Hints => {
  const drumPrefix = `brineward/${site}/drum/`;
  const client: MqttClient = connect(url, { clientId: `brineward-${site}-api-${process.pid}`, reconnectPeriod: 1_000, queueQoSZero: false, ...(authority === null ? {} : { ca: authority }) });
  client.on('connect', () => {
    client.subscribe([journalHintTopic(site), `${drumPrefix}+/now`]);
    journal();
  });
  client.on('message', (topic) => {
    if (topic === journalHintTopic(site)) journal();
    else if (topic.startsWith(drumPrefix)) drum(topic.slice(drumPrefix.length, -'/now'.length));
  });
  // It connects again by itself; the slow poll covers the time between.
  client.on('error', () => {});
  return {
    sayJournal: (sequence) => {
      if (client.connected) client.publish(journalHintTopic(site), String(sequence));
    },
    close: () => client.endAsync(true),
  };
};
