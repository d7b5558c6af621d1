import type { CalibrationCheck, Deviation, ReadinessCheck } from '#contract';
import { inWords, showLimit, type UnitChoice } from '../format/units.ts';
import type { Route } from './route.ts';

/** Words of the three screens an owner reads before an inspector comes: what is open, departures, instruments. */
export const levelWords = {
  stop: 'Stop',
  fix: 'Fix',
  look: 'Look',
} as const satisfies Record<ReadinessCheck['level'], string>;

export const levelMeaning = {
  stop: 'A release asks for a written reason while this is open.',
  fix: 'Mend it before an inspector comes.',
  look: 'Worth knowing.',
} as const satisfies Record<ReadinessCheck['level'], string>;

type Finding = ReadinessCheck['findings'][number];

/** The screen on which a finding is mended; null: on the one it stands on. */
export const placeOf = ({ place: { screen, id } }: Finding): { readonly words: string; readonly to: Route } | null => {
  switch (screen) {
    case 'batch':
      return id === null ? { words: 'Lots', to: { view: 'lots' } } : { words: `Lot ${id}`, to: { view: 'batch', lot: id } };
    case 'deviations':
      return { words: 'Deviations', to: { view: 'deviations' } };
    case 'instruments':
      return { words: 'Instruments', to: { view: 'instruments' } };
    case 'lots':
      return { words: 'Lots', to: { view: 'lots' } };
    case 'stores':
    case 'producer':
      return { words: 'Stores', to: { view: 'stores' } };
    case 'recall':
      return { words: 'Trace', to: { view: 'trace', of: null } };
    case 'journal':
      return { words: 'Records', to: { view: 'records' } };
    case 'readiness':
      return id === null ? null : { words: `Lot ${id}`, to: { view: 'batch', lot: id } };
    case 'limits':
      return null;
  }
};

const quantityWords: Readonly<Record<string, string>> = { temperature: 'Temperature', ph: 'pH of the brine', salinity: 'Salt', 'jar-ph': 'pH of packed jars', 'brine-age': 'Age of the water' };

export const deviationTitle = ({ quantity }: Pick<Deviation, 'quantity'>): string => quantityWords[quantity] ?? quantity;

/** What was broken and by how much: the limit with whose it is, and the worst value. */
export const deviationFacts = ({ bound, worst }: Pick<Deviation, 'bound' | 'worst'>, units: UnitChoice): string => {
  const side = bound.side === 'low' ? 'at least' : 'at most';
  const limit = bound.value === null ? 'Limit' : `${side} ${inWords(showLimit(bound.value, bound.unit, units))}`;
  const found = worst === null ? 'worst value not recorded' : `worst ${inWords(showLimit(worst, bound.unit, units))}`;
  return `${limit.charAt(0).toUpperCase()}${limit.slice(1)}, ${found}`;
};

/** One number a check gave, to be drawn over time. */
export interface CheckPoint {
  readonly t: number;
  readonly value: number;
  readonly failed: boolean;
}

export const checkSeries = ['slopePercent', 'offsetMv', 'errorC'] as const;
export type CheckSeries = (typeof checkSeries)[number];

/** Oldest first. */
export const pointsOf = (checks: readonly CalibrationCheck[], series: CheckSeries): readonly CheckPoint[] =>
  checks.flatMap((check) => (check[series] === null ? [] : [{ t: Date.parse(check.at), value: check[series], failed: check.failed !== null }])).toSorted((one, other) => one.t - other.t);

export const seriesWords = {
  slopePercent: { title: 'Slope', unit: '%', low: 92, high: 102 },
  offsetMv: { title: 'Offset', unit: 'mV', low: -30, high: 30 },
  errorC: { title: 'Error in ice', unit: '°C', low: -1, high: 1 },
} as const satisfies Record<CheckSeries, { readonly title: string; readonly unit: string; readonly low: number; readonly high: number }>;

/** From numbers to a picture of 0 to 1 each way; the band and all points lie inside. One point stands in the middle. */
export const checkPicture = (points: readonly CheckPoint[], band: { readonly low: number; readonly high: number }): { readonly dots: readonly { readonly x: number; readonly y: number; readonly failed: boolean }[]; readonly bandTop: number; readonly bandBottom: number } => {
  const values = [...points.map(({ value }) => value), band.low, band.high];
  const [least, most] = [Math.min(...values), Math.max(...values)];
  const room = (most - least) * 0.1;
  const y = (value: number): number => (most + room - value) / (most - least + 2 * room);
  const [first, last] = [points[0]?.t ?? 0, points.at(-1)?.t ?? 0];
  return { dots: points.map(({ t, value, failed }) => ({ x: last === first ? 0.5 : (t - first) / (last - first), y: y(value), failed })), bandTop: y(band.high), bandBottom: y(band.low) };
};
