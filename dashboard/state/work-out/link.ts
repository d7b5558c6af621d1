import { isRows, startOf, startsOf, type Cell, type Field, type Value, type Values } from './field.ts';
import type { Tool } from './tool.ts';

/**
 * The figures of a question in its address, so that a link carries them: metric whatever units the reader prefers. Cells of a row stand
 * between `_`, rows between `*`, because an address leaves both as they are.
 */
const digits = 9;
const longestInAddress = 7_000;

const cellText = (cell: Cell): string => (cell === null || Number.isNaN(cell) ? '' : String(Number(cell.toPrecision(digits))));

const valueText = (value: Value): string => {
  if (isRows(value)) return value.map((row) => row.map(cellText).join('_')).join('*');
  return typeof value === 'string' ? value : cellText(value);
};

/** Nothing is written for a field that begins empty and is empty still. */
export const inputsOf = (fields: readonly Field[], values: Values): string => {
  const query = new URLSearchParams();
  for (const field of fields) {
    const value = values[field.name] ?? null;
    // A server takes no address of any length: a text too long for it stays on the screen only.
    if (typeof value === 'string' && encodeURIComponent(value).length > longestInAddress) continue;
    if (value !== null || startOf(field) !== null) query.set(field.name, valueText(value));
  }
  return query.toString();
};

const readCell = (text: string): Cell => {
  const value = text.trim() === '' ? Number.NaN : Number(text);
  return Number.isFinite(value) ? value : null;
};

const readRows = (text: string, columns: number, least: number, most: number): readonly (readonly Cell[])[] | null => {
  const rows = text.split('*').slice(0, most).map((row) => row.split('_').map(readCell));
  return rows.length >= least && rows.every((row) => row.length === columns) ? rows : null;
};

/** What a link says of one field; what is not understood is left at its start rather than guessed. */
const readField = (field: Field, text: string | null): Value => {
  if (text === null) return startOf(field);
  switch (field.kind) {
    case 'number':
      return text === '' ? null : (readCell(text) ?? field.start);
    case 'choice':
      return field.options.includes(text) ? text : field.start;
    case 'text':
      return text.slice(0, field.longest ?? 60);
    case 'rows':
      return readRows(text, field.columns.length, field.least, field.most) ?? field.start;
    case 'counts':
      return readRows(text, 1, field.looks.length, field.looks.length) ?? startOf(field);
  }
};

/** Which fields there are depends on choices, so those are read first, and the reading goes on until no new field appears. */
export const valuesOf = (tool: Tool, inputs: string): Values => {
  const query = new URLSearchParams(inputs);
  let values: Values = {};
  for (;;) {
    const fields = tool.fields(values);
    const missing = fields.filter(({ name }) => !(name in values));
    if (missing.length === 0) return values;
    const choices = missing.filter(({ kind }) => kind === 'choice');
    values = { ...values, ...Object.fromEntries((choices.length > 0 ? choices : missing).map((field) => [field.name, readField(field, query.get(field.name))])) };
  }
};

/** After a change: fields that have just appeared get their starting figures. */
export const completed = (tool: Tool, values: Values): Values => {
  const fields = tool.fields(values);
  return fields.every(({ name }) => name in values) ? values : { ...startsOf(fields), ...values };
};
