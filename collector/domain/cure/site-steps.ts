import type { EntryBodies, Lot } from '../journal/entry.ts';
import type { Batch, Shed } from '../journal/shed.ts';
import { dayMs, fromRfc3339, type EpochMs } from '../units/time.ts';
import { localMorning, stepId, type Step } from './schedule.ts';
import { calibratePhDays, orderAheadDays } from './schedules.ts';
import { localDate, stageAt } from './stage.ts';
import { inDrum } from './batch.ts';

/**
 * What is done once for the whole shed. Each stands beside the drum that needs it first, because a person does it on the way there.
 * Numbered by what has settled them: a calibration written down, or the task done or skipped.
 */
export interface SiteStep extends Step {
  readonly batch: Batch;
  /** Others that are settled with it. */
  readonly also?: readonly Batch[];
}

/** The pH electrode and its buffers, before the next measurement by hand; where none is due, nobody asks. */
export const calibratePhStep = (shed: Shed, measurements: readonly SiteStep[], zone: string): SiteStep | null => {
  const [first] = measurements.filter(({ kind }) => kind === 'measure-ph').toSorted((one, other) => one.dueAt - other.dueAt || (one.id < other.id ? -1 : 1));
  if (first === undefined) return null;
  const written = [...shed.calibrations].filter(([probe]) => !watchesDrum(shed, `${probe}/ph`)).flatMap(([, all]) => all.filter(({ kind }) => kind === 'ph').map(timeOf));
  const settled = [...shed.taskOutcomes].filter(([id]) => id.startsWith('calibrate-ph-')).map(([, { at }]) => at);
  const last = Math.max(...written, ...settled, Number.NEGATIVE_INFINITY);
  const ordinal = written.length + settled.length + 1;
  if (last !== Number.NEGATIVE_INFINITY && localDate(last, zone).until(localDate(first.dueAt, zone), { largestUnit: 'days' }).days < calibratePhDays) return null;
  return { id: `calibrate-ph-${ordinal}`, kind: 'calibrate-ph', ordinal, dueAt: first.dueAt, batch: first.batch };
};

/** How old a comparison of thermometers may be: one season. */
const seasonDays = 300;

/** Thermometers once a season: all probes that watch fruit, in one stirred bucket and in ice, on the morning after the first batch started. */
export const calibrateTemperatureStep = (shed: Shed, batches: readonly Batch[], now: EpochMs, zone: string): SiteStep | null => {
  const unchecked = batches
    .filter((batch) => inDrum.has(stageAt(batch, now)))
    .filter(({ drum, startedAt }) => [...shed.placements].some(([series, placements]) => {
      const last = placements.at(-1);
      return last?.drum === drum && last.channel === 'temperature' && !isCompared(shed, series.slice(0, series.lastIndexOf('/')), startedAt);
    }))
    .toSorted((one, other) => one.startedAt - other.startedAt);
  const [batch] = unchecked;
  if (batch === undefined) return null;
  const started = localDate(batch.startedAt, zone);
  const id = `calibrate-temperature-${started.year}`;
  return shed.taskOutcomes.has(id) ? null : { id, kind: 'calibrate-temperature', ordinal: started.year, dueAt: localMorning(started.add({ days: 1 }), zone), batch };
};

/**
 * Jars, lids and vinegar for everything that may be sweet within three weeks, in one order. What was due when an order was settled was
 * in it; what becomes due later asks anew. A forecast that moves away again takes its lot out.
 */
export const orderStep = (shed: Shed, batches: readonly Batch[], readyFrom: ReadonlyMap<Lot, EpochMs>, now: EpochMs, zone: string): SiteStep | null => {
  const settled = [...shed.taskOutcomes].filter(([id]) => id.endsWith('-order-jars-1')).map(([, { at }]) => at);
  const due = batches
    .filter((batch) => inDrum.has(stageAt(batch, now)) && !shed.taskOutcomes.has(stepId(batch.lot, 'order-jars', 1)))
    .flatMap((batch) => {
      const ready = readyFrom.get(batch.lot);
      if (ready === undefined) return [];
      const day = localDate(ready, zone).subtract({ days: orderAheadDays });
      const first = localDate(batch.startedAt, zone).add({ days: 1 });
      return [{ batch, dueAt: localMorning(Temporal.PlainDate.compare(day, first) > 0 ? day : first, zone) }];
    })
    .filter(({ dueAt }) => dueAt <= now + dayMs && !settled.some((at) => at >= dueAt))
    .toSorted((one, other) => one.batch.startedAt - other.batch.startedAt || (one.batch.lot < other.batch.lot ? -1 : 1));
  const [first, ...also] = due;
  if (first === undefined) return null;
  return { id: stepId(first.batch.lot, 'order-jars', 1), kind: 'order-jars', ordinal: 1, dueAt: Math.min(...due.map(({ dueAt }) => dueAt)), batch: first.batch, also: also.map(({ batch }) => batch) };
};

const isCompared = (shed: Shed, probe: string, startedAt: EpochMs): boolean =>
  (shed.calibrations.get(probe) ?? []).some((calibration) => calibration.kind === 'ice-point' && timeOf(calibration) >= startedAt - seasonDays * dayMs);

const watchesDrum = (shed: Shed, series: string): boolean => (shed.placements.get(series)?.at(-1)?.drum ?? null) !== null;

const timeOf = ({ at }: EntryBodies['calibrated']): EpochMs => fromRfc3339(at);
