import { doubtTime, judgeValue } from '../reading/admit.ts';
import { seriesId, type Reading } from '../reading/reading.ts';
import { fail, ok, type Result } from '../result.ts';
import { toStoredUnit } from '../units/convert.ts';
import type { EpochMs } from '../units/time.ts';
import type { Decimal, LoggerMapping, RowRefusal } from './mapping.ts';
import { readTime } from './read-time.ts';

/** A value as loggers write it: with a sign, with its unit behind it (the degree sign of an old code page cannot be read), in thousands. */
export const readNumber = (text: string, decimal: Decimal): number | null => {
  const bare = text.trim().replace(/\s*([°º\uFFFD]?\s?[CF]|%|pH|mV|V|K)$/i, '').replace('−', '-');
  const thousands = decimal === ',' ? bare.replaceAll(/\.(?=\d{3}(\D|$))/g, '') : bare.replaceAll(/,(?=\d{3}(\D|$))/g, '');
  // The other mark where no thousands end is no number of this file: to guess would be to move a point.
  if (thousands.includes(decimal === ',' ? '.' : ',')) return null;
  const plain = thousands.replace(',', '.');
  return /^[+-]?(\d{1,12}(\.\d{0,12})?|\.\d{1,12})([eE][+-]?\d{1,2})?$/.test(plain) ? Number(plain) : null;
};

/** One row of a logger's file: a reading, or the reason why there is none. `after`: the time of the reading before. */
export const readRow = (cells: readonly string[], mapping: LoggerMapping, after: EpochMs | null, now: EpochMs): Result<Reading, RowRefusal> => {
  const { timeColumns, valueColumn, channel, probe } = mapping;
  if (cells.length <= Math.max(valueColumn, ...timeColumns)) return fail('too-few-columns');
  const written = (cells[valueColumn] ?? '').trim();
  if (written === '' || /^(-+|nan|null|n\/a|na)$/i.test(written)) return fail('no-value');
  const number = readNumber(written, mapping.decimal);
  if (number === null) return fail('not-a-number');
  const value = toStoredUnit(channel, number, mapping.unit);
  if (value === null) return fail('unknown-unit');
  const at = readTime(timeColumns.map((column) => cells[column] ?? '').join(' '), mapping.timeFormat, mapping.zone, after);
  if (!at.ok) return at;
  const doubt = doubtTime(at.value, now);
  if (doubt !== null) return fail(doubt);
  return ok({ series: seriesId(probe, channel), at: at.value, value, quality: judgeValue(channel, value) });
};
