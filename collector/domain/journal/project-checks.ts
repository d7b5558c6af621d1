import { fromRfc3339 } from '../units/time.ts';
import type { CheckEntryBodies } from './check-entries.ts';
import type { Entry, EntryOf } from './entry.ts';
import { withEntry } from './map.ts';
import type { Shed } from './shed.ts';

const kinds = ['calibrated', 'instrument-added', 'doubt-decided', 'checks-set', 'recalled', 'reviewed'] as const satisfies readonly (keyof CheckEntryBodies)[];
type CheckEntry = EntryOf<(typeof kinds)[number]>;
export const isCheckEntry = (entry: Entry): entry is CheckEntry => (kinds as readonly string[]).includes(entry.kind);

/** Instruments and their checks, what was decided about them, recalls and reviews. */
export const projectChecks = (shed: Shed, entry: CheckEntry): Shed => {
  const written = { by: entry.who, at: fromRfc3339(entry.time), sequence: entry.sequence };
  switch (entry.kind) {
    case 'calibrated': {
      const { probe } = entry.body;
      return { ...shed, calibrations: withEntry(shed.calibrations, probe, [...(shed.calibrations.get(probe) ?? []), { ...entry.body, by: entry.who, sequence: entry.sequence }]) };
    }
    case 'instrument-added':
      return { ...shed, instruments: withEntry(shed.instruments, entry.body.id, { ...entry.body, by: written.by, at: written.at }) };
    case 'doubt-decided':
      return { ...shed, doubtDecisions: [...shed.doubtDecisions, { ...entry.body, ...written }] };
    case 'checks-set':
      return { ...shed, checkSettings: { ...shed.checkSettings, ...entry.body.change } };
    case 'recalled': {
      const { lot, at, reason } = entry.body;
      return { ...shed, recalls: [...shed.recalls, { ...written, lot, reason, at: fromRfc3339(at) }] };
    }
    case 'reviewed': {
      const { lot, until, name, found = null } = entry.body;
      return { ...shed, reviews: [...shed.reviews, { ...written, lot, until, name, found }] };
    }
  }
};
