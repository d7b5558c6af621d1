import type { EpochMs } from '../units/time.ts';
import { minuteMs } from '../units/time.ts';
import { channels, type Channel } from './channel.ts';
import type { Quality } from './reading.ts';

/** Why a reading is kept aside instead of stored: its time cannot be true. */
export type TimeDoubt = 'time-in-future' | 'time-before-2020';

const earliest: EpochMs = Date.UTC(2020, 0, 1);
/** Clocks of probes drift; ten minutes ahead is still believed. */
const mostAheadMs = 10 * minuteMs;

export const doubtTime = (at: EpochMs, now: EpochMs): TimeDoubt | null => {
  if (at > now + mostAheadMs) return 'time-in-future';
  return at < earliest ? 'time-before-2020' : null;
};

/**
 * Quality of a value as it came. The false values of the DS18B20 (data sheet: +85 °C after power-on; -127 °C is what the common
 * host libraries give for a sensor that does not answer) are told apart from merely impossible ones.
 */
export const judgeValue = (channel: Channel, value: number): Quality => {
  if (channel === 'temperature' || channel === 'air-temperature') {
    if (value === 85) return 'power-on';
    if (value === -127) return 'disconnected';
  }
  const { lowest, highest } = channels[channel];
  return value < lowest || value > highest ? 'out-of-range' : 'good';
};
