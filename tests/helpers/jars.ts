import type { MeterCheck } from '#domain/jar/meter-check.ts';
import { meterDefaults } from '#domain/jar/meter-check.ts';
import type { JarReading } from '#domain/jar/packed-jar-rule.ts';
import { hourMs } from '#domain/units/time.ts';

/** A meter calibrated that day whose second acid buffer read true. */
export const goodMeter: MeterCheck = { ...meterDefaults, secondBufferError: 0, nearestBufferPh: 4.01 };

/** Reading of a packed jar some hours after packing at time 0. */
export const jarReading = (jar: string | null, hours: number, ph: number, change: Partial<JarReading> = {}): JarReading => ({ jar, at: hours * hourMs, ph, method: 'meter', meter: goodMeter, ...change });

/** Two jars of one pH, the first read twice 48 h apart: everything the rule asks for. */
export const settledJars = (ph: number): JarReading[] => [jarReading('1', 24, ph), jarReading('2', 72, ph), jarReading('1', 72, ph)];
