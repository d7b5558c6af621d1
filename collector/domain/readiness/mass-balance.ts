import { ingredientBalance } from '../trace/ingredient-balance.ts';
import { lotBalance, type LotBalance } from '../trace/lot-balance.ts';
import { usesIn } from '../trace/uses.ts';
import { onBatch, type Finding, type ReadinessInput, type ReadinessRule } from './finding.ts';

/** Behind it: mass does not balance (7 CFR 205.103 asks for records that can be audited). */
export const massBalance: ReadinessRule = {
  id: 'R23', level: 'look', what: 'Fruit, salt or other stores that do not balance',
  check: (input) => {
    const balances = input.lots.flatMap(({ batch }) => {
      const balance = lotBalance(input.shed, batch, input.now);
      return balance === null ? [] : [{ lot: batch.lot, fruit: balance.fruit }];
    });
    const findings = [...balances.flatMap(({ lot, fruit }) => fruitFinding(lot, fruit, input.settings.massWithinPercent)), ...storeFindings(input)];
    const guessed = balances.length > 0 && balances.every(({ fruit }) => fruit.assumed.includes('drained weight of a jar'));
    return findings.length === 0 && guessed ? { notRecorded: 'the drained weight of a jar is not written down' } : findings;
  },
};

/** A difference is told where it is above the share of the site and above what the guesses in it may be off by. */
const fruitFinding = (lot: string, { expectedKg, unaccountedKg, uncertaintyKg, percent }: LotBalance['fruit'], withinPercent: number): readonly Finding[] => {
  const off = Math.abs(unaccountedKg);
  if (off <= (withinPercent / 100) * expectedKg || off <= uncertaintyKg) return [];
  const more = unaccountedKg < 0;
  return [
    onBatch(
      lot,
      `${off.toFixed(1)} ± ${uncertaintyKg.toFixed(1)} kg of olives (${Math.abs(percent).toFixed(0)} %) ${more ? 'more in jars than the fruit can give' : 'are unaccounted for'}.`,
      more ? 'Look at the number of jars, the drained weight and the fruit weighed.' : 'Look at the number of jars and the fruit weighed, and write down what was thrown away.',
    ),
  ];
};

const storeFindings = ({ shed, now }: ReadinessInput): readonly Finding[] => {
  const uses = usesIn(shed);
  return [...shed.ingredients.values()].flatMap((ingredient): readonly Finding[] => {
    const { verdict, unaccounted, percent } = ingredientBalance(ingredient, uses.filter((use) => use.ingredient === ingredient.id), now);
    if (verdict !== 'does-not-balance' || unaccounted === null || percent === null) return [];
    const { id, name, unit } = ingredient;
    return [{ lot: null, text: `${name} (${id}): ${Math.abs(unaccounted).toFixed(1)} ${unit} (${Math.abs(percent).toFixed(0)} %) ${unaccounted < 0 ? 'more than there should be' : 'unaccounted for'}.`, act: 'Count it again, and write down what was spilled or not named in an act.', place: { screen: 'stores', id } }];
  });
};
