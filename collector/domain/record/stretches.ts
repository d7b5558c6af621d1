import type { EntryOf } from '../journal/entry.ts';
import { drumOfBatchAt } from '../journal/placement.ts';
import type { Batch, LimitChanges } from '../journal/shed.ts';
import type { Limit, LimitChange } from '../rules/limit.ts';
import { limitsInForce } from '../rules/limits-in-force.ts';
import { fromRfc3339, type EpochMs } from '../units/time.ts';

/** A time during which the same limits stood for a lot. */
export interface LimitStretch {
  readonly from: EpochMs;
  readonly to: EpochMs;
  readonly limits: readonly Limit[];
}

export type LimitSet = Pick<EntryOf<'limit-set'>, 'sequence' | 'time' | 'who' | 'body'>;

/**
 * The limits that stood for a lot from its start until it left the drum, or until now: as they were set at each time, so that a limit
 * changed afterwards judges nothing before. What changes them: an act (another stage, weaker brine), a move, and setting a limit.
 */
export const limitStretches = (batch: Batch, sets: readonly LimitSet[], now: EpochMs): readonly LimitStretch[] => {
  const end = Math.min(now, batch.stays.at(-1)?.to ?? now);
  const edges = [batch.startedAt, end, ...batch.acts.map(({ at }) => at), ...batch.stays.map(({ from }) => from), ...sets.map(({ time }) => fromRfc3339(time))];
  const times = [...new Set(edges)].filter((at) => at >= batch.startedAt && at <= end).sort((one, other) => one - other);
  const stretches: LimitStretch[] = [];
  for (const [index, from] of times.entries()) {
    const to = times[index + 1];
    const drum = drumOfBatchAt(batch, from);
    if (to === undefined || drum === null) continue;
    const limits = limitsInForce(changesAt(sets, from), drum, batch, from).filter(({ kind, priority }) => kind === 'range' && priority !== 'note');
    const last = stretches.at(-1);
    if (last !== undefined && last.to === from && sameLimits(last.limits, limits)) stretches[stretches.length - 1] = { ...last, to };
    else stretches.push({ from, to, limits });
  }
  return stretches;
};

/** The entry that made a limit what it was for a drum at a time; null: as the program came. */
export const setterOf = (sets: readonly LimitSet[], limit: string, drum: string | null, at: EpochMs): LimitSet | null => {
  const told = sets.filter(({ time, body }) => fromRfc3339(time) <= at && body.limit === limit);
  return told.findLast(({ body }) => body.drum !== null && body.drum === drum) ?? told.findLast(({ body }) => body.drum === null) ?? null;
};

const changesAt = (sets: readonly LimitSet[], at: EpochMs): LimitChanges => {
  const site = new Map<string, LimitChange>();
  const drums = new Map<string, Map<string, LimitChange>>();
  for (const { time, body } of sets) {
    if (fromRfc3339(time) > at) continue;
    const changes = body.drum === null ? site : (drums.get(body.drum) ?? new Map<string, LimitChange>());
    if (body.drum !== null) drums.set(body.drum, changes);
    changes.set(body.limit, { ...changes.get(body.limit), ...body.change });
  }
  // A limit out of service still stands in the record: what was found against it is told.
  return { site, drums, outOfService: new Map() };
};

const sameLimits = (ones: readonly Limit[], others: readonly Limit[]): boolean =>
  ones.length === others.length && ones.every((one, index) => one.id === others[index]?.id && one.low === others[index]?.low && one.high === others[index]?.high && one.source === others[index]?.source);
