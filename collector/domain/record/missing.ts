import { channels } from '../reading/channel.ts';
import { fromRfc3339, hourMs, toRfc3339 } from '../units/time.ts';
import type { LimitAside } from './limits-aside.ts';
import type { HandValue, RecordJars, RecordMissing, WatchedQuantity } from './lot-record.ts';
import { watchedChannels } from './watched.ts';

/** Shorter gaps stand behind, in the list of days; longer ones are worth a line on page one (assumption). */
export const toldGapHours = 6;

export interface MissingInput {
  readonly watched: readonly WatchedQuantity[];
  readonly byHand: readonly HandValue[];
  readonly jars: RecordJars | null;
  readonly aside: readonly LimitAside[];
  /** Things of the producer and of the lot that nobody has written down. */
  readonly notRecorded: readonly string[];
}

/** What is not known of a lot, and why: stated, never left blank. */
export const missingOf = ({ watched, byHand, jars, aside, notRecorded }: MissingInput): readonly RecordMissing[] => [
  ...watched.flatMap(({ quantity, gaps }) =>
    gaps
      .filter(({ from, to }) => fromRfc3339(to) - fromRfc3339(from) >= toldGapHours * hourMs)
      .map(({ from, to, reason, byHand: measured }) => ({ what: `no ${labelOf(quantity)} from the probe`, why: `${reason ?? 'reason not recorded'}; ${measured === 0 ? 'not measured by hand meanwhile' : `measured by hand ${measured} times meanwhile`}`, from, to })),
  ),
  ...watchedChannels.filter((channel) => !watched.some(({ quantity }) => quantity === channel) && !byHand.some(({ of, quantity }) => of === 'drum' && quantity === channel)).map((channel) => whole(`${labelOf(channel)} not measured`, 'no probe and no measurement by hand')),
  ...unusable(byHand),
  ...aside.map(({ limit, reason, by, from, to }) => ({ what: `limit ${limit} out of service, no alerts from it`, why: `${reason} (${by})`, from: toRfc3339(from), to: to === null ? null : toRfc3339(to) })),
  whole('titratable acidity not measured', 'no such measurement was written down'),
  ...(jars === null ? [] : [...(jars.counted === null ? [whole('jars in store not counted', 'what is left is worked out from what was written')] : []), whole('closures not checked', 'no check was written down')]),
  ...notRecorded.map((what) => whole(`${what} not recorded`, 'nobody has written it down')),
];

const whole = (what: string, why: string): RecordMissing => ({ what, why, from: null, to: null });

const labelOf = (quantity: string): string => (quantity in channels ? channels[quantity as keyof typeof channels].label : quantity);

const unusable = (byHand: readonly HandValue[]): readonly RecordMissing[] => {
  const reasons = new Map<string, number>();
  for (const { notUsable } of byHand) if (notUsable !== null) reasons.set(notUsable, (reasons.get(notUsable) ?? 0) + 1);
  return [...reasons].map(([why, count]) => whole(`${count} ${count === 1 ? 'measurement' : 'measurements'} by hand not usable as evidence`, why));
};
