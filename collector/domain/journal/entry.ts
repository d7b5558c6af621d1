import type { AnnouncedBody } from '../announce/announced.ts';
import type { OutletSetting, Route } from '../announce/outlet.ts';
import type { Acid, Bitterness, Cut, CureStyle, Maturity } from '../cure/batch.ts';
import type { Medium, Steps } from '../cure/schedules.ts';
import type { QuestionAnswer, QuestionKind } from '../detect/question.ts';
import type { Channel } from '../reading/channel.ts';
import type { Slug } from '../reading/reading.ts';
import type { AlertPriority, LimitSide } from '../rules/alert.ts';
import type { LimitChange } from '../rules/limit.ts';
import type { TreeLoad } from '../season/tree-load.ts';
import type { Rfc3339 } from '../units/time.ts';
import type { CheckEntryBodies } from './check-entries.ts';
import type { DaySeal } from './day-seal.ts';
import type { ImportFinished, ImportOrdered } from './import-entries.ts';
import type { InspectionEntryBodies } from './inspection-entries.ts';
import type { Handling } from './handlings.ts';
import type { IngredientCounted, IngredientReceived, JarNote, UsesLots } from './ingredient-entries.ts';
import type { PickAmended, Picked, PickShare, Soak, Sorted } from './pick-entries.ts';
import type { Producer } from './producer.ts';
import type { RecallExercise } from './recall-entries.ts';

/** A lot code: short, speakable, ends in a check character. */
export type Lot = string;

/** Acts of people on a batch carry the lot and the time they happened (`at`), which may lie before the time they were written. */
interface Act {
  readonly lot: Lot;
  readonly at: Rfc3339;
  readonly note?: string;
  /** When it was written on paper, where it was typed in later: the time of the entry tells when that was. */
  readonly writtenAt?: Rfc3339;
  /** The mark its sender gave it: the same act sent again, after an answer was lost, is written once. */
  readonly key?: string;
}

export interface MixedAcid {
  readonly acid: Acid;
  readonly ml: number;
  readonly strengthPercent: number;
}

/**
 * What each kind of journal entry says. The journal is append-only: a mistake is mended by `corrected`, never by editing.
 * Volumes L, masses kg or g as named, temperatures °C, times RFC 3339 UTC.
 */
