import { dayMs, hourMs, minuteMs, type EpochMs } from '../units/time.ts';
import { alertPriorities, type Alert, type AlertPriority } from './alert.ts';

/**
 * How well alerts serve those who are to answer them, by the measures of ISA-18.2 and IEC 62682 (figures from memory, but about six an
 * hour, which is published): counts, floods, chattering, what stands for days, and the ten that come most often. Each time outside
 * counts as one. Averages hide floods, so the worst ten minutes stand beside them.
 */
export interface AlertMeasures {
  readonly from: EpochMs;
  readonly to: EpochMs;
  readonly count: number;
  readonly perDay: number;
  readonly mostInTenMinutes: number;
  /** Share of ten-minute periods with more than ten. */
  readonly busyShare: number;
  /** Share of the time in flood: from more than ten in ten minutes until fewer than five. */
  readonly floodShare: number;
  /** Those that came at least three times within a minute. */
  readonly chattering: readonly Frequent[];
  /** Open for more than a day now. */
  readonly stale: number;
  readonly byPriority: Readonly<Record<AlertPriority, number>>;
  readonly mostFrequent: readonly Frequent[];
  /** The ten most frequent together, as a share of all. */
  readonly mostFrequentShare: number;
}

export interface Frequent {
  readonly rule: string;
  readonly drum: string | null;
  readonly count: number;
  readonly share: number;
}

const tenMinutes = 10 * minuteMs;
const floodBegins = 10;
const floodEnds = 5;

export const measureAlerts = (alerts: readonly Alert[], from: EpochMs, to: EpochMs): AlertMeasures => {
  const times = alerts.flatMap((alert) => alert.excursions.map((each) => ({ at: each.from, alert }))).filter(({ at }) => at >= from && at < to);
  const ordered = times.map(({ at }) => at).toSorted((one, other) => one - other);
  const count = ordered.length;
  const groups = Map.groupBy(times, ({ alert }) => `${alert.drum ?? ''} ${alert.rule}`);
  const frequent = [...groups.values()]
    .map((group): Frequent => ({ rule: group[0]?.alert.rule ?? '', drum: group[0]?.alert.drum ?? null, count: group.length, share: group.length / count }))
    .toSorted((one, other) => other.count - one.count || (nameOf(one) < nameOf(other) ? -1 : 1));
  const mostFrequent = frequent.slice(0, 10);
  const chatter = [...groups.values()].filter((group) => chatters(group.map(({ at }) => at))).map((group) => `${group[0]?.alert.drum ?? ''} ${group[0]?.alert.rule ?? ''}`);
  const byPriority = Object.fromEntries(alertPriorities.map((priority) => [priority, times.filter(({ alert }) => alert.priority === priority).length])) as Record<AlertPriority, number>;
  const periods = Math.max(1, Math.ceil((to - from) / tenMinutes));
  const perPeriod = Map.groupBy(ordered, (at) => Math.floor((at - from) / tenMinutes));
  return {
    from,
    to,
    count,
    perDay: count / ((to - from) / dayMs),
    mostInTenMinutes: mostWithin(ordered, tenMinutes),
    busyShare: [...perPeriod.values()].filter((period) => period.length > floodBegins).length / periods,
    floodShare: floodTime(ordered, to) / (to - from),
    chattering: frequent.filter(({ rule, drum }) => chatter.includes(`${drum ?? ''} ${rule}`)),
    stale: alerts.filter((alert) => alert.excursions.at(-1)?.to === null && to - alert.since > 24 * hourMs).length,
    byPriority,
    mostFrequent,
    mostFrequentShare: count === 0 ? 0 : mostFrequent.reduce((sum, each) => sum + each.count, 0) / count,
  };
};

const nameOf = ({ rule, drum }: Frequent): string => `${rule} ${drum ?? ''}`;

const chatters = (times: readonly EpochMs[]): boolean => mostWithin(times.toSorted((one, other) => one - other), minuteMs) >= 3;

/** The most within any span of that length, which moves with the alerts and not with the clock. */
const mostWithin = (ordered: readonly EpochMs[], spanMs: number): number => {
  let most = 0;
  let first = 0;
  ordered.forEach((at, index) => {
    while (at - (ordered[first] ?? at) > spanMs) first += 1;
    most = Math.max(most, index - first + 1);
  });
  return most;
};

/** Time in flood, found at the moments where the count over the last ten minutes changes. */
const floodTime = (ordered: readonly EpochMs[], to: EpochMs): number => {
  const moments = [...ordered.map((at) => ({ at, by: 1 })), ...ordered.map((at) => ({ at: at + tenMinutes, by: -1 }))].filter(({ at }) => at <= to).toSorted((one, other) => one.at - other.at);
  let within = 0;
  let since: EpochMs | null = null;
  let total = 0;
  for (const { at, by } of moments) {
    within += by;
    if (since === null && within > floodBegins) since = at;
    else if (since !== null && within < floodEnds) {
      total += at - since;
      since = null;
    }
  }
  return total + (since === null ? 0 : to - since);
};
