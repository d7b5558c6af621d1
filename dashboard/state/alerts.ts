import type { Alert } from '#contract';

/** Alerts in the order in which they want to be seen: by priority, then those nobody has seen, then the newest. */
const rank = { high: 0, medium: 1, low: 2, note: 3 } as const satisfies Record<Alert['priority'], number>;

export const isUnseen = (alert: Alert): boolean => alert.state === 'unacknowledged' || alert.state === 'returned';

/** Still outside now. A returned one is back inside and only waits to be seen. */
export const isStanding = (alert: Alert): boolean => alert.state === 'unacknowledged' || alert.state === 'acknowledged';

export const isActive = (alert: Alert): boolean => alert.state !== 'normal';

export const inOrder = (alerts: readonly Alert[]): readonly Alert[] =>
  alerts
    .filter(isActive)
    .toSorted(
      (a, b) =>
        Number(isStanding(b)) - Number(isStanding(a)) || rank[a.priority] - rank[b.priority] || Number(isUnseen(b)) - Number(isUnseen(a)) || b.raisedAt.localeCompare(a.raisedAt),
    );

/** Alerts worth a sound: standing, not yet seen, and more than a note. */
export const unseenIds = (alerts: readonly Alert[]): readonly string[] =>
  alerts.filter((alert) => alert.state === 'unacknowledged' && (alert.priority === 'high' || alert.priority === 'medium')).map(({ id }) => id);

/** An alert as it now is, in place of what was known of it; gone when normal. */
export const withAlert = (alerts: readonly Alert[], alert: Alert): Alert[] => {
  const others = alerts.filter(({ id }) => id !== alert.id);
  return isActive(alert) ? [alert, ...others] : others;
};
