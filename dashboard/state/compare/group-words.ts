import type { CompareFit, CompareGroup, CureStyle } from '#contract';
import { inWords, showTemperature, showTemperatureStep, type UnitChoice } from '../../format/units.ts';

/** What a group of finished cures says, in sentences that claim no more than the cures allow. */
export const styleWords: Readonly<Record<CureStyle, string>> = { 'changed-brine': 'changed brine', 'kept-brine': 'kept brine', 'water-then-brine': 'water, then brine' };

export const kindWords = ({ cut, style, maturity }: Pick<CompareGroup, 'cut' | 'style' | 'maturity'>): string => `${cut} · ${styleWords[style]} · ${maturity}`;

/** At most one decimal, and no idle one. */
export const daysNumber = (days: number): string => String(Math.round(days * 10) / 10).replace('-', '−');
export const daysWords = (days: number): string => `${daysNumber(days)}\u00a0${Math.round(days * 10) === 10 ? 'day' : 'days'}`;

const spanOf = (low: string, high: string): string => (low === high ? low : `${low} to ${high}`);
const temperatures = ({ low, high }: { readonly low: number; readonly high: number }, units: UnitChoice): string => {
  const [from, to] = [showTemperature(low, units), showTemperature(high, units)];
  return from.text === to.text ? inWords(from) : `${from.text} to ${inWords(to)}`;
};

export interface GroupWords {
  readonly strong: string;
  readonly plain: string;
}

/** One cure is known only to lie between two of its tastings. */
const singleWords = (cure: CompareGroup['cures'][number] | undefined, days: number): string =>
  cure?.bitterDays == null || daysNumber(cure.bitterDays) === daysNumber(days) ? `at most ${daysWords(days)}` : `between ${daysNumber(cure.bitterDays)} and ${daysWords(days)}`;

const counted = (cures: number): string => (cures === 1 ? 'One cure' : `${String(cures)} cures`);

export const groupWords = ({ cures: finished, fit, interval }: Pick<CompareGroup, 'cures' | 'fit' | 'interval'>, units: UnitChoice): GroupWords => {
  if (fit === null) return { strong: 'No finished cure yet.', plain: '' };
  const { cures, days, temperatureC } = fit;
  const took = spanOf(daysNumber(days.low), daysWords(days.high));
  if (fit.method === 'too-few') {
    return {
      strong: cures === 1 ? `Your last batch took ${singleWords(finished[0], days.high)}, at ${temperatures(temperatureC, units)}.` : `Your last ${String(cures)} batches took ${took}, at ${temperatures(temperatureC, units)}.`,
      plain: `That is too little for a line. From four cures on, with ${inWords(showTemperatureStep(4, units))} between the coldest and the warmest, this page says what a degree does.`,
    };
  }
  if (fit.method === 'energy-assumed') {
    return {
      strong: `${counted(cures)} took ${took}, all near ${temperatures(temperatureC, units)}.`,
      plain: `Their temperatures are too alike to tell what a degree does (${inWords(showTemperatureStep(4, units))} apart would do). The height of the line is yours; its slope is an assumption.`,
    };
  }
  if (!fit.plausible) {
    return {
      strong: `${counted(cures)} from ${temperatures(temperatureC, units)} took ${took}, but temperature does not explain it.`,
      plain: 'The line through them has a slope that no such process has. Something else decides here: brine changes, the fruit, or when it was tasted. Do not plan by it.',
    };
  }
  const unshown = fit.energyInterval.low <= 0 ? ' They scatter too much to show it by themselves yet: most of that is the usual dependence, assumed.' : '';
  return { strong: degreeWords(interval, fit, units), plain: `${counted(cures)}, from ${temperatures(temperatureC, units)}, took ${took}.${unshown}` };
};

/** Spread of the assumed activation energy, and the width of a 95 % interval in standard deviations. */
const assumedSd = 15;
const normal95 = 1.96;

type Fitted = Exclude<CompareFit, { method: 'too-few' }>;

/** What one degree does near the middle of the cures, by the cautious slope and with its interval: with few cures it leans on the assumption. */
const degreeWords = (interval: CompareGroup['interval'], fit: Fitted, units: UnitChoice): string => {
  const points = interval?.points ?? [];
  const middle = (fit.temperatureC.low + fit.temperatureC.high) / 2;
  const near = points.findIndex(({ temperatureC }) => temperatureC >= middle - 0.5);
  const [here, next] = [points[near], points[near + 1]];
  if (here === undefined || next === undefined) return '';
  // A degree is a degree of the scale that is read; ln(days) falls in proportion to the energy.
  const degrees = units.temperature === 'F' ? 5 / 9 : 1;
  const perEnergy = (Math.log(next.shrunkenDays / here.shrunkenDays) * degrees) / fit.shrunkenKjPerMol;
  const shorter = (energy: number): number => Math.round((1 - Math.exp(perEnergy * energy)) * 100);
  const sd = fit.standardError > 0 ? 1 / Math.hypot(1 / fit.standardError, 1 / assumedSd) : 0;
  const [low, likely, high] = [-1, 0, 1].map((side) => shorter(fit.shrunkenKjPerMol + side * normal95 * sd));
  const at = inWords(showTemperature(here.temperatureC, units, 0));
  const warmer = here.shrunkenDays * Math.exp(perEnergy * fit.shrunkenKjPerMol);
  const range = low === high ? '' : ` (${String(low).replace('-', '−')} to ${String(high)}\u00a0%)`;
  return `Near ${at}, one degree warmer makes a cure about ${String(likely)}\u00a0% shorter${range}: ${daysWords(here.shrunkenDays)} become ${daysNumber(warmer)}.`;
};

/** The fit in the terms of a statistician, for the table. */
export const fitFacts = (fit: CompareFit, units: UnitChoice): readonly (readonly [name: string, value: string])[] => {
  const common: (readonly [string, string])[] = [['Cures', String(fit.cures)], ['Temperatures', temperatures(fit.temperatureC, units)]];
  if (fit.method === 'too-few') return common;
  const energy = (value: number): string => `${value.toFixed(1).replace('-', '−')}\u00a0kJ/mol`;
  if (fit.method === 'energy-assumed') return [...common, ['Activation energy', '45 ± 15\u00a0kJ/mol, assumed'], ['Scatter of ln(days)', fit.residual.toFixed(3)]];
  return [
    ...common,
    ['Activation energy', `${energy(fit.activationEnergyKjPerMol)} (95 %: ${fit.energyInterval.low.toFixed(1).replace('-', '−')} to ${energy(fit.energyInterval.high)})`],
    ['Pulled towards 45 ± 15', energy(fit.shrunkenKjPerMol)],
    ['Scatter of ln(days)', fit.residual.toFixed(3)],
    ['R²', (fit.rSquared ?? 0).toFixed(3)],
  ];
};
