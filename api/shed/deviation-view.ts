import type { Deviation as DeviationShape, Recall as RecallShape } from '#contract';
import { closingOf, type Deviation, type DeviationClosing } from '#domain/deviation/deviation.ts';
import type { Recall } from '#domain/journal/kept-checks.ts';
import { jarStock } from '#domain/jar/jar-stock.ts';
import { isAct, type Shed } from '#domain/journal/shed.ts';
import { toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { personOf } from './shape.ts';

const closingShape = ({ at, by, name, cause, action, prevention, disposition, evaluation }: DeviationClosing): NonNullable<DeviationShape['closed']> => ({ at: toRfc3339(at), by: personOf(by), name, cause, action, prevention, disposition, evaluation });

/** A deviation with what was done about it, also at the alert it follows. */
export const deviationShape = (deviation: Deviation, { alertActions }: Pick<Shed, 'alertActions'>): DeviationShape => {
  const { number, entry, openedAt, lot, drum, alert, limit, quantity, bound, from, to, worst } = deviation;
  const closing = closingOf(deviation);
  const atAlert = alert === null ? [] : (alertActions.get(alert) ?? []);
  return {
    number, entry, lot, drum, alert, limit, quantity, bound, worst,
    openedAt: toRfc3339(openedAt),
    from: toRfc3339(from),
    to: to === null ? null : toRfc3339(to),
    actions: [...atAlert, ...deviation.actions].toSorted((one, other) => one.at - other.at).map(({ at, by, text }) => ({ at: toRfc3339(at), by: personOf(by), text })),
    closed: closing === null ? null : closingShape(closing),
    earlierClosings: deviation.closings.slice(0, -1).map(closingShape),
  };
};

/** A recall with where the jars of the lot, and of the parts split from it, went. */
export const recallShape = ({ lot, at, by, reason }: Recall, { batches }: Pick<Shed, 'batches'>, now: EpochMs): RecallShape => {
  const parts = [...batches.values()].filter(({ lineage }) => lineage.includes(lot));
  const stocks = parts.map(({ acts }) => jarStock(acts, now));
  return {
    lot, reason,
    at: toRfc3339(at),
    by: personOf(by),
    lots: parts.map((part) => part.lot),
    filled: stocks.reduce((sum, { jarred }) => sum + jarred, 0),
    left: stocks.reduce((sum, { left }) => sum + left, 0),
    out: parts
      .flatMap((part) => part.acts.filter(isAct('distributed')).map(({ sequence, at: when, body }) => ({ lot: part.lot, entry: sequence, at: toRfc3339(when), to: body.to, jars: body.jars })))
      .toSorted((one, other) => (one.at < other.at ? -1 : 1)),
  };
};
