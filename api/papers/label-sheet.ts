import { create } from 'qrcode';
import type { LabelSheet } from '#domain/journal/producer.ts';
import type { Label, LabelField } from '#domain/label/label.ts';
import { fail, ok, type Result } from '#domain/result.ts';
import { ptPerMm, setLabel, type Piece } from './label-setting.ts';
import { bold, finish, openPaper, plain, type Page } from './page.ts';

export interface LabelJob {
  readonly label: Label;
  readonly sheet: LabelSheet;
  readonly count: number;
  /** Places of the first sheet that are used already. */
  readonly skip: number;
  /** Printed to look at, of a lot that may not go: says so across. */
  readonly notReleased: boolean;
  readonly madeAt: Date;
}

export interface LabelTooSmall {
  readonly code: 'label-does-not-fit';
  readonly field: LabelField;
}

/** Inside the edge of a label nothing is printed: sheets lie a little off. */
const edgeMm = 2.5;
/** From what a phone reads well at a hand's breadth down to the least it reads at all (common practice, no source). */
const modulesMm = [0.42, 0.37, 0.33] as const;
/** Light modules around a code: ISO/IEC 18004 asks for four. */
const quiet = 4;

/** Labels of a lot, on sheets or single, all alike; nothing is cut: what does not fit is told by its field. */
export const labelPdf = async ({ label, sheet, count, skip, notReleased, madeAt }: LabelJob): Promise<Result<Buffer, LabelTooSmall>> => {
  const page = openPaper(`Labels of lot ${label.lot}`, madeAt, { size: [sheet.pageWidthMm * ptPerMm, sheet.pageHeightMm * ptPerMm] });
  const code = create(label.code, { errorCorrectionLevel: 'M' }).modules;
  const room = { widthPt: (sheet.labelWidthMm - 2 * edgeMm) * ptPerMm, heightPt: (sheet.labelHeightMm - 2 * edgeMm) * ptPerMm };
  const sides = modulesMm.map((each) => (code.size + 2 * quiet) * each * ptPerMm).filter((side) => side <= Math.min(room.heightPt, room.widthPt * 0.55));
  if (sides.length === 0) return fail({ code: 'label-does-not-fit', field: 'code' });
  const settings = sides.map((cornerPt) => ({ cornerPt, set: setLabel(page, label.texts, { ...room, cornerPt }) }));
  const [first] = settings;
  const best = settings.find(({ set }) => set.fits) ?? first;
  if (best === undefined || !best.set.fits) return fail({ code: 'label-does-not-fit', field: best?.set.fits === false ? best.set.field : 'code' });
  const { cornerPt, set } = { cornerPt: best.cornerPt, set: best.set };
  const places = sheet.columns * sheet.rows;
  for (let index = 0; index < count; index += 1) {
    const place = (index + skip) % places;
    if (index > 0 && place === 0) page.addPage();
    const x = (sheet.marginLeftMm + (place % sheet.columns) * (sheet.labelWidthMm + sheet.gapXMm) + edgeMm) * ptPerMm;
    const y = (sheet.marginTopMm + Math.floor(place / sheet.columns) * (sheet.labelHeightMm + sheet.gapYMm) + edgeMm) * ptPerMm;
    drawText(page, set.pieces, x, y);
    const corner = { x: x + room.widthPt - cornerPt, y: y + room.heightPt - cornerPt };
    if (notReleased) drawNoCode(page, corner.x, corner.y, cornerPt);
    else drawCode(page, code, corner.x, corner.y, cornerPt);
    if (notReleased) drawAcross(page, x, y, room);
  }
  return ok(await finish(page));
};

const drawText = (page: Page, pieces: readonly Piece[], x: number, y: number): void => {
  page.fillColor('black');
  for (const piece of pieces) page.font(piece.strong ? bold : plain).fontSize(piece.sizePt).text(piece.text, x + piece.x, y + piece.y, { lineBreak: false });
};

const drawCode = (page: Page, { size, data }: { readonly size: number; readonly data: Uint8Array }, x: number, y: number, sidePt: number): void => {
  const module = sidePt / (size + 2 * quiet);
  page.rect(x, y, sidePt, sidePt).fill('white');
  for (let row = 0; row < size; row += 1) {
    // Neighbours in one stroke: between two rectangles a printer leaves a hair.
    for (let from = 0; from < size; from += 1) {
      let to = from;
      while (to < size && data[row * size + to] === 1) to += 1;
      if (to === from) continue;
      page.rect(x + (quiet + from) * module, y + (quiet + row) * module, (to - from) * module, module);
      from = to;
    }
  }
  page.fill('black');
};

/** A proof leads nowhere: cut out and stuck on a jar, it would be taken for a label. */
const drawNoCode = (page: Page, x: number, y: number, sidePt: number): void => {
  page.lineWidth(1).rect(x, y, sidePt, sidePt).moveTo(x, y).lineTo(x + sidePt, y + sidePt).moveTo(x + sidePt, y).lineTo(x, y + sidePt).stroke('black');
};

const across = 'NOT RELEASED';
const drawAcross = (page: Page, x: number, y: number, { widthPt, heightPt }: { readonly widthPt: number; readonly heightPt: number }): void => {
  const angle = Math.atan2(heightPt, widthPt);
  const perPt = page.font(bold).fontSize(100).widthOfString(across) / 100;
  const size = Math.min((Math.hypot(widthPt, heightPt) * 0.86) / perPt, heightPt * 0.34);
  page.save().rect(x, y, widthPt, heightPt).clip();
  page.rotate((-angle * 180) / Math.PI, { origin: [x + widthPt / 2, y + heightPt / 2] });
  const textWidth = perPt * size;
  const top = y + heightPt / 2 - size * 0.6;
  page.rect(x + widthPt / 2 - textWidth / 2 - size, top, textWidth + 2 * size, size * 1.2).fill('white');
  page.rect(x + widthPt / 2 - textWidth / 2 - size, top, textWidth + 2 * size, size * 1.2).lineWidth(1.2).stroke('black');
  page.fillColor('black').font(bold).fontSize(size).text(across, x + widthPt / 2 - textWidth / 2, top + size * 0.02, { lineBreak: false });
  page.restore();
};
