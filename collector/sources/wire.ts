/** What the pipeline needs of MQTT, whoever runs the broker. Times, decoding and storing are not its business. */
export interface Wire {
  /** Best effort: what is published is either retained state, said again after a reconnect, or a hint that a slow poll covers. */
  publish(topic: string, payload: string, retain: boolean): void;
  status(): WireStatus;
  close(): Promise<void>;
}

export interface WireStatus {
  readonly kind: 'embedded' | 'external';
  readonly status: 'ok' | 'lost';
  readonly url: string;
  readonly clients: number | null;
}

/** What the wire says of a message beside its payload. */
export interface Delivery {
  /** The broker kept it from before: it says nothing of now. */
  readonly retained: boolean;
  /** MQTT 5 content type, where there is one. */
  readonly contentType: string | undefined;
}

export interface WireHandlers {
  /**
   * One message from a probe. `settled` must be called once what it holds is durable (or refused):
   * only then is a QoS 1 message acknowledged to its sender.
   */
  message(topic: string, payload: Uint8Array, settled: () => void, delivery?: Delivery): void;
  /** True while nothing more should be taken in; the wire then holds its sender back. */
  full(): boolean;
  /** Called once when there is room again. */
  whenRoom(resume: () => void): void;
  /** Somebody wrote in the journal. */
  hint(): void;
  /** The wire is there (again): say retained state once more. */
  connected(): void;
  /** An outside broker keeps this as state of the shed; it may be older than what is true now. */
  kept(topic: string): void;
}

export type WireFailure = { readonly code: 'port-taken' | 'broker-unreachable' | 'address' | 'certificate'; readonly message: string };

/** The bus: topics on which only "look again" is said, and the retained state for anyone. */
export const journalHintTopic = (site: string): string => `brineward/${site}/journal`;
export const ownTopics = (site: string): readonly string[] => ['drum', 'alert', 'task'].map((kind) => `brineward/${site}/${kind}/`);
/** State that ends: what a broker has kept of it since before a restart must be emptied by someone. */
export const endingStateFilters = (site: string): readonly string[] => ['alert', 'task'].map((kind) => `brineward/${site}/${kind}/+`);
