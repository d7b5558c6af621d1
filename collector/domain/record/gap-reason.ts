import type { Shed } from '../journal/shed.ts';
import type { Span } from '../reading/store.ts';
import type { Alert } from '../rules/alert.ts';
import { personIn } from './person.ts';

/** Why a probe was not heard, as somebody wrote it beside the alert about its silence; null: nobody did. */
export const gapReason = (alerts: readonly Alert[], { alertActions }: Pick<Shed, 'alertActions'>, quantity: string, gap: Span): string | null => {
  const told = alerts
    .filter(({ rule, excursions }) => rule === `${quantity}-silent` && excursions.some(({ from, to }) => from < gap.to && (to ?? Number.POSITIVE_INFINITY) > gap.from))
    .flatMap(({ id }) => alertActions.get(id) ?? [])
    .map(({ text, by }) => `${text} (${personIn(by)})`);
  return told.length === 0 ? null : [...new Set(told)].join('; ');
};
