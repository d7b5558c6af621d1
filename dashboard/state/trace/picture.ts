import type { Trace, TraceKind, TraceNode } from '#contract';

/** The picture of a trace: columns from the trees to the buyers, sources feeding in from below. No page needed to work it out. */
export interface PlacedNode extends TraceNode {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface PlacedEdge {
  readonly from: string;
  readonly to: string;
  readonly path: string;
}

export interface TracePicture {
  readonly nodes: readonly PlacedNode[];
  readonly edges: readonly PlacedEdge[];
  readonly heads: readonly { readonly words: string; readonly x: number }[];
  readonly height: number;
}

const columnOfKind: Readonly<Record<TraceKind, number>> = { trees: 0, pick: 1, ingredient: 1, probe: 1, batch: 2, jars: 3, buyer: 4 };
export const columnWords = ['Trees', 'Picks and sources', 'Batches', 'Jars', 'Buyers'] as const;

/** A source stands before the first thing it went into: what went into jars only, under the batches. */
export const columnOf = ({ nodes, edges }: Pick<Trace, 'nodes' | 'edges'>, node: TraceNode): number => {
  if (node.kind !== 'ingredient' && node.kind !== 'probe') return columnOfKind[node.kind];
  const into = edges.filter(({ from }) => from === node.id).flatMap(({ to }) => nodes.find(({ id }) => id === to) ?? []);
  return into.length > 0 && into.every(({ kind }) => kind === 'jars') ? columnOfKind.batch : columnOfKind[node.kind];
};
const order: readonly TraceKind[] = ['trees', 'pick', 'batch', 'jars', 'buyer', 'ingredient', 'probe'];
const headPx = 40;
const gapPx = 14;
const lineRoom = { name: 24, line: 21, padding: 18 } as const;
/** What a letter of a name takes, at the most of what is common; a longer name takes a second line. */
const letterPx = 8.8;
const mostLines = 2;

export const shownLines = (node: Pick<TraceNode, 'lines'>): readonly string[] => node.lines.slice(0, mostLines);
const heightOf = (node: TraceNode, width: number): number => lineRoom.padding + lineRoom.name * (node.name.length * letterPx > width - 40 ? 2 : 1) + lineRoom.line * shownLines(node).length;

export const tracePicture = ({ nodes, edges }: Pick<Trace, 'nodes' | 'edges'>, width: number): TracePicture => {
  const columns = columnWords.length;
  const pitch = width / columns;
  const boxWidth = Math.round(pitch * 0.8);
  const step = (width - boxWidth) / (columns - 1);
  const placed = new Map<string, PlacedNode>();
  let height = headPx;
  for (let column = 0; column < columns; column += 1) {
    const own = nodes.filter((node) => columnOf({ nodes, edges }, node) === column);
    const middle = (node: TraceNode): number => {
      const before = edges.filter(({ to }) => to === node.id).flatMap(({ from }) => placed.get(from) ?? []);
      return before.length === 0 ? 0 : before.reduce((sum, each) => sum + each.y + each.height / 2, 0) / before.length;
    };
    let y = headPx;
    const inOrder = own.map((node, index) => ({ node, index, at: middle(node) })).sort((one, other) => order.indexOf(one.node.kind) - order.indexOf(other.node.kind) || one.at - other.at || one.index - other.index);
    for (const { node } of inOrder) {
      const tall = heightOf(node, boxWidth);
      placed.set(node.id, { ...node, x: Math.round(column * step), y, width: boxWidth, height: tall });
      y += tall + gapPx;
    }
    height = Math.max(height, y);
  }
  return {
    nodes: [...placed.values()],
    edges: edges.flatMap(({ from, to }) => {
      const path = pathBetween(placed.get(from), placed.get(to));
      return path === null ? [] : [{ from, to, path }];
    }),
    heads: columnWords.map((words, column) => ({ words, x: Math.round(column * step) })),
    height,
  };
};

const pathBetween = (from: PlacedNode | undefined, to: PlacedNode | undefined): string | null => {
  if (from === undefined || to === undefined) return null;
  const [x1, y1, y2] = [from.x + from.width, from.y + from.height / 2, to.y + to.height / 2];
  // Of one column, as a lot and the part that was split from it: round the outside.
  if (from.x === to.x) return `M${String(x1)} ${String(y1)} C${String(x1 + 34)} ${String(y1)} ${String(x1 + 34)} ${String(y2)} ${String(x1)} ${String(y2)}`;
  const bend = (to.x - x1) / 2;
  return `M${String(x1)} ${String(y1)} C${String(x1 + bend)} ${String(y1)} ${String(to.x - bend)} ${String(y2)} ${String(to.x)} ${String(y2)}`;
};

/** Everything a thing of the picture came from and became: what lights up with it. */
export const litWith = ({ start: from, nodes, edges }: Pick<Trace, 'start' | 'nodes' | 'edges'>, chosen: string): ReadonlySet<string> => {
  // The picture is of what was asked about: all of it belongs to that.
  if (chosen === from) return new Set(nodes.map(({ id }) => id));
  const lit = new Set([chosen]);
  for (const [start, end] of [['from', 'to'], ['to', 'from']] as const) {
    const open = [chosen];
    const seen = new Set(open);
    for (let id = open.pop(); id !== undefined; id = open.pop()) {
      for (const edge of edges) {
        if (edge[start] !== id || seen.has(edge[end])) continue;
        seen.add(edge[end]);
        lit.add(edge[end]);
        open.push(edge[end]);
      }
    }
  }
  return lit;
};
