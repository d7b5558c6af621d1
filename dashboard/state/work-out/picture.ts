/** A small picture beside an answer, as plain numbers in the words of the cure ribbon: body, band, trace, triangles, dotted violet. */
export interface Point {
  readonly x: number;
  readonly y: number;
}

export interface Plot {
  readonly kind: 'plot';
  /** A line of numbers rather than a plane: it needs little height. */
  readonly flat?: true;
  /** The picture in a sentence, for those who hear it. */
  readonly summary: string;
  readonly x: Scale;
  readonly y: Scale;
  readonly band?: readonly { readonly x: number; readonly low: number; readonly high: number }[];
  readonly lines: readonly { readonly points: readonly Point[]; readonly tone: 'trace' | 'quiet' | 'outside'; readonly label?: string }[];
  /** Brine changes. */
  readonly changes?: readonly number[];
  /** Dotted: a day that is likely, not known. */
  readonly likely?: readonly { readonly x: number; readonly label: string }[];
  /** Limits of what is measured along. */
  readonly limits?: readonly { readonly x: number; readonly label: string }[];
  readonly levels?: readonly { readonly y: number; readonly label: string }[];
  readonly dots?: readonly Point[];
  readonly here?: Point;
}

export interface Scale {
  readonly from: number;
  readonly to: number;
  readonly ticks: readonly { readonly at: number; readonly label: string }[];
}

/** Salt before and after: two waters as wide as they are much and as high as they are strong. */
export interface Waters {
  readonly kind: 'waters';
  readonly summary: string;
  readonly brine: { readonly litres: number; readonly percent: number };
  readonly flesh: { readonly litres: number };
  readonly settledPercent: number;
  readonly leastPercent: number;
}

export type Picture = Plot | Waters;

/** Round marks of a scale, at most so many, its ends included where they are round. */
export const ticks = (from: number, to: number, most: number, unit = ''): Scale['ticks'] => {
  const rough = (to - from) / most;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = ([1, 2, 5, 10].find((one) => one * power >= rough) ?? 10) * power;
  const first = Math.ceil(from / step - 1e-9);
  const last = Math.floor(to / step + 1e-9);
  const decimals = Math.max(0, -Math.floor(Math.log10(step)));
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, index) => {
    const at = (first + index) * step;
    return { at, label: `${at.toFixed(decimals).replace('-', '−')}${unit}` };
  });
};
