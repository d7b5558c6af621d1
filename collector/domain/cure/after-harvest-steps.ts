import type { Shed } from '../journal/shed.ts';
import { seasonsOf } from '../season/seasons.ts';
import type { EpochMs } from '../units/time.ts';
import { afterHarvestKinds, type AfterHarvestKind } from './after-harvest.ts';
import { laterDate, localMorning } from './schedule.ts';
import type { SiteStep } from './site-steps.ts';
import { localDate } from './stage.ts';

/** From which day each counts, and how many days after it (assumptions). The buffers count from the first pick: six weeks before it comes round. */
const due: Readonly<Record<AfterHarvestKind, { readonly from: 'jarring' | 'last-pick' | 'first-pick'; readonly days: number }>> = {
  'clean-drums': { from: 'jarring', days: 1 },
  'store-probes': { from: 'jarring', days: 2 },
  'gather-fallen': { from: 'last-pick', days: 30 },
  'write-loads': { from: 'last-pick', days: 37 },
  prune: { from: 'last-pick', days: 90 },
  'order-buffers': { from: 'first-pick', days: 365 - 42 },
};

/** Nothing picked for so long: the harvest is taken to be over (assumption). */
export const harvestOverDays = 30;

/**
 * What is left to do when the last batch of the last season is in jars, each until it is done or left out, or the next season begins.
 * The harvest is over when nothing was picked for `harvestOverDays`; none falls due before that, nor before the day after the jarring. They stand with the drum that was emptied last.
 */
export const afterHarvestSteps = (shed: Shed, now: EpochMs, zone: string): SiteStep[] => {
  const season = seasonsOf(shed, zone).at(-1);
  const last = season?.batches.toSorted((one, other) => (one.jarredAt ?? 0) - (other.jarredAt ?? 0) || one.sequence - other.sequence).at(-1);
  if (season === undefined || last === undefined || season.batches.some(({ jarredAt }) => jarredAt === null || jarredAt > now)) return [];
  const jarring = localDate(last.jarredAt ?? now, zone);
  const bases = { jarring, 'last-pick': localDate(season.lastPick, zone), 'first-pick': localDate(season.firstPick, zone) };
  const over = bases['last-pick'].add({ days: harvestOverDays });
  if (Temporal.PlainDate.compare(localDate(now, zone), over) < 0) return [];
  const soonest = laterDate(jarring.add({ days: 1 }), over);
  return afterHarvestKinds.flatMap((kind) => {
    const id = `${kind}-${season.year}`;
    if (shed.taskOutcomes.has(id)) return [];
    const day = bases[due[kind].from].add({ days: due[kind].days });
    return [{ id, kind, ordinal: season.year, dueAt: localMorning(laterDate(day, soonest), zone), batch: last }];
  });
};
