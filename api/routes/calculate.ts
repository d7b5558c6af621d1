import { calculatorNames, loadCalculators, type CalculatorName } from '#contract';
import { ApiError, doesNotFit, notFound } from '../errors.ts';
import type { Handlers } from './mount.ts';

const { calculators } = await loadCalculators();

const isCalculator = (name: string): name is CalculatorName => (calculatorNames as readonly string[]).includes(name);

/** The calculators over HTTP; nothing is written, and every number comes from the domain. */
export const calculateRoutes: Handlers<'calculators' | 'calculate'> = {
  calculators: () => ({
    calculators: calculatorNames.map((name) => {
      const { title, purpose, fields, source, validRange } = calculators[name];
      return { name, title, purpose, inputs: [...fields], source, validRange };
    }),
  }),
  calculate: ({ params, body }) => {
    const name = params['name'] ?? '';
    if (!isCalculator(name)) throw notFound(`calculator ${name}; there are ${calculatorNames.join(', ')}`);
    const worked = calculators[name].work(body);
    if (worked.ok) return worked.value;
    if (worked.error.code === 'does-not-fit') throw doesNotFit(worked.error.error);
    const { field, message } = worked.error;
    throw new ApiError('outside-valid-range', message, [{ path: field, message }]);
  },
};
