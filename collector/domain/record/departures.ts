import type { Batch } from '../journal/shed.ts';
import type { Alert } from '../rules/alert.ts';
import { toRfc3339 } from '../units/time.ts';
import type { RecordDeparture } from './lot-record.ts';
import { personIn } from './person.ts';

/** What the log of deviations tells of one excursion. */
export type DeviationTold = Pick<RecordDeparture, 'cause' | 'action' | 'disposition' | 'closed'> & { readonly number: string };
export type DeviationOf = (alert: Alert, from: number) => DeviationTold | null;

const nothingTold = { number: null, cause: null, action: null, disposition: null, closed: null } as const;
/** Limits whose breaking is written down for the inspector: not notes, and not what only slows a cure. */
const weighty: ReadonlySet<string> = new Set(['high', 'medium']);

/** Every excursion from a limit that befell this lot, also while it was one with the lot it was split from; oldest first. */
export const departuresOf = ({ lot, lineage, from: splitFrom }: Batch, alerts: readonly Alert[], ranges: ReadonlySet<string>, deviationOf: DeviationOf): readonly RecordDeparture[] =>
  alerts
    .filter((alert) => alert.lot !== null && lineage.includes(alert.lot) && ranges.has(alert.rule) && weighty.has(alert.priority))
    .flatMap((alert) =>
      alert.excursions
        .filter(({ from }) => alert.lot === lot || splitFrom === null || from < splitFrom.at)
        .map(({ from, to, peak }): RecordDeparture => ({
          ...(deviationOf(alert, from) ?? nothingTold),
          limit: alert.rule,
          quantity: alert.quantity,
          drum: alert.drum,
          bound: alert.limit,
          priority: alert.priority,
          from: toRfc3339(from),
          to: to === null ? null : toRfc3339(to),
          peak,
          acknowledged: alert.acknowledgedBy === null || alert.acknowledgedAt === null ? null : { by: personIn(alert.acknowledgedBy), at: toRfc3339(alert.acknowledgedAt) },
        })),
    )
    .sort((one, other) => (one.from < other.from ? -1 : 1));
