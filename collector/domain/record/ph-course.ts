import { localDate } from '../cure/stage.ts';
import type { Batch } from '../journal/shed.ts';
import { fromRfc3339, toRfc3339 } from '../units/time.ts';
import type { HandValue, PhCourse, WatchedQuantity } from './lot-record.ts';

/** Acid food has an equilibrium pH of 4.6 at most (21 CFR 114.3). */
const milestonePh = 4.6;

/** From what counts as evidence: values by hand, and of a probe the highest of each day. Null where the pH was not measured. */
export const phCourse = (batch: Pick<Batch, 'startedAt'>, byHand: readonly HandValue[], probe: WatchedQuantity | undefined, probeUsable: boolean, zone: string): PhCourse | null => {
  const found = [
    ...byHand.filter(({ of, quantity, notUsable }) => of === 'drum' && quantity === 'ph' && notUsable === null).map(({ at, value, uncertainty }) => ({ at, value, uncertainty })),
    ...(probe === undefined || !probeUsable ? [] : probe.days.flatMap(({ to, max }) => (max === null ? [] : [{ at: toRfc3339(fromRfc3339(to) - 1), value: max, uncertainty: probe.uncertainty }]))),
  ].sort((one, other) => (one.at < other.at ? -1 : 1));
  const last = found.at(-1);
  if (last === undefined) return null;
  const first = found.find(({ value, uncertainty }) => value + uncertainty <= milestonePh + 1e-9);
  const lost = first === undefined ? undefined : found.findLast(({ at, value }) => at > first.at && value > milestonePh);
  const day = first === undefined ? null : localDate(batch.startedAt, zone).until(localDate(fromRfc3339(first.at), zone), { largestUnit: 'days' }).days + 1;
  return { limit: milestonePh, firstAt: first?.at ?? null, day, lostAt: lost?.at ?? null, last };
};
