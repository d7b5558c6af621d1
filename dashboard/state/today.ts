import { signal, type ReadonlySignal } from '@preact/signals';
import { dayMs, type Drum, type Task } from '#contract';
import type { Call, Failure } from '../client/call.ts';
import type { LiveMessage } from '../client/live.ts';
import { startOfDay } from '../format/time.ts';

/** The open tasks of the shed: fetched, then kept current by live messages. */
export interface TodayModel {
  readonly tasks: ReadonlySignal<readonly Task[] | null>;
  readonly failure: ReadonlySignal<Failure | null>;
  readonly load: () => Promise<void>;
  readonly take: (message: LiveMessage) => void;
}

export const createToday = (call: Call): TodayModel => {
  const tasks = signal<readonly Task[] | null>(null);
  const failure = signal<Failure | null>(null);
  let asked = 0;
  return {
    tasks,
    failure,
    load: async () => {
      asked += 1;
      const mine = asked;
      const answer = await call('tasks');
      if (mine !== asked) return;
      failure.value = answer.ok ? null : answer.error;
      if (answer.ok) tasks.value = answer.value.tasks;
    },
    take: (message) => {
      if (message.name !== 'task' || tasks.value === null) return;
      const { data } = message;
      const others = tasks.value.filter(({ id }) => id !== data.id);
      tasks.value = 'gone' in data ? others : [...others, data];
    },
  };
};

/** What is due in one drum by tonight, most overdue first. */
export interface DrumTasks {
  readonly drum: Pick<Drum, 'id' | 'name'>;
  readonly tasks: readonly Task[];
}

export interface ToCarry {
  readonly brineL: number;
  readonly waterL: number;
  readonly saltG: number;
}

export interface DayPlan {
  /** In the order of the drums on the wall: the order a person walks the shed. */
  readonly drums: readonly DrumTasks[];
  readonly carry: ToCarry;
  /** Due after tonight, within a week of it; soonest first. */
  readonly later: readonly Task[];
}

const laterDays = 7;

/** In plain water a change is a matter of hygiene: the interval is a limit, not a date. */
export const isWaterTask = (task: Pick<Task, 'kind'>): boolean => task.kind === 'change-water';

const byDue = (one: Task, other: Task): number => Number(other.overdue) - Number(one.overdue) || Date.parse(one.dueAt) - Date.parse(other.dueAt) || (one.id < other.id ? -1 : 1);

/** `settled`: tasks whose act is still kept at this phone; nobody has to carry anything for them any more. */
export const dayPlan = (tasks: readonly Task[], drums: readonly Pick<Drum, 'id' | 'name'>[], now: number, zone: string, settled: ReadonlySet<string> = new Set()): DayPlan => {
  // A day may have 23 or 25 hours: the next one starts where the calendar says.
  const tonight = startOfDay(startOfDay(now, zone) + dayMs * 1.5, zone);
  const due = tasks.filter(({ dueAt }) => Date.parse(dueAt) < tonight);
  const known = new Set(drums.map(({ id }) => id));
  const strangers = [...new Set(due.map(({ drum }) => drum))].filter((id) => !known.has(id)).map((id) => ({ id, name: id }));
  const open = due.filter(({ id }) => !settled.has(id));
  const sum = (some: readonly Task[], name: 'brineL' | 'saltG'): number => some.reduce((total, { needs }) => total + (needs[name] ?? 0), 0);
  return {
    drums: [...drums, ...strangers].map((drum) => ({ drum, tasks: due.filter((task) => task.drum === drum.id).toSorted(byDue) })).filter((each) => each.tasks.length > 0),
    carry: { brineL: sum(open.filter((task) => !isWaterTask(task)), 'brineL'), waterL: sum(open.filter(isWaterTask), 'brineL'), saltG: sum(open, 'saltG') },
    later: tasks.filter(({ dueAt }) => Date.parse(dueAt) >= tonight && Date.parse(dueAt) < tonight + laterDays * dayMs).toSorted(byDue),
  };
};
