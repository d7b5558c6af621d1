import { describe, expect, it } from 'vitest';
import { sheetTexts, typedSheet } from '../../dashboard/state/label-sheet.ts';

describe('a sheet of labels as its packet says it', () => {
  it('is the usual one, two by four on A4 (ISO 216: 210 by 297 mm), until somebody types', () => {
    expect(typedSheet(sheetTexts(null))).toEqual({ sheet: { pageWidthMm: 210, pageHeightMm: 297, columns: 2, rows: 4, marginTopMm: 13, marginLeftMm: 5, gapXMm: 2, gapYMm: 0, labelWidthMm: 99, labelHeightMm: 67.7 } });
  });
  it.each([
    // 3 × 70 mm fill an A4 page to the edge without an edge or gap; with the 5 mm edge they do not.
    [{ columns: '3', labelWidthMm: '70', gapXMm: '0', marginLeftMm: '0' }, null],
    [{ columns: '3', labelWidthMm: '70', gapXMm: '0' }, 'do not fit on the page'],
    [{ rows: '2,5' }, 'Labels down: a whole number from 1 to 30'],
    [{ labelWidthMm: '' }, 'A label, width mm: a number from 20 to 300'],
    [{ gapYMm: '31' }, 'Gap down, mm: a number from 0 to 30'],
  ])('%j', (over, wrong) => {
    const typed = typedSheet({ ...sheetTexts(null), ...over });
    expect('wrong' in typed ? typed.wrong : null).toEqual(wrong === null ? null : expect.stringContaining(wrong));
  });
});
