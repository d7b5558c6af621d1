import { defaultSheet, fitsPage, type Producer } from '#contract';
import { typedNumber } from '../format/units.ts';

type Sheet = NonNullable<Producer['sheet']>;

/** The sizes of a sheet of labels in the order a person reads them off its packet, each with the bounds it is taken within. */
export const sheetSizes = [
  ['pageWidthMm', 'Page, width mm', 20, 500],
  ['pageHeightMm', 'Page, height mm', 15, 500],
  ['columns', 'Labels across', 1, 10],
  ['rows', 'Labels down', 1, 30],
  ['labelWidthMm', 'A label, width mm', 20, 300],
  ['labelHeightMm', 'A label, height mm', 15, 300],
  ['marginTopMm', 'Edge above, mm', 0, 60],
  ['marginLeftMm', 'Edge on the left, mm', 0, 60],
  ['gapXMm', 'Gap across, mm', 0, 30],
  ['gapYMm', 'Gap down, mm', 0, 30],
] as const satisfies readonly (readonly [keyof Sheet, string, number, number])[];

export type SheetTexts = Readonly<Record<keyof Sheet, string>>;
export const sheetTexts = (sheet: Sheet | null): SheetTexts => Object.fromEntries(sheetSizes.map(([name]) => [name, String((sheet ?? defaultSheet)[name])])) as SheetTexts;

/** The sheet as it was typed; else what is wrong with it, in words. */
export const typedSheet = (texts: SheetTexts): { readonly sheet: Sheet } | { readonly wrong: string } => {
  const typed = sheetSizes.map(([name, words, low, high]) => ({ name, words, low, high, value: typedNumber(texts[name]) }));
  for (const { name, words, low, high, value } of typed) {
    const counted = name === 'columns' || name === 'rows';
    if (value === null || value < low || value > high || (counted && !Number.isInteger(value))) return { wrong: `${words}: ${counted ? 'a whole number' : 'a number'} from ${String(low)} to ${String(high)}.` };
  }
  const sheet = Object.fromEntries(typed.map(({ name, value }) => [name, value])) as unknown as Sheet;
  return fitsPage(sheet) ? { sheet } : { wrong: 'The labels with their edges and gaps do not fit on the page.' };
};
