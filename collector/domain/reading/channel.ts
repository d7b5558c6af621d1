import { usualPhUncertainty } from '../acid/usual-ph-uncertainty.ts';

/**
 * The channels a probe may have: one quantity each, stored in one unit.
 * Everything that depends on the channel (unit, plausible range, resolution, assumed uncertainty) is derived from this table.
 *
 * `of`: whether it tells of the drum it is placed on, or of the probe itself, which is its health and is placed nowhere.
 * `lowest`/`highest`: what the quantity can physically be in a curing shed; outside it a reading is kept, marked `out-of-range`.
 * `uncertainty`: half-width added to a reading before a limit is applied (guard band) while nothing better is known:
 *   temperature 0.5 °C = accuracy of the common digital probe from -10 to 85 °C (DS18B20 data sheet, table "accuracy");
 *   pH 0.12 = a meter checked that day, in brine (`usualPhUncertainty`); the others are assumptions.
 */
export const channels = {
  temperature: { of: 'drum', unit: 'Cel', symbol: '°C', quantity: 'temperature', label: 'brine temperature', lowest: -20, highest: 60, decimals: 1, resolution: 0.0625, uncertainty: 0.5 },
  'air-temperature': { of: 'drum', unit: 'Cel', symbol: '°C', quantity: 'air-temperature', label: 'air temperature', lowest: -40, highest: 70, decimals: 1, resolution: 0.0625, uncertainty: 0.5 },
  ph: { of: 'drum', unit: 'pH', symbol: 'pH', quantity: 'ph', label: 'pH', lowest: 0, highest: 14, decimals: 2, resolution: 0.01, uncertainty: usualPhUncertainty },
  'ph-mv': { of: 'drum', unit: 'V', symbol: 'V', quantity: 'ph-mv', label: 'electrode potential', lowest: -2, highest: 2, decimals: 4, resolution: 0.0001, uncertainty: 0.002 },
  salinity: { of: 'drum', unit: 'g/L', symbol: 'g/L', quantity: 'salinity', label: 'salt in brine', lowest: 0, highest: 360, decimals: 0, resolution: 0.1, uncertainty: 5 },
  conductivity: { of: 'drum', unit: 'S/m', symbol: 'S/m', quantity: 'conductivity', label: 'conductivity', lowest: 0, highest: 30, decimals: 2, resolution: 0.001, uncertainty: 0.2 },
  level: { of: 'drum', unit: 'm', symbol: 'm', quantity: 'level', label: 'brine level', lowest: -1, highest: 5, decimals: 3, resolution: 0.001, uncertainty: 0.01 },
  'level-ratio': { of: 'drum', unit: '/', symbol: 'of full', quantity: 'level', label: 'brine level, share of full', lowest: 0, highest: 1.2, decimals: 2, resolution: 0.001, uncertainty: 0.02 },
  battery: { of: 'probe', unit: 'V', symbol: 'V', quantity: 'battery', label: 'battery', lowest: 0, highest: 60, decimals: 2, resolution: 0.01, uncertainty: 0.05 },
  'battery-ratio': { of: 'probe', unit: '/', symbol: 'of full', quantity: 'battery', label: 'battery, share of full', lowest: 0, highest: 1, decimals: 2, resolution: 0.01, uncertainty: 0.1 },
  signal: { of: 'probe', unit: 'dBm', symbol: 'dBm', quantity: 'signal', label: 'radio signal', lowest: -150, highest: 30, decimals: 0, resolution: 1, uncertainty: 5 },
} as const;

export type Channel = keyof typeof channels;

export const channelNames = Object.keys(channels) as readonly Channel[];
/** What may watch a drum. */
export const drumChannels = channelNames.filter((name) => channels[name].of === 'drum');

export const isChannel = (name: string): name is Channel => Object.hasOwn(channels, name);
