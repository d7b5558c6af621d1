import type { CureRibbon } from './ribbon.ts';

/**
 * What a paper of a record says, in words and tables, without saying how it is set: paper and screen are two settings of one sheet, so that
 * no number can differ between them.
 */
export interface Sheet {
  readonly title: string;
  readonly lot: string;
  readonly printed: string;
  /** Page one, then what stands behind it. */
  readonly front: readonly SheetPart[];
  readonly sections: readonly SheetSection[];
}

export interface SheetSection {
  readonly title: string;
  readonly parts: readonly SheetPart[];
}

export type SheetPart =
  | { readonly kind: 'text'; readonly text: string; readonly strong?: boolean }
  /** Two texts on one line, at its two ends. */
  | { readonly kind: 'pair'; readonly left: string; readonly right: string; readonly strong?: boolean }
  | { readonly kind: 'state'; readonly word: string; readonly text: string }
  | { readonly kind: 'labelled'; readonly label: string; readonly lines: readonly string[] }
  | { readonly kind: 'sign'; readonly text: string }
  | SheetTable
  | { readonly kind: 'ribbon'; readonly ribbon: CureRibbon };

export interface SheetTable {
  readonly kind: 'table';
  readonly columns: readonly SheetColumn[];
  readonly rows: readonly SheetRow[];
  /** What is said where there is no row. */
  readonly empty: string;
}

export interface SheetColumn {
  readonly title: string;
  /** Its part of the width. */
  readonly share: number;
  readonly right?: boolean;
  /** Set in a typeface whose figures stand under each other. */
  readonly code?: boolean;
}

export interface SheetRow {
  readonly cells: readonly string[];
  /** Struck through: it was corrected, and stays readable. */
  readonly struck?: boolean;
  readonly strong?: boolean;
}

export const table = (columns: readonly SheetColumn[], rows: readonly SheetRow[], empty: string): SheetTable => ({ kind: 'table', columns, rows, empty });
export const text = (words: string): SheetPart => ({ kind: 'text', text: words });
