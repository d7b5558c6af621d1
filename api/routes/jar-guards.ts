import type { NewEntry, Problem } from '#contract';
import type { Batch } from '#domain/journal/shed.ts';
import { isAct } from '#domain/journal/shed.ts';
import { segmentsOfBatch } from '#domain/journal/placement.ts';
import { brinePh } from '#domain/jar/brine-ph.ts';
import { openDeviationsOf } from '#domain/deviation/of-lot.ts';
import { openHolds, type OpenHold } from '#domain/jar/holds.ts';
import { jarStock } from '#domain/jar/jar-stock.ts';
import { mayJar } from '#domain/jar/may-jar.ts';
import type { PackLimit } from '#domain/jar/pack-limits.ts';
import { mayDistribute, mayRelease, type LotState } from '#domain/jar/release-rule.ts';
import { hourMs, type EpochMs } from '#domain/units/time.ts';
import { ApiError, unfit } from '../errors.ts';
import { gateAt, holdShape } from '../shed/jar-view.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import { knownLots } from './lots-guard.ts';

/** An act that is written, or that takes the place of a mistaken one. */
export type Act = Exclude<NewEntry, { readonly kind: 'corrected' }>;

/** What a probe in the drum said about the pH when the jars were filled; asked for beforehand, because reading takes a moment. */
export type ProbePh = { readonly value: number; readonly at: EpochMs } | null;

/** A probe that has not spoken for so long says nothing about now (assumption). */
const probeSpeaksForMs = 2 * hourMs;

export const probePhFor = async (model: ShedModel, batch: Batch, entry: NewEntry): Promise<ProbePh> => {
  const jarring = entry.kind === 'corrected' ? entry.replacement : entry;
  if (jarring?.kind !== 'jarred') return null;
  const at = Date.parse(jarring.at);
  const span = { from: at - probeSpeaksForMs, to: at + 1 };
  const { points } = await model.store.view(segmentsOfBatch(model.shed(), batch, 'ph', span), span, 200);
  const last = points.at(-1);
  return last === undefined ? null : { value: last.mean, at: last.t };
};

/**
 * Refuses what may not be written in a lot's story now, with the rule and what may be done instead. What is said of a time before a hold
 * is the truth about that time and is taken. Answers the reason of the hold that the act opens, or null.
 */
export const guardAct = (model: ShedModel, batch: Batch, act: Act, at: EpochMs, probe: ProbePh): string | null => {
  if ('lots' in act && act.lots !== undefined) knownLots(model, act.lots);
  switch (act.kind) {
    case 'jarred':
      return guardJarring(batch, act, at, probe);
    case 'jar-ph':
      if (batch.jarredAt === null || batch.jarredAt > at) throw new ApiError('not-jarred', `Lot ${batch.lot} was not in jars by then. Write what was measured in the drum as measured. Nothing was written.`);
      return null;
    case 'tasted':
      guardTasting(batch, at);
      return null;
    case 'release':
      guardRelease(model, batch, act.exception, at);
      return null;
    case 'distributed':
      guardDistribution(model, batch, act.jars, at);
      return null;
    case 'jars-noted':
      guardNote(batch, act, at);
      return null;
    default:
      return null;
  }
};

const guardJarring = (batch: Batch, { acid, coldC, ingredients }: Extract<Act, { readonly kind: 'jarred' }>, at: EpochMs, probe: ProbePh): string | null => {
  if (batch.jarredAt !== null) throw new ApiError('wrong-state', `Lot ${batch.lot} is in jars already. Correct that entry if it was a mistake. Nothing was written.`);
  const ph = brinePh(batch, probe, at);
  const answer = mayJar({ ph, acid, coldC, ingredients });
  if (!answer.may) {
    throw new ApiError(answer.code, `${answer.text} Nothing was written.`, undefined, { rule: ruleShape(answer.rule), instead: [...answer.instead] });
  }
  if (!answer.opensHold) return null;
  const known = ph === null ? 'its pH unknown' : `pH ${ph.value.toFixed(2)} ± ${ph.uncertainty.toFixed(2)} of the brine`;
  return `packed with ${known}: on hold until the packed jars are inside pH ${answer.rule.ph.toFixed(1)} (${answer.rule.source})`;
};

const ruleShape = ({ id, ph, rule, source }: PackLimit): NonNullable<Problem['rule']> => ({ id, ph, text: rule, source });

