import { z } from 'zod';
import { percentWwFrom } from '#domain/brine/bases.ts';
import { saltEquilibrium as settle, saltEquilibriumRanges as ranges, saltEquilibriumSource } from '#domain/brine/salt-equilibrium.ts';
import { asFound, calculator, number } from './calculator.ts';
import { weakBrine } from './caution.ts';
import { quantity } from './fields.ts';

export const saltEquilibrium = calculator({
  title: 'Salt once settled',
  purpose: 'Where the salt of a brine settles once the fruit has taken its share, and what brings it to a target.',
  source: `${saltEquilibriumSource}; volumes constant, ± 10 % on the flesh water.`,
  input: z.strictObject({
    fruitKg: quantity('Fruit', ranges.fruitKg),
    stoneFraction: quantity('Share that is stone', ranges.stoneFraction),
    fleshMoisture: quantity('Water in the flesh', ranges.fleshMoisture),
    brineL: quantity('Brine', ranges.brineL),
    brineGPerL: quantity('Salt in the brine', ranges.brineGPerL),
    fleshGPerL: quantity('Salt in the flesh water', ranges.fleshGPerL).default(0),
    targetGPerL: quantity('Salt wanted once settled', ranges.targetGPerL).optional(),
  }),
  answer: {
    fleshWaterL: number('L', 'Water in the flesh'),
    equilibriumGPerL: number('g/L', 'Settles at'),
    brineForTargetGPerL: number('g/L', 'One fresh brine for the target').optional(),
    dryTopUpG: number('g', 'Dry salt for the target').optional(),
  },
  find: (input) => asFound(settle(input), ({ equilibriumGPerL }) => ({ caution: weakBrine(percentAt20C(equilibriumGPerL)) })),
});

/** The published least is % w/w or w/v by source; the stricter reading is taken. */
const percentAt20C = (gPerL: number): number => {
  const percent = percentWwFrom('g-per-l', gPerL, 20);
  return percent.ok ? percent.value : 0;
};
