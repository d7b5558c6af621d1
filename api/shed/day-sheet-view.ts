import type { Drum, Forecast, NowValue, Task } from '#contract';
import { expectedSaltGPerL } from '#domain/cure/salt-now.ts';
import { localDate } from '#domain/cure/stage.ts';
import { shortCode } from '#domain/journal/short-code.ts';
import type { EpochMs } from '#domain/units/time.ts';
import { allDrums } from './drum-view.ts';
import type { Forecasts } from './forecasts.ts';
import type { ShedModel } from './shed-model.ts';
import { tasksNow } from './task-view.ts';

/** What stands on the sheet that hangs in the shed for a day: what to expect, what to do, and boxes to write into. */
export interface DaySheet {
  readonly siteName: string;
  readonly date: Temporal.PlainDate;
  readonly printedAt: Temporal.ZonedDateTime;
  readonly drums: readonly SheetDrum[];
  /** Tasks of the day for lots that are in no drum any more. */
  readonly elsewhere: readonly string[];
  /** The newest seal of a day, to be kept on paper; null before the first. */
  readonly seal: string | null;
}

export interface SheetDrum {
  readonly name: string;
  readonly lot: string;
  readonly stage: string;
  readonly cure: string;
  /** What somebody who measures should find, near enough; what is not known is told so. */
  readonly expected: readonly string[];
  readonly tasks: readonly string[];
  /** Something is outside a limit as the sheet is printed. */
  readonly alert: string | null;
}

export const daySheetOf = async (model: ShedModel, forecasts: Forecasts, date: Temporal.PlainDate): Promise<DaySheet> => {
  const now = model.clock.now();
  const [drums, tasks] = await Promise.all([allDrums(model, forecasts), tasksNow(model, forecasts)]);
  const due = tasks.filter(({ dueAt }) => Temporal.PlainDate.compare(localDate(Date.parse(dueAt), model.zone), date) <= 0);
  const curing = drums.filter(({ batch }) => batch !== null && batch.jarredAt === null);
  const shown = new Set(curing.map(({ id }) => id));
  return {
    siteName: model.shed().site?.name ?? '',
    date,
    printedAt: Temporal.Instant.fromEpochMilliseconds(now).toZonedDateTimeISO(model.zone),
    drums: await Promise.all(curing.map((drum) => sheetDrum(model, forecasts, drum, due.filter((task) => task.lot === drum.batch?.lot), date))),
    seal: sealWords(model),
    elsewhere: due.filter((task) => !shown.has(task.drum) || !curing.some(({ batch }) => batch?.lot === task.lot)).map((task) => `${task.title}: lot ${task.lot}`),
  };
};

/** Who has this on paper can tell later that nothing up to there was changed or cut off. */
const sealWords = ({ shed, book }: ShedModel): string | null => {
  const sequence = shed().seals.days.at(-1)?.entries.at(-1);
  const [entry] = sequence === undefined ? [] : book.read(sequence - 1, 1);
  return entry?.kind === 'day-sealed' ? `${entry.body.day} entry ${entry.sequence} ${shortCode(entry.hash)}` : null;
};

const sheetDrum = async (model: ShedModel, forecasts: Forecasts, { name, now: known, batch, alerts }: Drum, tasks: readonly Task[], date: Temporal.PlainDate): Promise<SheetDrum> => {
  const told = batch === null ? undefined : model.shed().batches.get(batch.lot);
  if (batch === null || told === undefined) throw new Error(`drum ${name} has no batch to tell of`);
  const outlook = await forecasts.outlook(told);
  const noon = date.toZonedDateTime({ timeZone: model.zone, plainTime: Temporal.PlainTime.from({ hour: 12 }) }).epochMilliseconds;
  return {
    name,
    lot: batch.lot,
    cure: `${batch.cut}, ${batch.style.replaceAll('-', ' ')}`,
    stage: `${batch.stage}, day ${batch.day + localDate(model.clock.now(), model.zone).until(date, { largestUnit: 'days' }).days}`,
    expected: [
      `Brine ${valueWords(known.temperature, '°C', 1, model)}`,
      isKnown(known.salinity) ? `Salt ${valueWords(known.salinity, 'g/L', 0, model)}` : saltWords(expectedSaltGPerL(told, noon)),
      `pH ${valueWords(known.ph, '', 2, model)}`,
      ...(outlook.bitterness === null ? [] : [`Taste about ${outlook.bitterness.toFixed(0)} of 10`]),
      sweetWords(outlook.forecast, model.zone),
    ],
    tasks: tasks.map(taskWords),
    alert: alerts.find(({ state, priority }) => state !== 'returned' && priority !== 'note')?.text ?? null,
  };
};

const isKnown = (value: NowValue): boolean => !('absent' in value) && value.quality === 'good' && value.source === 'probe';

const saltWords = (gPerL: number): string => (gPerL < 1 ? 'Plain water' : `Salt about ${gPerL.toFixed(0)} g/L`);

const valueWords = (value: NowValue, unit: string, decimals: number, model: ShedModel): string => {
  if ('absent' in value) return 'not measured';
  const shown = `${value.value.toFixed(decimals)}${unit === '' ? '' : ` ${unit}`}`;
  return value.quality === 'good' ? `${shown}, ${ageWords(Date.parse(value.at), model)}` : `${shown}, doubtful`;
};

/** How old a value was when the sheet was printed: the sheet itself grows older with it. */
const ageWords = (at: EpochMs, { clock, zone }: ShedModel): string => {
  const local = Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(zone);
  const days = localDate(at, zone).until(localDate(clock.now(), zone), { largestUnit: 'days' }).days;
  return days === 0 ? `at ${local.toPlainTime().toString({ smallestUnit: 'minute' })}` : days === 1 ? 'yesterday' : `${days} days ago`;
};

const sweetWords = (forecast: Forecast, zone: string): string => {
  if ('unknown' in forecast) return `Sweet: ${forecast.unknown}`;
  const day = (at: string): string => localDate(Date.parse(at), zone).toLocaleString('en-GB', { day: 'numeric', month: 'short' });
  return `Sweet ${day(forecast.readyFrom)} to ${day(forecast.readyTo)}, likely ${day(forecast.readyLikely)}`;
};

const taskWords = ({ title, overdue, needs }: Task): string => {
  const amounts = [
    ...(needs.brineL === undefined ? [] : [`${Number(needs.brineL.toFixed(1))} L`]),
    ...(needs.saltG === undefined || needs.saltG === 0 ? [] : [`${(needs.saltG / 1_000).toFixed(1)} kg salt`]),
    ...(needs.jars === undefined ? [] : [`about ${needs.jars} jars`]),
  ];
  return `${overdue ? '! ' : ''}${title}${amounts.length === 0 ? '' : `: ${amounts.join(', ')}`}`;
};