const held = (holds: readonly OpenHold[]): object => ({ holds: holds.map(holdShape) });

const guardTasting = (batch: Batch, at: EpochMs): void => {
  const holds = openHolds(batch.acts, at);
  if (holds.length === 0) return;
  throw new ApiError('on-hold', `Lot ${batch.lot} is on hold: ${reasons(holds)}. Nobody tastes until it is released. Nothing was written.`, undefined, held(holds));
};

/** What blocks a lot beside holds: deviations that began by a time and are open, and a recall. */
const blocksAt = (model: ShedModel, batch: Batch, at: EpochMs): Pick<LotState, 'openDeviations' | 'recalled'> => ({
  openDeviations: openDeviationsOf(model.shed(), batch).filter(({ from }) => from <= at).map(({ number }) => number),
  recalled: model.shed().recalls.find((recall) => batch.lineage.includes(recall.lot) && recall.at <= at)?.reason ?? null,
});

const guardRelease = (model: ShedModel, batch: Batch, exception: string | undefined, at: EpochMs): void => {
  const gate = gateAt(model, batch, model.clock.now());
  const answer = mayRelease({ batch, gate, now: at, ...blocksAt(model, batch, model.clock.now()) }, exception);
  if (answer.may) return;
  const holds = openHolds(batch.acts, at);
  const next = gate?.next == null ? '' : ` ${gate.next.text}`;
  throw new ApiError(answer.code, `${answer.text}${next} Nothing was written.`, undefined, { ...held(holds), ...(gate === null ? {} : { rule: ruleShape(gate.limit) }) });
};

const guardDistribution = (model: ShedModel, batch: Batch, jars: number, at: EpochMs): void => {
  const gate = gateAt(model, batch, at);
  const answer = mayDistribute({ batch, gate, now: at, ...blocksAt(model, batch, at) }, { jars });
  if (!answer.may) throw new ApiError(answer.code, `${answer.text} Nothing was written.`, undefined, held(answer.holds));
  // What left later is gone as well, whatever time this one is written for.
  const { left } = jarStock(batch.acts, Number.POSITIVE_INFINITY);
  if (jars > left) throw new ApiError('not-in-stock', `${Math.max(0, left)} jars of this lot are left. Nothing was written.`);
};

/** Jars that broke or were tested were here; those that came back had left. A count says what is there, whatever it is. */
const guardNote = (batch: Batch, { what, jars }: Extract<Act, { readonly kind: 'jars-noted' }>, at: EpochMs): void => {
  if (batch.jarredAt === null || batch.jarredAt > at) throw new ApiError('not-jarred', `Lot ${batch.lot} was not in jars by then. Nothing was written.`);
  const { left, out } = jarStock(batch.acts, Number.POSITIVE_INFINITY);
  if (what === 'counted') return;
  if (jars < 1) throw unfit('jars', 'is at least 1');
  if (what === 'returned' && jars > out) throw new ApiError('not-in-stock', `${out} jars of this lot are out with buyers: no more can have come back. Nothing was written.`);
  if (what !== 'returned' && jars > left) throw new ApiError('not-in-stock', `${Math.max(0, left)} jars of this lot are left. Nothing was written.`);
};

export const reasons = (holds: readonly Pick<OpenHold, 'reason'>[]): string => holds.map(({ reason }) => reason).join('; ');

/** The story as it would be without an act that is about to be corrected. */
export const without = (batch: Batch, sequence: number): Batch => {
  const acts = batch.acts.map((act) => (act.sequence === sequence ? { ...act, standing: false } : act));
  return { ...batch, acts, jarredAt: acts.filter(isAct('jarred')).at(-1)?.at ?? null };
};

/** Jars that have left came from somewhere: their filling cannot be taken back, nor made smaller than what left. */
export const guardJarsGone = (batch: Batch, { sequence }: { readonly sequence: number }, replacement: Act | null): void => {
  const wrong = batch.acts.find((act) => act.sequence === sequence);
  if (wrong === undefined || !isAct('jarred')(wrong)) return;
  const { jarred, distributed } = jarStock(batch.acts, Number.POSITIVE_INFINITY);
  const then = jarred - wrong.body.jars + (replacement?.kind === 'jarred' ? replacement.jars : 0);
  if (then < distributed) throw new ApiError('not-in-stock', `${distributed} jars of this lot have left: there cannot have been fewer. Correct where they went first. Nothing was written.`);
};
