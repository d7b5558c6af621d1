import type { CheckSettings } from '../calibration/check-settings.ts';
import type { Instrument } from '../calibration/instruments.ts';
import type { JarGate } from '../jar/jar-gate.ts';
import type { JarStock } from '../jar/jar-stock.ts';
import type { Batch, Shed } from '../journal/shed.ts';
import type { Alert } from '../rules/alert.ts';
import type { EpochMs } from '../units/time.ts';

/** `stop`: release asks for a written reason; `fix`: before an inspector comes; `look`: worth knowing. */
export const readinessLevels = ['stop', 'fix', 'look'] as const;
export type ReadinessLevel = (typeof readinessLevels)[number];

/** Where a thing is mended. */
export const readinessPlaces = ['batch', 'deviations', 'instruments', 'lots', 'stores', 'producer', 'limits', 'journal', 'recall', 'readiness'] as const;
export type ReadinessPlace = (typeof readinessPlaces)[number];

export interface Finding {
  /** Where it weighs otherwise than its rule. */
  readonly level?: ReadinessLevel;
  readonly lot: string | null;
  readonly text: string;
  /** The one act that clears it. */
  readonly act: string;
  readonly place: { readonly screen: ReadinessPlace; readonly id: string | null };
}

/** What is known from outside the journal; null: not known here. */
export interface ReadinessFacts {
  readonly verified: { readonly at: EpochMs; readonly fault: string | null } | null;
}

export interface LotFacts {
  readonly batch: Batch;
  readonly gate: JarGate | null;
  readonly stock: JarStock;
  /** Released after it was packed. */
  readonly released: boolean;
}

export interface ReadinessInput {
  readonly shed: Shed;
  readonly zone: string;
  readonly now: EpochMs;
  readonly settings: CheckSettings;
  readonly facts: ReadinessFacts;
  readonly lots: readonly LotFacts[];
  readonly instruments: readonly Instrument[];
  readonly alerts: readonly Alert[];
}

/** What a rule found; or why it cannot be worked out, because nobody has written it down. */
export type RuleAnswer = readonly Finding[] | { readonly notRecorded: string };

export interface ReadinessRule {
  readonly id: string;
  readonly level: ReadinessLevel;
  /** What is looked for, as a question that "no" answers well. */
  readonly what: string;
  check(input: ReadinessInput): RuleAnswer;
}

export const onBatch = (lot: string, text: string, act: string): Finding => ({ lot, text, act, place: { screen: 'batch', id: lot } });

/** Whether jars of a lot have left, or may leave. */
export const isOut = ({ released, stock }: LotFacts): boolean => released || stock.distributed > 0;
