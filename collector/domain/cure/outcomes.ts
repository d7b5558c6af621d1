import type { Batch, Shed } from '../journal/shed.ts';
import type { Outcomes } from './schedule.ts';

/** What people did with the tasks of a batch, with corrections of their acts followed. */
export const outcomesOf = (shed: Shed, batch: Batch): Outcomes => {
  const root = new Map<number, number>();
  for (const { sequence, corrects } of [...batch.acts].sort((one, other) => one.sequence - other.sequence)) root.set(sequence, corrects === null ? sequence : (root.get(corrects) ?? corrects));
  const standing = new Map(batch.acts.filter((act) => act.standing).map((act) => [root.get(act.sequence), act]));
  const claimed = new Set<number | undefined>();
  for (const [id, outcome] of shed.taskOutcomes) {
    if (outcome.kind === 'done' && outcome.entry !== null && id.startsWith(`${batch.lot}-`)) claimed.add(root.get(outcome.entry));
  }
  return {
    of: (id) => shed.taskOutcomes.get(id),
    standing: (entry) => standing.get(root.get(entry)),
    claimed: (act) => claimed.has(root.get(act.sequence)),
  };
};
