import { afterAct, pouredAtStart, type PouredBrine } from '../cure/brine.ts';
import { isAct, type Batch, type Stay, type StoryAct } from './shed.ts';

/** What follows from a batch's opening, its own acts and the story it shares with the lot it was split from (null: none). */
export const batchTold = (batch: Batch, parent: Batch | null): Batch => {
  const acts = inOrder([...sharedWith(parent, batch), ...batch.written]);
  const jarredAt = acts.findLast((act) => act.kind === 'jarred' && act.standing)?.at ?? null;
  const stays = staysOf(batch, acts, jarredAt);
  const { fruitKg, brineShare } = portionOf(batch, acts);
  const left = fruitKg / batch.opened.fruitKg;
  return {
    ...batch,
    acts,
    jarredAt,
    stays,
    drum: stays.at(-1)?.drum ?? batch.opened.drum,
    fruitKg,
    brineL: batch.opened.brineL * brineShare,
    picks: left === 1 ? batch.opened.picks : batch.opened.picks.map(({ pick, kg }) => ({ pick, kg: kg * left })),
  };
};

/** In the order of `at`, then of writing. */
const inOrder = (acts: readonly StoryAct[]): StoryAct[] => [...acts].sort((one, other) => one.at - other.at || one.sequence - other.sequence);

/** The split by which a lot came to be, as it stands in the story of the lot it comes from. */
export const splitInto = (parent: Batch, lot: string): StoryAct | undefined => parent.acts.filter(isAct('split')).find(({ body }) => body.into === lot);

const sharedWith = (parent: Batch | null, { lot }: Batch): readonly StoryAct[] => {
  const split = parent === null ? undefined : splitInto(parent, lot);
  return parent === null || split === undefined ? [] : parent.acts.slice(0, parent.acts.indexOf(split) + 1);
};

const staysOf = ({ opened, startedAt, lineage }: Batch, acts: readonly StoryAct[], jarredAt: number | null): readonly Stay[] => {
  const stays: Stay[] = [{ drum: opened.drum, from: startedAt, to: null }];
  const leave = (at: number): void => {
    const last = stays.at(-1);
    if (last !== undefined && last.to === null) stays[stays.length - 1] = { ...last, to: Math.max(last.from, at) };
  };
  for (const act of acts) {
    if (isAct('moved')(act)) {
      leave(act.at);
      stays.push({ drum: act.body.drum, from: act.at, to: null });
    } else if (isAct('split')(act) && lineage.includes(act.body.into)) {
      leave(act.at);
      if (act.body.drum !== null) stays.push({ drum: act.body.drum, from: act.at, to: null });
    }
  }
  if (jarredAt !== null) leave(jarredAt);
  return stays;
};

/** What its splits have left of it. */
const portionOf = (batch: Batch, acts: readonly StoryAct[]): { readonly fruitKg: number; readonly brineShare: number } => {
  let fruitKg = batch.opened.fruitKg;
  let brineShare = 1;
  let brine: PouredBrine = pouredAtStart(batch);
  for (const act of acts) {
    const after = afterAct(brine, act, batch);
    if (isAct('split')(act)) {
      fruitKg = batch.lineage.includes(act.body.into) ? act.body.fruitKg : fruitKg - act.body.fruitKg;
      brineShare *= brine.brineL > 0 ? after.brineL / brine.brineL : 0;
    }
    brine = after;
  }
  return { fruitKg, brineShare };
};
