import type { ImportReport, ImportUploaded, LoggerMappingGiven } from '#contract';

export const formatWords: Readonly<Record<LoggerMappingGiven['timeFormat'], string>> = {
  iso: 'year first: 2026-10-31 14:05',
  'day-month-year': 'day first: 31.10.2026 14:05',
  'month-day-year': 'month first: 10/31/2026 2:05 PM',
  'epoch-s': 'seconds since 1970',
  'epoch-ms': 'milliseconds since 1970',
};

export const delimiterWords: Readonly<Record<LoggerMappingGiven['delimiter'], string>> = { ',': 'comma ,', ';': 'semicolon ;', '\t': 'tab', '|': 'bar |' };

export const unitWords = (unit: string): string => ({ Cel: '°C', degF: '°F', K: 'K', '/': 'share of 1', '%EL': '%' })[unit] ?? unit;

/** A column by what stands above it, else by its number. */
export const columnWords = (rows: ImportUploaded['rows'], skipRows: number, column: number): string => {
  const title = rows[skipRows - 1]?.[column] ?? '';
  const first = rows[skipRows]?.[column] ?? '';
  return `${String(column + 1)}${title === '' ? '' : ` · ${title}`}${first === '' ? '' : ` (${first})`}`;
};

const count = (n: number, one: string, many = `${one}s`): string => `${n.toLocaleString('en-GB')} ${n === 1 ? one : many}`;

/** What became of a file, in one sentence. */
export const reportWords = ({ rows, stored, duplicates, conflicts, refused }: ImportReport): string => {
  const left = refused.reduce((sum, each) => sum + each.count, 0);
  return [
    `${count(rows, 'row')} read: ${count(stored, 'reading')} stored`,
    ...(duplicates > 0 ? [`${duplicates.toLocaleString('en-GB')} there already`] : []),
    ...(conflicts > 0 ? [`${conflicts.toLocaleString('en-GB')} said something else than what was there (the first value stays)`] : []),
    ...(left > 0 ? [`${left.toLocaleString('en-GB')} refused`] : []),
  ].join(', ');
};
