import type { Entry } from '../journal/entry.ts';
import type { Batch } from '../journal/shed.ts';
import { fromRfc3339, type EpochMs } from '../units/time.ts';
import { personIn } from './person.ts';

/** A time in which a limit was not judged, because a person had set it aside. */
export interface LimitAside {
  readonly limit: string;
  readonly reason: string;
  readonly by: string;
  readonly from: EpochMs;
  /** Null: still. */
  readonly to: EpochMs | null;
}

/** Limits out of service in a drum while the lot lay in it. */
export const limitsAside = (entries: readonly Entry[], { stays }: Pick<Batch, 'stays'>, until: EpochMs): readonly LimitAside[] => {
  const aside: (LimitAside & { readonly drum: string; to: EpochMs | null })[] = [];
  for (const entry of entries) {
    if (entry.kind === 'limit-out-of-service') aside.push({ limit: entry.body.limit, drum: entry.body.drum, reason: entry.body.reason, by: personIn(entry.who), from: fromRfc3339(entry.time), to: null });
    if (entry.kind !== 'limit-in-service') continue;
    const { drum, limit } = entry.body;
    for (const each of aside) if (each.to === null && each.drum === drum && each.limit === limit) each.to = fromRfc3339(entry.time);
  }
  return aside
    .filter(({ drum, from, to }) => stays.some((stay) => stay.drum === drum && from < (stay.to ?? until) && (to ?? until) > stay.from))
    .map(({ limit, reason, by, from, to }) => ({ limit, reason, by, from, to }));
};
