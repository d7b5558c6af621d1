import { isOpen } from '../deviation/deviation.ts';
import { defaultLimits } from '../rules/default-limits.ts';
import { dayMs } from '../units/time.ts';
import type { Finding, ReadinessRule } from './finding.ts';

const onDeviation = (number: string | null, lot: string | null, text: string, act: string): Finding => ({ lot, text, act, place: { screen: 'deviations', id: number } });

/** Behind it: no corrective action, no disposition (21 CFR 114.89, 114.100). */
export const openDeviations: ReadinessRule = {
  id: 'R13', level: 'stop', what: 'Deviations that are open',
  check: ({ shed, lots, now, settings }) =>
    shed.deviations.filter(isOpen).map((deviation) => {
      const isSold = lots.some(({ batch, stock }) => batch.lineage.includes(deviation.lot) && stock.distributed > 0);
      const isOld = now - deviation.openedAt > settings.deviationDays * dayMs;
      const why = isSold ? ', and jars of the lot have left' : isOld ? ` for more than ${String(settings.deviationDays)} days` : '';
      return { ...onDeviation(deviation.number, deviation.lot, `${deviation.number} is open${why}.`, 'Close it with cause, action and what becomes of the product.'), ...(!isSold && !isOld && { level: 'look' as const }) };
    }),
};

const critical: ReadonlySet<string> = new Set(defaultLimits.filter(({ kind }) => kind === 'range' || kind === 'due').map(({ id }) => id));

/** Behind it: departures kept only in the daily log (21 CFR 114.100 (c)). */
export const unnumberedExcursions: ReadinessRule = {
  id: 'R14', level: 'stop', what: 'Times outside a critical limit without a deviation',
  check: ({ shed, alerts }) =>
    alerts
      .filter(({ priority, lot, rule }) => priority === 'high' && lot !== null && critical.has(rule))
      .flatMap((alert) => alert.excursions.filter(({ from }) => !shed.deviations.some((deviation) => deviation.alert === alert.id && deviation.from === from)).map(() => onDeviation(null, alert.lot, `${alert.text} It has no number in the log of deviations.`, 'Write down what happened and what was done.'))),
};
