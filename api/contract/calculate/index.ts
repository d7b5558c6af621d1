import type { z } from 'zod';
import type { CalculatorName } from '../calculators.ts';
import { acidDose } from './acid-dose.ts';
import { brineStrength, hydrometer } from './brine-strength.ts';
import { cureRegression } from './cure-regression.ts';
import { drumWarming } from './drum-warming.ts';
import { harvest, maturityIndex } from './harvest.ts';
import { leaching } from './leaching.ts';
import { pasteurisation } from './pasteurisation.ts';
import { phBuffer, phElectrode, phFromMv } from './ph.ts';
import { recipeCheck } from './recipe-check.ts';
import { brineMix, saltByCup } from './salt-dose.ts';
import { saltEquilibrium } from './salt-equilibrium.ts';
import { sensor } from './sensor.ts';
import { degreeHours, meanKineticTemperature } from './temperature.ts';
import type { Calculator } from './calculator.ts';

/** What a drum of a size most likely is, for whoever has not fitted their own. */
export { estimateTimeConstantHours } from '#domain/cure/drum-time-constant.ts';

/** Every calculator by its name: what the server answers, the list tells, OpenAPI prints and a screen draws and works out without a server. */
export const calculators = {
  'brine-strength': brineStrength,
  hydrometer,
  'brine-mix': brineMix,
  'salt-by-cup': saltByCup,
  'salt-equilibrium': saltEquilibrium,
  'ph-buffer': phBuffer,
  'ph-electrode': phElectrode,
  'ph-from-mv': phFromMv,
  'mean-kinetic-temperature': meanKineticTemperature,
  'degree-hours': degreeHours,
  pasteurisation,
  leaching,
  'cure-regression': cureRegression,
  'acid-dose': acidDose,
  'drum-warming': drumWarming,
  'maturity-index': maturityIndex,
  yield: harvest,
  sensor,
  'recipe-check': recipeCheck,
} as const satisfies Record<CalculatorName, Pick<Calculator, 'title' | 'purpose' | 'source' | 'fields' | 'validRange'>>;

export type Calculators = typeof calculators;
export type CalculatorInput<Name extends CalculatorName> = z.input<Calculators[Name]['input']>;
export type CalculatorAnswer<Name extends CalculatorName> = z.output<Calculators[Name]['answer']>;
