import type { Ingredient, Trace, TraceKind } from '#contract';

/** The trace in words. */
/** On a phone, where the things are a list. */
export const kindHeads: readonly (readonly [TraceKind, string])[] = [
  ['trees', 'Trees'], ['pick', 'Picks'], ['ingredient', 'Ingredient lots'], ['probe', 'Probes and meters'], ['batch', 'Batches'], ['jars', 'Jars'], ['buyer', 'Buyers'],
];

export const kindWords: Readonly<Record<TraceKind, string>> = { trees: 'Trees', pick: 'Pick', ingredient: 'Ingredient lot', probe: 'Probe or meter', batch: 'Batch', jars: 'Jars', buyer: 'Buyer' };

const kg = (value: number): string => `${value.toFixed(2)} kg`;

export interface BalanceLine {
  readonly title: string;
  readonly text: string;
  readonly balances: boolean | null;
}

export const jarLine = ({ lot, jars }: Trace['balances'][number]): BalanceLine => {
  const { filled, sold, tested, broken, otherwise, returned, onHand, unaccounted, percentLocated, countedAt, verdict } = jars;
  const parts = [`${String(sold)} with buyers`, ...(tested > 0 ? [`${String(tested)} tested`] : []), ...(broken > 0 ? [`${String(broken)} broken`] : []), ...(otherwise > 0 ? [`${String(otherwise)} otherwise gone`] : []), ...(returned > 0 ? [`${String(returned)} came back`] : []), `${String(onHand)} here`];
  const end = countedAt === null ? 'Nobody counted the shelf: what should be here is taken for what is here.' : `Unaccounted ${String(unaccounted)}: ${percentLocated.toFixed(0)} % located.`;
  return { title: `Jars of ${lot}`, text: `${String(filled)} filled = ${parts.join(' + ')}. ${end}`, balances: countedAt === null ? null : verdict === 'balances' };
};

export const fruitLine = ({ lot, fruit }: Trace['balances'][number]): BalanceLine => ({
  title: `Fruit of ${lot}`,
  text: `${kg(fruit.pickedKg)} picked, ${kg(fruit.culledKg)} sorted out: ${kg(fruit.expectedKg)} expected, ${kg(fruit.foundKg)} found. Unaccounted ${kg(fruit.unaccountedKg)} ± ${kg(fruit.uncertaintyKg)} (${fruit.percent.toFixed(1)} %). Assumed: ${fruit.assumed.join(', ')}.`,
  balances: fruit.verdict === 'balances',
});

export const amount = (value: number, unit: string): string => {
  const rounded = Math.round(value * 100) / 100;
  return `${String(rounded)} ${unit === 'pieces' && rounded === 1 ? 'piece' : unit}`;
};

/** Nobody writes how much of these an act takes: what should be left is not known. */
const notMeasuredOut: ReadonlySet<Ingredient['item']> = new Set<Ingredient['item']>(['herbs', 'oil', 'buffer', 'cleaner', 'other']);

export const leftWords = ({ item, unit, balance }: Pick<Ingredient, 'item' | 'unit' | 'balance'>): string => {
  if (balance.onHand !== null) return `${amount(balance.onHand, unit)} left`;
  return notMeasuredOut.has(item) || balance.usesUnknown > 0 ? 'not counted' : `about ${amount(Math.max(0, balance.expected), unit)} left`;
};

export const ingredientLine = (balance: Ingredient['balance'], unit: string, item: Ingredient['item'] | null = null): BalanceLine => {
  const { received, used, spilled, onHand, expected, unaccounted, percent, usesUnknown, verdict } = balance;
  const start = `${amount(received, unit)} came in, ${amount(used, unit)} used${spilled > 0 ? `, ${amount(spilled, unit)} spilled` : ''}.`;
  const unknown = usesUnknown > 0 ? ` How much was taken ${String(usesUnknown)} ${usesUnknown === 1 ? 'time' : 'times'} is not written.` : '';
  if (onHand === null && item !== null && notMeasuredOut.has(item)) return { title: 'What is left', text: `${amount(received, unit)} came in. How much is taken is not written; count what is left.`, balances: null };
  if (onHand === null) return { title: 'What is left', text: `${start}${unknown} About ${amount(Math.max(0, expected), unit)} should be left; nobody weighed it.`, balances: null };
  if (unaccounted === null) return { title: 'What is left', text: `${start}${unknown} ${amount(onHand, unit)} here.`, balances: null };
  return { title: 'What is left', text: `${start} ${amount(onHand, unit)} here. Unaccounted ${amount(unaccounted, unit)} (${(percent ?? 0).toFixed(1)} %).`, balances: verdict === 'balances' };
};

export const verdictWords = (balances: boolean | null): string => (balances === null ? 'unknown' : balances ? 'balances' : 'does not balance');
