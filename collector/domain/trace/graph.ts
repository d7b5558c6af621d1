import type { EpochMs } from '../units/time.ts';

/** What a thread of the trace is tied to. Drums stand in the batch: another batch in the same drum is no kin of it. */
export const traceKinds = ['trees', 'pick', 'ingredient', 'probe', 'batch', 'jars', 'buyer'] as const;
export type TraceKind = (typeof traceKinds)[number];

export interface TraceNode {
  readonly id: string;
  readonly kind: TraceKind;
  readonly name: string;
  /** What else there is to say, a line each. */
  readonly lines: readonly string[];
  readonly at: EpochMs | null;
}

/** From what something came to what it became part of. */
export interface TraceEdge {
  readonly from: string;
  readonly to: string;
  readonly words: string;
  readonly at: EpochMs | null;
  /** A part came from a lot: what went into that lot later did not go into the part, so sources are never followed over it. */
  readonly split: boolean;
}

export interface TraceGraph {
  readonly nodes: ReadonlyMap<string, TraceNode>;
  readonly edges: readonly TraceEdge[];
}

export const nodeId = (kind: TraceKind, name: string): string => `${kind}:${name}`;

export interface TraceWalk {
  readonly start: string;
  readonly nodes: readonly (TraceNode & { readonly side: 'start' | 'back' | 'forward' })[];
  readonly edges: readonly TraceEdge[];
}

/** Everything a thing came from and everything it became, with the threads between them; null where there is no such thing. */
export const walkFrom = (graph: TraceGraph, start: string): TraceWalk | null => {
  if (!graph.nodes.has(start)) return null;
  const isBatch = graph.nodes.get(start)?.kind === 'batch';
  // What went into the jars of a lot is as much of it as what went into its drum.
  const jars = start.replace('batch:', 'jars:');
  const back = reach(graph.edges, isBatch && graph.nodes.has(jars) ? [start, jars] : [start], (edge) => [edge.to, edge.from], false);
  const forward = reach(graph.edges, [start], (edge) => [edge.from, edge.to], isBatch);
  const parents = isBatch ? graph.edges.filter(({ split, to }) => split && (to === start || back.has(to))).map(({ from }) => from) : [];
  for (const parent of parents) back.add(parent);
  const side = (id: string): 'start' | 'back' | 'forward' | null => (id === start ? 'start' : back.has(id) ? 'back' : forward.has(id) ? 'forward' : null);
  const nodes = [...graph.nodes.values()].flatMap((node) => {
    const where = side(node.id);
    return where === null ? [] : [{ ...node, side: where }];
  });
  const shown = new Set(nodes.map(({ id }) => id));
  return { start, nodes, edges: graph.edges.filter(({ from, to }) => shown.has(from) && shown.has(to)) };
};

const reach = (edges: readonly TraceEdge[], starts: readonly string[], ends: (edge: TraceEdge) => readonly [string, string], overSplits: boolean): Set<string> => {
  const next = new Map<string, string[]>();
  for (const edge of edges) {
    if (edge.split && !overSplits) continue;
    const [from, to] = ends(edge);
    const known = next.get(from);
    if (known === undefined) next.set(from, [to]);
    else known.push(to);
  }
  const found = new Set<string>();
  const open = [...starts];
  for (let id = open.pop(); id !== undefined; id = open.pop()) {
    for (const to of next.get(id) ?? []) {
      if (found.has(to) || starts.includes(to)) continue;
      found.add(to);
      open.push(to);
    }
  }
  return found;
};
