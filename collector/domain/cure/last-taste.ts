import { isAct, type Batch, type Shed } from '../journal/shed.ts';
import type { EpochMs } from '../units/time.ts';
import { stepId } from './schedule.ts';

/** When a batch was tasted last, or somebody said that it need not be; its start, where neither was. */
export const lastTaste = ({ taskOutcomes }: Pick<Shed, 'taskOutcomes'>, batch: Batch, now: EpochMs): EpochMs => {
  const tastings = batch.acts.filter(isAct('tasted')).map(({ at }) => at).filter((at) => at <= now);
  const settled = [...taskOutcomes].filter(([id, outcome]) => id.startsWith(stepId(batch.lot, 'taste', 0).slice(0, -1)) && (outcome.kind === 'skipped' || outcome.entry === null)).map(([, { at }]) => at);
  return Math.max(batch.startedAt, ...tastings, ...settled);
};