export interface EntryBodies extends CheckEntryBodies, InspectionEntryBodies {
  'site-opened': { readonly site: Slug; readonly name: string; readonly zone: string };
  'drum-added': { readonly id: Slug; readonly name: string; readonly volumeL: number; readonly insulated: boolean };
  placed: { readonly probe: Slug; readonly channel: Channel; readonly drum: Slug | null; readonly from: Rfc3339 };
  'limit-set': { readonly limit: string; readonly drum: Slug | null; readonly change: LimitChange };
  /** Changes of a style as the site wants them, with their source; null: by the default again. */
  'schedule-set': { readonly style: CureStyle; readonly medium: Medium; readonly steps: Steps | null };
  'batch-opened': UsesLots & {
    readonly lot: Lot;
    readonly drum: Slug;
    readonly pickedAt: Rfc3339;
    readonly startedAt: Rfc3339;
    readonly cut: Cut;
    readonly style: CureStyle;
    readonly maturity: Maturity;
    readonly variety?: string;
    readonly trees?: string;
    readonly fruitKg: number;
    readonly brineL: number;
    readonly saltGPerL: number;
    readonly acid?: MixedAcid;
    /** What of which pick went in; the masses are of fruit with stones. */
    readonly picks?: readonly PickShare[];
    /** Fruit that lay in water before this cure began. */
    readonly soak?: Soak;
  };
  picked: Picked;
  'pick-amended': PickAmended;
  sorted: Sorted;
  /** Fruit and brine go into another drum, which is empty. */
  moved: Act & { readonly drum: Slug };
  /** A part becomes a lot of its own, which shares the story up to here: into another drum, or out of the drums on its way to jars (null). */
  split: Act & { readonly into: Lot; readonly drum: Slug | null; readonly fruitKg: number; readonly brineL: number };
  'brine-changed': Act & UsesLots & { readonly brineL: number; readonly saltGPerL: number; readonly fraction?: number };
  'brine-topped-up': Act & UsesLots & { readonly brineL: number; readonly saltGPerL: number };
  'salt-added': Act & UsesLots & { readonly saltG: number };
  'acid-added': Act & UsesLots & MixedAcid;
  skimmed: Act;
  rinsed: Act;
  /** `bottles`: of ice, where it was cooled. */
  handled: Act & { readonly what: Handling; readonly bottles?: number };
  tasted: Act & { readonly bitterness: Bitterness };
  observed: Act & { readonly sign: string };
  measured: Act & { readonly quantity: 'ph' | 'salinity' | 'temperature'; readonly value: number; readonly instrument?: string };
  /** `coldC`: the temperature the jars are to be kept at, where they are to be kept cold. `saltG`: weighed for the brine in the jars. */
  jarred: Act & UsesLots & { readonly jars: number; readonly jarMl: number; readonly brine: string; readonly acid?: string; readonly heat?: string; readonly coldC?: number; readonly saltG?: number; readonly ingredients: readonly string[] };
  /** pH of the blended flesh and brine of one packed jar. `jar`: its number or mark; readings without one cannot be told to be of two jars. */
  'jar-ph': Act & { readonly value: number; readonly instrument: string; readonly jar?: string };
  /** The lot may not leave. */
  hold: Act & { readonly reason: string };
  /** The lot may leave: ends every hold open by then. `by`: who answers for it; `exception`: the named reason where the packed-jar rule is not met. */
  release: Act & { readonly by: string; readonly exception?: string };
  distributed: Act & { readonly to: string; readonly jars: number };
  /** What became of jars otherwise, or how many were counted here. */
  'jars-noted': Act & { readonly what: JarNote; readonly jars: number };
  'ingredient-received': IngredientReceived;
  'ingredient-counted': IngredientCounted;
  'producer-set': Producer;
  'recall-exercise': RecallExercise;
  /** A copy of everything was written into one file, whole. Whether it was kept safe is a person's to say. */
  'backup-made': { readonly bytes: number; readonly files: number };
  corrected: { readonly entry: number; readonly reason: string; readonly replacement: EntryReplacement | null; readonly key?: string };
  'alert-raised': {
    readonly id: string;
    readonly rule: string;
    readonly drum: Slug | null;
    readonly lot: Lot | null;
    readonly quantity: string;
    readonly priority: AlertPriority;
    /** When the condition was first met: the raw start of the excursion, before any on-delay. */
    readonly since: Rfc3339;
    /** When the alert was raised, on the clock of the readings. */
    readonly at: Rfc3339;
    readonly value: number | null;
    /** `side`: which side of the limit is outside; null where a limit has no sides (silence, fault, overdue). */
    readonly limit: { readonly value: number | null; readonly unit: string; readonly source: string; readonly side: LimitSide | null };
    readonly text: string;
    readonly advice: string;
  };
  'alert-acknowledged': { readonly id: string };
  'alert-returned': { readonly id: string; readonly until: Rfc3339; readonly at: Rfc3339; readonly peak: number | null };
  /** What a tree bore in one year: weighed, or judged from the ground (0 none to 3 heavy). What is written later for the same year holds. */
  'tree-load': { readonly tree: string; readonly year: number; readonly kg?: number; readonly load?: TreeLoad };
  /** Put aside by a person for a stated time. */
  'alert-shelved': { readonly id: string; readonly until: Rfc3339; readonly reason: string };
  /** Back from the shelf: by a person, or by the collector when the time is over. */
  'alert-unshelved': { readonly id: string };
  /** What was done about it, and what became of the fruit. */
  'alert-action': { readonly id: string; readonly text: string; readonly disposition?: string };
  /** A limit of a drum that is not to be judged for now, such as while its probe is mended; until it is put back. */
  'limit-out-of-service': { readonly drum: Slug; readonly limit: string; readonly reason: string };
  'limit-in-service': { readonly drum: Slug; readonly limit: string };
  /** Where word of the shed goes; passwords, keys and secret addresses are in no journal. */
  'outlet-set': OutletSetting;
  /** What goes there, and when. */
  'route-set': Route & { readonly outlet: Slug };
  'outlet-removed': { readonly id: Slug };
  'outlet-test-asked': { readonly outlet: Slug };
  announced: AnnouncedBody;
  'task-done': { readonly task: string; readonly entry: number | null };
  'task-skipped': { readonly task: string; readonly reason: string };
  /** The air a person expects in the shed on a local day (`2026-11-26`); both null: by the last day again. */
  'air-forecast': { readonly day: string; readonly lowC: number | null; readonly highC: number | null };
  /** What the readings made us ask, written down so that it is asked once. */
  'question-asked': { readonly id: string; readonly drum: Slug; readonly lot: Lot; readonly kind: QuestionKind; readonly at: Rfc3339; readonly stepC: number | null; readonly entry: number | null; readonly otherDrum: Slug | null };
  /** `entry`: the act that was written with the answer. */
  'question-answered': { readonly id: string; readonly answer: QuestionAnswer; readonly entry: number | null };
  /** `lots`: those an inspector may read. */
  'user-added': { readonly name: string; readonly role: string; readonly lots?: readonly Lot[] };
  'user-password-changed': { readonly name: string };
  'user-removed': { readonly name: string };
  /** A key to one thing to read; its secret is in no journal. */
  'token-made': { readonly id: string; readonly user: string; readonly purpose: string };
  'token-revoked': { readonly id: string; readonly user: string };
  /** SHA-256 (hex) of the random password a probe connects to the embedded broker with; null: none any more. */
  'probe-password-set': { readonly probe: Slug; readonly digest: string | null };
  'import-ordered': ImportOrdered;
  'import-finished': ImportFinished;
  /** The key that seals from here on: Ed25519, the 32 bytes of the public key in base64url. */
  'key-made': { readonly publicKey: string };
  'day-sealed': DaySeal & { readonly signature: string };
}

