import { byCollector, type Draft } from '#domain/journal/entry.ts';
import type { Shed } from '#domain/journal/shed.ts';
import type { Slug } from '#domain/reading/reading.ts';
import { alertId, probeOfAlert } from '#domain/rules/alert-id.ts';
import type { Alert, LimitSide } from '#domain/rules/alert.ts';
import { defaultLimits } from '#domain/rules/default-limits.ts';
import type { Limit } from '#domain/rules/limit.ts';
import type { Message } from '#domain/rules/message.ts';
import { worse } from '#domain/rules/range.ts';
import { toRfc3339, type EpochMs } from '#domain/units/time.ts';

/**
 * The place of one alert: a limit of a batch in its drum (and, for rules about probes, a probe). Several series may fill it;
 * the alert is raised with the first and returns with the last, so one excursion is one alert whoever measures it.
 */
export interface Slot {
  readonly key: string;
  readonly drum: Slug;
  readonly lot: string;
  readonly probe: Slug | null;
  limit: Limit;
  /** The last alert raised here; taken up again if it comes true before a person has taken notice of its return. */
  alertId: string | null;
  readonly on: Set<object>;
  side: LimitSide | null;
  peak: number | null;
  until: EpochMs;
}

export interface Raise {
  readonly side: LimitSide | null;
  readonly since: EpochMs;
  readonly at: EpochMs;
  readonly value: number | null;
  readonly limitValue: number | null;
  readonly unit: string;
  readonly message: Message;
}

export interface Return {
  readonly until: EpochMs;
  readonly at: EpochMs;
  readonly peak: number | null;
}

/** Keeps the slots, turns what happens in them into journal drafts, and knows from the journal which alerts are open. */
export interface Slots {
  follow(shed: Shed): void;
  slot(drum: Slug, lot: string, limit: Limit, probe: Slug | null): Slot;
  /** The open alert of a slot as the journal tells it. */
  openAlert(slot: Slot): Alert | undefined;
  raise(slot: Slot, member: object, raise: Raise): void;
  clear(slot: Slot, member: object, back: Return): void;
  /** Lets go of what belonged to a batch in a drum it has left. */
  forget(drum: Slug, lot: string): void;
  /** Ends open alerts of ours that nothing watches any more. Only right after a restart, when every slot is made. */
  endOrphans(now: EpochMs): void;
  take(): readonly Draft[];
}

const ownRules: ReadonlySet<string> = new Set(defaultLimits.filter(({ kind }) => kind !== 'collector').map(({ id }) => id));
const probeRules: ReadonlySet<string> = new Set(defaultLimits.filter(({ kind }) => kind === 'silence' || kind === 'fault').map(({ id }) => id));

export const createSlots = (): Slots => {
  let shed: Shed | null = null;
  let openBySlot: ReadonlyMap<string, Alert> = new Map();
  const slots = new Map<string, Slot>();
  let drafts: Draft[] = [];

  const isOver = (id: string): boolean => {
    const open = shed?.openAlerts.get(id);
    // Acknowledged while it lasted: its return made it normal. In any other open state it takes up its next excursion.
    if (open !== undefined) return open.state === 'acknowledged';
    for (let past = shed?.pastAlerts ?? null; past !== null; past = past.before) if (past.alert.id === id) return true;
    // Not in the journal yet: what was just said has still to come back from there.
    return false;
  };

  return {
    follow: (next) => {
      if (next.openAlerts !== shed?.openAlerts) {
        openBySlot = new Map([...next.openAlerts.values()].filter(isOurs).map((alert) => [keyOf(alert.drum ?? '', alert.lot ?? '', alert.rule, probeOf(alert)), alert]));
      }
      shed = next;
    },

    slot: (drum, lot, limit, probe) => {
      const key = keyOf(drum, lot, limit.id, probe);
      let slot = slots.get(key);
      if (slot === undefined) {
        const open = openBySlot.get(key);
        slot = { key, drum, lot, probe, limit, alertId: open?.id ?? null, on: new Set(), side: open?.limit.side ?? null, peak: null, until: 0 };
        slots.set(key, slot);
      }
      slot.limit = limit;
      return slot;
    },

    openAlert: (slot) => openBySlot.get(slot.key),

    raise: (slot, member, raise) => {
      const first = slot.on.size === 0;
      slot.on.add(member);
      if (!first) return;
      if (slot.alertId === null || isOver(slot.alertId)) {
        slot.alertId = alertId(slot.drum, slot.limit.id, slot.probe, raise.at);
      }
      slot.side = raise.side;
      slot.peak = null;
      slot.until = raise.since;
      const { id: rule, quantity, priority, source } = slot.limit;
      drafts.push({
        who: byCollector,
        kind: 'alert-raised',
        body: {
          id: slot.alertId,
          rule,
          drum: slot.drum,
          lot: slot.lot,
          quantity,
          priority,
          since: toRfc3339(raise.since),
          at: toRfc3339(raise.at),
          value: raise.value,
          limit: { value: raise.limitValue, unit: raise.unit, source, side: raise.side },
          ...raise.message,
        },
      });
    },

    clear: (slot, member, { until, at, peak }) => {
      if (!slot.on.delete(member) || slot.alertId === null) return;
      if (peak !== null) slot.peak = slot.peak === null || slot.side === null ? peak : worse(slot.side, slot.peak, peak);
      slot.until = Math.max(slot.until, until);
      if (slot.on.size === 0) drafts.push(returnDraft(slot.alertId, { until: slot.until, at, peak: slot.peak }));
    },

    forget: (drum, lot) => {
      for (const slot of slots.values()) if (slot.drum === drum && slot.lot === lot && slot.on.size === 0) slots.delete(slot.key);
    },

    endOrphans: (now) => {
      for (const [key, alert] of openBySlot) {
        if (isLasting(alert) && (slots.get(key)?.on.size ?? 0) === 0) drafts.push(returnDraft(alert.id, { until: now, at: now, peak: alert.peak }));
      }
    },

    take: () => {
      const taken = drafts;
      drafts = [];
      return taken;
    },
  };
};

/** Whether the condition behind an alert is still true, as the journal last told it. */
export const isLasting = (alert: Alert): boolean => alert.excursions.at(-1)?.to === null;

const isOurs = (alert: Alert): boolean => alert.drum !== null && ownRules.has(alert.rule);

const probeOf = (alert: Alert): Slug | null => (probeRules.has(alert.rule) ? probeOfAlert(alert.id, alert.drum ?? '', alert.rule) : null);

const keyOf = (drum: Slug, lot: string, rule: string, probe: Slug | null): string => `${drum} ${lot} ${rule} ${probe ?? ''}`;

const returnDraft = (id: string, { until, at, peak }: Return): Draft => ({ who: byCollector, kind: 'alert-returned', body: { id, until: toRfc3339(until), at: toRfc3339(at), peak } });
