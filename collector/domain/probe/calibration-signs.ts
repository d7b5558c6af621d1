import { calibrateElectrode, type ElectrodeCalibration } from '../acid/electrode.ts';
import { calibrationAge } from '../acid/calibration-age.ts';
import type { EntryBodies } from '../journal/entry.ts';
import type { Channel } from '../reading/channel.ts';
import { fromRfc3339, type EpochMs } from '../units/time.ts';
import type { ProbeSign } from './sign.ts';

type Calibration = EntryBodies['calibrated'];

/** The electrode as its last calibration found it. */
export interface ElectrodeNow extends ElectrodeCalibration {
  readonly at: string;
  readonly ageDays: number;
}

export const electrodeOf = (calibrations: readonly Calibration[], now: EpochMs): ElectrodeNow | null => {
  const last = calibrations.filter((each) => each.kind === 'ph').at(-1);
  if (last === undefined) return null;
  const judged = calibrateElectrode(last.points, last.temperatureC);
  return judged.ok ? { ...judged.value, at: last.at, ageDays: calibrationAge(fromRfc3339(last.at), now, false).ageDays } : null;
};

/** How far the last ice point was off, °C; null where there was none. */
export const icePointOffC = (calibrations: readonly Calibration[]): number | null => {
  const last = calibrations.filter((each) => each.kind === 'ice-point').at(-1);
  return last === undefined ? null : last.readingC - last.referenceC;
};

/** Half a degree is what the part promises; more than one is another part than it says (assumption from bench comparisons). */
const [offC, rejectC] = [0.5, 1];

export const calibrationSigns = (measures: readonly Channel[], calibrations: readonly Calibration[], now: EpochMs): readonly ProbeSign[] => {
  const found: ProbeSign[] = [];
  if (measures.includes('ph') || measures.includes('ph-mv')) {
    const channel = measures.includes('ph') ? 'ph' : 'ph-mv';
    const written = calibrations.filter(({ kind }) => kind === 'ph');
    const electrode = electrodeOf(calibrations, now);
    const last = written.at(-1);
    if (last === undefined) found.push({ kind: 'never-calibrated', channel, value: null });
    else {
      const age = calibrationAge(fromRfc3339(last.at), now, written.length === 1);
      if (age.due) found.push({ kind: 'calibration-old', channel, value: age.ageDays });
    }
    if (electrode !== null && electrode.verdict !== 'good') found.push({ kind: electrode.verdict === 'check' ? 'electrode-check' : 'electrode-replace', channel, value: electrode.slopePercent });
  }
  const off = icePointOffC(calibrations);
  if (off !== null && Math.abs(off) > offC) found.push({ kind: Math.abs(off) > rejectC ? 'ice-point-reject' : 'ice-point-off', channel: 'temperature', value: off });
  return found;
};
