import { doubtTime, judgeValue } from '#domain/reading/admit.ts';
import { channels, isChannel } from '#domain/reading/channel.ts';
import { qualities, seriesId, slugPattern, type Quality, type Reading } from '#domain/reading/reading.ts';
import { resolveSenml } from '#domain/reading/senml.ts';
import { channelOfName } from '#domain/reading/topic.ts';
import { toStoredUnit } from '#domain/units/convert.ts';
import type { EpochMs } from '#domain/units/time.ts';

/** One line of an exported file as a reading, or the reason why it is none; null for a line that holds none (a header, a bracket). */
export type LineReading = { readonly reading: Reading } | { readonly refused: string } | null;
export type LineReader = (line: string, now: EpochMs) => LineReading;

export const csvHeader = 'time,probe,channel,unit,value,quality';

export const csvLine: LineReader = (line, now) => {
  if (line === '' || line === csvHeader) return null;
  const [time = '', probe = '', channel = '', unit = '', number = '', quality = '', ...more] = line.split(',');
  const at = Date.parse(time);
  if (more.length > 0 || quality === '') return { refused: 'not six fields' };
  if (!Number.isFinite(at)) return { refused: 'time not understood' };
  if (!slugPattern.test(probe)) return { refused: 'not a probe name' };
  if (!isChannel(channel)) return { refused: 'unknown channel' };
  if (unit !== channels[channel].unit) return { refused: 'not the unit of the channel' };
  const value = number.trim() === '' ? Number.NaN : Number(number);
  if (!Number.isFinite(value)) return { refused: 'not a number' };
  if (!(qualities as readonly string[]).includes(quality)) return { refused: 'unknown quality' };
  return timely({ series: seriesId(probe, channel), at, value, quality: quality as Quality }, now);
};

/** One record a line, as `export senml` writes them; SenML does not carry the quality, so it is judged anew. */
export const senmlLine: LineReader = (line, now) => {
  const text = line.trim().replace(/,$/, '');
  if (text === '' || text === '[' || text === ']') return null;
  let record: unknown;
  try {
    record = JSON.parse(text);
  } catch {
    return { refused: 'not a record on a line of its own' };
  }
  const resolved = resolveSenml([record], now);
  if (!resolved.ok) return { refused: resolved.error };
  const [only] = resolved.value;
  if (only === undefined || only.value === null) return { refused: 'not a number' };
  const probe = /^(.*)[:/_][^:/_]*$/.exec(only.name)?.[1] ?? '';
  const channel = channelOfName(only.name, only.unit);
  if (!slugPattern.test(probe)) return { refused: 'not a probe name' };
  if (channel === null) return { refused: 'unknown channel' };
  const value = toStoredUnit(channel, only.value, only.unit);
  if (value === null) return { refused: 'not the unit of the channel' };
  return timely({ series: seriesId(probe, channel), at: only.at, value, quality: judgeValue(channel, value) }, now);
};

const timely = (reading: Reading, now: EpochMs): LineReading => {
  const doubt = doubtTime(reading.at, now);
  return doubt === null ? { reading } : { refused: doubt };
};
