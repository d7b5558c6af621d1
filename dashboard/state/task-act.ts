import type { NewEntry, Task } from '#contract';

/** Acts for which this page has a form. */
export const actForms = ['brine-changed', 'tasted', 'measured', 'brine-topped-up', 'skimmed', 'observed', 'handled', 'salt-added', 'acid-added', 'jarred', 'jar-ph', 'hold', 'release', 'distributed', 'jars-noted', 'moved', 'split'] as const;
export type ActForm = (typeof actForms)[number];

export const isActForm = (kind: string): kind is ActForm => (actForms as readonly string[]).includes(kind);

/** The act a task asks for first, and with what quantity. */
export interface TaskForm {
  readonly form: ActForm;
  readonly quantity?: 'ph' | 'salinity' | 'temperature';
}

const forms: Readonly<Record<string, TaskForm>> = {
  'change-brine': { form: 'brine-changed' },
  'change-water': { form: 'brine-changed' },
  'top-up': { form: 'brine-topped-up' },
  skim: { form: 'skimmed' },
  stir: { form: 'handled' },
  look: { form: 'observed' },
  'measure-temperature': { form: 'measured', quantity: 'temperature' },
  'measure-ph': { form: 'measured', quantity: 'ph' },
  'measure-salt': { form: 'measured', quantity: 'salinity' },
  taste: { form: 'tasted' },
  jar: { form: 'jarred' },
  'measure-jars': { form: 'jar-ph' },
  'settle-hold': { form: 'release' },
};

/** Whoever tops up or skims has looked. */
const looked: ReadonlySet<string> = new Set(['observed', 'brine-topped-up', 'skimmed']);

export const taskForm = (task: Pick<Task, 'kind'>): TaskForm | null => forms[task.kind] ?? null;

export const formFor = (task: Pick<Task, 'kind'>): ActForm | null => taskForm(task)?.form ?? null;

/** Whether writing this act while the task is open also finishes it. */
export const settles = (task: Pick<Task, 'kind'>, entry: NewEntry): boolean => {
  const asked = taskForm(task);
  if (asked === null) return false;
  if (task.kind === 'look') return looked.has(entry.kind);
  if (task.kind === 'stir') return entry.kind === 'handled' && entry.what === 'stirred';
  return asked.form === entry.kind && (asked.quantity === undefined || (entry.kind === 'measured' && entry.quantity === asked.quantity));
};
