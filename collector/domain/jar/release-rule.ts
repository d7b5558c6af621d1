import type { Batch } from '../journal/shed.ts';
import { isAct } from '../journal/shed.ts';
import type { EpochMs } from '../units/time.ts';
import type { OpenHold } from './holds.ts';
import { firstWritten, openHolds } from './holds.ts';
import type { JarFinding } from './jar-finding.ts';
import { jarStock } from './jar-stock.ts';

/** A batch's story, the packed-jar verdict on it (null before it is jarred), and the time asked about. */
export interface LotState {
  readonly batch: Pick<Batch, 'acts' | 'jarredAt'>;
  readonly gate: Pick<JarFinding, 'verdict' | 'limit' | 'jars'> | null;
  readonly now: EpochMs;
  /** Numbers of the deviations of the lot that nobody has closed: what became of the product is not said yet. */
  readonly openDeviations?: readonly string[];
  /** Why the lot was called back, if it was. */
  readonly recalled?: string | null;
}

export type ReleaseAnswer =
  | { readonly may: true; readonly basis: 'packed-jar-rule' | 'exception'; readonly ends: readonly OpenHold[] }
  | { readonly may: false; readonly code: 'packed-jar-rule' | 'not-jarred' | 'nothing-held' | 'deviation-open' | 'recalled'; readonly text: string };

/**
 * Whether a lot may be released: by the packed-jar rule, or by an exception that is named and stays in the record.
 *
 * First every deviation of the lot is closed, with what became of the product. A jarred lot that is inside needs no more. One that is outside or unknown, or a drum not yet jarred (which has no packed jars to
 * measure), is released only with a named exception, which is a person's own answer and no approval.
 */
export const mayRelease = (state: LotState, exception?: string): ReleaseAnswer => {
  const ends = openHolds(state.batch.acts, state.now);
  const named = exception !== undefined && exception.trim() !== '';
  const isJarred = wasJarred(state);
  const blocked = blockedBy(state);
  if (blocked !== null) return { may: false, ...blocked };
  if (ends.length === 0 && !isJarred) return { may: false, code: 'nothing-held', text: 'Nothing is held on this lot.' };
  if (isJarred && state.gate?.verdict === 'inside') return { may: true, basis: 'packed-jar-rule', ends };
  if (named) return { may: true, basis: 'exception', ends };
  if (!isJarred) return { may: false, code: 'not-jarred', text: 'The lot has no packed jars to measure: name the reason it is released for.' };
  const verdict = state.gate?.verdict ?? 'unknown';
  return { may: false, code: 'packed-jar-rule', text: `The pH of the packed jars is ${verdict}: meet the packed-jar rule, or name the exception.` };
};

export type DistributionAnswer =
  | { readonly may: true; readonly left: number; readonly by: 'packed-jar-rule' | 'exception' | 'unproven' }
  | { readonly may: false; readonly code: DistributionBlock; readonly text: string; readonly holds: readonly OpenHold[] };
export type DistributionBlock = 'not-jarred' | 'on-hold' | 'deviation-open' | 'recalled' | 'packed-jars-outside' | 'packed-jars-unknown' | 'not-in-stock';

export interface DistributionRequest {
  readonly jars: number;
  /** Whether jars whose pH is not known may leave when nobody wrote a hold. Default: no, unknown never counts as inside. */
  readonly unprovenMayLeave?: boolean;
}

/**
 * Whether jars of a lot may leave now. Blocked by any open hold, by packed jars outside the limit, by packed jars unknown, and by a count
 * that is not in stock. A release with a named exception stands against outside and unknown until a later reading is outside again.
 */
export const mayDistribute = (state: LotState, { jars, unprovenMayLeave = false }: DistributionRequest): DistributionAnswer => {
  const { batch, gate, now } = state;
  const block = (code: DistributionBlock, text: string, holds: readonly OpenHold[] = []): DistributionAnswer => ({ may: false, code, text, holds });
  if (!wasJarred(state)) return block('not-jarred', 'The lot is not in jars yet.');
  const holds = openHolds(batch.acts, now);
  if (holds.length > 0) return block('on-hold', `On hold: ${holds.map(({ reason }) => reason).join('; ')}. Release the lot first.`, holds);
  const blocked = blockedBy(state);
  if (blocked?.code === 'recalled') return block(blocked.code, blocked.text);
  const { left } = jarStock(batch.acts, now);
  if (!(jars >= 1) || jars > left) return block('not-in-stock', `${Math.max(0, left)} jars of this lot are left.`);
  const excepted = exceptionStands(state);
  if (gate?.verdict === 'outside' && !excepted) return block('packed-jars-outside', `The packed jars are outside pH ${gate.limit.ph.toFixed(1)} (${gate.limit.source}).`);
  if (blocked !== null) return block(blocked.code, blocked.text);
  if (gate?.verdict === 'inside') return { may: true, left: left - jars, by: 'packed-jar-rule' };
  if (excepted) return { may: true, left: left - jars, by: 'exception' };
  if (unprovenMayLeave) return { may: true, left: left - jars, by: 'unproven' };
  return block('packed-jars-unknown', 'The pH of the packed jars is unknown: meet the packed-jar rule, or release with a named exception.');
};

/** A recall, or a deviation whose end for the product nobody has written: no exception overrules them. */
const blockedBy = ({ openDeviations = [], recalled = null }: LotState): { readonly code: 'deviation-open' | 'recalled'; readonly text: string } | null => {
  if (recalled !== null) return { code: 'recalled', text: `The lot is recalled: ${recalled}.` };
  if (openDeviations.length === 0) return null;
  return { code: 'deviation-open', text: `${openDeviations.join(', ')} ${openDeviations.length === 1 ? 'is' : 'are'} open: close ${openDeviations.length === 1 ? 'it' : 'them'} first, with cause, action and what becomes of the product.` };
};

/** A release with an exception, made after the last packing and not overtaken by a reading that is outside. */
const exceptionStands = ({ batch, gate, now }: LotState): boolean => {
  const writtenAs = firstWritten(batch.acts);
  const standing = batch.acts.filter(({ at, standing: stands }) => stands && at <= now);
  const packings = standing.filter(({ kind }) => kind === 'jarred');
  const outside = gate?.verdict === 'outside' ? standing.filter(isAct('jar-ph')).filter(({ body }) => body.value > gate.limit.ph) : [];
  return standing
    .filter(isAct('release'))
    .filter(({ body }) => body.exception !== undefined && body.exception.trim() !== '')
    .some((release) => [...packings, ...outside].every((act) => act.at <= release.at && writtenAs(act) < writtenAs(release)));
};

const wasJarred = ({ batch, now }: LotState): boolean => batch.jarredAt !== null && batch.jarredAt <= now;
