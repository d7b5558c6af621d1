import { litresPerGallon, massScale, typedNumber, volumeScale, type UnitChoice } from '../../format/units.ts';

/** What a field or an answer measures: metric inside, and how a reader's own units say it. */
export type Quantity = 'temperature' | 'temperature-step' | 'kilograms' | 'litres' | 'millilitres' | 'share' | 'plain';

export interface Measure {
  readonly unit: string;
  readonly decimals: number;
  readonly toShown: (metric: number) => number;
  readonly toMetric: (shown: number) => number;
}

const scaled = (unit: string, metric: number, decimals: number): Measure => ({ unit, decimals, toShown: (value) => value / metric, toMetric: (value) => value * metric });

/** 128 fluid ounces are one US gallon, by definition (NIST Handbook 44, appendix C). */
const millilitresPerFluidOunce = (litresPerGallon * 1_000) / 128;

export const measureOf = (quantity: Quantity, units: UnitChoice, unit = '', decimals?: number): Measure => {
  switch (quantity) {
    case 'temperature':
      return units.temperature === 'F' ? { unit: '°F', decimals: 1, toShown: (c) => (c * 9) / 5 + 32, toMetric: (f) => ((f - 32) * 5) / 9 } : scaled('°C', 1, 1);
    case 'temperature-step':
      return units.temperature === 'F' ? scaled('°F', 5 / 9, 2) : scaled('°C', 1, 2);
    case 'kilograms':
      return scaled(massScale(units).unit, massScale(units).metric / 1_000, 2);
    case 'litres':
      return scaled(volumeScale(units).unit, volumeScale(units).metric, 2);
    case 'millilitres':
      return units.volume === 'gal' ? scaled('fl oz', millilitresPerFluidOunce, 1) : scaled('mL', 1, 0);
    case 'share':
      return scaled('%', 0.01, decimals ?? 0);
    case 'plain':
      return scaled(unit, 1, decimals ?? 2);
  }
};

/** With a real minus sign, without idle zeros and never as minus zero. */
export const plain = (value: number, decimals: number): string => {
  const text = exact(value, decimals);
  return text.includes('.') ? text.replace(/0+$/, '').replace(/\.$/, '') : text;
};

/** The same with all its places: a pH is 4.10, not 4.1. */
export const exact = (value: number, decimals: number): string => {
  const text = value.toFixed(decimals);
  return (Number(text) === 0 ? text.replace('-', '') : text).replace('-', '−');
};

export const inMeasure = (metric: number, { toShown, decimals }: Measure): string => plain(toShown(metric), decimals);

/** A number never parted from its unit at the end of a line. */
export const withUnit = (text: string, unit: string): string => (unit === '' ? text : `${text}\u00a0${unit}`);

export const amount = (metric: number, quantity: Quantity, units: UnitChoice): string => {
  const measure = measureOf(quantity, units);
  return withUnit(inMeasure(metric, measure), measure.unit);
};

/** As fine as a jug or a scale can tell. */
export const volume = (litres: number, units: UnitChoice): { readonly text: string; readonly unit: string } => {
  const { unit, toShown } = measureOf('litres', units);
  const value = toShown(litres);
  return { text: plain(value, value < 10 ? 2 : value < 100 ? 1 : 0), unit };
};

export const volumeWords = (litres: number, units: UnitChoice): string => {
  const { text, unit } = volume(litres, units);
  return withUnit(text, unit);
};

/** Whole tenths of a degree, as a probe tells them. */
export const degrees = (celsius: number, units: UnitChoice): { readonly text: string; readonly unit: string } => {
  const { unit, toShown } = measureOf('temperature', units);
  return { text: exact(toShown(celsius), 1), unit };
};

export const degreesInWords = (celsius: number, units: UnitChoice): string => {
  const { text, unit } = degrees(celsius, units);
  return withUnit(text, unit);
};

/** Millilitres up to a litre, then litres; fluid ounces up to half a gallon, then gallons. */
export const smallVolume = (millilitres: number, units: UnitChoice): { readonly text: string; readonly unit: string } => {
  const large = units.volume === 'gal' ? millilitres >= millilitresPerFluidOunce * 64 : millilitres >= 1_000;
  const measure = measureOf(large ? 'litres' : 'millilitres', units);
  return { text: inMeasure(large ? millilitres / 1_000 : millilitres, measure), unit: measure.unit };
};

/** Cups and spoons come in these parts. */
const cupParts = [0, 1 / 4, 1 / 3, 1 / 2, 2 / 3, 3 / 4] as const;
const partWords = ['', '1/4', '1/3', '1/2', '2/3', '3/4'] as const;
const nearEnough = 0.004;

export const cupsInWords = (cups: number): string => {
  const whole = Math.floor(cups + nearEnough);
  const part = cupParts.findIndex((one) => Math.abs(cups - whole - one) <= nearEnough);
  if (part < 0) return plain(cups, 2);
  return [whole > 0 || part === 0 ? String(whole) : '', partWords[part] ?? ''].filter((word) => word !== '').join(' ');
};

/** The next measure of a cup up or down: 1/3 and then 1/2. */
export const nextCup = (cups: number, up: boolean): number => {
  const whole = Math.floor(cups);
  const stops = [whole - 1, whole, whole + 1].flatMap((from) => cupParts.map((part) => from + part));
  const next = up ? stops.find((stop) => stop > cups + nearEnough) : stops.findLast((stop) => stop < cups - nearEnough);
  return Math.max(0, next ?? cups);
};

/** `1/3`, `1 1/2` or a plain number; null when it is none. */
export const typedCups = (text: string): number | null => {
  const found = /^(?:(\d+)\s+)?(\d+)\s*\/\s*(\d+)$/.exec(text.trim());
  if (found === null) return typedNumber(text);
  const value = Number(found[1] ?? 0) + Number(found[2]) / Number(found[3]);
  return Number.isFinite(value) ? value : null;
};

const steps = [0.1, 0.25, 0.5, 1, 5, 10, 25, 50, 100] as const;

/** One press of a key in shown units: as given where the unit is metric, else the nearest step that is easy to count in. */
export const shownStep = (metricStep: number, { toShown }: Measure): number => {
  const step = toShown(metricStep) - toShown(0);
  if (Math.abs(step - metricStep) < 1e-9 || Math.abs(step - metricStep * 100) < 1e-9) return step;
  return steps.reduce((best, one) => (Math.abs(Math.log(one / step)) < Math.abs(Math.log(best / step)) ? one : best), steps[0]);
};
