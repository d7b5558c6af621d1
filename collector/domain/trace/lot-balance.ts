import { defaultStoneFraction } from '../cure/leaching-defaults.ts';
import { cutPackingKgPerL, wholePackingKgPerL } from '../jar/jar-fill.ts';
import { jarStock } from '../jar/jar-stock.ts';
import type { Producer } from '../journal/producer.ts';
import { isAct, type Batch, type Shed } from '../journal/shed.ts';
import { massOf } from '../season/pick.ts';
import type { EpochMs } from '../units/time.ts';
import { fruitBalance, fruitGuesses, type FruitBalance, type FruitFlow } from './fruit-balance.ts';
import { jarBalanceOf, type JarBalance } from './jar-balance.ts';

export interface LotBalance {
  readonly jars: JarBalance;
  /** When the jars were last counted; null: nobody did. */
  readonly countedAt: EpochMs | null;
  readonly fruit: FruitBalance & { readonly flow: FruitFlow; readonly assumed: readonly string[] };
}

/** One taste takes a fruit or two (assumption). */
const tasteKg = 0.01;

/** How far the usual weight of fruit in a jar is from that of these jars, where nobody weighed one (assumption). */
const packingShare = 0.15;

/** Whether the jars and the fruit of a lot add up; null while it is not in jars. */
export const lotBalance = (shed: Pick<Shed, 'picks' | 'producer'>, batch: Batch, now: EpochMs): LotBalance | null => {
  const packed = batch.acts.filter(isAct('jarred')).findLast(({ at }) => at <= now);
  if (packed === undefined) return null;
  const stock = jarStock(batch.acts, now);
  const count = batch.acts.filter(isAct('jars-noted')).findLast(({ at, body }) => at <= now && body.what === 'counted');
  const leftThen = count === undefined ? 0 : jarStock(batch.acts, count.at).left;
  const { flow, assumed } = fruitFlow(shed, batch, packed.body, now);
  return {
    jars: jarBalanceOf(stock, count === undefined ? null : { jars: count.body.jars, leftThen }),
    countedAt: count?.at ?? null,
    fruit: { ...fruitBalance(flow), flow, assumed },
  };
};

const fruitFlow = ({ picks, producer }: Pick<Shed, 'picks' | 'producer'>, batch: Batch, { jars, jarMl }: { readonly jars: number; readonly jarMl: number }, now: EpochMs): { readonly flow: FruitFlow; readonly assumed: readonly string[] } => {
  const weighed = drainedOf(producer, jarMl);
  const packed = (jarMl / 1_000) * (batch.cut === 'whole' ? wholePackingKgPerL : cutPackingKgPerL);
  const culledKg = cullsOf(picks, batch);
  const tastings = batch.acts.filter(isAct('tasted')).filter(({ at }) => at <= now).length;
  return {
    flow: {
      pickedKg: batch.fruitKg + culledKg,
      culledKg,
      cut: batch.cut,
      stone: { value: defaultStoneFraction, plusMinus: fruitGuesses.stone.plusMinus },
      weightChange: fruitGuesses.weightChange,
      jars,
      drainedKgPerJar: weighed === null ? { value: packed, plusMinus: packed * packingShare } : { value: weighed, plusMinus: fruitGuesses.jarKg },
      tastedKg: tastings * tasteKg,
      spoiledKg: 0,
      onHandKg: 0,
      scaleKg: fruitGuesses.scaleKg,
    },
    assumed: ['weight taken up in brine', ...(batch.cut === 'pitted' ? ['share of stones'] : []), ...(weighed === null ? ['drained weight of a jar'] : []), ...(tastings > 0 ? ['10 g a tasting'] : [])],
  };
};

const drainedOf = (producer: Producer | null, jarMl: number): number | null => {
  const weight = producer?.weights.find((each) => each.jarMl === jarMl);
  return weight === undefined ? null : weight.drainedG / 1_000;
};

/** Of what was sorted out of its picks, the share that falls on this lot by its weight. */
const cullsOf = (picks: Shed['picks'], batch: Batch): number =>
  batch.picks.reduce((sum, { pick, kg }) => {
    const from = picks.get(pick);
    const mass = from === undefined ? null : massOf(from);
    if (from === undefined || mass === null) return sum;
    const culls = from.sortings.filter(({ standing }) => standing).flatMap((sorting) => sorting.culls).reduce((total, cull) => total + cull.kg, 0);
    return mass - culls <= 0 ? sum : sum + (culls * kg) / (mass - culls);
  }, 0);
