/** 1: note it. 2: act, for quality. 3: hold the lot, possible harm. 4: discard. */
export type Severity = 1 | 2 | 3 | 4;

/** What a line rests on. Limits and percentages are assumptions unless a source is named for them. */
export const signConfidences = ['published', 'published, limits assumed', 'worked out', 'assumption', 'from memory'] as const;
export type SignConfidence = (typeof signConfidences)[number];

/** Where a person meets it. */
export const signPlaces = ['surface', 'brine', 'fruit', 'smell', 'reading', 'jar'] as const;
export type SignPlace = (typeof signPlaces)[number];

/** Something seen, smelled or read, and what follows. Guidance for holding and discarding; it never clears a lot. */
export interface Sign {
  readonly id: string;
  readonly place: SignPlace;
  readonly see: string;
  readonly mayBe: string;
  readonly check: string;
  readonly act: string;
  /** Null: not for this sign alone. */
  readonly discardWhen: string | null;
  readonly severity: Severity;
  /** How bad it can turn out to be: decides whether a hold opens before anything has been checked. */
  readonly atWorst: Severity;
  readonly confidence: SignConfidence;
  readonly source: string;
}

/** Nobody tastes to find out: the toxin of Clostridium botulinum has no look, smell or taste that can be relied on. */
export const signCaution =
  'Look and smell, never taste. No sign, and no absence of signs, clears a lot: an unknown pH counts as above 4.6. Discarded fruit is closed up, labelled and kept from animals. Local rules come first.';
