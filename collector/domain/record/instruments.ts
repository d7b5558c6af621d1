import { calibrateElectrode } from '../acid/electrode.ts';
import type { KeptCheck } from '../calibration/doubt.ts';
import type { InstrumentBook } from '../calibration/evidence.ts';
import { failedCheck, foundWrong } from '../calibration/failed-check.ts';
import { channels } from '../reading/channel.ts';
import { dayMs, fromRfc3339, toRfc3339, type EpochMs } from '../units/time.ts';
import { probeNotUsable } from './hand-values.ts';
import type { HandValue, RecordCalibration, RecordInstrument } from './lot-record.ts';
import { personIn } from './person.ts';
import type { WatchedInput } from './watched.ts';

/** Every probe and hand instrument this lot leaned on, and whether its checks bear what it told. */
export const instrumentsOf = (watched: readonly WatchedInput[], byHand: readonly HandValue[], lot: string, book: InstrumentBook, until: EpochMs): readonly RecordInstrument[] => [
  ...watched.flatMap(({ channel, probes, days }) =>
    probes.map((id): RecordInstrument => {
      const why = probeNotUsable(id, channel, lot, until, book);
      const state = channel === 'salinity' ? 'not-needed' : why === null ? 'calibrated' : 'not-calibrated';
      return { id, measures: channels[channel].label, state, text: why === null ? (state === 'calibrated' ? 'checked in time' : 'no check is asked') : `not usable as evidence: ${why}`, used: days.reduce((sum, { summed }) => sum + (summed?.n ?? 0), 0) };
    }),
  ),
  ...[...Map.groupBy(byHand, ({ instrument, quantity }) => `${instrument ?? 'not named'}\n${quantity}`)].map(([key, values]): RecordInstrument => {
    const [id = '', quantity = ''] = key.split('\n');
    const doubtful = values.filter(({ notUsable }) => notUsable !== null);
    const state = doubtful.length > 0 ? 'not-calibrated' : quantity === 'salinity' ? 'not-needed' : 'calibrated';
    const text = doubtful.length > 0 ? `${doubtful.length} of ${values.length} values not usable as evidence: ${[...new Set(doubtful.map(({ notUsable }) => notUsable))].join('; ')}` : state === 'calibrated' ? 'calibrated each time it was used' : 'no check is asked';
    return { id, measures: quantity === 'ph' ? 'pH by hand' : `${quantity} by hand`, state, text, used: values.length };
  }),
];

/** Checks that ended longer before the cure than this bear nothing of it. */
const beforeMs = 62 * dayMs;

/** The checks of those instruments from two months before the cure until now, oldest first. */
export const calibrationsOf = (instruments: ReadonlySet<string>, startedAt: EpochMs, { calibrations, now, settings }: InstrumentBook): readonly RecordCalibration[] =>
  [...calibrations]
    .flatMap(([instrument, checks]) => (instruments.has(instrument) ? checks.map((check) => ({ instrument, check })) : []))
    .filter(({ check }) => fromRfc3339(check.at) <= now && fromRfc3339(check.at) >= startedAt - beforeMs)
    .map(({ instrument, check }) => ({ instrument, at: toRfc3339(fromRfc3339(check.at)), by: personIn(check.by ?? 'not recorded'), kind: check.kind, text: calibrationText(check), failed: failedCheck(check, settings), doubt: foundWrong(check, settings) }))
    .sort((one, other) => (one.at < other.at ? -1 : 1));

export const calibrationText = (check: KeptCheck): string => {
  if (check.kind === 'buffer-check') return `buffer ${check.ph.toFixed(2)} read as a sample: ${check.reads.toFixed(2)}${bottleText(check.bottle)}`;
  if (check.kind === 'ice-point') return `ice point: read ${check.readingC.toFixed(1)} °C, reference ${check.referenceC.toFixed(1)} °C, error ${signed(check.readingC - check.referenceC, 1)} °C`;
  const electrode = calibrateElectrode(check.points, check.temperatureC);
  const buffers = check.points.map(({ ph, mv, bottle }) => `pH ${ph.toFixed(2)}: ${mv.toFixed(0)} mV${bottleText(bottle)}`).join(', ');
  const before = (check.asFound ?? []).map(({ ph, reads }) => `${ph.toFixed(2)} read ${reads.toFixed(2)}`).join(', ');
  const found = before === '' ? 'as found: not recorded' : `as found: ${before}`;
  return electrode.ok ? `${buffers}, ${check.temperatureC.toFixed(0)} °C; slope ${electrode.value.slopePercent.toFixed(1)} %, offset ${signed(electrode.value.offsetMv, 0)} mV; ${found}` : `${buffers}: ${electrode.error.message}`;
};

/** What stood on the bottle; expired buffers are what inspectors look for. */
const bottleText = (bottle: { readonly lot?: string; readonly expiresOn?: string; readonly openedOn?: string } | undefined): string => {
  const told = [...(bottle?.lot === undefined ? [] : [`lot ${bottle.lot}`]), ...(bottle?.expiresOn === undefined ? [] : [`expires ${bottle.expiresOn}`]), ...(bottle?.openedOn === undefined ? [] : [`opened ${bottle.openedOn}`])];
  return told.length === 0 ? '' : ` (${told.join(', ')})`;
};

const signed = (value: number, decimals: number): string => {
  const digits = Math.abs(value).toFixed(decimals);
  return `${value < 0 && Number(digits) !== 0 ? '-' : '+'}${digits}`;
};
