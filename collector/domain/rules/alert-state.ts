import type { AlertState } from './alert.ts';

/**
 * The alarm state machine of IEC 62682 (and of ISA-18.2, from which it comes), as data.
 *
 * A condition that comes true is announced (unacknowledged) until a person takes notice. An alert that clears unseen stays up as
 * `returned`, so that nothing that happened in the night is lost. A person shelves for a stated time, logic suppresses,
 * maintenance takes out of service; all three go back to what the condition says at that moment.
 */
export const alertEvents = [
  'condition-true', 'condition-clear', 'acknowledge', 're-alarm',
  'shelve', 'unshelve', 'suppress', 'unsuppress', 'remove-from-service', 'return-to-service',
] as const;
export type AlertEvent = (typeof alertEvents)[number];

export interface AlertTransition {
  readonly from: AlertState;
  readonly event: AlertEvent;
  /** `by-condition`: unacknowledged while the condition is true, normal otherwise. */
  readonly to: AlertState | 'by-condition';
}

const announced = ['normal', 'unacknowledged', 'acknowledged', 'returned'] as const satisfies readonly AlertState[];

export const alertTransitions: readonly AlertTransition[] = [
  { from: 'normal', event: 'condition-true', to: 'unacknowledged' },
  { from: 'unacknowledged', event: 'acknowledge', to: 'acknowledged' },
  { from: 'unacknowledged', event: 'condition-clear', to: 'returned' },
  { from: 'acknowledged', event: 'condition-clear', to: 'normal' },
  { from: 'acknowledged', event: 're-alarm', to: 'unacknowledged' },
  { from: 'returned', event: 'acknowledge', to: 'normal' },
  { from: 'returned', event: 'condition-true', to: 'unacknowledged' },
  ...announced.map((from): AlertTransition => ({ from, event: 'shelve', to: 'shelved' })),
  ...announced.map((from): AlertTransition => ({ from, event: 'suppress', to: 'suppressed' })),
  ...announced.map((from): AlertTransition => ({ from, event: 'remove-from-service', to: 'out-of-service' })),
  { from: 'shelved', event: 'unshelve', to: 'by-condition' },
  { from: 'suppressed', event: 'unsuppress', to: 'by-condition' },
  { from: 'out-of-service', event: 'return-to-service', to: 'by-condition' },
];

const table = new Map(alertTransitions.map((row) => [`${row.from} ${row.event}`, row.to]));

/** False where the event means nothing in that state, such as acknowledging what is acknowledged. */
export const hasTransition = (state: AlertState, event: AlertEvent): boolean => table.has(`${state} ${event}`);

/** The next state; an event that means nothing in a state leaves it as it is. `conditionTrue` is the condition after the event. */
export const transition = (state: AlertState, event: AlertEvent, conditionTrue: boolean): AlertState => {
  const to = table.get(`${state} ${event}`) ?? state;
  if (to !== 'by-condition') return to;
  return conditionTrue ? 'unacknowledged' : 'normal';
};
