import type { BatchTrace, Pick } from '#contract';
import { brineAt } from '#domain/cure/brine.ts';
import { stageAt } from '#domain/cure/stage.ts';
import { isAct, isInDrum, type Batch, type Shed } from '#domain/journal/shed.ts';
import { maturitySpread } from '#domain/season/maturity-spread.ts';
import { pickBalance } from '#domain/season/pick-balance.ts';
import { pickClock } from '#domain/season/pick-clock.ts';
import { countedMaturity, countsOf, maturityOf, type FruitPick } from '#domain/season/pick.ts';
import { fromRfc3339, toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { personOf } from './shape.ts';

export const pickShape = (shed: Shed, pick: FruitPick, now: EpochMs): Pick => {
  const balance = pickBalance(pick, shed.batches.values());
  const counts = countsOf(pick);
  const stage = maturityOf(pick);
  const spread = counts === null ? null : maturitySpread([{ counts, kg: 1 }]);
  const clock = pickClock({ at: pick.at, maturity: stage, processedAt: processedAt(shed, pick, balance) }, now);
  const shape = {
    pick: pick.pick,
    at: toRfc3339(pick.at),
    until: pick.until === null ? null : toRfc3339(pick.until),
    trees: [...pick.trees],
    block: pick.block,
    variety: pick.variety,
    pickedKg: balance.pickedKg,
    buckets: pick.buckets,
    bucketKg: pick.bucketKg,
    maturity: stage === null ? null : { stage, index: countedMaturity(pick)?.index ?? null, counts: counts === null ? null : [...counts] },
    spread,
    damage: { ...pick.damage },
    note: pick.note,
    by: personOf(pick.by),
    sortings: pick.sortings.map(({ sequence, at, by, culls, note, standing }) => ({ sequence, at: toRfc3339(at), by: personOf(by), culls: [...culls], note, standing })),
    culls: [...balance.culls],
    culledKg: balance.culledKg,
    batches: balance.batches.flatMap(({ lot, kg }) => {
      const batch = shed.batches.get(lot);
      return batch === undefined ? [] : [{ lot, drum: batch.drum, kg, stage: stageAt(batch, now) }];
    }),
    inBatchesKg: balance.inBatchesKg,
    unaccountedKg: balance.unaccountedKg,
    overKg: balance.overKg,
    clock,
    takenBack: pick.takenBack,
  };
  return { ...shape, warnings: pick.takenBack === null ? warningsOf(shape) : [] };
};

/** Less than this of a pick is not worth a drum: it counts as gone its way (assumption). */
const restKg = 1;

/** When the last of its fruit went into brine or water; null while there is more of it, or while nobody knows how much there is and none went in. */
const processedAt = (shed: Shed, { pick }: FruitPick, { batches, unaccountedKg, pickedKg, culledKg }: ReturnType<typeof pickBalance>): EpochMs | null => {
  if (batches.length === 0 && !(pickedKg !== null && pickedKg - culledKg < restKg)) return null;
  if (unaccountedKg !== null && unaccountedKg >= restKg) return null;
  const starts = [...shed.batches.values()].filter(({ picks }) => picks.some((share) => share.pick === pick)).map(wetAt);
  return starts.length === 0 ? (shed.picks.get(pick)?.sortings.at(-1)?.at ?? null) : Math.max(...starts);
};

const wetAt = ({ soak, startedAt }: Batch): EpochMs => (soak === null ? startedAt : Math.min(startedAt, fromRfc3339(soak.startedAt)));

export const wideText = 'One drum will hold two cures: sort by colour, or give the ripe fruit a drum of its own.';

const warningsOf = ({ overKg, spread, clock, unaccountedKg }: Omit<Pick, 'warnings'>): string[] => [
  ...(overKg > 0 ? [`${kilograms(overKg)} more went its ways than was picked. Weights are rough; look whether one was written twice.`] : []),
  ...(spread?.wide === true ? [`The fruit is of very different ripeness (classes ${spread.low} to ${spread.high}). ${wideText}`] : []),
  ...(clock.state === 'late' ? [`Picked ${String(Math.floor(clock.hours))} h ago${unaccountedKg === null ? '' : `, ${kilograms(unaccountedKg)} still waiting`}: such fruit goes into brine or water within ${clock.withinHours} h.`] : []),
];

export const kilograms = (kg: number): string => `${String(Math.round(kg * 10) / 10)} kg`;

/** Where a batch comes from, where it lay, and what was split from it. */
export const traceOf = (shed: Shed, batch: Batch, now: EpochMs): BatchTrace => ({
  picks: batch.picks.map(({ pick, kg }) => ({ pick, kg })),
  soak: batch.soak === null ? null : { ...batch.soak },
  from: batch.from === null ? null : { lot: batch.from.lot, at: toRfc3339(batch.from.at) },
  parts: batch.written.filter(isAct('split')).map(({ at, body }) => ({ lot: body.into, at: toRfc3339(at), fruitKg: body.fruitKg })),
  stays: batch.stays.map(({ drum, from, to }) => ({ drum, from: toRfc3339(from), to: to === null ? null : toRfc3339(to) })),
  inDrum: isInDrum(batch),
  brineNowL: brineAt(batch, now).brineL,
  brineShare: batch.brineL / batch.opened.brineL,
  warnings: batchWarnings(shed, batch),
});

/** What is to be said of the fruit that went in; nothing stands in the way, since weights are rough. */
const batchWarnings = (shed: Shed, { picks, fruitKg }: Batch): string[] => {
  const samples = picks.flatMap(({ pick, kg }) => {
    const counts = countsOf(shed.picks.get(pick) ?? { counts: null, sortings: [] });
    return counts === null ? [] : [{ counts, kg }];
  });
  const spread = maturitySpread(samples);
  const given = picks.reduce((sum, { kg }) => sum + kg, 0);
  return [
    ...picks.flatMap(({ pick }) => {
      const from = shed.picks.get(pick);
      const overKg = from === undefined ? 0 : pickBalance(from, shed.batches.values()).overKg;
      return overKg > 0 ? [`Pick ${pick}: ${kilograms(overKg)} more went its ways than was picked.`] : [];
    }),
    ...(picks.length > 0 && Math.abs(given - fruitKg) > 0.1 * fruitKg ? [`Its picks make ${kilograms(given)}, and ${kilograms(fruitKg)} of fruit were written.`] : []),
    ...(spread?.wide === true ? [`The fruit is of very different ripeness (classes ${spread.low} to ${spread.high}). One drum holds two cures: taste fruit of each colour.`] : []),
  ];
};
