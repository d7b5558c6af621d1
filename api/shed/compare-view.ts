import type { Compare, CompareFit, CompareGroup } from '#contract';
import type { Bitterness } from '#domain/cure/batch.ts';
import { compareCures, type CureGroup } from '#domain/cure/compare-cures.ts';
import { compareCurve } from '#domain/cure/compare-curve.ts';
import type { CureRegression } from '#domain/cure/cure-regression.ts';
import { leftOutText } from '#domain/cure/left-out-text.ts';
import { meanKineticTemperature } from '#domain/cure/mean-kinetic-temperature.ts';
import { dayMs, toRfc3339 } from '#domain/units/time.ts';
import type { CureRecord, CureRecords } from './cure-records.ts';
import type { ShedModel } from './shed-model.ts';

const source = 'Arrhenius equation by least squares on mean kinetic temperature, 95 % prediction interval; 45 ± 15 kJ/mol, four cures and four degrees are assumptions. It says nothing about safety.';
const level = 0.95;

/** How the cure time of this grower depends on temperature: groups of finished cures, the fullest first. */
export const compareView = async (model: ShedModel, records: CureRecords, bitterness: Bitterness): Promise<Compare> => {
  const all = await Promise.all([...model.shed().batches.values()].sort((one, other) => one.startedAt - other.startedAt).map((batch) => records.of(batch, bitterness)));
  const byLot = new Map(all.map((record) => [record.batch.lot, record]));
  const groups = compareCures(all.map(({ story }) => story)).map((group) => groupShape(group, byLot, bitterness));
  return { bitterness, source, groups: groups.sort((one, other) => other.cures.length - one.cures.length) };
};

const groupShape = ({ cut, style, maturity, cures, fit, kineticEnergyKjPerMol, leftOut }: CureGroup, records: ReadonlyMap<string, CureRecord>, endPoint: Bitterness): CompareGroup => ({
  cut,
  style,
  maturity,
  cures: cures.flatMap(({ lot, temperatureC }) => {
    const record = records.get(lot);
    if (record === undefined || record.end === null) return [];
    const { batch, end, measured } = record;
    return [{ lot, drum: batch.drum, variety: batch.variety, startedAt: toRfc3339(batch.startedAt), ...endShape(record, end), temperatureC, measuredShare: measured ?? 0 }];
  }),
  fit: fit === null ? null : fitShape(fit),
  interval: fit === null || fit.method === 'too-few' ? null : { kind: 'prediction of one more cure', level, points: [...compareCurve(fit)] },
  leftOut: leftOut.flatMap(({ lot, reason }) => {
    const record = records.get(lot);
    if (record === undefined) return [];
    const { batch, end, last, measured, story } = record;
    const mean = meanKineticTemperature(story.spans, kineticEnergyKjPerMol);
    return [{ lot, drum: batch.drum, reason, text: leftOutText(reason, { endPoint, last, measured }), days: end?.days ?? null, temperatureC: mean.ok ? mean.value.meanKineticC : null }];
  }),
});

export const endShape = ({ batch }: CureRecord, { sweetAt, days, bitterAt, likelyDays }: NonNullable<CureRecord['end']>) => ({
  sweetAt: toRfc3339(sweetAt),
  days,
  bitterDays: bitterAt === null ? null : (bitterAt - batch.startedAt) / dayMs,
  likelyDays,
});

const fitShape = (fit: CureRegression): CompareFit => {
  const { cures, temperatureC, days } = fit;
  if (fit.method === 'too-few') return { method: fit.method, cures, temperatureC, days };
  const { method, activationEnergyKjPerMol, standardError, interval, shrunkenKjPerMol, plausible, intercept, residual, rSquared, degreesOfFreedom } = fit;
  return { method, cures, temperatureC, days, activationEnergyKjPerMol, standardError, energyInterval: interval, shrunkenKjPerMol, plausible, intercept, residual, rSquared, degreesOfFreedom };
};
