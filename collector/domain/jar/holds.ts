import type { StoryAct } from '../journal/shed.ts';
import { isAct } from '../journal/shed.ts';
import { opensHold, signOf } from '../observe/signs.ts';
import type { EpochMs } from '../units/time.ts';

/** Why a lot may not leave: written as a hold, or following from a sign that was observed. */
export interface OpenHold {
  readonly entry: number;
  readonly at: EpochMs;
  readonly by: string;
  readonly reason: string;
  readonly from: 'hold' | 'sign';
}

/**
 * Holds of a lot that no release has ended. A release ends what was held, and written, before it: a hold written later, though dated
 * earlier, stands, because whoever released did not know of it. A sign that opens a hold needs no entry of its own for that;
 * taking the observation back takes the hold back.
 */
export const openHolds = (acts: readonly StoryAct[], now: EpochMs): readonly OpenHold[] => {
  const past = acts.filter(({ at }) => at <= now);
  const writtenAs = firstWritten(acts);
  const releases = past.filter(isAct('release'));
  const isOpen = (act: StoryAct): boolean => !releases.some((release) => release.at >= act.at && writtenAs(release) > writtenAs(act));
  return past.filter(isOpen).flatMap((act): OpenHold[] => {
    const held = { entry: act.sequence, at: act.at, by: act.by };
    if (isAct('hold')(act)) return [{ ...held, reason: act.body.reason, from: 'hold' }];
    if (!isAct('observed')(act)) return [];
    const sign = signOf(act.body.sign);
    return sign === null || !opensHold(sign) ? [] : [{ ...held, reason: sign.id === sign.mayBe ? sign.id : `${sign.id}: ${sign.mayBe}`, from: 'sign' }];
  });
};

/** When a thing was first told: the entry at the root of its corrections, so that mending a typing error neither opens nor ends a hold. */
export const firstWritten = (acts: readonly StoryAct[]): ((act: StoryAct) => number) => {
  const corrects = new Map(acts.map((act) => [act.sequence, act.corrects]));
  return ({ sequence }) => {
    let root = sequence;
    for (let earlier = corrects.get(root) ?? null; earlier !== null; earlier = corrects.get(root) ?? null) root = earlier;
    return root;
  };
};
