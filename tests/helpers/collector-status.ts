import type { CollectorStatus } from '#collector';

/** What a collector says of itself that has just begun and is well. */
export const collectorStatus: CollectorStatus = {
  writtenAt: 0,
  startedAt: 0,
  memoryMb: 80,
  broker: { kind: 'embedded', status: 'ok', url: 'mqtt://127.0.0.1:1883', clients: 1 },
  store: { kind: 'sqlite', status: 'ok' },
  readings: { stored: 12, duplicates: 1, conflicts: 2, late: 3, waiting: 0, setAside: 4, refused: { 'not-json': 5 } },
  sources: [],
  outlets: [],
  presence: {},
  clocks: {},
};
