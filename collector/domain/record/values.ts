import { hourMs } from '../units/time.ts';
import type { RecordLimit } from './lot-record.ts';

const unitsOf: Readonly<Record<string, { readonly decimals: number; readonly symbol: string }>> = {
  Cel: { decimals: 1, symbol: ' °C' },
  pH: { decimals: 2, symbol: '' },
  'g/L': { decimals: 1, symbol: ' g/L' },
};

/** Without a minus before nothing. */
const fixed = (value: number, decimals: number): string => value.toFixed(decimals).replace(/^-(?=[0.]+$)/, '');

/** A number as papers print it: °C with one decimal, pH with two, salt in whole grams. */
export const shown = (value: number | null, unit: string): string => {
  if (value === null) return 'not measured';
  const { decimals, symbol } = unitsOf[unit] ?? { decimals: 2, symbol: ` ${unit}` };
  return `${fixed(value, decimals)}${symbol}`;
};

export const withUncertainty = (value: number | null, uncertainty: number | null, unit: string): string => {
  if (value === null) return 'not measured';
  const { decimals, symbol } = unitsOf[unit] ?? { decimals: 2, symbol: ` ${unit}` };
  return `${fixed(value, decimals)}${uncertainty === null ? '' : ` ± ${uncertainty.toFixed(decimals)}`}${symbol}`;
};

/** The unit of the trade beside the metric one. */
const tradeUnit = (value: number, unit: string): string => (unit === 'Cel' ? ` (${((value * 9) / 5 + 32).toFixed(0)} °F)` : unit === 'g/L' ? ` (${(value / 10).toFixed(1)} % w/v)` : '');

const quantityWords: Readonly<Record<string, string>> = { temperature: 'drum temperature', ph: 'pH in the drum', salinity: 'salt in the drum', 'jar-ph': 'pH of packed jars', 'jar-salinity': 'salt of packed jars, at rest' };
export const quantityWord = (quantity: string): string => quantityWords[quantity] ?? quantity;

const stageWords: Readonly<Record<string, string>> = { soak: 'in water', leach: 'leaching', ferment: 'fermenting', hold: 'waiting for jars' };

export const limitWords = ({ quantity, stage, side, value, unit }: Pick<RecordLimit, 'quantity' | 'stage' | 'side' | 'value' | 'unit'>): string => {
  const when = stageWords[stage];
  return `${quantityWord(quantity)} ${side === 'high' ? 'at most' : 'at least'} ${shown(value, unit)}${tradeUnit(value, unit)}${when === undefined ? '' : `, ${when}`}`;
};

/** Rounded down, so that less than all is never printed as all. */
export const percent = (share: number | null): string => (share === null ? '-' : share === 1 ? '100 %' : `${(Math.floor(share * 1_000) / 10).toFixed(1)} %`);

export const duration = (ms: number): string => {
  const hours = ms / hourMs;
  return hours < 1 ? `${Math.round(hours * 60)} min` : hours < 72 ? `${(Math.round(hours * 10) / 10).toString()} h` : `${(Math.round(hours / 2.4) / 10).toString()} days`;
};