export type EntryKind = keyof EntryBodies;

/** Kinds that are acts on a batch: they stand in its story and may be corrected. */
export const actKinds = [
  'brine-changed', 'brine-topped-up', 'salt-added', 'acid-added', 'skimmed', 'rinsed', 'handled', 'tasted', 'observed', 'measured', 'jarred', 'jar-ph', 'hold', 'release', 'distributed', 'jars-noted',
  'moved', 'split',
] as const satisfies readonly EntryKind[];
export type ActKind = (typeof actKinds)[number];
export const isActKind = (kind: string): kind is ActKind => (actKinds as readonly string[]).includes(kind);

/** What should have been written: an act of the same lot, as it replaces the one corrected. */
export type EntryReplacement = { [Kind in ActKind]: { readonly kind: Kind } & Omit<EntryBodies[Kind], 'lot' | 'key'> }[ActKind];

/** An entry as it is asked for, before the book gives it a number, a time and its place in the chain. */
export type Draft = { [Kind in EntryKind]: { readonly who: string; readonly kind: Kind; readonly body: EntryBodies[Kind] } }[EntryKind];

/** An entry as stored: `hash` is SHA-256 (hex) over the RFC 8785 form of all other fields; the first `previousHash` is 64 zeros. */
export type Entry = Draft & {
  readonly sequence: number;
  readonly time: Rfc3339;
  readonly previousHash: string;
  readonly hash: string;
};

export type EntryOf<Kind extends EntryKind> = Extract<Entry, { kind: Kind }>;

/** Who wrote an entry: a person (`user:owner`) or one of the two processes. */
export const byUser = (name: string): string => `user:${name}`;
export const byCollector = 'collector';
export const byApi = 'api';

export const genesisHash = '0'.repeat(64);
