import { undecided } from '../calibration/in-doubt.ts';
import { localDate } from '../cure/stage.ts';
import { isInDrum } from '../journal/shed.ts';
import { seriesWatching } from '../journal/placement.ts';
import { seriesParts } from '../reading/reading.ts';
import { dayMs, fromRfc3339 } from '../units/time.ts';
import type { Finding, ReadinessRule } from './finding.ts';

const onInstrument = (id: string, text: string, act: string, lot: string | null = null): Finding => ({ lot, text, act, place: { screen: 'instruments', id } });

/** Behind it: expired buffers (an FDA warning letter of 2015). */
export const oldBuffers: ReadinessRule = {
  id: 'R04', level: 'stop', what: 'Buffers past their date, or open too long',
  check: ({ instruments, settings, zone }) => {
    const calibrations = instruments.flatMap(({ id, checks }) => checks.flatMap(({ check, at }) => (check.kind === 'ph' ? [{ id, at, bottles: check.points.flatMap(({ bottle }) => bottle ?? []) }] : [])));
    if (calibrations.length > 0 && calibrations.every(({ bottles }) => bottles.length === 0)) return { notRecorded: 'no calibration names its buffers with their dates' };
    return calibrations.flatMap(({ id, at, bottles }) => {
      const day = localDate(at, zone).toString();
      const expired = bottles.some(({ expiresOn }) => expiresOn !== undefined && expiresOn < day);
      const openLong = bottles.some(({ openedOn }) => openedOn !== undefined && (fromRfc3339(`${day}T00:00:00Z`) - fromRfc3339(`${openedOn}T00:00:00Z`)) / dayMs > settings.bufferOpenDays);
      if (!expired && !openLong) return [];
      return [onInstrument(id, `A buffer ${expired ? 'past its date' : `open for more than ${String(settings.bufferOpenDays)} days`} was used on ${day}.`, 'Open fresh buffers and calibrate again.')];
    });
  },
};

/** Behind it: accuracy of a thermometer not documented (an FDA warning letter of 2015). */
export const uncheckedThermometer: ReadinessRule = {
  id: 'R08', level: 'fix', what: 'Thermometers in use without a check in time',
  check: ({ shed, instruments, now }) => {
    const inUse = new Set([...shed.batches.values()].filter(isInDrum).flatMap(({ drum }) => {
      const series = seriesWatching(shed, drum, 'temperature', now);
      return series === null ? [] : [seriesParts(series).probe];
    }));
    return instruments
      .filter(({ id }) => inUse.has(id))
      .flatMap(({ id, uses }) => uses.filter(({ measured, notUsable }) => measured === 'temperature' && notUsable !== null).map(({ notUsable }) => onInstrument(id, `${id}: ${notUsable ?? ''}.`, 'Check it in melting ice.')));
  },
};

/** Behind it: an instrument failed and nobody looked back (21 CFR 820.72, written for medical devices, is the model). */
export const doubtsUndecided: ReadinessRule = {
  id: 'R09', level: 'stop', what: 'Failed checks without a decision on the lots in doubt',
  check: ({ instruments }) =>
    instruments.flatMap(({ id, doubts }) => undecided(doubts).map(({ doubt, lot }) => onInstrument(id, `${id} failed a check (${doubt.why}); results of lot ${lot} since the last good one are in doubt.`, 'Decide whether they stand.', lot))),
};

/** Behind it: licence, registration, training, water test lapsed (WAC 16-149-100). Certificates of instruments are the dates kept here. */
export const lapsed: ReadinessRule = {
  id: 'R30', level: 'fix', what: 'Licences and certificates that lapsed, or will within 30 days',
  check: ({ shed, now, zone }) => {
    const soon = localDate(now + 30 * dayMs, zone).toString();
    const certificates = [...shed.instruments.values()].flatMap(({ id, certificate }) => (certificate !== undefined && certificate.dueOn <= soon ? [onInstrument(id, `The certificate of ${id} is due on ${certificate.dueOn}.`, 'Have it checked against a standard.')] : []));
    if (certificates.length === 0) return { notRecorded: 'the dates of licence, training and water test are not kept here' };
    return certificates;
  },
};
