import { canonical } from '#collector';
import { sheetOf } from '#domain/record/lot-sheet.ts';
import type { CureRibbon } from '#domain/record/ribbon.ts';
import type { Sheet, SheetPart } from '#domain/record/sheet.ts';
import { flowTable, numberPages, pair, sidePt, startFlow, words, type Flow } from './flow.ts';
import { bold, finish, openPaper, plain, type Page, type PaperSize } from './page.ts';
import type { SignedRecord } from './sealed-record.ts';

/**
 * The record of a lot on paper, black on white: page one for somebody in a hurry, the rest behind it with bookmarks. The signed data is
 * attached to the file, so that the paper's check code can be checked.
 */
export const recordPdf = (signed: SignedRecord, size: PaperSize): Promise<Buffer> => {
  const { sealed, code, fingerprint, sha256 } = signed;
  const sheet = sheetOf(sealed.record);
  const madeAt = new Date(sealed.record.madeAt);
  const page = openPaper(`${sheet.title}, lot ${sheet.lot}`, madeAt, { size, keepPages: true });
  page.file(Buffer.from(canonical(sealed)), { name: `record-${sheet.lot}.json`, type: 'application/json', description: 'The signed record this paper was printed from', creationDate: madeAt, modifiedDate: madeAt });
  const flow = startFlow(page);
  page.outline.addItem('Page one');
  front(flow, sheet, frontSizes.find((each) => isOnePage(sheet, size, each)) ?? smallest);
  flow.newPage();
  for (const [index, { title, parts }] of sheet.sections.entries()) section(flow, `${index + 1}  ${title}`, () => parts.forEach((part) => void put(flow, part, behindSize)));
  section(flow, `${sheet.sections.length + 1}  How to check this record`, () => check(flow, { fingerprint, code, sha256, publicKey: sealed.seal.publicKey, signature: sealed.seal.signature }));
  numberPages(page, `Lot ${sheet.lot}   printed ${sheet.printed}`, `check ${code}`);
  return finish(page);
};

/** Page one is one page: set as large as it allows. */
const frontSizes = [10, 9.5, 9, 8.5, 8, 7.5] as const;
const smallest = 7;
const behindSize = 8;

const front = (flow: Flow, { title, front: parts }: Sheet, size: number): void => {
  words(flow, title.toUpperCase(), { size: size + 4, font: bold, after: 4 });
  for (const part of parts) put(flow, part, size);
};

const isOnePage = (sheet: Sheet, size: PaperSize, fontSize: number): boolean => {
  const trial = openPaper('', new Date(0), { size, keepPages: true });
  front(startFlow(trial), sheet, fontSize);
  return trial.bufferedPageRange().count === 1;
};

const section = (flow: Flow, title: string, body: () => void): void => {
  flow.need(70);
  flow.page.outline.addItem(title);
  flow.y += 4;
  words(flow, title, { size: 11, font: bold, after: 4 });
  body();
  flow.y += 4;
};

const put = (flow: Flow, part: SheetPart, size: number): void => {
  switch (part.kind) {
    case 'text':
      return words(flow, part.text, { size, font: part.strong === true ? bold : plain });
    case 'pair':
      return pair(flow, part.left, part.right, part.strong === true ? size + 3 : size, part.strong === true ? bold : plain);
    case 'state':
      return state(flow, part.word, part.text, size);
    case 'labelled':
      return labelled(flow, part.label, part.lines, size - 0.5);
    case 'sign':
      return sign(flow, part.text, size);
    case 'ribbon':
      return ribbon(flow, part.ribbon);
    case 'table':
      return part.rows.length === 0 ? words(flow, part.empty, { size }) : flowTable(flow, part.columns, part.rows, size - 0.5);
  }
};

const state = (flow: Flow, word: string, text: string, size: number): void => {
  const { page } = flow;
  flow.y += 3;
  const inner = flow.widthPt - 16;
  const said = `${word}  `;
  page.font(bold).fontSize(size + 3);
  const wordPt = page.widthOfString(said);
  page.font(plain).fontSize(size);
  const height = Math.max(16, page.heightOfString(text, { width: inner - wordPt })) + 10;
  flow.need(height);
  page.lineWidth(1.4).rect(sidePt, flow.y, flow.widthPt, height).stroke('black');
  page.font(bold).fontSize(size + 3).text(said, sidePt + 8, flow.y + 6, { lineBreak: false });
  page.font(plain).fontSize(size).text(text, sidePt + 8 + wordPt, flow.y + 8, { width: inner - wordPt });
  flow.y += height + 6;
};

