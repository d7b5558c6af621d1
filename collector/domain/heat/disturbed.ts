import { isAct, type Batch, type Shed } from '../journal/shed.ts';
import type { EpochMs } from '../units/time.ts';

/** When a drum was not left to its air alone: filled, its brine changed, or changed as the readings say and nobody has denied. */
export const disturbedAt = ({ questions }: Pick<Shed, 'questions'>, batch: Batch): readonly EpochMs[] => [
  batch.startedAt,
  ...batch.acts.filter(isAct('brine-changed')).map(({ at }) => at),
  ...[...questions.values()].filter(({ lot, kind, answer }) => lot === batch.lot && kind === 'unlogged-change' && answer?.answer !== 'no').map(({ at }) => at),
];
