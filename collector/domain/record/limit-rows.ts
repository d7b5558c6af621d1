import type { InstrumentBook } from '../calibration/evidence.ts';
import type { Batch } from '../journal/shed.ts';
import { drumOfBatchAt } from '../journal/placement.ts';
import { channels } from '../reading/channel.ts';
import type { Span } from '../reading/store.ts';
import type { LimitSide } from '../rules/alert.ts';
import type { Limit } from '../rules/limit.ts';
import { fromRfc3339, toRfc3339 } from '../units/time.ts';
import { probeNotUsable } from './hand-values.ts';
import { judgeValue } from './judge-value.ts';
import type { HandValue, RecordDeparture, RecordLimit } from './lot-record.ts';
import { personIn } from './person.ts';
import { setterOf, type LimitSet, type LimitStretch } from './stretches.ts';
import { joined, longestGapWithin, rounded, share, watchedChannels, type WatchedInput } from './watched.ts';

export interface LimitRowsInput {
  readonly batch: Batch;
  readonly stretches: readonly LimitStretch[];
  readonly sets: readonly LimitSet[];
  readonly watched: readonly WatchedInput[];
  readonly byHand: readonly HandValue[];
  readonly book: InstrumentBook;
  readonly departures: readonly RecordDeparture[];
}

/** Every limit that stood for the fruit in the drum, with the worst value found while it stood. */
export const limitRows = (input: LimitRowsInput): readonly RecordLimit[] => {
  const stood = new Map<string, { limit: Limit; side: LimitSide; bound: number; indices: number[] }>();
  for (const [index, { limits }] of input.stretches.entries()) {
    for (const limit of limits) {
      for (const side of ['high', 'low'] as const) {
        const bound = limit[side];
        if (bound === null || !(watchedChannels as readonly string[]).includes(limit.quantity)) continue;
        const key = `${limit.id} ${side} ${bound} ${limit.source}`;
        const known = stood.get(key);
        if (known === undefined) stood.set(key, { limit, side, bound, indices: [index] });
        else known.indices.push(index);
      }
    }
  }
  return [...stood.values()].map((each) => limitRow(input, each));
};

const limitRow = (input: LimitRowsInput, { limit, side, bound, indices }: { limit: Limit; side: LimitSide; bound: number; indices: readonly number[] }): RecordLimit => {
  const { batch, stretches, sets, watched, byHand, departures } = input;
  const spans = indices.flatMap((index) => stretches[index] ?? []);
  const [first, last] = [spans[0], spans.at(-1)];
  const probed = watched.find(({ channel }) => channel === limit.quantity);
  const summed = probed === undefined ? [] : indices.flatMap((index) => probed.stretches[index] ?? []);
  const hand = byHand.filter(({ of, quantity, at, notUsable }) => of === 'drum' && quantity === limit.quantity && notUsable === null && spans.some(({ from, to }) => fromRfc3339(at) >= from && fromRfc3339(at) < to));
  const values = [...summed.map((each) => (side === 'high' ? each.max : each.min)), ...hand.map(({ value }) => value)];
  const worst = values.length === 0 ? null : side === 'high' ? Math.max(...values) : Math.min(...values);
  const gaps = probed === undefined ? [] : joined(probed.days.flatMap(({ gaps: within }) => within));
  const watchedSo = probed === undefined || summed.length === 0 ? null : { share: observedShare(spans, gaps), longestGapHours: longestGapWithin(spans, gaps) };
  const uncertainty = channels[limit.quantity as (typeof watchedChannels)[number]].uncertainty;
  const fromProbe = summed.length > 0;
  const judged = judgeValue({ side, limit: bound, worst, uncertainty, watched: watchedSo, notUsable: fromProbe && last !== undefined && first !== undefined ? probeUnchecked(input, limit.quantity, spans) : null });
  const setter = first === undefined ? null : setterOf(sets, limit.id, drumOfBatchAt(batch, first.from), first.from);
  const discounted = worst === null && byHand.some(({ of, quantity, notUsable }) => of === 'drum' && quantity === limit.quantity && notUsable !== null);
  return {
    id: limit.id,
    quantity: limit.quantity,
    stage: limit.stage ?? 'in drum',
    side,
    value: bound,
    unit: limit.unit,
    source: limit.source,
    setBy: setter === null ? null : { who: personIn(setter.who), entry: setter.sequence },
    priority: limit.priority,
    from: first === undefined ? null : toRfc3339(first.from),
    to: last === undefined ? null : toRfc3339(last.to),
    worst: rounded(worst ?? undefined),
    uncertainty: worst === null ? null : uncertainty,
    n: summed.reduce((sum, { n }) => sum + n, 0) + hand.length,
    observed: watchedSo?.share ?? null,
    outcome: judged.outcome,
    why: discounted ? 'measured, but not usable as evidence' : judged.why,
    excursions: departures.filter(({ limit: broken }) => broken === limit.id).length,
  };
};

const observedShare = (spans: readonly Span[], gaps: readonly Span[]): number =>
  share(
    spans.reduce((sum, { from, to }) => sum + to - from, 0),
    spans.reduce((sum, span) => sum + gaps.reduce((within, { from, to }) => within + Math.max(0, Math.min(to, span.to) - Math.max(from, span.from)), 0), 0),
  );

/** Why what the probes told cannot bear an "inside": one of them had no check that held at the end of a stretch. */
const probeUnchecked = ({ batch, watched, book }: LimitRowsInput, quantity: string, spans: readonly Span[]): string | null => {
  const probes = watched.find(({ channel }) => channel === quantity)?.probes ?? [];
  for (const probe of probes) {
    for (const { to } of spans) {
      const why = probeNotUsable(probe, quantity, batch.lot, to, book);
      if (why !== null) return `${probe}: ${why}`;
    }
  }
  return null;
};
