import type { Ingredient, Trace, TraceKind } from '#contract';

/** The trace in words. */
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

export const amount = (value: number, unit: string): string => `${String(Math.round(value * 100) / 100)} ${unit}`;

export const ingredientLine = (balance: Ingredient['balance'], unit: string): BalanceLine => {
  const { received, used, spilled, onHand, expected, unaccounted, percent, usesUnknown, verdict } = balance;
  const start = `${amount(received, unit)} came in, ${amount(used, unit)} used${spilled > 0 ? `, ${amount(spilled, unit)} spilled` : ''}.`;
  const unknown = usesUnknown > 0 ? ` How much was taken ${String(usesUnknown)} ${usesUnknown === 1 ? 'time' : 'times'} is not written.` : '';
  if (onHand === null) return { title: 'What is left', text: `${start}${unknown} About ${amount(Math.max(0, expected), unit)} should be left; nobody weighed it.`, balances: null };
  if (unaccounted === null) return { title: 'What is left', text: `${start}${unknown} ${amount(onHand, unit)} here.`, balances: null };
  return { title: 'What is left', text: `${start} ${amount(onHand, unit)} here. Unaccounted ${amount(unaccounted, unit)} (${(percent ?? 0).toFixed(1)} %).`, balances: verdict === 'balances' };
};

export const verdictWords = (balances: boolean | null): string => (balances === null ? 'unknown' : balances ? 'balances' : 'does not balance');
