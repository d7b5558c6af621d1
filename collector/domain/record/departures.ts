import { closingOf, type Deviation } from '../deviation/deviation.ts';
import { deviationsOfLot } from '../deviation/of-lot.ts';
import type { Batch, Shed } from '../journal/shed.ts';
import type { Alert } from '../rules/alert.ts';
import { toRfc3339 } from '../units/time.ts';
import type { RecordDeparture } from './lot-record.ts';
import { personIn } from './person.ts';

/** Limits whose breaking is written down for the inspector: not notes, and not what only slows a cure. */
const weighty: ReadonlySet<string> = new Set(['high', 'medium']);

type Told = Pick<RecordDeparture, 'number' | 'cause' | 'actions' | 'prevention' | 'disposition' | 'evaluation' | 'closed'>;

/** Every excursion from a limit that befell this lot, also while it was one with the lot it was split from, and each packed jar above its limit; oldest first. */
export const departuresOf = (shed: Pick<Shed, 'deviations' | 'alertActions'>, batch: Batch, alerts: readonly Alert[], ranges: ReadonlySet<string>): readonly RecordDeparture[] => {
  const { lot, lineage, from: splitFrom } = batch;
  const deviations = deviationsOfLot(shed, batch);
  const ofAlerts = alerts
    .filter((alert) => alert.lot !== null && lineage.includes(alert.lot) && ((ranges.has(alert.rule) && weighty.has(alert.priority)) || deviations.some(({ alert: id }) => id === alert.id)))
    .flatMap((alert) =>
      alert.excursions
        .filter(({ from }) => alert.lot === lot || splitFrom === null || from < splitFrom.at)
        .map(({ from, to, peak }): RecordDeparture => ({
          ...toldOf(deviations.find((each) => each.alert === alert.id && each.from === from), shed.alertActions.get(alert.id) ?? []),
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
    );
  const ofJars = deviations
    .filter(({ alert }) => alert === null)
    .map((each): RecordDeparture => ({
      ...toldOf(each, []), limit: each.limit, quantity: each.quantity, drum: null, bound: each.bound, priority: 'high', from: toRfc3339(each.from), to: each.to === null ? null : toRfc3339(each.to), peak: each.worst, acknowledged: null,
    }));
  return [...ofAlerts, ...ofJars].sort((one, other) => (one.from < other.from ? -1 : 1));
};

const toldOf = (deviation: Deviation | undefined, alertActions: readonly { readonly at: number; readonly by: string; readonly text: string }[]): Told => {
  const closing = deviation === undefined ? null : closingOf(deviation);
  const done = [...alertActions, ...(deviation?.actions ?? [])].toSorted((one, other) => one.at - other.at).map(({ at, by, text }) => ({ text, by: personIn(by), at: toRfc3339(at) }));
  return {
    number: deviation?.number ?? null,
    cause: closing?.cause ?? null,
    actions: closing === null ? done : [...done, { text: closing.action, by: closing.name, at: toRfc3339(closing.at) }],
    prevention: closing?.prevention ?? null,
    disposition: closing?.disposition ?? null,
    evaluation: closing?.evaluation ?? null,
    closed: closing === null ? null : { by: closing.name, at: toRfc3339(closing.at) },
  };
};
