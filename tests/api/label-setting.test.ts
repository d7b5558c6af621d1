import { spawnSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { markAllergens } from '#domain/label/allergens.ts';
import { leastFigureMm, type LabelText } from '#domain/label/label.ts';
import { figureShare, leastSizePt, leastXHeightMm, ptPerMm, setLabel, xHeightShare } from '../../api/papers/label-setting.ts';
import { finish, openPaper } from '../../api/papers/page.ts';
import { systemPart } from '../helpers/system-parts.ts';

/** Least letters: Regulation (EU) 1169/2011, article 13(2): a small x of at least 1.2 mm. */
const texts: readonly LabelText[] = [
  { field: 'product', runs: [{ text: 'Olives in brine with herbs', strong: true }], scale: 1.6 },
  { field: 'ingredients', runs: markAllergens('olives, water, salt, wine vinegar (sulphites), celery, mustard seed'), scale: 1 },
  { field: 'producer', runs: [{ text: 'Made by Eleni Demo, Terrace Road 3, 24100 Kalamata', strong: false }], scale: 1 },
];
const page = openPaper('', new Date(0));

it('the small x of the typeface is as high as it is printed', async () => {
  const paper = openPaper('', new Date(0), { size: [144, 144] });
  paper.font('plain').fontSize(100).text('x', 20, 20);
  const { status, stdout } = spawnSync(systemPart('pdftoppm'), ['-gray', '-r', '720', '-'], { input: await finish(paper), maxBuffer: 2 ** 26 });
  expect(status).toBe(0);
  // A portable greymap: three lines of head, then a byte a dot.
  const [side = 0] = [...stdout.toString('latin1', 3, 20).matchAll(/\d+/g)].map(([number]) => Number(number));
  const dots = stdout.subarray(stdout.length - side * side);
  const rows = Array.from({ length: side }, (_, row) => dots.subarray(row * side, (row + 1) * side).some((grey) => grey < 128)).filter(Boolean).length;
  // 720 dots an inch are ten a point: 100 pt of letter.
  expect(rows / 1_000).toBeCloseTo(xHeightShare, 2);
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

it('keeps the figures of the net weight as high as they must be, however small the rest', () => {
  const set = setLabel(page, [{ field: 'weights', runs: [{ text: 'Net weight 660 g', strong: true }], scale: 1.15, leastFigureMm: leastFigureMm(660) }, ...texts], { widthPt: 70 * ptPerMm, heightPt: 32 * ptPerMm, cornerPt: 14 * ptPerMm });
  if (!set.fits) throw new Error(set.field);
  // Directive 76/211/EEC, annex I 3.1 (from memory): 4 mm above 200 g, up to a kilogram.
  expect(((set.pieces[0]?.sizePt ?? 0) * figureShare) / ptPerMm).toBeGreaterThanOrEqual(4 - 1e-9);
  expect([50, 51, 200, 201, 1_000, 1_001].map(leastFigureMm)).toEqual([2, 3, 3, 4, 4, 6]);
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
