/** Who answers for the product and what is printed on its labels, as the owner wrote it. Nothing of it is worked out here. */
export interface Producer {
  readonly name: string | null;
  readonly address: string | null;
  readonly licence: string | null;
  readonly product: string | null;
  readonly formula: string | null;
  /** A decision of a person, with the paper it rests on. */
  readonly productClass: { readonly word: 'fermented' | 'acidified' | 'refrigerated' | 'heat-treated'; readonly by: string | null; readonly on: string | null } | null;
  readonly bestBeforeMonths: number | null;
  readonly storage: string | null;
  readonly afterOpening: string | null;
  readonly origin: string | null;
  /** A sentence that local law asks for, such as of food made at home. */
  readonly statement: string | null;
  /** Where buyers and inspectors reach the records, such as `https://olives.example`; null: where the label was asked for. */
  readonly webAddress: string | null;
  /** Weighed by the producer, by size of jar. */
  readonly weights: readonly { readonly jarMl: number; readonly netG: number; readonly drainedG: number }[];
  readonly sheet: LabelSheet | null;
}

/** A sheet of labels, or single labels (one column and row as large as the page). Millimetres. */
export interface LabelSheet {
  readonly pageWidthMm: number;
  readonly pageHeightMm: number;
  readonly columns: number;
  readonly rows: number;
  readonly marginTopMm: number;
  readonly marginLeftMm: number;
  readonly gapXMm: number;
  readonly gapYMm: number;
  readonly labelWidthMm: number;
  readonly labelHeightMm: number;
}
