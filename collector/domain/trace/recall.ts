import type { RecallResult } from '../journal/recall-entries.ts';
import { isInDrum, isAct, type Shed } from '../journal/shed.ts';
import { toRfc3339, type EpochMs } from '../units/time.ts';
import { jarStock } from '../jar/jar-stock.ts';
import type { TraceWalk } from './graph.ts';
import { lotBalance } from './lot-balance.ts';

/** What would have to be called back: the lots a thing reached, where their jars are, and what is not known of. */
export const recallOf = (shed: Shed, walk: TraceWalk, now: EpochMs): RecallResult => {
  const reached = walk.nodes.filter(({ kind, side }) => (kind === 'batch' || kind === 'jars') && side !== 'back');
  const lots = [...new Set(reached.map(({ id }) => id.slice(id.indexOf(':') + 1)))].flatMap((lot) => shed.batches.get(lot) ?? []);
  const told = lots.flatMap((batch) => {
    const balance = lotBalance(shed, batch, now);
    if (balance === null) return [];
    const { filled, sold, tested, broken, otherwise, returned, onHand, unaccounted } = balance.jars;
    return [{ lot: batch.lot, filled, out: sold, otherwise: tested + broken + otherwise, here: onHand + returned, counted: balance.countedAt !== null, unaccounted }];
  });
  const filled = told.reduce((sum, lot) => sum + lot.filled, 0);
  const unaccounted = told.reduce((sum, lot) => sum + Math.abs(lot.unaccounted), 0);
  return {
    lots: told,
    buyers: lots.flatMap((batch) => (batch.acts.some(isAct('jarred')) ? jarStock(batch.acts, now).to.map(({ to, jars, at }) => ({ to, lot: batch.lot, jars, at: toRfc3339(at) })) : [])),
    inDrums: lots.filter(isInDrum).map(({ lot, drum }) => ({ lot, drum })),
    sources: walk.nodes.filter(({ kind, side }) => side !== 'forward' && (kind === 'pick' || kind === 'ingredient')).map(({ kind, name, lines }) => ({ kind: kind as 'pick' | 'ingredient', name, words: lines.join(', ') })),
    filled,
    located: Math.max(0, filled - unaccounted),
    unaccounted,
  };
};
