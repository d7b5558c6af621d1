import { isChannel } from '#domain/reading/channel.ts';
import { seriesId, slugPattern, type Slug } from '#domain/reading/reading.ts';
import { judgeValue } from '#domain/reading/admit.ts';
import type { EpochMs } from '#domain/units/time.ts';
import type { Decoded } from '../decoded.ts';
import { decimalPattern, nothing, refuse } from '../payload.ts';

/**
 * A line of words: `temperature 18.25`, with the name of the probe before it where several send over one cable
 * (`barrel-2 temperature 18.25`). The value is in the unit of the channel. An empty line says nothing, and is no fault.
 */
export const decodePlainLine = (text: string, probe: Slug | null, arrivedAt: EpochMs): Decoded => {
  const words = text.trim().split(/\s+/);
  if (words.length === 1 && words[0] === '') return nothing;
  if (words.length < 2 || words.length > 3) return refuse('line-form');
  const [number = '', channel = '', named = probe] = words.toReversed();
  if (named === null) return refuse('line-without-probe');
  if (!slugPattern.test(named)) return refuse('line-probe-name');
  if (!isChannel(channel)) return refuse('line-channel');
  if (!decimalPattern.test(number)) return refuse('not-a-number');
  const value = Number(number);
  return { ...nothing, readings: [{ series: seriesId(named, channel), at: arrivedAt, value, quality: judgeValue(channel, value) }] };
};
