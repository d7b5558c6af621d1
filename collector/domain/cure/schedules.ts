import { afterHarvestKinds } from './after-harvest.ts';
import type { CureStyle, Stage } from './batch.ts';

export const taskKinds = ['settle-hold', 'calibrate-ph', 'calibrate-temperature', 'change-brine', 'change-water', 'top-up', 'skim', 'stir', 'look', 'measure-temperature', 'measure-ph', 'measure-salt', 'taste', 'order-jars', 'jar', 'print-labels', 'measure-jars', 'rest', 'review', ...afterHarvestKinds] as const;
export type TaskKind = (typeof taskKinds)[number];

/**
 * Cure schedules as data: what is due, and after how many local days. A step counts from the last time it was done, so one done early
 * or late moves those that follow; `afterDays` are the first steps, `thenEveryDays` repeat (in turn) for as long as the stage lasts.
 */
export interface Steps {
  readonly afterDays: readonly number[];
  readonly thenEveryDays: readonly number[];
  /** Nothing falls due earlier than this many days after the start. */
  readonly notBeforeDays?: number;
  readonly source: string;
}

/** Tasks fall due on the local morning. */
export const morningHour = 8;
/** The second round of a day, where somebody reads what no probe does (assumption). */
export const eveningHour = 18;

/** A task is overdue, and a forgotten change is announced, this long after it fell due: by the same evening (assumption). */
export const overdueAfterHours = 12;

/** What can wait a while without harm is overdue later (assumption). */
const dayLater = 36;
const weekLater = 7 * 24;
/** A temperature of this morning is of no use in the evening. */
const nextRound = 6;
export const overdueHoursOf: Readonly<Record<TaskKind, number>> = {
  'settle-hold': weekLater, 'calibrate-ph': dayLater, 'calibrate-temperature': weekLater, 'change-brine': overdueAfterHours, 'change-water': overdueAfterHours, 'top-up': overdueAfterHours, skim: overdueAfterHours, stir: dayLater, look: dayLater, 'measure-temperature': nextRound, 'measure-ph': overdueAfterHours,
  'measure-salt': weekLater, taste: overdueAfterHours, 'order-jars': 2 * weekLater, jar: weekLater, 'print-labels': weekLater, 'measure-jars': dayLater, rest: weekLater, review: overdueAfterHours,
  'clean-drums': weekLater, 'store-probes': weekLater, 'gather-fallen': 2 * weekLater, 'write-loads': 4 * weekLater, prune: 8 * weekLater, 'order-buffers': 4 * weekLater,
};

const threeThenWeekly: Steps = { afterDays: [2, 2, 2], thenEveryDays: [7], source: 'three changes in the first week, then weekly: common practice, no source' };

/** What is in the drum: changed plain water is a matter of hygiene, changed brine one of time. */
export const media = ['water', 'brine'] as const;
export type Medium = (typeof media)[number];

/** Changes by style and by what is in the drum. Kept brine is not changed: its sugar makes the acid. */
export const changeSteps: Readonly<Record<CureStyle, Readonly<Record<Medium, Steps | null>>>> = {
  'changed-brine': { water: threeThenWeekly, brine: threeThenWeekly },
  'water-then-brine': {
    water: { afterDays: [], thenEveryDays: [1], source: 'water changed at least once a day: home curing guidance for cracked and slit olives' },
    brine: { afterDays: [], thenEveryDays: [7], source: 'weekly once salted: common practice, no source' },
  },
  'kept-brine': { water: null, brine: null },
};

/** pH by hand in kept brine: twice a week until it has fallen, then weekly. Leached fruit waiting for its jars: the next day, then weekly. */
export const phSteps = {
  falling: { afterDays: [], thenEveryDays: [3, 4], source: 'assumption: twice a week until pH 4.3' },
  fallen: { afterDays: [], thenEveryDays: [7], source: 'assumption: weekly once at or below pH 4.3' },
  waiting: { afterDays: [1], thenEveryDays: [7], source: 'assumption: leached fruit may have no acid of its own, so pH is measured before jarring' },
} as const satisfies Record<string, Steps>;

/** The brine has soured: at or below this with the uncertainty of the meter added (CXS 66-1981, natural olives, largest pH). */
export const soured = 4.3;

/** First tasting on day 14, then weekly, while the fruit is leached. */
export const tasteSteps: Steps = { afterDays: [], thenEveryDays: [7], notBeforeDays: 13, source: 'assumption: from day 14 weekly' };
export const tasteStages: ReadonlySet<Stage> = new Set<Stage>(['leach']);

/** Whoever has the lid off looks; a drum that nobody opened for a week is looked into: all under the brine, no film, rim and weight clean. */
export const lookSteps: Steps = { afterDays: [], thenEveryDays: [7], source: 'common practice, no source: weekly at the latest' };

/** Salt is measured when it has settled: on a morning 24 to 48 hours after a change, where no other change is due before (assumption). */
export const saltAfterHours = 24;
export const saltBeforeNextChangeDays = 2;
/** Kept brine has one brine for all its salt: twice in the first week, as the fruit takes its share, then fortnightly. */
export const keptSaltSteps: Steps = { afterDays: [3, 4], thenEveryDays: [14], source: 'assumption: days 3 and 7, then fortnightly' };

/** An electrode is compared with its buffers before it is used, weekly while pH is measured by hand. */
export const calibratePhDays = 7;

/** Jars, lids and vinegar take a while to come: ordered when the fruit may be sweet within three weeks (assumption). */
export const orderAheadDays = 21;

/** Sweet fruit is jarred on the second morning, once its pH is known. */
export const jarSteps: Steps = { afterDays: [2], thenEveryDays: [7], source: 'assumption: pH is measured the day before' };
