import type { Season, SeasonRow } from '#contract';
import { csvField, hundredths } from './csv-field.ts';

/** The ledger of a season as a table (RFC 4180): a row a batch in the order of picking, then the totals. Kilograms to a hundredth. */
export const seasonCsv = ({ year, ledger }: Season): string => {
  const lines = ledger === null ? [] : [...ledger.rows.map((row) => columns.map((column) => shown(valueOf(year, row, column)))), columns.map((column) => shown(totalOf(year, ledger.totals, column)))];
  return [columns.map((column) => names[column]), ...lines].map((fields) => `${fields.join(',')}\r\n`).join('');
};

const names = {
  row: 'row', season: 'season', lot: 'lot', drum: 'drum', variety: 'variety', trees: 'trees', pickedAt: 'picked_at', jarredAt: 'jarred_at', pickedKg: 'picked_kg', culledKg: 'culled_kg', looseKg: 'loose_kg', drumKg: 'drum_kg',
  stoneKg: 'stone_kg', tastedKg: 'tasted_kg', curingKg: 'curing_kg', jars: 'jars', jarredKg: 'jarred_kg', soldJars: 'sold_jars', soldKg: 'sold_kg', leftJars: 'left_jars', unaccountedKg: 'unaccounted_kg',
} as const;
type Column = keyof typeof names;
const columns = Object.keys(names) as readonly Column[];

const valueOf = (year: number | null, row: SeasonRow, column: Column): string | number | null => (column === 'row' ? 'batch' : column === 'season' ? year : row[column]);

const totalOf = (year: number | null, totals: NonNullable<Season['ledger']>['totals'], column: Column): string | number | null =>
  column === 'row' ? 'total' : column === 'season' ? year : column in totals ? totals[column as keyof typeof totals] : null;

const shown = (value: string | number | null): string => csvField(typeof value === 'number' ? hundredths(value) : value);
