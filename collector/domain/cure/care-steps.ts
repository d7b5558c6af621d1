import { isAct, type Batch, type StoryAct } from '../journal/shed.ts';
import { signOf } from '../observe/signs.ts';
import type { EpochMs } from '../units/time.ts';
import { firstMorning } from './jar-steps.ts';
import { stepId, type Outcomes, type Step } from './schedule.ts';
import type { TaskKind } from './schedules.ts';

/**
 * What an act or a sign asks for next, once for each: film is skimmed and fruit in the air covered at once; dry salt, and salt found in
 * layers, is stirred from the bottom the morning after (common practice, no source). Numbered by the entry that asks.
 */
interface Care {
  readonly kind: TaskKind;
  readonly asks: (act: StoryAct) => boolean;
  readonly settles: (act: StoryAct) => boolean;
  readonly due: (act: StoryAct, zone: string) => EpochMs;
}

const seen =
  (...signs: readonly string[]) =>
  (act: StoryAct): boolean =>
    isAct('observed')(act) && signs.includes(signOf(act.body.sign)?.id ?? '');

const renewed = isAct('brine-changed');
const stirred = (act: StoryAct): boolean => isAct('handled')(act) && act.body.what === 'stirred';
/** Salt is measured in a stirred drum. */
const measuredSalt = (act: StoryAct): boolean => isAct('measured')(act) && act.body.quantity === 'salinity';
const atOnce = ({ at }: StoryAct): EpochMs => at;

const cares: readonly Care[] = [
  { kind: 'skim', asks: seen('film'), settles: (act) => isAct('skimmed')(act) || renewed(act), due: atOnce },
  { kind: 'top-up', asks: seen('dry-top', 'foam'), settles: (act) => isAct('brine-topped-up')(act) || renewed(act), due: atOnce },
  { kind: 'stir', asks: (act) => isAct('salt-added')(act) || seen('salt-layers', 'salt-crystals')(act), settles: (act) => stirred(act) || renewed(act) || measuredSalt(act), due: ({ at }, zone) => firstMorning(at + 1, zone) },
];

/** `past`: the standing acts so far, in order of time. */
export const careSteps = (batch: Pick<Batch, 'lot'>, past: readonly StoryAct[], outcomes: Outcomes, zone: string): Step[] =>
  cares.flatMap(({ kind, asks, settles, due }): Step[] => {
    const last = past.findLastIndex(asks);
    const act = past[last];
    if (act === undefined || past.slice(last + 1).some(settles)) return [];
    const id = stepId(batch.lot, kind, act.sequence);
    const outcome = outcomes.of(id);
    const isOpen = outcome === undefined || (outcome.kind === 'done' && outcome.entry !== null && outcomes.standing(outcome.entry) === undefined);
    return isOpen ? [{ id, kind, ordinal: act.sequence, dueAt: due(act, zone) }] : [];
  });
