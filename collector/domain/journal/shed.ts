import type { Announced } from '../announce/announced.ts';
import type { Outlet } from '../announce/outlet.ts';
import type { Cut, CureStyle, Maturity } from '../cure/batch.ts';
import type { CheckSettings } from '../calibration/check-settings.ts';
import type { OwnSchedules } from '../cure/own-schedules.ts';
import type { Deviation } from '../deviation/deviation.ts';
import type { AskedQuestion } from '../detect/question.ts';
import type { AirDay } from '../heat/air-day.ts';
import type { Channel } from '../reading/channel.ts';
import type { Slug } from '../reading/reading.ts';
import type { Alert, AlertAction } from '../rules/alert.ts';
import type { LimitChange } from '../rules/limit.ts';
import type { EpochMs } from '../units/time.ts';
import type { FruitPick } from '../season/pick.ts';
import type { ActKind, EntryBodies, EntryOf, Lot, MixedAcid } from './entry.ts';
import type { Inspections } from './project-inspection.ts';
import type { Ingredient } from './ingredient.ts';
import type { Producer } from './producer.ts';
import type { RecallExercise } from './recall-entries.ts';
import type { LoggerImport } from './import-entries.ts';
import type { PickCode, PickShare, Soak } from './pick-entries.ts';
import type { DecidedDoubt, HandInstrument, KeptCalibration, Recall, Review } from './kept-checks.ts';
import type { SealedDay } from './sealed-days.ts';
import type { WrittenKeys } from './written-keys.ts';

/** The shed as the journal tells it: a projection, never stored, rebuilt by replay in a fraction of a second. */
export interface Shed {
  /** The last entry taken in; 0 before the first. */
  readonly sequence: number;
  readonly site: { readonly site: Slug; readonly name: string; readonly zone: string } | null;
  readonly drums: ReadonlyMap<Slug, Drum>;
  /** Per series (`probe/channel`), oldest first by `from`: which drum it watches from then on (null: none). */
  readonly placements: ReadonlyMap<string, readonly Placement[]>;
  readonly batches: ReadonlyMap<Lot, Batch>;
  readonly picks: ReadonlyMap<PickCode, FruitPick>;
  /** Lots of salt, vinegar, lids and the like, by id. */
  readonly ingredients: ReadonlyMap<Slug, Ingredient>;
  readonly producer: Producer | null;
  readonly recallExercises: readonly RecallExercise[];
  readonly lastBackupAt: EpochMs | null;
  /** Lots whose split was taken back: their codes may stand on a label somewhere and are not given again. */
  readonly retiredLots: ReadonlySet<Lot>;
  readonly limitChanges: LimitChanges;
  readonly schedules: OwnSchedules;
  /** Alerts not normal, by id. */
  readonly openAlerts: ReadonlyMap<string, Alert>;
  /** Alerts back to normal, newest first. */
  readonly pastAlerts: PastAlerts | null;
  /** What trees bore, by tree and year. */
  readonly treeLoads: ReadonlyMap<string, EntryBodies['tree-load']>;
  /** What people did about alerts, by alert id, also after they were over. */
  readonly alertActions: ReadonlyMap<string, readonly AlertAction[]>;
  /** Ways by which word of the shed reaches people, by id, and what was told by them. */
  readonly outlets: ReadonlyMap<Slug, Outlet>;
  readonly announced: Announced;
  /** What was done with tasks, by task id. */
  readonly taskOutcomes: ReadonlyMap<string, TaskOutcome>;
  /** Checks of instruments, by probe or hand instrument, as written. */
  readonly calibrations: ReadonlyMap<Slug, readonly KeptCalibration[]>;
  readonly instruments: ReadonlyMap<Slug, HandInstrument>;
  readonly doubtDecisions: readonly DecidedDoubt[];
  readonly checkSettings: Partial<CheckSettings>;
  /** Departures from critical limits, in the order of their numbers. */
  readonly deviations: readonly Deviation[];
  readonly recalls: readonly Recall[];
  readonly reviews: readonly Review[];
  /** What people expect of the air, by local day. */
  readonly airDays: ReadonlyMap<string, AirDay>;
  /** What the readings made us ask, by id. */
  readonly questions: ReadonlyMap<string, AskedQuestion>;
  /** SHA-256 (hex) of the password of each probe that has one. */
  readonly probePasswords: ReadonlyMap<Slug, string>;
  /** Files of loggers that were handed in, by id, the oldest first. */
  readonly imports: ReadonlyMap<string, LoggerImport>;
  /** Accesses given to inspectors, and what was looked at. */
  readonly inspections: Inspections;
  readonly writtenKeys: WrittenKeys | null;
  /** The key of the site and the days sealed, with the time of the last seal; null before the first. */
  readonly seals: { readonly publicKey: string | null; readonly days: readonly SealedDay[]; readonly lastAt: EpochMs | null };
}

