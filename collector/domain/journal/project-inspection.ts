import { fromRfc3339, minuteMs, type EpochMs } from '../units/time.ts';
import type { Entry, EntryOf, Lot } from './entry.ts';

/** An access given to somebody outside, as the journal tells it. */
export interface Inspection {
  readonly id: string;
  readonly name: string;
  readonly lots: readonly Lot[];
  readonly by: string;
  readonly at: EpochMs;
  readonly until: EpochMs;
  readonly endedAt: EpochMs | null;
}

export interface SeenRecord {
  readonly lot: Lot;
  readonly form: string;
  readonly inspection: string | null;
  readonly who: string;
  readonly at: EpochMs;
}

export interface Inspections {
  readonly given: readonly Inspection[];
  readonly seen: readonly SeenRecord[];
}

export const noInspections: Inspections = { given: [], seen: [] };

const kinds = ['inspection-given', 'inspection-ended', 'record-seen'] as const;
type InspectionEntry = EntryOf<(typeof kinds)[number]>;

export const isInspectionEntry = (entry: Entry): entry is InspectionEntry => (kinds as readonly string[]).includes(entry.kind);

export const projectInspection = ({ given, seen }: Inspections, entry: InspectionEntry): Inspections => {
  const at = fromRfc3339(entry.time);
  switch (entry.kind) {
    case 'inspection-given': {
      const { id, name, lots, until } = entry.body;
      return { given: [...given, { id, name, lots, by: entry.who, at, until: fromRfc3339(until), endedAt: null }], seen };
    }
    case 'inspection-ended': {
      const { id } = entry.body;
      return { given: given.map((each) => (each.id === id && each.endedAt === null ? { ...each, endedAt: at } : each)), seen };
    }
    case 'record-seen':
      return { given, seen: [...seen, { ...entry.body, who: entry.who, at }] };
  }
};

/** Leafing through a paper is one look: the journal tells of it once in this time. */
export const oneLookMs = 15 * minuteMs;

/** Whether a look is one more, or goes on from one that is written down. */
export const isNewLook = ({ seen }: Inspections, look: Omit<SeenRecord, 'at'>, now: EpochMs): boolean => {
  const last = seen.findLast(({ lot, form, inspection, who }) => lot === look.lot && form === look.form && inspection === look.inspection && who === look.who);
  return last === undefined || now - last.at >= oneLookMs || now < last.at;
};
