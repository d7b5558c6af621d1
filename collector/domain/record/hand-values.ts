import { calibrateElectrode } from '../acid/electrode.ts';
import { channels } from '../reading/channel.ts';
import { isStrip } from '../jar/jar-evidence.ts';
import { meterCheckAt } from '../jar/meter-check.ts';
import type { EntryBodies } from '../journal/entry.ts';
import { isAct, type Batch } from '../journal/shed.ts';
import { dayMs, fromRfc3339, toRfc3339, type EpochMs } from '../units/time.ts';
import type { HandValue } from './lot-record.ts';
import { personIn } from './person.ts';

export type Calibrations = ReadonlyMap<string, readonly EntryBodies['calibrated'][]>;

/** Ice points further off than this fail (food rules ask ± 1 °C or ± 2 °F of a thermometer); a check holds for a month (assumption). */
export const icePointWithinC = 1;
export const icePointDays = 31;
/** Calibrations of a pH probe that stays in the brine hold for a week (common practice, no source). */
export const probePhDays = 7;

/** Whether a check was passed: what an instrument told that failed it is no evidence. */
export const passedCheck = (calibration: EntryBodies['calibrated']): boolean => {
  if (calibration.kind === 'ice-point') return Math.abs(calibration.readingC - calibration.referenceC) <= icePointWithinC + 1e-9;
  const electrode = calibrateElectrode(calibration.points, calibration.temperatureC);
  return electrode.ok && electrode.value.verdict !== 'replace';
};

/** The last check of a kind by a time decides, and holds for so many days; why a value then is no evidence, or null. */
export const uncheckedAt = (calibrations: Calibrations, instrument: string, kind: 'ph' | 'ice-point', at: EpochMs, days: number): string | null => {
  const last = (calibrations.get(instrument) ?? []).filter((each) => each.kind === kind && fromRfc3339(each.at) <= at).sort((one, other) => fromRfc3339(one.at) - fromRfc3339(other.at)).at(-1);
  if (last === undefined) return kind === 'ph' ? 'not calibrated' : 'ice point not checked';
  if (!passedCheck(last)) return 'failed its last check';
  return at - fromRfc3339(last.at) > days * dayMs ? `last checked more than ${days} days before` : null;
};

/** What people measured themselves, in the drum and in jars, each with whether it counts. */
export const handValues = (batch: Batch, calibrations: Calibrations, zone: string, now: EpochMs): readonly HandValue[] =>
  batch.acts.filter(({ at, standing }) => standing && at <= now).flatMap((act): HandValue[] => {
    const common = { entry: act.sequence, at: toRfc3339(act.at), by: personIn(act.by) };
    if (isAct('jar-ph')(act)) {
      const { value, instrument, jar } = act.body;
      return [{ ...common, of: 'jar', quantity: 'ph', value, unit: 'pH', uncertainty: channels.ph.uncertainty, instrument, jar: jar ?? null, notUsable: phNotUsable(calibrations, instrument, act.at, zone) }];
    }
    if (!isAct('measured')(act)) return [];
    const { quantity, value, instrument } = act.body;
    const { unit, uncertainty } = channels[quantity];
    return [{ ...common, of: 'drum', quantity, value, unit, uncertainty, instrument: instrument ?? null, jar: null, notUsable: notUsable(calibrations, quantity, instrument, act.at, zone) }];
  });

const notUsable = (calibrations: Calibrations, quantity: 'ph' | 'salinity' | 'temperature', instrument: string | undefined, at: EpochMs, zone: string): string | null => {
  if (instrument === undefined) return 'no instrument named';
  if (quantity === 'ph') return phNotUsable(calibrations, instrument, at, zone);
  return quantity === 'temperature' ? uncheckedAt(calibrations, instrument, 'ice-point', at, icePointDays) : null;
};

const phNotUsable = (calibrations: Calibrations, instrument: string, at: EpochMs, zone: string): string | null => {
  if (isStrip(instrument)) return 'strip';
  return meterCheckAt(calibrations.get(instrument) ?? [], at, zone) === null ? 'meter not calibrated that day' : null;
};
