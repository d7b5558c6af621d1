import { z } from 'zod';
import type { CureDays, CureRegression } from '#domain/cure/cure-regression.ts';
import { cureRanges, fitCures, predictCureDays } from '#domain/cure/cure-regression.ts';
import { ok } from '#domain/result.ts';
import { calculator, number } from './calculator.ts';
import { bitternessIsNotSafety } from './caution.ts';
import { numbers, quantity, rows } from './fields.ts';

const mostCures = 100;
const mostPredictions = 100;
const span = (unit: string) => z.object({ low: number(unit), high: number(unit) });

export const cureRegression = calculator({
  title: 'Cure days by temperature',
  purpose: 'How the days of a cure depend on temperature, by your own finished cures of one cut, style and maturity.',
  source: 'Arrhenius equation by least squares, 95 % prediction interval; 45 ± 15 kJ/mol where temperatures are too alike, and the thresholds, are assumptions',
  input: z.strictObject({
    cures: rows('Finished cures', { temperatureC: quantity('Mean kinetic temperature', cureRanges.temperatureC), days: quantity('Days', cureRanges.days), tastedEveryDays: quantity('Days between tastings', { low: 0, high: cureRanges.days.high, unit: 'days' }).optional() }, mostCures),
    at: numbers('Temperatures to look at', quantity('Temperature', cureRanges.temperatureC), mostPredictions),
  }),
  answer: {
    method: z.enum(['fitted', 'energy-assumed', 'too-few']),
    refused: z.string().optional().meta({ description: 'why nothing was fitted; the fixed numbers are then null' }),
    activationEnergyKjPerMol: number('kJ/mol', 'Activation energy').nullable(),
    intercept: number('ln(days)', 'Intercept').nullable(),
    standardError: number('kJ/mol', 'Standard error of the energy').nullable(),
    residual: number('ln(days)', 'Scatter').nullable(),
    rSquared: number('', 'R²').nullable().meta({ description: 'null also where the energy was assumed' }),
    shrunkenKjPerMol: number('kJ/mol', 'Energy, pulled towards the assumption').optional(),
    plausible: z.boolean().optional().meta({ description: 'false: an energy no such process has; something other than temperature decides' }),
    observed: z.object({ cures: z.number(), temperatureC: span('°C'), days: span('d') }),
    predictions: z.array(z.object({ temperatureC: number('°C'), days: number('d').nullable(), low: number('d'), high: number('d'), extrapolated: z.boolean() })),
  },
  find: ({ cures, at }) => {
    const fit = fitCures(cures);
    if (!fit.ok) return fit;
    const { method, cures: count, temperatureC, days } = fit.value;
    const found = { method, observed: { cures: count, temperatureC, days } };
    const caution = bitternessIsNotSafety();
    if (fit.value.method === 'too-few') return ok({ answer: { ...found, ...tooFew(fit.value, at) }, caution });
    const predictions: CureDays[] = [];
    for (const one of at) {
      const prediction = predictCureDays(fit.value, one);
      if (!prediction.ok) return prediction;
      predictions.push(prediction.value);
    }
    const { activationEnergyKjPerMol, intercept, standardError, residual, rSquared, shrunkenKjPerMol, plausible } = fit.value;
    const assumed = method === 'energy-assumed' ? { assumed: ['activationEnergyKjPerMol'] } : {};
    return ok({ answer: { ...found, activationEnergyKjPerMol, intercept, standardError, residual, rSquared, shrunkenKjPerMol, plausible, predictions }, caution, ...assumed });
  },
});

/** Nothing is fitted, so no day is named: only how long the cures took that there are. */
const tooFew = ({ temperatureC, days, cures }: CureRegression, at: readonly number[]) => ({
  refused: `${cures} of the 4 finished cures that a fit needs: low and high are what these cures took`,
  activationEnergyKjPerMol: null, intercept: null, standardError: null, residual: null, rSquared: null,
  predictions: at.map((one) => ({ temperatureC: one, days: null, low: days.low, high: days.high, extrapolated: one < temperatureC.low || one > temperatureC.high })),
});
