import type { Ingredient as IngredientShape, Trace } from '#contract';
import { bareCode } from '#domain/cure/near-code.ts';
import type { Ingredient } from '#domain/journal/ingredient.ts';
import { buildTrace } from '#domain/trace/build.ts';
import { nodeId, walkFrom, type TraceGraph, type TraceWalk } from '#domain/trace/graph.ts';
import { ingredientBalance } from '#domain/trace/ingredient-balance.ts';
import { kinOf } from '#domain/trace/kin.ts';
import { lotBalance } from '#domain/trace/lot-balance.ts';
import { usesIn, type IngredientUse } from '#domain/trace/uses.ts';
import { toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { notFound } from '../errors.ts';
import { findBatch, findPick } from './find-code.ts';
import { personOf } from './shape.ts';
import type { ShedModel } from './shed-model.ts';

export const findIngredient = (model: ShedModel, typed: string): Ingredient => {
  const { ingredients } = model.shed();
  const found = ingredients.get(typed) ?? [...ingredients.values()].find(({ id, theirLot }) => bareCode(id) === bareCode(typed) || (theirLot !== null && bareCode(theirLot) === bareCode(typed)));
  if (found === undefined) throw notFound(`ingredient lot ${typed}`);
  return found;
};

/** What is asked about, by the code it goes by. */
export interface Asked {
  readonly lot?: string | undefined;
  readonly ingredient?: string | undefined;
  readonly pick?: string | undefined;
  readonly probe?: string | undefined;
}

export interface Walked {
  readonly of: Trace['of'];
  readonly graph: TraceGraph;
  readonly walk: TraceWalk;
  readonly tookMs: number;
}

/** Follows one thing both ways, and says how long that took. */
export const walkOf = (model: ShedModel, asked: Asked): Walked => {
  const began = performance.now();
  const of = ofAsked(model, asked);
  const graph = buildTrace(model.shed(), model.clock.now(), model.zone);
  const walk = walkFrom(graph, nodeId(of.kind === 'lot' ? 'batch' : of.kind, of.id));
  if (walk === null) throw notFound(`${of.kind} ${of.id}`);
  return { of, graph, walk, tookMs: Math.round((performance.now() - began) * 10) / 10 };
};

const ofAsked = (model: ShedModel, { lot, ingredient, pick, probe }: Asked): Trace['of'] => {
  if (lot !== undefined) return { kind: 'lot', id: findBatch(model, lot).lot };
  if (ingredient !== undefined) return { kind: 'ingredient', id: findIngredient(model, ingredient).id };
  if (pick !== undefined) return { kind: 'pick', id: findPick(model, pick).pick };
  return { kind: 'probe', id: probe ?? '' };
};

export const traceShape = (model: ShedModel, asked: Asked): Trace => {
  const { of, graph, walk, tookMs } = walkOf(model, asked);
  const now = model.clock.now();
  const time = (at: EpochMs | null): string | null => (at === null ? null : toRfc3339(at));
  const lots = walk.nodes.filter(({ kind, side }) => kind === 'batch' && side !== 'back').flatMap(({ name }) => model.shed().batches.get(name) ?? []);
  return {
    of,
    start: walk.start,
    nodes: walk.nodes.map(({ id, kind, name, lines, at, side }) => ({ id, kind, name, lines: [...lines], at: time(at), side })),
    edges: walk.edges.map(({ from, to, words, at, split }) => ({ from, to, words, at: time(at), split })),
    balances: lots.flatMap((batch) => {
      const balance = lotBalance(model.shed(), batch, now);
      if (balance === null) return [];
      const { flow, assumed, ...fruit } = balance.fruit;
      return [{ lot: batch.lot, jars: { ...balance.jars, countedAt: time(balance.countedAt) }, fruit: { ...fruit, pickedKg: flow.pickedKg, culledKg: flow.culledKg, assumed: [...assumed] } }];
    }),
    ingredient: of.kind === 'ingredient' ? { ...balanceOf(model, of.id), unit: model.shed().ingredients.get(of.id)?.unit ?? '' } : null,
    kin: of.kind === 'lot' ? kinOf(graph, of.id).map(({ lot, through }) => ({ lot, through: [...through] })) : [],
    tookMs,
  };
};

const balanceOf = (model: ShedModel, id: string): IngredientShape['balance'] => ingredientShape(findIngredient(model, id), usesIn(model.shed()), model.clock.now()).balance;

/** A lot of salt, vinegar and the like, with everything that used it. `uses`: of the whole shed. */
export const ingredientShape = (ingredient: Ingredient, uses: readonly IngredientUse[], now: EpochMs): IngredientShape => {
  const own = uses.filter((use) => use.ingredient === ingredient.id).toSorted((one, other) => one.at - other.at);
  const { id, item, name, supplier, receivedAt, quantity, unit, theirLot, bestBefore, note, by, entries } = ingredient;
  const last = own.at(-1);
  return {
    id, item, name, supplier, receivedAt: toRfc3339(receivedAt), quantity, unit, theirLot, bestBefore, note, by: personOf(by),
    toldAnew: entries.length - 1,
    lastUsedAt: last === undefined ? null : toRfc3339(last.at),
    uses: own.map(({ lot, entry, at, kind, quantity: used }) => ({ lot, entry, at: toRfc3339(at), kind, quantity: used })),
    balance: ingredientBalance(ingredient, own, now),
  };
};
