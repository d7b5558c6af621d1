import { actEvidence } from '../calibration/act-evidence.ts';
import { instrumentBookOf } from '../calibration/book.ts';
import { deviationsOfLot } from '../deviation/of-lot.ts';
import { packLimitOf } from '../jar/jar-evidence.ts';
import { isStrip } from '../jar/strip.ts';
import { isAct, type StoryAct } from '../journal/shed.ts';
import { dayMs } from '../units/time.ts';
import { isOut, onBatch, type LotFacts, type ReadinessRule } from './finding.ts';

/** Whole fruit is slow to come to rest with its brine (assumption). */
const wholeFruitDays = 14;
/** Strips are accepted only below this (21 CFR 114.90). */
const stripsUpTo = 4;

const readings = ({ batch }: LotFacts): readonly (StoryAct & { readonly body: { readonly value: number; readonly instrument: string } })[] => batch.acts.filter(isAct('jar-ph'));

/** Behind it: equilibrium pH of the finished product not verified (an FDA warning letter of 2015). */
export const unprovenJars: ReadinessRule = {
  id: 'R01', level: 'stop', what: 'Lots released without enough pH readings of packed jars',
  check: ({ lots }) =>
    lots.filter(isOut).flatMap((lot) => {
      const { batch, gate } = lot;
      if (gate === null || batch.jarredAt === null) return [];
      if (gate.unmet.some((each) => each === 'no-reading' || each === 'too-few-jars' || each === 'not-repeated' || each === 'still-moving')) return [onBatch(batch.lot, 'The packed-jar rule is not met.', gate.next?.text ?? 'Measure packed jars.')];
      const settled = batch.jarredAt + wholeFruitDays * dayMs;
      const isSlow = batch.cut === 'whole' && !gate.jars.some(({ last }) => last.at >= settled);
      return isSlow ? [onBatch(batch.lot, `Whole fruit, and no jar was read ${String(wholeFruitDays)} days or more after packing.`, 'Measure a packed jar again.')] : [];
    }),
};

/** Behind it: pH above 4.6 (FDA Import Alert 21-01; 21 CFR 114.89). */
export const jarAboveLimit: ReadinessRule = {
  id: 'R02', level: 'stop', what: 'Jars read above their limit without a deviation',
  check: ({ shed, lots }) =>
    lots.flatMap((lot) => {
      const limit = packLimitOf(lot.batch);
      const above = readings(lot).filter(({ body }) => body.value > limit.ph);
      const isNumbered = deviationsOfLot(shed, lot.batch).some(({ alert }) => alert === null);
      return above.length === 0 || isNumbered ? [] : [onBatch(lot.batch.lot, `A jar read above pH ${limit.ph.toFixed(1)} and no deviation was opened.`, 'Write the reading again, as a correction.')];
    }),
};

/** Behind it: calibration of the meter not documented (an FDA warning letter of 2015). */
export const unusableJarPh: ReadinessRule = {
  id: 'R03', level: 'stop', what: 'pH used for release without a calibration of that day',
  check: ({ shed, zone, now, lots }) => {
    const book = instrumentBookOf(shed, zone, now);
    return lots.filter(isOut).flatMap((lot) => {
      const bad = readings(lot).filter((act) => {
        const evidence = actEvidence(act, book);
        return evidence !== null && !evidence.usable && (evidence.reason === 'not-calibrated' || evidence.reason === 'failed-check');
      });
      return bad.length === 0 ? [] : [onBatch(lot.batch.lot, `${String(bad.length)} ${bad.length === 1 ? 'reading' : 'readings'} of packed jars without a good calibration of that day.`, 'Calibrate the meter, then measure again.')];
    });
  },
};

/** Behind it: pH noted to one decimal where two were prescribed (a state inspection report). */
export const oneDecimal: ReadinessRule = {
  id: 'R05', level: 'fix', what: 'pH written with one decimal',
  check: ({ lots }) =>
    lots.flatMap((lot) => {
      const values = readings(lot).map(({ body }) => body.value);
      return values.length >= 3 && values.every(isTenth) ? [onBatch(lot.batch.lot, `All ${String(values.length)} readings of packed jars are whole tenths.`, 'Write pH with two decimals.')] : [];
    }),
};
const isTenth = (value: number): boolean => Math.abs(value * 10 - Math.round(value * 10)) < 1e-9;

/** Behind it: strips used above pH 4.0 (21 CFR 114.80 and 114.90). */
export const stripOnly: ReadinessRule = {
  id: 'R06', level: 'stop', what: 'A strip as the only reading of a jar above pH 4.0',
  check: ({ lots }) =>
    lots.filter(isOut).flatMap((lot) => {
      const all = readings(lot);
      const onlyStrips = all.length > 0 && all.every(({ body }) => isStrip(body.instrument));
      return onlyStrips && all.some(({ body }) => body.value > stripsUpTo) ? [onBatch(lot.batch.lot, 'Packed jars were only read with strips.', 'Measure with a pH meter.')] : [];
    }),
};

/** Behind it: a batch over its limit when the inspector measured it with the firm's own meter (a state inspection report). */
export const oldEvidence: ReadinessRule = {
  id: 'R07', level: 'fix', what: 'Old pH readings of lots that are still sold',
  check: ({ lots, now, settings }) =>
    lots.filter((lot) => lot.released && lot.stock.left > 0).flatMap((lot) => {
      const last = Math.max(...(lot.gate?.jars ?? []).map((jar) => jar.last.at));
      return Number.isFinite(last) && now - last > settings.jarEvidenceDays * dayMs ? [onBatch(lot.batch.lot, `The last pH of a packed jar is ${String(Math.floor((now - last) / dayMs))} days old.`, 'Measure a jar from the store.')] : [];
    }),
};

/** Behind it: no source; a neutral look at numbers that repeat. */
export const repeatedValues: ReadinessRule = {
  id: 'R25', level: 'look', what: 'The same pH many times running',
  check: ({ lots }) =>
    lots.flatMap(({ batch }) => {
      const values = batch.acts.flatMap((act) => (isAct('jar-ph')(act) || (isAct('measured')(act) && act.body.quantity === 'ph') ? [act.body.value] : []));
      const runs = values.some((_, index) => index >= 4 && values.slice(index - 4, index + 1).every((value) => value === values[index]));
      return runs ? [onBatch(batch.lot, 'The same pH was written five times running or more. That may be so; an inspector may ask.', 'Look whether each was read anew.')] : [];
    }),
};
