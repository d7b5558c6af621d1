import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { markAllergens } from '#domain/label/allergens.ts';
import type { LabelText } from '#domain/label/label.ts';
import { leastSizePt, leastXHeightMm, ptPerMm, setLabel, xHeightShare } from '../../api/papers/label-setting.ts';
import { openPaper } from '../../api/papers/page.ts';

/** Least letters: Regulation (EU) 1169/2011, article 13(2): a small x of at least 1.2 mm. */
const texts: readonly LabelText[] = [
  { field: 'product', runs: [{ text: 'Olives in brine with herbs', strong: true }], scale: 1.6 },
  { field: 'ingredients', runs: markAllergens('olives, water, salt, wine vinegar (sulphites), celery, mustard seed'), scale: 1 },
  { field: 'producer', runs: [{ text: 'Made by Eleni Demo, Terrace Road 3, 24100 Kalamata', strong: false }], scale: 1 },
];
const page = openPaper('', new Date(0));

it('the small x of the typeface is as high as its own tables say', () => {
  const font = readFileSync(fileURLToPath(import.meta.resolve('dejavu-fonts-ttf/ttf/DejaVuSansCondensed.ttf')));
  // OpenType: a directory of 16 bytes a table from byte 12; OS/2 sxHeight at 86, head unitsPerEm at 18.
  const table = (tag: string): number => {
    for (let index = 0; index < font.readUInt16BE(4); index += 1) if (font.toString('latin1', 12 + index * 16, 16 + index * 16) === tag) return font.readUInt32BE(12 + index * 16 + 8);
    throw new Error(`no table ${tag}`);
  };
  expect(font.readInt16BE(table('OS/2') + 86) / font.readUInt16BE(table('head') + 18)).toBeCloseTo(xHeightShare, 3);
  expect((leastSizePt * xHeightShare) / ptPerMm).toBeCloseTo(leastXHeightMm, 9);
});

describe.each([[60, 30, 14], [80, 45, 18], [120, 80, 20]])('in %i by %i mm with a square of %i mm', (widthMm, heightMm, cornerMm) => {
  const room = { widthPt: widthMm * ptPerMm, heightPt: heightMm * ptPerMm, cornerPt: cornerMm * ptPerMm };
  const set = setLabel(page, texts, room);
  it('every word lies inside, clear of the square, in letters large enough, and none is lost', () => {
    if (!set.fits) throw new Error(set.field);
    expect(set.sizePt).toBeGreaterThanOrEqual(leastSizePt);
    for (const { x, y, widthPt, sizePt } of set.pieces) {
      expect(sizePt).toBeGreaterThanOrEqual(leastSizePt);
      const right = y + sizePt * 1.16 > room.heightPt - room.cornerPt ? room.widthPt - room.cornerPt : room.widthPt;
      expect(x + widthPt).toBeLessThanOrEqual(right + 1e-6);
      expect(y + sizePt).toBeLessThanOrEqual(room.heightPt);
    }
    expect(set.pieces.map(({ text }) => text).join('').replaceAll(/\s/g, '')).toBe(texts.flatMap(({ runs }) => runs.map(({ text }) => text)).join('').replaceAll(/\s/g, ''));
  });
});

it('takes larger letters where there is room', () => {
  const sizes = [30, 45, 80].map((heightMm) => {
    const set = setLabel(page, texts, { widthPt: 60 * ptPerMm, heightPt: heightMm * ptPerMm, cornerPt: 14 * ptPerMm });
    return set.fits ? set.sizePt : 0;
  });
  expect(sizes[0]).toBeLessThan(sizes[1] ?? 0);
  expect(sizes[1]).toBeLessThanOrEqual(sizes[2] ?? 0);
});

it.each([[60, 7, 'ingredients'], [8, 60, 'product']])('in %i by %i mm tells the first field that does not fit', (widthMm, heightMm, field) => {
  expect(setLabel(page, texts, { widthPt: widthMm * ptPerMm, heightPt: heightMm * ptPerMm, cornerPt: 0 })).toEqual({ fits: false, field });
});
