/**
 * Metric inside, a reader's own units on screen. Exact by definition: 1 lb = 453.59237 g and 1 in = 25.4 mm (international yard and
 * pound agreement, 1959), so 1 US gallon (231 cubic inches) = 3.785411784 L; °F = °C × 9/5 + 32.
 */
export interface UnitChoice {
  readonly temperature: 'C' | 'F';
  readonly mass: 'g' | 'oz';
  readonly volume: 'L' | 'gal';
}

export const metric: UnitChoice = { temperature: 'C', mass: 'g', volume: 'L' };

export interface Shown {
  readonly text: string;
  readonly unit: string;
}

const gramsPerOunce = 453.59237 / 16;
export const litresPerGallon = 3.785411784;

/** A real minus sign, and never a minus zero. */
const fixed = (value: number, decimals: number): string => {
  const text = value.toFixed(decimals);
  return (Number(text) === 0 ? text.replace('-', '') : text).replace('-', '−');
};

/** At most `decimals` places, without idle zeros. */
const trimmed = (value: number, decimals: number): string => fixed(value, decimals).replace(/(\.\d*?)0+$/, '$1').replace(/\.$/, '');

export const toFahrenheit = (celsius: number): number => (celsius * 9) / 5 + 32;

export const showTemperature = (celsius: number, units: UnitChoice, decimals = 1): Shown =>
  units.temperature === 'F' ? { text: fixed(toFahrenheit(celsius), decimals), unit: '°F' } : { text: fixed(celsius, decimals), unit: '°C' };

/** A difference or rate: scaled, not shifted. */
export const showTemperatureStep = (celsius: number, units: UnitChoice): Shown =>
  units.temperature === 'F' ? { text: fixed((celsius * 9) / 5, 1), unit: '°F' } : { text: fixed(celsius, 1), unit: '°C' };

export const showMass = (grams: number, units: UnitChoice): Shown => {
  if (units.mass === 'oz') {
    const ounces = grams / gramsPerOunce;
    return ounces < 16 ? { text: trimmed(ounces, 1), unit: 'oz' } : { text: trimmed(ounces / 16, 2), unit: 'lb' };
  }
  return grams < 1_000 ? { text: fixed(grams, 0), unit: 'g' } : { text: trimmed(grams / 1_000, grams < 10_000 ? 2 : 1), unit: 'kg' };
};

export const showVolume = (litres: number, units: UnitChoice): Shown => {
  const [value, unit] = units.volume === 'gal' ? [litres / litresPerGallon, 'gal'] : [litres, 'L'];
  return { text: trimmed(value, value < 10 ? 1 : 0), unit };
};

/** Any quantity of a channel or limit, told by its unit as the API writes it. */
export const showQuantity = (value: number, unit: string, units: UnitChoice): Shown => {
  if (unit === 'Cel') return showTemperature(value, units);
  if (unit === 'pH') return { text: fixed(value, 2), unit: 'pH' };
  if (unit === 'g/L') return { text: fixed(value, 0), unit: 'g/L' };
  return { text: trimmed(value, 2), unit };
};

/** A limit, without idle zeros: 25 °C, pH 4.6. */
export const showLimit = (value: number, unit: string, units: UnitChoice): Shown => {
  const shown = showQuantity(value, unit, units);
  return { ...shown, text: shown.text.replace(/(\.\d*?)0+$/, '$1').replace(/\.$/, '') };
};

/** `16.5 °C`; pH reads `pH 4.40`. A number is never parted from its unit at the end of a line. */
export const inWords = ({ text, unit }: Shown): string => (unit === 'pH' ? `pH\u00a0${text}` : `${text}\u00a0${unit}`);

/** What one shown unit holds in the metric unit inside: for fields in which people type their own units. */
export interface Scale {
  readonly unit: string;
  readonly metric: number;
}

export const volumeScale = (units: UnitChoice): Scale => (units.volume === 'gal' ? { unit: 'gal', metric: litresPerGallon } : { unit: 'L', metric: 1 });

/** Larger amounts: kilograms or pounds, in grams. */
export const massScale = (units: UnitChoice): Scale => (units.mass === 'oz' ? { unit: 'lb', metric: gramsPerOunce * 16 } : { unit: 'kg', metric: 1_000 });

/** A number as people type it, with a comma or a point; null when it is none. */
export const typedNumber = (text: string): number | null => {
  const plain = text.trim().replace(',', '.').replace('−', '-');
  return /^-?(\d+\.?\d*|\.\d+)$/.test(plain) ? Number(plain) : null;
};
