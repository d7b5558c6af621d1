import type { BatchDetail, BatchSummary } from '#contract';
import { dayOf, restOver, stageAt } from '#domain/cure/stage.ts';
import { openHolds } from '#domain/jar/holds.ts';
import { jarStock } from '#domain/jar/jar-stock.ts';
import type { Batch, PastAlerts, Shed } from '#domain/journal/shed.ts';
import type { Alert } from '#domain/rules/alert.ts';
import { limitsInForce } from '#domain/rules/limits-in-force.ts';
import { toRfc3339 } from '#domain/units/time.ts';
import type { Forecasts } from './forecasts.ts';
import { holdsOf, jarsOf } from './jar-view.ts';
import { traceOf } from './pick-view.ts';
import type { ShedModel } from './shed-model.ts';
import { storyEntryOf } from './story-view.ts';

export const batchSummary = async (model: ShedModel, forecasts: Forecasts, batch: Batch): Promise<BatchSummary> => {
  const now = model.clock.now();
  return {
    lot: batch.lot,
    drum: batch.drum,
    pickedAt: toRfc3339(batch.pickedAt),
    startedAt: toRfc3339(batch.startedAt),
    cut: batch.cut,
    style: batch.style,
    maturity: batch.maturity,
    variety: batch.variety,
    trees: batch.trees,
    fruitKg: batch.fruitKg,
    brineL: batch.brineL,
    saltGPerL: batch.saltGPerL,
    stage: stageAt(batch, now),
    day: dayOf(batch, now, model.zone),
    jarredAt: batch.jarredAt === null ? null : toRfc3339(batch.jarredAt),
    readyToEatAt: batch.jarredAt === null ? null : toRfc3339(restOver(batch.jarredAt)),
    held: openHolds(batch.acts, now).length > 0,
    jarsLeft: batch.jarredAt === null ? null : jarStock(batch.acts, now).left,
    forecast: await forecasts.of(batch),
  };
};

export const batchDetail = async (model: ShedModel, forecasts: Forecasts, batch: Batch): Promise<BatchDetail> => {
  const shed = model.shed();
  return {
    ...(await batchSummary(model, forecasts, batch)),
    entries: batch.acts.map((act) => storyEntryOf(model, act)),
    holds: holdsOf(batch, model.clock.now()),
    jars: jarsOf(model, batch),
    trace: traceOf(shed, batch, model.clock.now()),
    limits: [...limitsInForce(shed.limitChanges, batch.drum, batch, model.clock.now())],
    excursions: alertsOf(shed, batch)
      .flatMap((alert) => alert.excursions.filter(({ from }) => isOwn(batch, alert, from)).map(({ from, to, peak }) => ({ alert: alert.id, rule: alert.rule, quantity: alert.quantity, priority: alert.priority, from: toRfc3339(from), to: to === null ? null : toRfc3339(to), peak })))
      .sort((one, other) => (one.from < other.from ? -1 : 1)),
  };
};

/** What befell the lot it was split from befell this one too, until then. */
const isOwn = ({ lot, from }: Batch, alert: Alert, at: number): boolean => alert.lot === lot || from === null || at < from.at;

/** Alerts of a batch and of the lots it was split from, open and past. */
export const alertsOf = (shed: Shed, batch: Batch): readonly Alert[] => [...shed.openAlerts.values(), ...pastAlerts(shed.pastAlerts)].filter(({ lot }) => lot !== null && batch.lineage.includes(lot));

/** Newest first. */
export const pastAlerts = function* (past: PastAlerts | null): Generator<Alert> {
  for (let link = past; link !== null; link = link.before) yield link.alert;
};

const leftAt = ({ stays }: Batch): number => stays.at(-1)?.to ?? Number.POSITIVE_INFINITY;

/** What a drum holds, or held last: a jarred batch is shown with its drum until another goes in. */
export const batchShownFor = (shed: Shed, drum: string): Batch | null => {
  const lot = shed.drums.get(drum)?.lot;
  if (lot !== undefined && lot !== null) return shed.batches.get(lot) ?? null;
  return [...shed.batches.values()].filter((batch) => batch.drum === drum).sort((one, other) => leftAt(other) - leftAt(one) || other.startedAt - one.startedAt)[0] ?? null;
};