const labelPt = 76;

const labelled = (flow: Flow, label: string, lines: readonly string[], size: number): void => {
  flow.need(size * 2);
  flow.page.font(bold).fontSize(size).text(label, sidePt, flow.y, { width: labelPt - 4 });
  for (const each of lines) words(flow, each, { size, x: sidePt + labelPt, widthPt: flow.widthPt - labelPt, after: 1.5 });
  flow.y += 1.5;
};

/** Space for ink: a program's tick is no signature. */
const sign = (flow: Flow, text: string, size: number): void => {
  flow.need(36);
  words(flow, text, { size, after: 12 });
  const { page } = flow;
  page.font(plain).fontSize(size).text('Reviewed by', sidePt, flow.y, { lineBreak: false });
  page.text('on', sidePt + 330, flow.y, { lineBreak: false });
  page.lineWidth(0.6).moveTo(sidePt + 62, flow.y + size).lineTo(sidePt + 322, flow.y + size).stroke('black');
  page.moveTo(sidePt + 348, flow.y + size).lineTo(sidePt + flow.widthPt, flow.y + size).stroke('black');
  flow.y += size + 8;
};

const ribbon = (flow: Flow, { width, height, shapes, caption }: CureRibbon): void => {
  const { page } = flow;
  const scale = flow.widthPt / width;
  flow.need(height * scale + 26);
  const [x, y] = [(value: number) => sidePt + value * scale, (value: number) => flow.y + value * scale];
  for (const shape of shapes) {
    if (shape.kind === 'box' && shape.fill === 'band') page.rect(x(shape.x), y(shape.y), shape.width * scale, shape.height * scale).fill('#555555');
    else if (shape.kind === 'box') hatch(page, x(shape.x), y(shape.y), shape.width * scale, shape.height * scale);
    else if (shape.kind === 'line') {
      page.lineWidth(0.6);
      if (shape.dashed) page.dash(3, { space: 2 });
      page.moveTo(x(shape.x1), y(shape.y1)).lineTo(x(shape.x2), y(shape.y2)).stroke('black').undash();
    } else {
      page.font(plain).fontSize(7).fillColor('black');
      const wide = page.widthOfString(shape.text);
      page.text(shape.text, x(shape.x) - (shape.end === 'start' ? 0 : shape.end === 'end' ? wide : wide / 2), y(shape.y) - 6, { lineBreak: false });
    }
  }
  page.fillColor('black');
  flow.y += height * scale + 2;
  words(flow, caption, { size: 7, after: 5 });
};

/** Lines from left below to right above, so that a gap is told from a value without colour. */
const hatch = (page: Page, x: number, y: number, width: number, height: number): void => {
  page.save();
  page.rect(x, y, width, height).clip();
  page.lineWidth(0.5);
  for (let from = x - height; from < x + width; from += 4) page.moveTo(from, y + height).lineTo(from + height, y).stroke('#777777');
  page.restore();
  page.lineWidth(0.5).rect(x, y, width, height).stroke('#777777');
};

const check = (flow: Flow, { fingerprint, code, sha256, publicKey, signature }: Readonly<Record<'fingerprint' | 'code' | 'sha256' | 'publicKey' | 'signature', string>>): void => {
  const size = behindSize;
  words(flow, 'The check code at the foot of each page tells that the pages belong to one print, and which record they were printed from. It says "unchanged since signing", nothing about truth.', { size });
  words(flow, 'The signed record is attached to this PDF file as JSON. How to check it with OpenSSL and a short script of your own: /api/records/how-to-check at the address of the site, or the file api/papers/how-to-check.md of the program.', { size });
  words(flow, 'Compare the fingerprint of the key with one you have from elsewhere: the wall display of the shed, a label, a paper of an earlier visit.', { size });
  for (const [label, value] of [['Fingerprint of the key', fingerprint], ['Check code of the record', code], ['SHA-256 of the record (RFC 8785)', sha256], ['Public key (Ed25519, base64url)', publicKey], ['Signature (base64url)', signature]] as const) words(flow, `${label}: ${value}`, { size });
};
