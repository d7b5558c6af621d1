import type { TraceGraph } from './graph.ts';

/** Lots that share something with a lot, and what: the next to look at when something is wrong with a source. */
export interface Kin {
  readonly lot: string;
  readonly through: readonly string[];
}

export const kinOf = ({ nodes, edges }: TraceGraph, lot: string): readonly Kin[] => {
  const own = new Set(edges.filter(({ to }) => to === `batch:${lot}` || to === `jars:${lot}`).map(({ from }) => from).filter(isSource));
  const shared = new Map<string, Set<string>>();
  for (const { from, to } of edges) {
    const other = /^(?:batch|jars):(.*)$/.exec(to)?.[1];
    if (other === undefined || other === lot || !own.has(from)) continue;
    shared.set(other, (shared.get(other) ?? new Set()).add(nodes.get(from)?.name ?? from));
  }
  return [...shared].map(([other, through]) => ({ lot: other, through: [...through] }));
};

const isSource = (id: string): boolean => id.startsWith('pick:') || id.startsWith('ingredient:');
