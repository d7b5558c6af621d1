import { textWidth } from './axis.ts';

/** Where words stand beside the ribbon. Nothing is written across the line of now, over the haze, or past the edge. */
export interface Words {
  readonly strong: string;
  readonly plain: string;
}

export interface PlacedWords extends Words {
  readonly x: number;
  readonly anchor: 'start' | 'end';
  /** Whether a plate is drawn behind, because the words could not avoid what lies there. */
  readonly plate: boolean;
}

export const widthOf = ({ strong, plain }: Words, textPx: number): number => Math.max(textWidth(strong, textPx, true), textWidth(plain, textPx));

export interface Surroundings {
  readonly width: number;
  readonly now: number;
  readonly haze: { readonly from: number; readonly to: number };
  readonly start: number;
  readonly textPx: number;
}

/** Beside the haze: right of it, else between now and it, in full or in short; else in the empty part before the cure began, else over it on a plate. */
export const placeBesideHaze = (full: Words, short: Words, { width, now, haze, start, textPx }: Surroundings): PlacedWords => {
  const pad = textPx * 0.6;
  const right = Math.max(haze.to, now) + pad;
  for (const words of [full, short]) {
    const wide = widthOf(words, textPx);
    if (right + wide <= width) return { ...words, x: right, anchor: 'start', plate: false };
    if (now + pad + wide + pad <= haze.from) return { ...words, x: haze.from - pad, anchor: 'end', plate: false };
  }
  if (start - pad - widthOf(full, textPx) >= 0) return { ...full, x: start - pad, anchor: 'end', plate: false };
  return { ...short, x: width - 2, anchor: 'end', plate: true };
};

/** Inside a block, on the side of the line of now that has room; null when neither has. */
export const placeInBlock = (options: readonly Words[], block: { readonly from: number; readonly to: number }, now: number, textPx: number): PlacedWords | null => {
  const pad = textPx * 0.45;
  const clear = now < block.from || now > block.to;
  for (const words of options) {
    const wide = widthOf(words, textPx);
    const placed = (x: number): PlacedWords => ({ ...words, x, anchor: 'start', plate: false });
    if (clear ? block.from + pad + wide <= block.to : block.from + pad + wide + pad <= now) return placed(block.from + pad);
    if (!clear && now + pad + wide <= block.to) return placed(now + pad);
  }
  return null;
};
