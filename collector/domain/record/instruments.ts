import { calibrateElectrode } from '../acid/electrode.ts';
import type { EntryBodies } from '../journal/entry.ts';
import { channels } from '../reading/channel.ts';
import { fromRfc3339, toRfc3339, type EpochMs } from '../units/time.ts';
import { passedCheck, type Calibrations } from './hand-values.ts';
import { probeUncheckedAt } from './limit-rows.ts';
import type { HandValue, RecordCalibration, RecordInstrument } from './lot-record.ts';
import { personIn } from './person.ts';
import type { WatchedInput } from './watched.ts';

/** Every probe and hand instrument this lot leaned on, and whether its checks bear what it told. */
export const instrumentsOf = (watched: readonly WatchedInput[], byHand: readonly HandValue[], calibrations: Calibrations, until: EpochMs): readonly RecordInstrument[] => [
  ...watched.flatMap(({ channel, probes, days }) =>
    probes.map((id): RecordInstrument => {
      const why = probeUncheckedAt(calibrations, id, channel, until);
      const state = channel === 'salinity' ? 'not-needed' : why === null ? 'calibrated' : 'not-calibrated';
      return { id, measures: channels[channel].label, state, text: why ?? (state === 'calibrated' ? 'checked in time' : 'no check is asked'), used: days.reduce((sum, { summed }) => sum + (summed?.n ?? 0), 0) };
    }),
  ),
  ...[...Map.groupBy(byHand, ({ instrument, quantity }) => `${instrument ?? 'not named'}\n${quantity}`)].map(([key, values]): RecordInstrument => {
    const [id = '', quantity = ''] = key.split('\n');
    const doubtful = values.filter(({ notUsable }) => notUsable !== null);
    const state = doubtful.length > 0 ? 'not-calibrated' : quantity === 'salinity' ? 'not-needed' : 'calibrated';
    const text = doubtful.length > 0 ? `${doubtful.length} of ${values.length} not usable: ${[...new Set(doubtful.map(({ notUsable }) => notUsable))].join('; ')}` : state === 'calibrated' ? 'calibrated each time it was used' : 'no check is asked';
    return { id, measures: quantity === 'ph' ? 'pH by hand' : `${quantity} by hand`, state, text, used: values.length };
  }),
];

/** The checks of those instruments from before the cure until now, oldest first. */
export const calibrationsOf = (instruments: ReadonlySet<string>, calibrations: ReadonlyMap<string, readonly (EntryBodies['calibrated'] & { readonly by: string })[]>, now: EpochMs): readonly RecordCalibration[] =>
  [...calibrations]
    .flatMap(([instrument, checks]) => (instruments.has(instrument) ? checks.map((check) => ({ instrument, check })) : []))
    .filter(({ check }) => fromRfc3339(check.at) <= now)
    .map(({ instrument, check }) => ({ instrument, at: toRfc3339(fromRfc3339(check.at)), by: personIn(check.by), kind: check.kind, text: calibrationText(check), passed: passedCheck(check) }))
    .sort((one, other) => (one.at < other.at ? -1 : 1));

const calibrationText = (check: EntryBodies['calibrated']): string => {
  if (check.kind === 'ice-point') return `ice point: read ${check.readingC.toFixed(1)} °C, reference ${check.referenceC.toFixed(1)} °C, error ${signed(check.readingC - check.referenceC, 1)} °C`;
  const electrode = calibrateElectrode(check.points, check.temperatureC);
  const buffers = check.points.map(({ ph, mv }) => `pH ${ph.toFixed(2)}: ${mv.toFixed(0)} mV`).join(', ');
  return electrode.ok ? `${buffers}, ${check.temperatureC.toFixed(0)} °C; slope ${electrode.value.slopePercent.toFixed(1)} %, offset ${signed(electrode.value.offsetMv, 0)} mV: ${electrode.value.verdict}` : `${buffers}: ${electrode.error.message}`;
};

const signed = (value: number, decimals: number): string => `${value < 0 ? '-' : '+'}${Math.abs(value).toFixed(decimals)}`;
