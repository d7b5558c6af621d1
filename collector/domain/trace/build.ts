import { jarStock, lostWays } from '../jar/jar-stock.ts';
import { segmentsOfBatch } from '../journal/placement.ts';
import { isAct, type Batch, type Shed } from '../journal/shed.ts';
import { drumChannels, type Channel } from '../reading/channel.ts';
import { seriesParts } from '../reading/reading.ts';
import type { Segment } from '../reading/store.ts';
import { placeOf, massOf } from '../season/pick.ts';
import type { EpochMs } from '../units/time.ts';
import { bufferLeans } from './buffer-leans.ts';
import { nodeId, type TraceEdge, type TraceGraph, type TraceKind, type TraceNode } from './graph.ts';
import { dayOf, kilos, numbered } from './trace-words.ts';
import { usesOf } from './uses.ts';

/** The whole shed as threads: trees to picks to batches to jars to buyers, with ingredient lots and probes feeding in. */
export const buildTrace = (shed: Shed, now: EpochMs, zone: string): TraceGraph => {
  const nodes = new Map<string, TraceNode>();
  const edges = new Map<string, TraceEdge>();
  const node = (kind: TraceKind, key: string, name: string, lines: readonly string[] = [], at: EpochMs | null = null): string => {
    const id = nodeId(kind, key);
    if (!nodes.has(id)) nodes.set(id, { id, kind, name, lines, at });
    return id;
  };
  const edge = (from: string, to: string, words: string, at: EpochMs | null = null, split = false): void => {
    const key = `${from}\n${to}`;
    const before = edges.get(key);
    edges.set(key, before === undefined ? { from, to, words, at, split } : { ...before, words: before.words.split('; ').includes(words) ? before.words : `${before.words}; ${words}` });
  };

  const pickNode = (code: string): string => {
    const pick = shed.picks.get(code);
    if (pick === undefined) return node('pick', code, code, ['not written down']);
    const mass = massOf(pick);
    const id = node('pick', code, code, [dayOf(pick.at, zone), mass === null ? 'not weighed' : kilos(mass), ...(pick.variety === null ? [] : [pick.variety])], pick.at);
    const places = pick.trees.length > 0 ? pick.trees.map((tree) => ({ key: tree, name: `Tree ${tree}` })) : [{ key: placeOf(pick) ?? 'unknown', name: placeOf(pick) ?? 'Trees not told' }];
    for (const place of places) edge(node('trees', place.key, place.name, pick.block === null || pick.block === place.name ? [] : [pick.block]), id, dayOf(pick.at, zone), pick.at);
    return id;
  };
  const ingredientNode = (key: string): string => {
    const lot = shed.ingredients.get(key);
    if (lot === undefined) return node('ingredient', key, key, ['not written down']);
    return node('ingredient', key, lot.name, [key, `from ${lot.supplier}`, `came ${dayOf(lot.receivedAt, zone)}`, `${numbered(lot.quantity)} ${lot.unit}`, ...(lot.theirLot === null ? [] : [`their lot ${lot.theirLot}`])], lot.receivedAt);
  };

  for (const key of shed.ingredients.keys()) ingredientNode(key);
  for (const code of shed.picks.keys()) if (shed.picks.get(code)?.takenBack === null) pickNode(code);
  for (const batch of shed.batches.values()) {
    const id = node('batch', batch.lot, batch.lot, batchLines(shed, batch, zone), batch.startedAt);
    for (const { pick, kg } of batch.picks) edge(pickNode(pick), id, kilos(kg), batch.startedAt);
    if (batch.picks.length === 0 && batch.trees !== null) edge(node('trees', batch.trees, `Trees ${batch.trees}`), id, dayOf(batch.pickedAt, zone), batch.pickedAt);
    if (batch.from !== null) edge(nodeId('batch', batch.from.lot), id, `split ${dayOf(batch.from.at, zone)}`, batch.from.at, true);
    const jars = jarsOf(batch, now, zone);
    const jarsId = jars === null ? null : node('jars', batch.lot, `Jars of ${batch.lot}`, jars.lines, batch.jarredAt);
    for (const use of usesOf(shed, batch)) {
      const unit = shed.ingredients.get(use.ingredient)?.unit ?? '';
      const words = `${useWords[use.kind] ?? use.kind} ${dayOf(use.at, zone)}${use.quantity === null ? '' : `, ${numbered(use.quantity)} ${unit}`}`;
      edge(ingredientNode(use.ingredient), use.kind === 'jarred' && jarsId !== null ? jarsId : id, words, use.at);
    }
    for (const { channel, segment } of watchesOf(shed, batch, now)) {
      const { probe } = seriesParts(segment.series);
      edge(node('probe', probe, probe), id, `${channel} ${dayOf(segment.from, zone)} to ${dayOf(segment.to, zone)}`, segment.from);
    }
    for (const measured of batch.acts.filter((act) => isAct('measured')(act) || isAct('jar-ph')(act))) {
      const instrument = 'instrument' in measured.body ? measured.body.instrument : undefined;
      if (instrument !== undefined) edge(node('probe', instrument, instrument, ['by hand']), measured.kind === 'jar-ph' && jarsId !== null ? jarsId : id, `by hand ${dayOf(measured.at, zone)}`, measured.at);
    }
    for (const lean of bufferLeans(shed, batch, now)) {
      const to = lean.jars && jarsId !== null ? jarsId : id;
      edge(ingredientNode(lean.buffer), to, `pH by ${lean.instrument}, set ${dayOf(lean.calibratedAt, zone)}`, lean.calibratedAt);
    }
    if (jarsId === null || jars === null) continue;
    edge(id, jarsId, `packed ${dayOf(batch.jarredAt ?? now, zone)}`, batch.jarredAt);
    for (const { to, count, at } of jars.to) edge(jarsId, node('buyer', to, to), `${numbered(count)} jars ${dayOf(at, zone)}`, at);
  }
  return { nodes, edges: [...edges.values()] };
};

