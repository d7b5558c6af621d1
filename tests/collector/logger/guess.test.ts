import { describe, expect, it } from 'vitest';
import { guessMapping } from '#domain/logger/guess.ts';
import { readNumber } from '#domain/logger/read-row.ts';

// Invented rows, in the shapes that loggers are known to write (common practice, no source).
describe('what the first rows look like', () => {
  it('finds a day above 12, a decimal comma, and the rows before the table', () => {
    const rows = [['Serial', '12345'], ['Date', 'Time', 'Temp. °C', 'RH %'], ['24.10.2026', '08:00', '18,5', '71,0'], ['24.10.2026', '08:10', '18,4', '71,5']];
    expect(guessMapping(rows, ';')).toEqual({ delimiter: ';', skipRows: 2, timeColumns: [0, 1], timeFormat: 'day-month-year', valueColumn: 2, decimal: ',', channel: 'temperature', unit: 'Cel' });
  });

  it('passes over a counter, and reads Fahrenheit from the title', () => {
    const rows = [['#', 'Date-Time (EDT)', 'Ch: 1 - Temperature (°F)'], ['1', '10/24/2026 08:00:00', '64.1'], ['2', '10/24/2026 08:10:00', '64.0'], ['3', '10/24/2026 08:20:00', '63.9'], ['4', '10/24/2026 08:30:00', '63.9']];
    expect(guessMapping(rows, ',')).toMatchObject({ skipRows: 1, timeColumns: [1], timeFormat: 'month-day-year', valueColumn: 2, unit: 'degF', channel: 'temperature' });
  });

  it('knows pH by its title', () => {
    expect(guessMapping([['time', 'pH'], ['2026-10-24T08:00:00Z', '4.31'], ['2026-10-24T09:00:00Z', '4.30']], ',')).toMatchObject({ channel: 'ph', unit: 'pH', valueColumn: 1, timeFormat: 'iso' });
  });

  it('says something of an empty file too', () => {
    expect(guessMapping([], ',')).toMatchObject({ skipRows: 0, timeColumns: [0] });
  });
});

describe('a number of a logger', () => {
  it.each([['18.5', '.', 18.5], ['18,5', ',', 18.5], ['-0.5 °C', '.', -0.5], ['−3', '.', -3], ['1,013.2', '.', 1013.2], ['1.013,2', ',', 1013.2], ['4.31 pH', '.', 4.31], ['1e-3', '.', 0.001]] as const)('%s with %s is %d', (text, decimal, value) => {
    expect(readNumber(text, decimal)).toBe(value);
  });
  it.each([['18,5', '.'], ['18.5', ','], ['', '.'], ['12-3', '.'], ['Infinity', '.'], ['0x10', '.']] as const)('%s with %s is none', (text, decimal) => {
    expect(readNumber(text, decimal)).toBeNull();
  });
});
