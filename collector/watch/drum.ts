import { actEvidence, actUncertainty } from '#domain/calibration/act-evidence.ts';
import { instrumentBookOf } from '#domain/calibration/book.ts';
import type { Batch, Drum, Shed } from '#domain/journal/shed.ts';
import { channels } from '#domain/reading/channel.ts';
import { isHandQuantity, judgeByHand } from '#domain/rules/by-hand.ts';
import { comesTrueAt } from '#domain/rules/due.ts';
import type { Limit } from '#domain/rules/limit.ts';
import { limitsInForce } from '#domain/rules/limits-in-force.ts';
import { dueMessage, rangeMessage } from '#domain/rules/message.ts';
import { isAnnounced } from '#domain/rules/range.ts';
import type { EpochMs } from '#domain/units/time.ts';
import type { Ripe } from './ripe.ts';
import type { SeriesWatch } from './series.ts';
import { isLasting, type Slot, type Slots } from './slot.ts';

export interface DueMember {
  readonly slot: Slot;
  readonly limit: Limit;
  /** When the rule comes true; null while nothing is due. */
  trueAt: EpochMs | null;
  readonly knownFrom: EpochMs;
}

/** What the watch knows of one drum; made anew when the journal tells something about it. */
export interface DrumWatch {
  readonly drum: Drum;
  readonly batch: Batch | null;
  readonly limits: readonly Limit[];
  readonly due: readonly DueMember[];
  readonly hand: readonly HandMember[];
}

export interface HandMember {
  readonly slot: Slot;
}

export interface DrumInputs {
  readonly shed: Shed;
  readonly slots: Slots;
  readonly zone: string;
  readonly now: EpochMs;
  /** True right after a restart: what the journal shows as lasting is taken over instead of raised again. */
  readonly restoring: boolean;
}

/** The drum as it is to be watched from now on. Alerts of rules that no longer stand are cleared by `leaveDrum` afterwards. */
export const watchDrum = (drum: Drum, placed: readonly SeriesWatch[], before: DrumWatch | undefined, inputs: DrumInputs): DrumWatch => {
  const { shed, now } = inputs;
  const batch = drum.lot === null ? null : (shed.batches.get(drum.lot) ?? null);
  const limits = limitsInForce(shed.limitChanges, drum.id, batch, now);
  if (batch === null) return { drum, batch, limits, due: [], hand: [] };
  const due = limits.filter(({ kind }) => kind === 'due').map((limit) => watchDue(limit, batch, before, inputs));
  const measured = new Set(placed.map(({ quantity }) => quantity));
  const hand = limits.filter(({ kind, quantity }) => kind === 'range' && isHandQuantity(quantity) && !measured.has(quantity)).map((limit) => watchHand(limit, batch, before, inputs));
  return { drum, batch, limits, due, hand };
};

const watchDue = (limit: Limit, batch: Batch, before: DrumWatch | undefined, { shed, slots, zone, now, restoring }: DrumInputs): DueMember => {
  const slot = slots.slot(batch.drum, batch.lot, limit, null);
  const old = before?.due.find((member) => member.slot === slot);
  const trueAt = comesTrueAt(limit, shed, batch, now, zone);
  // The same deadline keeps the time it was first known; a new one is known from now.
  const knownFrom = restoring ? Number.NEGATIVE_INFINITY : old !== undefined && old.trueAt === trueAt ? old.knownFrom : now;
  const open = slots.openAlert(slot);
  if (restoring && open !== undefined && isLasting(open)) slot.on.add(slot);
  const member: DueMember = { slot, limit, trueAt, knownFrom };
  if (slot.on.has(slot) && (trueAt === null || trueAt > now)) slots.clear(slot, slot, { until: now, at: now, peak: null });
  return member;
};

/** What has become due by now. The slot stands for itself: a due rule has one source only. */
export const ripeDue = (watch: DrumWatch, slots: Slots, now: EpochMs): Ripe[] =>
  watch.due.flatMap(({ slot, limit, trueAt, knownFrom }) => {
    if (trueAt === null || trueAt > now || slot.on.has(slot)) return [];
    const at = Math.max(trueAt, knownFrom);
    const say = (): void => slots.raise(slot, slot, { side: null, since: trueAt, at, value: null, limitValue: limit.high, unit: limit.unit, message: dueMessage(limit) });
    return [{ at, kind: 'raised' as const, key: slot.key, say }];
  });

const watchHand = (limit: Limit, batch: Batch, before: DrumWatch | undefined, { shed, slots, zone, now, restoring }: DrumInputs): HandMember => {
  const slot = slots.slot(batch.drum, batch.lot, limit, null);
  const member = before?.hand.find((old) => old.slot === slot) ?? { slot };
  const { quantity } = limit;
  if (!isHandQuantity(quantity)) return member;
  const open = slots.openAlert(slot);
  if (restoring && open !== undefined && isLasting(open)) slot.on.add(member);
  const { condition, last } = judgeByHand(batch, limit, now, {
    uncertaintyOf: (act) => actUncertainty(act, batch, shed) ?? channels[quantity].uncertainty,
    // By what was known when it was measured, so that a restart tells the same story.
    isEvidence: (act) => actEvidence(act, instrumentBookOf(shed, zone, act.at))?.usable ?? false,
  });
  if (isAnnounced(condition)) {
    const { side, since, peak: value } = condition;
    const limitValue = side === 'high' ? limit.high : limit.low;
    if (!slot.on.has(member)) slots.raise(slot, member, { side, since, at: now, value, limitValue, unit: limit.unit, message: rangeMessage(limit, side, quantity, value, 'person') });
  } else if (slot.on.has(member)) slots.clear(slot, member, { until: last?.at ?? now, at: now, peak: null });
  return member;
};

/** Ends what no longer stands for a drum: another stage, another batch, no fruit, a probe where there was a hand. */
export const leaveDrum = (before: DrumWatch, after: Pick<DrumWatch, 'due' | 'hand'>, slots: Slots, now: EpochMs): void => {
  for (const { slot } of before.due) if (!after.due.some((member) => member.slot === slot)) slots.clear(slot, slot, { until: now, at: now, peak: null });
  for (const member of before.hand) if (!after.hand.includes(member)) slots.clear(member.slot, member, { until: now, at: now, peak: null });
};