export interface Drum {
  readonly id: Slug;
  readonly name: string;
  readonly volumeL: number;
  readonly insulated: boolean;
  /** The lot in the drum now, or null. */
  readonly lot: Lot | null;
  /** The newest entry that tells something about this drum: lets a viewer see that its story has grown. */
  readonly revision: number;
}

export interface Placement {
  readonly probe: Slug;
  readonly channel: Channel;
  readonly drum: Slug | null;
  readonly from: EpochMs;
}

/** Changes for the whole site, and for one drum (which win), by limit id. */
export interface LimitChanges {
  readonly site: ReadonlyMap<string, LimitChange>;
  readonly drums: ReadonlyMap<Slug, ReadonlyMap<string, LimitChange>>;
  /** By drum and limit (`outOfServiceKey`). */
  readonly outOfService: ReadonlyMap<string, OutOfService>;
}

/** A limit of a drum that a person has set aside; nothing is judged by it meanwhile. */
export interface OutOfService {
  readonly drum: Slug;
  readonly limit: string;
  readonly reason: string;
  readonly by: string;
  readonly since: EpochMs;
}

export const outOfServiceKey = (drum: Slug, limit: string): string => `${drum} ${limit}`;

/** A linked list: adding to it costs the same however long it is, and older states stay as they were. */
export interface PastAlerts {
  readonly alert: Alert;
  readonly before: PastAlerts | null;
}

export type TaskOutcome = { readonly kind: 'done'; readonly entry: number | null; readonly at: EpochMs; readonly by: string } | { readonly kind: 'skipped'; readonly reason: string; readonly at: EpochMs; readonly by: string };

/** An act in a batch's story. `standing` is false when a later entry corrected it; what replaced it stands as an act of its own. */
export interface StoryAct {
  readonly sequence: number;
  readonly kind: ActKind;
  readonly at: EpochMs;
  readonly writtenAt: EpochMs;
  readonly by: string;
  readonly body: EntryBodies[ActKind];
  readonly standing: boolean;
  readonly corrects: number | null;
  readonly correctedBy: number | null;
}

/** Where a batch lay, from when to when; null: until now. */
export interface Stay {
  readonly drum: Slug;
  readonly from: EpochMs;
  readonly to: EpochMs | null;
}

export interface Batch {
  readonly lot: Lot;
  /** The drum it is in, or was in last. Where it lay at an earlier time is told by `stays`. */
  readonly drum: Slug;
  readonly pickedAt: EpochMs;
  readonly startedAt: EpochMs;
  readonly cut: Cut;
  readonly style: CureStyle;
  readonly maturity: Maturity;
  readonly variety: string | null;
  readonly trees: string | null;
  /** What is left of the fruit after its splits, with stones. */
  readonly fruitKg: number;
  /** The first brine, of which a split has taken its share: with `fruitKg` it makes the ratio the cure runs at. */
  readonly brineL: number;
  readonly saltGPerL: number;
  readonly acid: MixedAcid | null;
  /** Lots of salt, vinegar and the like in its first brine. */
  readonly lots: readonly Slug[];
  /** As written when the cure was begun, before any split: what a walk through the acts starts from. */
  readonly opened: { readonly drum: Slug; readonly fruitKg: number; readonly brineL: number; readonly picks: readonly PickShare[] };
  /** What of which pick is in it now. */
  readonly picks: readonly PickShare[];
  readonly soak: Soak | null;
  /** The lots it comes from by splits, the first first, and itself last. */
  readonly lineage: readonly Lot[];
  /** The split it began with; null for a batch that was started from picked fruit. */
  readonly from: { readonly lot: Lot; readonly entry: number; readonly at: EpochMs } | null;
  /** Oldest first; not overlapping. Ends with the jarring. */
  readonly stays: readonly Stay[];
  /** Acts written under this lot. `acts` also holds what it shares with the lot it was split from. */
  readonly written: readonly StoryAct[];
  readonly openedBy: string;
  readonly sequence: number;
  /** Every act, in the order of `at` (then of writing). */
  readonly acts: readonly StoryAct[];
  /** When the fruit left the drum for jars; null while it is in the drum. */
  readonly jarredAt: EpochMs | null;
}

/** A part on its way to jars is in no drum before it is jarred. */
export const isInDrum = ({ stays }: Pick<Batch, 'stays'>): boolean => stays.at(-1)?.to === null;

/** The body of a standing act of one kind, typed. */
export const isAct =
  <Kind extends ActKind>(kind: Kind) =>
  (act: StoryAct): act is StoryAct & { kind: Kind; body: EntryOf<Kind>['body'] } =>
    act.kind === kind && act.standing;
