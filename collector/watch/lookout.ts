import { brineAt } from '#domain/cure/brine.ts';
import type { TemperatureReading } from '#domain/cure/temperature-dose.ts';
import { disturbedAt } from '#domain/heat/disturbed.ts';
import { binMs } from '#domain/heat/ten-minute-means.ts';
import { isAct, type Batch, type Shed } from '#domain/journal/shed.ts';
import type { SeriesId, Slug } from '#domain/reading/reading.ts';
import { judgeCalibration } from '#domain/rules/calibration.ts';
import { judgeExposure, type ExposureDraft } from '#domain/rules/exposure.ts';
import type { Finding, Sample } from '#domain/rules/finding.ts';
import type { Limit, LimitKind } from '#domain/rules/limit.ts';
import { judgeMilestone } from '#domain/rules/milestone.ts';
import { judgeRate } from '#domain/rules/rate.ts';
import { judgeRebound } from '#domain/rules/rebound.ts';
import { judgeStuck } from '#domain/rules/stuck.ts';
import { fromRfc3339, hourMs, type EpochMs } from '#domain/units/time.ts';
import { keptMs } from './bins.ts';
import type { DrumWatch } from './drum.ts';
import { turnOf } from './foresee.ts';
import type { Ripe } from './ripe.ts';
import type { SeriesWatch } from './series.ts';
import { isLasting, type Slot, type Slots } from './slot.ts';

/**
 * Rules that look at a drum now and then and not at each reading: once in ten minutes, from whole intervals and the journal only,
 * so that the same readings give the same alert whenever they are looked at, and a restart changes nothing.
 */
export interface Lookout {
  follow(drums: ReadonlyMap<Slug, DrumWatch>, slots: Slots, now: EpochMs, restoring: boolean): void;
  ripe(shed: Shed, drums: ReadonlyMap<Slug, DrumWatch>, watched: ReadonlyMap<SeriesId, SeriesWatch>, now: EpochMs): readonly Ripe[];
}

type Means = (series: SeriesWatch, from: EpochMs, to: EpochMs) => readonly TemperatureReading[];

const kinds: ReadonlySet<LimitKind> = new Set<LimitKind>(['rate', 'stuck', 'milestone', 'rebound', 'exposure', 'calibration']);

/** The last mean, the one an hour before it, and room for a mean that is missing at the end. */
const rateSpanMs = 2 * hourMs;

interface Member {
  readonly slot: Slot;
  readonly limit: Limit;
  lookedAt: EpochMs;
}

/** `means`: of a series, in ten-minute steps of the last two days. `exposureOf`: what is known of the warmth of a batch since its start. */
export const createLookout = (means: Means, exposureOf: (lot: string) => ExposureDraft | null): Lookout => {
  let members: readonly Member[] = [];
  let slotsNow: Slots | null = null;

  const judge = ({ slot, limit }: Member, shed: Shed, batch: Batch, watched: readonly SeriesWatch[], at: EpochMs): Finding | null => {
    const isOn = slot.on.has(slot);
    const placed = watched.filter(({ drum }) => drum === slot.drum);
    switch (limit.kind) {
      case 'rate':
      case 'stuck': {
        const brine = placed.find(({ channel }) => channel === 'temperature');
        if (brine === undefined) return null;
        // No more than the rule needs: this is done for every drum.
        const neededMs = limit.kind === 'rate' ? rateSpanMs : Math.min(keptMs, (limit.high ?? 0) * hourMs + binMs);
        const from = Math.max(at - neededMs, brine.placedFrom, batch.startedAt);
        const trace = means(brine, from, at);
        if (limit.kind === 'rate') return judgeRate(limit, trace, disturbedAt(shed, batch), at, isOn);
        const neighbours = watched.filter((other) => other !== brine && (other.channel === 'temperature' || other.channel === 'air-temperature'));
        return judgeStuck(limit, trace, () => neighbours.map((other) => means(other, from, at)), at);
      }
      case 'milestone':
        return judgeMilestone(limit, phSince(batch, placed, batch.startedAt, at, means), batch.startedAt, at, isOn);
      case 'rebound':
        return judgeRebound(limit, phSince(batch, placed, brineAt(batch, at).renewedAt, at, means), isOn);
      case 'exposure': {
        const exposure = exposureOf(batch.lot);
        return exposure === null ? null : judgeExposure(limit, exposure, at);
      }
      case 'calibration': {
        const electrode = placed.find(({ channel }) => channel === 'ph' || channel === 'ph-mv');
        if (electrode === undefined) return null;
        const checks = (shed.calibrations.get(electrode.probe) ?? []).flatMap((each) => (each.kind === 'ph' ? [{ at: fromRfc3339(each.at), points: each.points, temperatureC: each.temperatureC }] : []));
        return judgeCalibration(limit, electrode.probe, checks, at);
      }
      default:
        return null;
    }
  };

  return {
    follow: (drums, slots, now, restoring) => {
      slotsNow = slots;
      const before = members;
      const known = new Map(before.map((member) => [member.slot, member]));
      members = [...drums.values()].flatMap(({ drum, batch, limits }) =>
        batch === null
          ? []
          : limits
              .filter(({ kind, high }) => kinds.has(kind) && high !== null)
              .map((limit): Member => {
                const slot = slots.slot(drum.id, batch.lot, limit, null);
                const open = slots.openAlert(slot);
                if (restoring && open !== undefined && isLasting(open)) slot.on.add(slot);
                return { slot, limit, lookedAt: known.get(slot)?.lookedAt ?? 0 };
              }),
      );
      const stands = new Set(members.map(({ slot }) => slot));
      for (const { slot } of before) if (!stands.has(slot)) slots.clear(slot, slot, { until: now, at: now, peak: null });
    },

    ripe: (shed, drums, watched, now) => {
      const slots = slotsNow;
      if (slots === null) return [];
      let series: readonly SeriesWatch[] | null = null;
      return members.flatMap((member): Ripe[] => {
        const { slot, limit } = member;
        const at = Math.floor((now - turnOf(slot.drum)) / binMs) * binMs;
        if (at <= member.lookedAt) return [];
        member.lookedAt = at;
        const batch = drums.get(slot.drum)?.batch ?? null;
        const found = batch === null ? null : judge(member, shed, batch, (series ??= [...watched.values()]), at);
        const isOn = slot.on.has(slot);
        if (found === null) return isOn ? [{ at: now, kind: 'returned', key: slot.key, say: () => slots.clear(slot, slot, { until: now, at: now, peak: null }) }] : [];
        if (isOn) return [];
        const { side, value, limitValue, text, advice } = found;
        return [{ at: now, kind: 'raised', key: slot.key, say: () => slots.raise(slot, slot, { side, since: now, at: now, value, limitValue, unit: limit.unit, message: { text, advice } }) }];
      });
    },
  };
};

/** What is known of the pH since a time, oldest first: measured by hand, and by an electrode in ten-minute means of the last two days. */
const phSince = (batch: Batch, placed: readonly SeriesWatch[], since: EpochMs, at: EpochMs, means: Means): readonly Sample[] => {
  const byHand = batch.acts.filter(isAct('measured')).flatMap((act): Sample[] => (act.body.quantity === 'ph' && act.at >= since && act.at <= at ? [{ at: act.at, value: act.body.value }] : []));
  const electrode = placed.find(({ channel }) => channel === 'ph');
  const probed = electrode === undefined ? [] : means(electrode, Math.max(since, electrode.placedFrom, at - keptMs), at).map(({ t, temperatureC: value }): Sample => ({ at: t, value }));
  return [...byHand, ...probed].toSorted((one, other) => one.at - other.at);
};
