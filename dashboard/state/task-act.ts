import type { NewEntry, Task } from '#contract';

/** Which act settles which task: writing that act while the task is open also finishes it. */
export type ActForm = 'brine-changed' | 'tasted' | 'measured' | 'observed';

const forms: Readonly<Record<string, ActForm>> = { 'change-brine': 'brine-changed', 'change-water': 'brine-changed', 'measure-ph': 'measured', taste: 'tasted' };

export const formFor = (task: Task): ActForm | null => forms[task.kind] ?? null;

export const settles = (task: Task, entry: NewEntry): boolean =>
  formFor(task) === entry.kind && (task.kind !== 'measure-ph' || (entry.kind === 'measured' && entry.quantity === 'ph'));
