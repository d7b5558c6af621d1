import type { Rfc3339 } from '../units/time.ts';

/** Who answers for the product, as the owner wrote it. */
export interface RecordProducer {
  readonly name: string | null;
  readonly address: string | null;
  readonly licence: string | null;
  readonly product: string | null;
  readonly formula: string | null;
  /** Fermented, acidified, refrigerated or heat-treated: a decision of a person, never worked out here. */
  readonly productClass: { readonly word: string; readonly by: string | null; readonly on: string | null } | null;
  readonly bestBeforeMonths: number | null;
  readonly storage: string | null;
  /** A sentence that local law asks for. */
  readonly statement: string | null;
}

/** A lot of salt, acid, jars and the like that an act of this lot used. */
export interface RecordIngredient {
  readonly id: string;
  readonly item: string;
  readonly name: string;
  readonly supplier: string;
  readonly receivedAt: Rfc3339;
  readonly theirLot: string | null;
  readonly bestBefore: string | null;
  /** The entries that say it was used. */
  readonly usedIn: readonly number[];
}

export interface RecordBatch {
  readonly entry: number;
  readonly openedBy: string;
  readonly drum: string;
  readonly drumName: string;
  readonly volumeL: number | null;
  readonly pickedAt: Rfc3339;
  readonly startedAt: Rfc3339;
  /** Out of the drum, on the way to jars; null: still in it. */
  readonly leftAt: Rfc3339 | null;
  readonly cut: string;
  readonly style: string;
  readonly maturity: string;
  readonly variety: string | null;
  readonly trees: string | null;
  readonly fruitKg: number;
  readonly brineL: number;
  readonly saltGPerL: number;
  readonly acid: string | null;
  readonly picks: readonly { readonly pick: string; readonly kg: number; readonly at: Rfc3339 | null; readonly trees: readonly string[]; readonly block: string | null }[];
  readonly splitFrom: { readonly lot: string; readonly at: Rfc3339 } | null;
  readonly stays: readonly { readonly drum: string; readonly from: Rfc3339; readonly to: Rfc3339 | null }[];
}

export interface RecordPacking {
  readonly entry: number;
  readonly at: Rfc3339;
  readonly by: string;
  readonly jars: number;
  readonly jarMl: number;
  readonly brine: string;
  readonly acid: string | null;
  readonly heat: string | null;
  readonly coldC: number | null;
  readonly ingredients: readonly string[];
}

/** Where the lot stands: the last word on it, who said it and why. */
export interface RecordState {
  readonly word: 'in drum' | 'in jars, not released' | 'on hold' | 'released' | 'recalled';
  readonly since: Rfc3339 | null;
  readonly by: string | null;
  readonly reason: string | null;
}

export interface RecordAct {
  readonly sequence: number;
  readonly kind: string;
  readonly text: string;
  readonly note: string | null;
  readonly at: Rfc3339;
  readonly writtenAt: Rfc3339;
  /** When it was written on paper, where it was typed in later. */
  readonly paperAt: Rfc3339 | null;
  readonly by: string;
  /** The lot it was written under, which for the time before a split is the one it was split from. */
  readonly lot: string;
  /** `late` beyond a day, `later` beyond two hours; null: at the time, or a correction. */
  readonly late: 'later' | 'late' | null;
  readonly standing: boolean;
  readonly corrects: number | null;
  readonly correctedBy: { readonly entry: number; readonly who: string; readonly at: Rfc3339; readonly reason: string } | null;
  /** As the journal has it, with its own field names and units. */
  readonly body: Readonly<Record<string, unknown>>;
}
