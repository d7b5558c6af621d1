import type { Compare, CompareGroup } from '#contract';
import { csvField, hundredths } from './csv-field.ts';

/**
 * The numbers of the comparison as one table (RFC 4180), a row a cure or a point of the line, told apart by the first column.
 * Days to a hundredth, temperatures to a hundredth of a degree.
 */
export const compareCsv = ({ groups, bitterness }: Compare): string =>
  [columns.join(','), ...groups.flatMap((group) => rowsOf(group, bitterness))].map((line) => `${line}\r\n`).join('');

const columns = [
  'row', 'end_bitterness', 'cut', 'style', 'maturity', 'lot', 'drum', 'variety', 'started_at', 'sweet_at', 'temperature_c', 'days', 'bitter_days', 'likely_days', 'measured_share',
  'days_low_95', 'days_high_95', 'extrapolated', 'days_shrunken', 'left_out', 'fit', 'activation_energy_kj_per_mol', 'standard_error', 'shrunken_kj_per_mol', 'residual', 'r_squared',
] as const;
type Column = (typeof columns)[number];
type Row = Partial<Record<Column, string | number | boolean | null>>;

const rowsOf = ({ cut, style, maturity, cures, fit, interval, leftOut }: CompareGroup, bitterness: number): readonly string[] => {
  const rows: Row[] = [
    ...cures.map(({ lot, drum, variety, startedAt, sweetAt, temperatureC, days, bitterDays, likelyDays, measuredShare }) => ({
      row: 'cure', lot, drum, variety, started_at: startedAt, sweet_at: sweetAt, temperature_c: hundredths(temperatureC), days: hundredths(days),
      bitter_days: bitterDays === null ? null : hundredths(bitterDays), likely_days: hundredths(likelyDays), measured_share: hundredths(measuredShare),
    })),
    ...leftOut.map(({ lot, drum, text, days, temperatureC }) => ({
      row: 'left-out', lot, drum, temperature_c: temperatureC === null ? null : hundredths(temperatureC), days: days === null ? null : hundredths(days), left_out: text,
    })),
    ...(fit === null || fit.method === 'too-few'
      ? []
      : [{
          row: 'fit', fit: fit.method, activation_energy_kj_per_mol: hundredths(fit.activationEnergyKjPerMol), standard_error: hundredths(fit.standardError),
          shrunken_kj_per_mol: hundredths(fit.shrunkenKjPerMol), residual: fit.residual, r_squared: fit.rSquared,
        }]),
    ...(interval?.points ?? []).map(({ temperatureC, days, low, high, extrapolated, shrunkenDays }) => ({
      row: 'line', temperature_c: temperatureC, days: hundredths(days), days_low_95: hundredths(low), days_high_95: hundredths(high), extrapolated, days_shrunken: hundredths(shrunkenDays),
    })),
  ];
  return rows.map((row) => columns.map((column) => csvField({ ...row, end_bitterness: bitterness, cut, style, maturity }[column] ?? null)).join(','));
};
