import type { PouredBrine } from './brine.ts';
import type { TaskKind } from './schedules.ts';

/** What a task needs at hand: as last time. */
export interface TaskNeeds {
  readonly brineL?: number;
  readonly saltG?: number;
}

export const needsOf = (kind: TaskKind, brine: PouredBrine): TaskNeeds => {
  if (kind === 'change-water') return { brineL: brine.brineL };
  if (kind === 'change-brine') return { brineL: brine.brineL, saltG: Math.round(brine.brineL * brine.saltGPerL) };
  return {};
};

/** A task in a few words, as it is read from across the shed. */
export const taskTitles: Readonly<Record<TaskKind, string>> = {
  'change-water': 'Change the water',
  'change-brine': 'Change the brine',
  'measure-ph': 'Measure pH',
  taste: 'Taste',
  review: 'Review the record',
};

export const taskText = (kind: TaskKind, drum: string, needs: TaskNeeds): string => {
  const litres = `${amount(needs.brineL ?? 0)} L`;
  switch (kind) {
    case 'change-water':
      return `Change the water in ${drum}: ${litres}. In plain water this is hygiene, not only speed.`;
    case 'change-brine':
      return `Change the brine in ${drum}: ${litres} with ${amount((needs.saltG ?? 0) / 1_000)} kg salt, as last time.`;
    case 'measure-ph':
      return `Measure the pH of ${drum}, mid-depth, with a meter checked today.`;
    case 'taste':
      return `Taste ${drum}: five fruit from three depths, rinsed. Not if anything smells or looks wrong.`;
    case 'review':
      return `The rest of the jars from ${drum} is over: look at every lid and read the record before any jar leaves.`;
  }
};

const amount = (value: number): string => String(Number(value.toFixed(value < 10 ? 1 : 0)));
