import type { Channel } from '../reading/channel.ts';

/**
 * Units a channel may arrive in, and how each becomes the unit it is stored in.
 * Names are those of the SenML units registry (RFC 8428 section 12.1, RFC 8798 secondary units); `degF` is ours.
 * `%` is left out on purpose: in SenML it is a ratio, on many senders it is not, so it is refused instead of guessed.
 */
const same = (value: number): number => value;
const fahrenheitToCelsius = (degF: number): number => ((degF - 32) * 5) / 9;
/** 0 °C is 273.15 K (the 275.15 printed in an example of RFC 8428 is an erratum). */
const kelvinToCelsius = (kelvin: number): number => kelvin - 273.15;
const temperature = { Cel: same, K: kelvinToCelsius, degF: fahrenheitToCelsius };

const conversions: Readonly<Record<Channel, Readonly<Record<string, (value: number) => number>>>> = {
  temperature,
  'air-temperature': temperature,
  ph: { pH: same },
  'ph-mv': { V: same, mV: (millivolt) => millivolt / 1_000 },
  salinity: { 'g/L': same, 'g/l': same, 'kg/m3': same },
  conductivity: { 'S/m': same, 'mS/cm': (mSPerCm) => mSPerCm / 10 },
  level: { m: same, mm: (mm) => mm / 1_000, cm: (cm) => cm / 100 },
  'level-ratio': { '/': same },
  battery: { V: same, mV: (millivolt) => millivolt / 1_000 },
  // Percent of the energy left (RFC 8428, section 12.1): unlike `%` it says what it is a percentage of.
  'battery-ratio': { '/': same, '%EL': (percent) => percent / 100 },
  // RFC 8798: 0 dBm is one milliwatt, so 0 dBW is 30 dBm.
  signal: { dBm: same, dBW: (dbw) => dbw + 30 },
};

/** Value in the stored unit of the channel, or null when the unit is not one of the channel's. Without a unit the stored unit is meant. */
export const toStoredUnit = (channel: Channel, value: number, unit: string | null): number | null => {
  if (unit === null) return value;
  const units = conversions[channel];
  const convert = Object.hasOwn(units, unit) ? units[unit] : undefined;
  return convert === undefined ? null : convert(value);
};

/** What a channel may arrive in; the stored unit is among them. */
export const unitsOf = (channel: Channel): readonly string[] => Object.keys(conversions[channel]);