const useWords: Readonly<Record<string, string>> = {
  'batch-opened': 'first brine', 'brine-changed': 'new brine', 'brine-topped-up': 'topped up', 'salt-added': 'salt', 'acid-added': 'acid', jarred: 'in jars',
};

const batchLines = (shed: Shed, batch: Batch, zone: string): readonly string[] => [
  ...batch.stays.map(({ drum, from, to }) => `${shed.drums.get(drum)?.name ?? drum}, ${dayOf(from, zone)} ${to === null ? 'on' : `to ${dayOf(to, zone)}`}`),
  `${kilos(batch.fruitKg)}, ${batch.cut}`,
];

const watchesOf = (shed: Shed, batch: Batch, now: EpochMs): readonly { readonly channel: Channel; readonly segment: Segment }[] =>
  drumChannels.flatMap((channel) => segmentsOfBatch(shed, batch, channel, { from: batch.startedAt, to: Math.max(batch.startedAt, now) }).map((segment) => ({ channel, segment })));

const jarsOf = (batch: Batch, now: EpochMs, zone: string): { readonly lines: readonly string[]; readonly to: readonly { readonly to: string; readonly count: number; readonly at: EpochMs }[] } | null => {
  const packed = batch.acts.filter(isAct('jarred')).findLast(({ at }) => at <= now);
  if (packed === undefined) return null;
  const stock = jarStock(batch.acts, now);
  const gone = lostWays.filter((way) => stock.otherwise[way] > 0).map((way) => `${stock.otherwise[way]} ${way}`);
  return {
    lines: [`${stock.jarred} × ${packed.body.jarMl} mL`, `packed ${dayOf(packed.at, zone)}`, `${stock.left} here`, ...gone, ...(stock.returned > 0 ? [`${stock.returned} came back`] : [])],
    to: stock.to.map(({ to, jars, at }) => ({ to, count: jars, at })),
  };
};
