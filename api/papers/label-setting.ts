import type { Run } from '#domain/label/allergens.ts';
import type { LabelField, LabelText } from '#domain/label/label.ts';
import { bold, plain, type Page } from './page.ts';

export const ptPerMm = 72 / 25.4;

/** Height of a small x in the typeface of the papers, as a share of its size: its x is 1120 of 2048 units high. */
export const xHeightShare = 1_120 / 2_048;

/** Height of a figure, as a share of its size: 1493 of 2048 units. */
export const figureShare = 1_493 / 2_048;

/** The least height of a small x on a label: Regulation (EU) 1169/2011, article 13(2). */
export const leastXHeightMm = 1.2;
export const leastSizePt = (leastXHeightMm * ptPerMm) / xHeightShare;
const mostSizePt = 11;
const leading = 1.16;
const gapShare = 0.22;

/** The room text has; the square of the code takes the corner at the lower right. */
export interface LabelRoom {
  readonly widthPt: number;
  readonly heightPt: number;
  readonly cornerPt: number;
}

export interface Piece {
  readonly text: string;
  readonly strong: boolean;
  readonly sizePt: number;
  readonly x: number;
  readonly y: number;
  readonly widthPt: number;
}

export type SetLabel = { readonly fits: true; readonly pieces: readonly Piece[]; readonly sizePt: number } | { readonly fits: false; readonly field: LabelField };

/** Sets a label as large as its room allows, measured word by word; at the least size that may be printed it fits or tells what does not. */
export const setLabel = (page: Page, texts: readonly LabelText[], room: LabelRoom): SetLabel => {
  for (let size = mostSizePt; size > leastSizePt; size -= 0.25) {
    const set = setAt(page, texts, room, size);
    if (set.fits) return set;
  }
  return setAt(page, texts, room, leastSizePt);
};

const setAt = (page: Page, texts: readonly LabelText[], room: LabelRoom, sizePt: number): SetLabel => {
  const pieces: Piece[] = [];
  let y = 0;
  for (const { field, runs, scale, leastFigureMm = 0 } of texts) {
    const size = Math.max(sizePt * scale, (leastFigureMm * ptPerMm) / figureShare);
    const set = setRuns(page, runs, room, size, y);
    if (set === null || set.y > room.heightPt + 0.01) return { fits: false, field };
    pieces.push(...set.pieces);
    y = set.y + size * gapShare;
  }
  return { fits: true, pieces, sizePt };
};

interface Word {
  readonly parts: readonly { readonly text: string; readonly strong: boolean; readonly widthPt: number }[];
  readonly widthPt: number;
}

const setRuns = (page: Page, runs: readonly Run[], room: LabelRoom, size: number, from: number): { readonly pieces: readonly Piece[]; readonly y: number } | null => {
  const space = widthOf(page, ' ', false, size);
  const lineHeight = size * leading;
  const pieces: Piece[] = [];
  let y = from;
  let x = 0;
  const room1 = (): number => (y + lineHeight > room.heightPt - room.cornerPt ? room.widthPt - room.cornerPt : room.widthPt);
  for (const word of wordsOf(page, runs, size)) {
    if (x > 0 && x + space + word.widthPt > room1()) {
      y += lineHeight;
      x = 0;
    }
    // A word wider than its line is never cut.
    if (word.widthPt > room1()) return null;
    let at = x === 0 ? 0 : x + space;
    for (const { text, strong, widthPt } of word.parts) {
      pieces.push({ text, strong, sizePt: size, x: at, y, widthPt });
      at += widthPt;
    }
    x = at;
  }
  return { pieces, y: y + lineHeight };
};

/** Words as they are kept together: a comma stays with the word before it, whatever type that is set in. */
const wordsOf = (page: Page, runs: readonly Run[], size: number): readonly Word[] => {
  const words: { text: string; strong: boolean; widthPt: number }[][] = [[]];
  for (const { text, strong } of runs) {
    for (const [index, part] of text.split(/\s+/).entries()) {
      if (index > 0) words.push([]);
      if (part !== '') words.at(-1)?.push({ text: part, strong, widthPt: widthOf(page, part, strong, size) });
    }
  }
  return words.filter((parts) => parts.length > 0).map((parts) => ({ parts, widthPt: parts.reduce((sum, { widthPt }) => sum + widthPt, 0) }));
};

const widthOf = (page: Page, text: string, strong: boolean, size: number): number => page.font(strong ? bold : plain).fontSize(size).widthOfString(text);
