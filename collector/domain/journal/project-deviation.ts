import { deviationNumber, isOpen, type Deviation } from '../deviation/deviation.ts';
import { packLimitOf } from '../jar/jar-evidence.ts';
import { defaultLimits } from '../rules/default-limits.ts';
import { fromRfc3339 } from '../units/time.ts';
import type { Entry, EntryBodies, EntryOf } from './entry.ts';
import type { Shed } from './shed.ts';

/**
 * Critical limits are those of high priority that a drum or its jars can be outside of: ranges and what is overdue. Silence and faults of
 * probes are gaps in what is known, not departures of the product.
 */
const criticalRules: ReadonlySet<string> = new Set(defaultLimits.filter(({ kind }) => kind === 'range' || kind === 'due').map(({ id }) => id));

type Opening = Omit<Deviation, 'number' | 'actions' | 'closings'>;

const opened = (shed: Shed, opening: Opening): Shed => ({
  ...shed,
  deviations: [...shed.deviations, { ...opening, number: deviationNumber(shed.deviations.length + 1), actions: [], closings: [] }],
});

const changed = (shed: Shed, number: string, change: (deviation: Deviation) => Deviation): Shed => ({
  ...shed,
  deviations: shed.deviations.map((deviation) => (deviation.number === number ? change(deviation) : deviation)),
});

/** What an entry tells of departures from critical limits, after all else was taken in; `before`: the shed before it. */
export const projectDeviation = (shed: Shed, before: Shed, entry: Entry): Shed => {
  switch (entry.kind) {
    case 'alert-raised':
      return raised(shed, before, entry);
    case 'alert-returned': {
      const { id, until, peak } = entry.body;
      const last = shed.deviations.findLast(({ alert, to }) => alert === id && to === null);
      return last === undefined ? shed : changed(shed, last.number, (deviation) => ({ ...deviation, to: fromRfc3339(until), worst: peak ?? deviation.worst }));
    }
    case 'jar-ph':
      return jarRead(shed, entry, entry.body);
    case 'corrected': {
      const { replacement } = entry.body;
      const lot = replacement?.kind === 'jar-ph' ? lotOfEntry(shed, entry.sequence) : null;
      return replacement?.kind === 'jar-ph' && lot !== null ? jarRead(shed, entry, { ...replacement, lot }) : shed;
    }
    case 'deviation-action': {
      const { deviation: number, text } = entry.body;
      return changed(shed, number, (deviation) => ({ ...deviation, actions: [...deviation.actions, { at: fromRfc3339(entry.time), by: entry.who, text }] }));
    }
    case 'deviation-closed': {
      const { deviation: number, by: name, cause, action, prevention = null, disposition, evaluation = null } = entry.body;
      const closing = { at: fromRfc3339(entry.time), by: entry.who, name, cause, action, prevention, disposition, evaluation, entry: entry.sequence };
      return changed(shed, number, (deviation) => ({ ...deviation, closings: [...deviation.closings, closing] }));
    }
    default:
      return shed;
  }
};

/** Each excursion is one deviation; an alert that is raised again while outside is the same one. */
const raised = (shed: Shed, before: Shed, { sequence, time, body }: EntryOf<'alert-raised'>): Shed => {
  const wasOutside = before.openAlerts.get(body.id)?.excursions.at(-1)?.to === null;
  if (wasOutside || body.lot === null || body.priority !== 'high' || !criticalRules.has(body.rule)) return shed;
  return opened(shed, {
    entry: sequence, openedAt: fromRfc3339(time), lot: body.lot, drum: body.drum, alert: body.id, limit: body.rule, quantity: body.quantity, bound: body.limit,
    from: fromRfc3339(body.since), to: null, worst: body.value,
  });
};

/** A packed jar that reads above its limit, whatever it was measured with: one deviation of the lot while it is open. */
const jarRead = (shed: Shed, { sequence, time }: Entry, body: Pick<EntryBodies['jar-ph'], 'lot' | 'at' | 'value'>): Shed => {
  const batch = shed.batches.get(body.lot);
  if (batch === undefined) return shed;
  const limit = packLimitOf(batch);
  if (!(body.value > limit.ph)) return shed;
  const at = fromRfc3339(body.at);
  const open = shed.deviations.find((deviation) => deviation.lot === body.lot && deviation.alert === null && isOpen(deviation));
  if (open !== undefined) return changed(shed, open.number, (deviation) => ({ ...deviation, to: Math.max(deviation.to ?? at, at), worst: Math.max(deviation.worst ?? body.value, body.value) }));
  return opened(shed, {
    entry: sequence, openedAt: fromRfc3339(time), lot: body.lot, drum: null, alert: null, limit: limit.id, quantity: 'jar-ph',
    bound: { value: limit.ph, unit: 'pH', source: limit.source, side: 'high' }, from: at, to: at, worst: body.value,
  });
};

const lotOfEntry = (shed: Shed, sequence: number): string | null => {
  for (const batch of shed.batches.values()) if (batch.written.some((act) => act.sequence === sequence)) return batch.lot;
  return null;
};
