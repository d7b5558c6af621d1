import type { WrongClock } from '#collector';
import type { Probe } from '#contract';
import { dayMs, toRfc3339, type EpochMs } from '#domain/units/time.ts';
import type { ProbeView } from './probe-view.ts';

/** By probe, as the collector last told. */
export type ClocksOf = () => Readonly<Record<string, WrongClock>>;

/** A clock that was wrong longer ago has been set since, or the probe is gone. */
const shownForMs = dayMs;

/** Probes with what is known of their clocks. One of which nothing could be stored is listed first: it is heard, and nobody sees its readings. */
export const withClocks = (views: readonly ProbeView[], clocks: Readonly<Record<string, WrongClock>>, now: EpochMs, unseen: (id: string) => ProbeView): Probe[] => {
  const wrong = new Map(Object.entries(clocks).filter(([, { at }]) => now - at < shownForMs));
  const known = new Set(views.map(({ id }) => id));
  const unknown = [...wrong.keys()].filter((id) => !known.has(id)).toSorted();
  const clockOf = (id: string): Probe['clock'] => {
    const found = wrong.get(id);
    return found === undefined ? null : { ...found, at: toRfc3339(found.at) };
  };
  return [...unknown.map(unseen), ...views].map((view) => ({ ...view, clock: clockOf(view.id) }));
};
