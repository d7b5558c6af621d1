import type { Alert, AlertMeasures } from '#contract';
import { age } from '../format/age.ts';

/** A rule as people read it: `leach-temperature-danger` → `leach temperature danger`. */
export const ruleWords = (rule: string): string => rule.replaceAll('-', ' ');

/** How many want somebody, in one sentence. */
export const alertSum = (alerts: readonly Alert[]): string => {
  const unseen = alerts.filter(({ state }) => state === 'unacknowledged' || state === 'returned').length;
  const seen = alerts.filter(({ state }) => state === 'acknowledged').length;
  const aside = alerts.length - unseen - seen;
  if (alerts.length === 0) return 'No alert is open.';
  const parts = [unseen === 0 ? null : `${String(unseen)} not yet seen`, seen === 0 ? null : `${String(seen)} seen and still outside`, aside === 0 ? null : `${String(aside)} put aside`].filter((part) => part !== null);
  return `${parts.join(', ')}.`;
};

/** How long it was outside, all its times together, and how it ended. */
export const pastWords = (alert: Alert): string => {
  const ended = alert.returnedAt === null ? null : age(Date.parse(alert.returnedAt) - Date.parse(alert.since));
  return ended === null ? 'put back to normal' : `outside for ${ended}`;
};

export interface MeasureRow {
  readonly name: string;
  readonly value: string;
  readonly aim: string;
  readonly good: boolean | null;
}

const percent = (share: number): string => (share === 0 ? '0 %' : share < 0.01 ? 'under 1 %' : `${String(Math.round(share * 100))} %`);

/** The measures beside what ISA-18.2 and IEC 62682 ask for. Their figures are for operators of plants: a shed should do far better. */
export const measureRows = (measures: AlertMeasures): readonly MeasureRow[] => {
  const { count, perDay, mostInTenMinutes, floodShare, chattering, stale, byPriority } = measures;
  const high = count === 0 ? 0 : (byPriority.high ?? 0) / count;
  return [
    { name: 'Alerts', value: `${String(count)}, ${perDay.toFixed(1)} a day`, aim: 'about 6 an hour is what one person can answer', good: perDay <= 144 },
    { name: 'Most in ten minutes', value: String(mostInTenMinutes), aim: 'at most 10', good: mostInTenMinutes <= 10 },
    { name: 'Time in flood', value: percent(floodShare), aim: 'under 1 %', good: floodShare < 0.01 },
    { name: 'Chattering', value: String(chattering.length), aim: 'none: give each a delay or mend its probe', good: chattering.length === 0 },
    { name: 'Open for more than a day', value: String(stale), aim: 'under 5', good: stale < 5 },
    { name: 'Of high priority', value: count === 0 ? 'none' : percent(high), aim: 'about 5 %: what is always high is soon not looked at', good: count < 20 ? null : high <= 0.1 },
  ];
};
