import type { Channel } from '../reading/channel.ts';
import { delimiters, type Decimal, type Delimiter, type LoggerMapping, type TimeFormat } from './mapping.ts';
import { readNumber } from './read-row.ts';
import { readTime } from './read-time.ts';

/** What the first rows of a file look like; a person looks over it before anything is taken in. Probe and zone are not in the file. */
export type Guess = Omit<LoggerMapping, 'probe' | 'zone'>;

type Rows = readonly (readonly string[])[];

/** The delimiter that cuts the most rows into the same number of columns, two or more. */
export const guessDelimiter = (split: (delimiter: Delimiter) => Rows): Delimiter => {
  let best: { readonly delimiter: Delimiter; readonly score: number } = { delimiter: ',', score: 0 };
  for (const delimiter of delimiters) {
    const widths = split(delimiter).map((cells) => cells.length);
    const usual = widths.toSorted((one, other) => widths.filter((width) => width === other).length - widths.filter((width) => width === one).length)[0] ?? 1;
    const score = usual < 2 ? 0 : widths.filter((width) => width === usual).length / widths.length + usual / 1_000;
    if (score > best.score) best = { delimiter, score };
  }
  return best.delimiter;
};

const formats: readonly TimeFormat[] = ['iso', 'day-month-year', 'month-day-year', 'epoch-ms', 'epoch-s'];

export const guessMapping = (rows: Rows, delimiter: Delimiter): Guess => {
  const width = Math.max(...rows.map((cells) => cells.length), 1);
  const columns = Array.from({ length: width }, (_, column) => rows.map((cells) => cells[column] ?? ''));
  const time = guessTime(columns);
  const used = new Set(time.columns);
  const decimal = guessDecimal(columns.filter((_, column) => !used.has(column)), delimiter);
  const isReading = (cells: readonly string[]): boolean => readTime(time.columns.map((column) => cells[column] ?? '').join(' '), time.format, 'UTC', null).ok;
  const firstReading = rows.findIndex(isReading);
  const skipRows = Math.max(firstReading, 0);
  const titles = rows[skipRows - 1] ?? [];
  const data = rows.slice(skipRows);
  const numeric = columns.map((_, column) => column).filter((column) => !used.has(column) && data.filter((cells) => readNumber(cells[column] ?? '', decimal) !== null).length > data.length / 2);
  // The counter that many loggers write in front is no reading.
  const isCounter = (column: number): boolean => data.length > 2 && data.every((cells, index) => index === 0 || Number(cells[column]) - Number(data[index - 1]?.[column]) === 1);
  const candidates = numeric.filter((column) => !isCounter(column));
  const valueColumn = candidates.find((column) => /temp|°|celsius|fahrenheit|deg/i.test(titles[column] ?? '')) ?? candidates.find((column) => channelOfTitle(titles[column] ?? '') !== 'temperature') ?? candidates[0] ?? numeric[0] ?? Math.min(1, width - 1);
  const title = titles[valueColumn] ?? '';
  const channel = channelOfTitle(title);
  return { delimiter, skipRows, timeColumns: time.columns, timeFormat: time.format, valueColumn, decimal, channel, unit: unitOf(channel, title) };
};

/** The column, or two side by side, in which most cells are times. A day above 12 tells which way round a date is written. */
const guessTime = (columns: readonly (readonly string[])[]): { readonly columns: readonly number[]; readonly format: TimeFormat } => {
  let best: { readonly columns: readonly number[]; readonly format: TimeFormat; readonly share: number } = { columns: [0], format: 'iso', share: 0 };
  const tries = [...columns.keys()].flatMap((column) => (column + 1 < columns.length ? [[column, column + 1], [column]] : [[column]]));
  for (const tried of tries) {
    const texts = (columns[0] ?? []).map((_, row) => tried.map((column) => columns[column]?.[row] ?? '').join(' '));
    for (const format of formats) {
      const times = texts.flatMap((text) => {
        const read = readTime(text, format, 'UTC', null);
        return read.ok ? [read.value] : [];
      });
      // Milliseconds read as seconds lie ages ahead.
      const share = times.filter((at) => at > Date.UTC(1990, 0, 1) && at < Date.UTC(2100, 0, 1)).length / Math.max(texts.length, 1);
      if (share > best.share) best = { columns: tried, format, share };
    }
  }
  return best;
};

const guessDecimal = (columns: readonly (readonly string[])[], delimiter: Delimiter): Decimal => {
  if (delimiter === ',') return columns.flat().some((cell) => /^-?\d+,\d+$/.test(cell.trim())) ? ',' : '.';
  const cells = columns.flat().map((cell) => cell.trim());
  return cells.filter((cell) => /^-?\d+,\d{1,4}(\s*°.)?$/.test(cell)).length > cells.filter((cell) => /^-?\d+\.\d+(\s*°.)?$/.test(cell)).length ? ',' : '.';
};

const channelOfTitle = (title: string): Channel => {
  if (/\bph\b/i.test(title)) return 'ph';
  if (/\b(air|ambient|room)\b/i.test(title)) return 'air-temperature';
  if (/conductiv|\bec\b/i.test(title)) return 'conductivity';
  if (/salin|salt/i.test(title)) return 'salinity';
  return 'temperature';
};

const unitOf = (channel: Channel, title: string): string => {
  if (channel === 'ph') return 'pH';
  if (channel === 'conductivity') return /ms\/?cm/i.test(title) ? 'mS/cm' : 'S/m';
  if (channel === 'salinity') return 'g/L';
  if (/°\s?F|fahrenheit|\bdeg\s?F\b|[(_ ]F\)?$/i.test(title)) return 'degF';
  return /kelvin|\(K\)/i.test(title) ? 'K' : 'Cel';
};
