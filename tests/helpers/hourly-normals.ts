import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import type { TemperatureReading } from '#domain/cure/temperature-dose.ts';

/**
 * NOAA hourly climate normals of Seattle, 1981 to 2010 (a work of the US Government, in the dev dependency vega-datasets): 8,759 smooth
 * hourly temperatures in °C, no gap. Normals, not observations: good for arithmetic, no use for noise, gaps or faults.
 */
const file = new URL('../../node_modules/vega-datasets/data/seattle-weather-hourly-normals.csv', import.meta.url);

export const hourlyNormals = (): readonly TemperatureReading[] =>
  readFileSync(file, 'utf8').trim().split('\n').slice(1).map((line) => {
    const [date = '', , temperature] = line.split(',');
    return { t: Date.parse(`${date}Z`), temperatureC: Number(temperature) };
  });

export const hourlyNormalsSha256 = (): string => createHash('sha256').update(readFileSync(file)).digest('hex');
