import { channels, type Channel } from '../reading/channel.ts';
import type { Quality, SeriesId } from '../reading/reading.ts';
import { seriesParts } from '../reading/reading.ts';
import { hourMs, minuteMs } from '../units/time.ts';
import { adviceFor } from './advice.ts';
import type { LimitSide } from './alert.ts';
import type { Limit } from './limit.ts';

/** What an alert says: what is wrong, and what to do now. How bad (value, limit, source, since) the screen adds. */
export interface Message {
  readonly text: string;
  readonly advice: string;
}

const tooFar: Readonly<Record<string, string>> = {
  'temperature high': 'too warm',
  'temperature low': 'too cold',
  'ph high': 'too high',
  'ph low': 'too low',
  'salinity high': 'too strong',
  'salinity low': 'too weak',
};

const subjects: Readonly<Record<string, string>> = { temperature: 'Brine', salinity: 'Brine', ph: 'pH' };

/** The guard band is said: what is outside only with its uncertainty added "may be" outside. */
export const rangeMessage = (limit: Limit, side: LimitSide, channel: Channel, value: number, by: 'probe' | 'person'): Message => {
  const { symbol, decimals, uncertainty, label } = channels[channel];
  const edge = (side === 'high' ? limit.high : limit.low) ?? Number.NaN;
  const certain = side === 'high' ? value - uncertainty > edge : value + uncertainty < edge;
  const subject = subjects[limit.quantity] ?? sentence(label);
  const verb = certain ? 'is' : 'may be';
  const unit = symbol === 'pH' ? '' : ` ${symbol}`;
  const measured = `${value.toFixed(decimals)} ± ${String(uncertainty)}${unit}${by === 'person' ? ' by hand' : ''}`;
  return {
    text: `${subject} ${verb} ${tooFar[`${limit.quantity} ${side}`] ?? `too ${side}`}: ${measured}, limit ${String(edge)}${unit}.`,
    advice: adviceFor(limit, side),
  };
};

/** `saidNothingMs` is null for a probe that never spoke since it was placed. */
export const silenceMessage = (series: SeriesId, saidNothingMs: number | null): Message => {
  const { probe, channel } = seriesParts(series);
  const { label } = channels[channel];
  return {
    text: saidNothingMs === null ? `Probe ${probe} has not sent its first ${label}.` : `Probe ${probe} has sent no ${label} for ${spell(saidNothingMs)}.`,
    advice: `The ${label} is unknown until it speaks again: measure by hand. Look at power, lead, plug and network; if other probes are silent too, look at those they share.`,
  };
};

const faultWords: Readonly<Record<Exclude<Quality, 'good'>, string>> = {
  'power-on': 'the value it shows when it has just been switched on, not a measurement',
  disconnected: 'what it sends when the sensor does not answer',
  'blank-scratchpad': 'an empty frame, as from a shorted data line',
  'out-of-range': 'a value that cannot be',
  stuck: 'the same value for hours while others move',
  uncalibrated: 'values without a calibration',
  'clock-doubtful': 'readings with a doubtful time',
};

const faultAdvice: Readonly<Record<Exclude<Quality, 'good'>, string>> = {
  'power-on': 'Look at its power supply and its connections.',
  disconnected: 'Look at lead and plug.',
  'blank-scratchpad': 'Look at the lead for a short or for brine in a joint.',
  'out-of-range': 'Look at the probe and its lead, and at its place in the drum.',
  stuck: 'Lift it out and see whether it follows; a wet sensor shows one plausible value for ever.',
  uncalibrated: 'Calibrate it.',
  'clock-doubtful': 'Set the clock of the device.',
};

export const faultMessage = (series: SeriesId, quality: Exclude<Quality, 'good'>): Message => {
  const { probe, channel } = seriesParts(series);
  const { label } = channels[channel];
  return { text: `Probe ${probe} gives no usable ${label}: it sends ${faultWords[quality]}.`, advice: `The ${label} is unknown: measure by hand. ${faultAdvice[quality]}` };
};

export const dueMessage = (limit: Limit): Message => ({
  text: limit.quantity === 'brine-age' ? `Water or weak brine not changed for ${String(limit.high)} hours.` : `A change has been due for more than ${String(limit.high)} hours.`,
  advice: adviceFor(limit, null),
});

const spell = (ms: number): string => {
  const minutes = Math.round(ms / minuteMs);
  if (minutes < 120) return `${String(minutes)} minutes`;
  return `${String(Math.round(ms / hourMs))} hours`;
};

const sentence = (text: string): string => text.slice(0, 1).toUpperCase() + text.slice(1);
