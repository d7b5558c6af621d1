import type { SeasonRow, SeasonTotals } from '#contract';

/** Where fruit goes from left to right: picks, drums, jars, sold. Widths are kilograms; what leaves bends down, what stays ends in a block. */
export type Leaving = 'culled' | 'loose' | 'stone' | 'tasted' | 'unaccounted';
export type Staying = 'curing' | 'shelf';

export interface FlowNode {
  readonly column: 0 | 1 | 2 | 3;
  readonly x: number;
  readonly top: number;
  readonly height: number;
}

/** One pick on its way into its drum. */
export interface FlowSlice extends FlowPiece {
  readonly lot: string;
  readonly labelY: number;
  readonly height: number;
}

export interface FlowPiece {
  readonly path: string;
  readonly kg: number;
}

export interface FlowPicture {
  readonly nodes: readonly FlowNode[];
  readonly slices: readonly FlowSlice[];
  readonly bands: readonly FlowPiece[];
  readonly staying: readonly (FlowPiece & { readonly what: Staying; readonly labelX: number; readonly labelY: number; readonly height: number })[];
  readonly leaving: readonly (FlowPiece & { readonly what: Leaving; readonly labelX: number; readonly labelY: number })[];
}

export interface FlowRoom {
  readonly width: number;
  readonly height: number;
  /** Room for words at the top, and below for what leaves. */
  readonly head: number;
  readonly foot: number;
}

export const nodeWidth = 12;
/** What is there is never too thin to be seen. */
const thinnest = 3;
/** How far what leaves falls below the drums. */
const fall = 22;

export const flowPicture = (totals: SeasonTotals, rows: readonly Pick<SeasonRow, 'lot' | 'drumKg' | 'jarredAt'>[], { width, height, head, foot }: FlowRoom): FlowPicture => {
  const bodyHeight = Math.max(1, height - head - foot);
  // Jars may hold more than was picked, by their usual packing: nothing then leaves the room.
  const fromDrums = totals.jarredKg + totals.curingKg + totals.stoneKg + totals.tastedKg + Math.max(0, totals.unaccountedKg);
  const mostKg = Math.max(totals.pickedKg, totals.drumKg + totals.culledKg, fromDrums);
  const perKg = mostKg > 0 ? bodyHeight / mostKg : 0;
  const tall = (kg: number): number => (kg <= 0 ? 0 : Math.max(thinnest, kg * perKg));
  const columns = [0, 1, 2, 3].map((column) => (column * (width - nodeWidth)) / 3);
  const [x0 = 0, x1 = 0, x2 = 0, x3 = 0] = columns;
  const gap = (x1 - x0 - nodeWidth) / 1;
  const shelfKg = Math.max(0, totals.jarredKg - totals.soldKg);
  const missingKg = Math.max(0, totals.unaccountedKg);

  const node = (column: FlowNode['column'], top: number, kg: number): FlowNode => ({ column, x: columns[column] ?? 0, top, height: tall(kg) });
  const soldTop = head;
  const nodes = [node(0, head, totals.pickedKg), node(1, head, totals.drumKg), node(2, head, totals.jarredKg), node(3, soldTop, totals.soldKg)].filter((each) => each.height > 0);
  const bands = [
    { kg: totals.jarredKg, path: band(x1 + nodeWidth, x2, head, head, tall(totals.jarredKg)) },
    { kg: totals.soldKg, path: band(x2 + nodeWidth, x3, head, soldTop, tall(totals.soldKg)) },
  ].filter(({ kg }) => kg > 0);

  const slices = slicesOf(rows, perKg, head, x0 + nodeWidth, x1);
  const curingTop = head + tall(totals.jarredKg);
  const block = (what: Staying, kg: number, x: number, top: number, length: number) => ({ what, kg, height: tall(kg), path: `M${r(x)} ${r(top)}h${r(length)}v${r(tall(kg))}h${r(-length)}z`, labelX: x + length + 10, labelY: top + tall(kg) / 2 });
  const staying = [
    block('curing', totals.curingKg, x1 + nodeWidth, curingTop, gap * 0.3),
    block('shelf', shelfKg, x2 + nodeWidth, head + tall(totals.soldKg), gap * 0.3),
  ].filter(({ kg }) => kg > 0);

  const bottom = height - foot + fall;
  const out = (kinds: readonly (readonly [Leaving, number])[], x: number, from: number, firstX: number, apart: number) => {
    const there = kinds.filter(([, kg]) => kg > 0);
    let top = from;
    return there.map(([what, kg], index) => {
      const thick = tall(kg);
      // The lowest bends down first, so that none crosses another.
      const end = firstX + (there.length - 1 - index) * apart;
      const piece = { what, kg, path: bend(x, top, end, bottom, thick), labelX: end + thick / 2, labelY: bottom };
      top += thick;
      return piece;
    });
  };
  const leaving = [
    ...out([['culled', totals.culledKg], ['loose', Math.max(0, totals.looseKg)]], x0 + nodeWidth, head + totals.drumKg * perKg, x0 + nodeWidth + gap * 0.24, gap * 0.38),
    ...out([['stone', totals.stoneKg], ['tasted', totals.tastedKg], ['unaccounted', missingKg]], x1 + nodeWidth, curingTop + tall(totals.curingKg), x1 + nodeWidth + gap * 0.2, gap * 0.27),
  ];
  return { nodes, slices, bands, staying, leaving };
};

/** In the order of picking at the trees; at the drums those that are empty now come first, because their fruit goes on. */
const slicesOf = (rows: readonly Pick<SeasonRow, 'lot' | 'drumKg' | 'jarredAt'>[], perKg: number, head: number, from: number, to: number): readonly FlowSlice[] => {
  const tops = new Map<string, number>();
  let at = head;
  for (const { lot, drumKg } of rows.toSorted((one, other) => Number(one.jarredAt === null) - Number(other.jarredAt === null))) {
    tops.set(lot, at);
    at += drumKg * perKg;
  }
  let top = head;
  return rows.map(({ lot, drumKg }) => {
    const height = Math.max(1, drumKg * perKg - sliceGap);
    const slice = { lot, kg: drumKg, height, labelY: top + height / 2, path: band(from, to, top, tops.get(lot) ?? top, height) };
    top += drumKg * perKg;
    return slice;
  });
};
const sliceGap = 2;

const r = (value: number): string => String(Math.round(value * 10) / 10);

/** A band of one thickness from one column to the next. */
const band = (from: number, to: number, fromTop: number, toTop: number, thick: number): string => {
  const middle = (from + to) / 2;
  return `M${r(from)} ${r(fromTop)}C${r(middle)} ${r(fromTop)} ${r(middle)} ${r(toTop)} ${r(to)} ${r(toTop)}v${r(thick)}C${r(middle)} ${r(toTop + thick)} ${r(middle)} ${r(fromTop + thick)} ${r(from)} ${r(fromTop + thick)}z`;
};

/** A band that leaves to the right and bends straight down. */
const bend = (x: number, top: number, endX: number, endY: number, thick: number): string =>
  `M${r(x)} ${r(top)}C${r(endX + thick)} ${r(top)} ${r(endX + thick)} ${r(top)} ${r(endX + thick)} ${r(endY)}h${r(-thick)}C${r(endX)} ${r(top + thick)} ${r(endX)} ${r(top + thick)} ${r(x)} ${r(top + thick)}z`;
