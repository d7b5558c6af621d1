import type { Attribution, ComparePair, CureCourse } from '#contract';
import { attributeDays, cureFactors, type NotAttributed } from '#domain/cure/attribute-days.ts';
import type { Bitterness } from '#domain/cure/batch.ts';
import { brineRatio } from '#domain/cure/brine-ratio.ts';
import { changesOf } from '#domain/cure/change-rhythm.ts';
import { leftOutText } from '#domain/cure/left-out-text.ts';
import { cureActivationEnergy, meanKineticTemperature } from '#domain/cure/mean-kinetic-temperature.ts';
import type { OwnSchedules } from '#domain/cure/own-schedules.ts';
import { segmentsOfBatch } from '#domain/journal/placement.ts';
import { isAct, type Batch } from '#domain/journal/shed.ts';
import { dayMs, toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { endShape } from './compare-view.ts';
import { attributedCure, type CureRecord, type CureRecords } from './cure-records.ts';
import type { ShedModel } from './shed-model.ts';

/** Two cures over one time scale, and why the first took longer than the second. */
export const comparePairView = async (model: ShedModel, records: CureRecords, [first, second]: readonly [Batch, Batch], bitterness: Bitterness): Promise<ComparePair> => {
  const [one, other] = await Promise.all([records.of(first, bitterness), records.of(second, bitterness)]);
  const [firstCourse, secondCourse] = await Promise.all([courseShape(model, one, bitterness), courseShape(model, other, bitterness)]);
  return { bitterness, first: firstCourse, second: secondCourse, attribution: attributionShape(model.shed().schedules, one, other, bitterness) };
};

/** About one point for each two pixels of a picture on a laptop. */
const picturePoints = 300;

const courseShape = async (model: ShedModel, record: CureRecord, endPoint: Bitterness): Promise<CureCourse> => {
  const { batch, end, last, story, measured } = record;
  const day = (at: EpochMs): number => (at - batch.startedAt) / dayMs;
  const span = { from: batch.startedAt, to: Math.max(batch.jarredAt ?? model.clock.now(), batch.startedAt + 1) };
  const view = await model.store.view(segmentsOfBatch(model.shed(), batch, 'temperature', span), span, picturePoints);
  const mean = meanKineticTemperature(story.spans, cureActivationEnergy);
  const ratio = brineRatio(batch);
  const changes = changesOf(batch).map(({ at, fraction }) => ({ day: day(at), fraction }));
  const inDrum = batch.acts.filter(isAct('tasted')).filter(({ at }) => batch.jarredAt === null || at <= batch.jarredAt);
  const notEnded = story.notEnded ?? 'not-finished';
  return {
    lot: batch.lot,
    drum: batch.drum,
    variety: batch.variety,
    cut: batch.cut,
    style: batch.style,
    maturity: batch.maturity,
    startedAt: toRfc3339(batch.startedAt),
    jarredDay: batch.jarredAt === null ? null : day(batch.jarredAt),
    end: end === null ? { reason: notEnded, text: leftOutText(notEnded, { endPoint, last, measured }) } : endShape(record, end),
    temperatureC: mean.ok ? mean.value.meanKineticC : null,
    brineRatio: ratio.ok ? ratio.value : null,
    changesToEnd: changes.filter((change) => end === null || change.day < end.days).length,
    temperature: view.points.map(({ t, min, mean: middle, max }) => ({ day: day(t), min, mean: middle, max })),
    gaps: view.gaps.map(({ from, to }) => ({ from: day(from), to: day(to) })),
    changes,
    tastings: inDrum.map(({ at, body }) => ({ day: day(at), bitterness: body.bitterness })),
  };
};

const attributionShape = (own: OwnSchedules, one: CureRecord, other: CureRecord, endPoint: Bitterness): Attribution | { readonly unknown: string } => {
  const [first, second] = [attributedCure(one, own), attributedCure(other, own)];
  if (first === null || second === null) {
    const waiting = [one, other].filter(({ end }) => end === null);
    return { unknown: waiting.map(({ batch, last, measured, story }) => `${batch.lot}: ${leftOutText(story.notEnded ?? 'not-finished', { endPoint, last, measured })}`).join('; ') };
  }
  const found = attributeDays(first, second, endPoint);
  if (!found.ok) return { unknown: refusals[found.error.code] };
  const { differenceDays, parts, unexplainedDays, modelDays, rateFactor, priorShare } = found.value;
  const tastings = first.tastings.length + second.tastings.length;
  return {
    differenceDays,
    parts: cureFactors.map((factor) => ({ factor, days: parts[factor] })),
    unexplainedDays,
    // A day known only to lie in an interval g wide has the variance of a uniform error, g²/12.
    uncertaintyDays: Math.sqrt(((one.end?.gapDays ?? 0) ** 2 + (other.end?.gapDays ?? 0) ** 2) / 12),
    modelDays: { first: modelDays[0], second: modelDays[1] },
    rateFactor,
    priorShare,
    basis: `leaching model with one rate for both, fitted to ${tastings} tastings (${Math.round(priorShare * 100)} % starting guess)`,
  };
};

const refusals: Readonly<Record<NotAttributed['code'], string>> = {
  'no-temperatures': 'the temperature of one of the two was not measured',
  'outside-valid-range': 'the fruit, brine or temperature of one of the two lies outside what the model is known for',
  'never-reached': 'by the model a mixture of the two would not be done within ten years, so the days cannot be shared out',
};
