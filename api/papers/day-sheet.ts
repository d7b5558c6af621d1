import type { DaySheet, SheetDrum } from '../shed/day-sheet-view.ts';
import { bold, finish, line, openPaper, paper, plain, type Page } from './page.ts';

/**
 * The day sheet: one page of A4 for up to eight drums, black on white, for a shed without power or with wet hands. Left what to expect,
 * in the middle what to do with boxes to tick, right boxes to write into. Every box has a number, so that what was written is typed in
 * afterwards by number and value alone.
 */
export const daySheetPdf = (sheet: DaySheet): Promise<Buffer> => {
  const page = openPaper(`Day sheet, ${sheet.siteName}, ${sheet.date.toString()}`, new Date(sheet.printedAt.epochMilliseconds));
  const pages = Math.max(1, Math.ceil(sheet.drums.length / drumsPerPage));
  for (let index = 0; index < pages; index += 1) {
    if (index > 0) page.addPage();
    head(page, sheet, pages === 1 ? '' : `, page ${index + 1} of ${pages}`);
    const drums = sheet.drums.slice(index * drumsPerPage, (index + 1) * drumsPerPage);
    for (const [row, drum] of drums.entries()) drumRow(page, drum, index * drumsPerPage + row + 1, topPt + row * rowPt);
    if (drums.length === 0) line(page, 'No fruit in any drum.', paper.marginPt, topPt, widthPt, 11);
    foot(page, index === pages - 1 ? sheet.elsewhere : [], sheet.seal);
  }
  return finish(page);
};

const drumsPerPage = 8;
const widthPt = paper.widthPt - 2 * paper.marginPt;
const topPt = 76;
const rowPt = 87;
const leftPt = 160;
const middlePt = 188;
const gapPt = 10;
const boxPt = { width: 44, height: 30, labelSize: 5.8 } as const;
const tasksShown = 5;

/** What is written with wet hands: a number each, and who and when. Numbered 3.1, 3.2, … for the third drum. */
const boxes = ['temp. °C', 'pH', 'salt g/L', 'taste 0–10', 'litres in', 'kg salt in', 'time', 'who'] as const;

const head = (page: Page, { siteName, date, printedAt }: DaySheet, pageWords: string): void => {
  const day = date.toLocaleString('en-GB', { weekday: 'long', day: 'numeric', month: 'long', year: 'numeric' });
  line(page, `${siteName}: ${day}`, paper.marginPt, 26, widthPt, 15, bold);
  const printed = `${printedAt.toPlainDate().toString()} ${printedAt.toPlainTime().toString({ smallestUnit: 'minute' })}`;
  line(page, `Day sheet, printed ${printed}${pageWords}. Youngest and cleanest drum first, a doubtful one last. Typed in afterwards: box number and value.`, paper.marginPt, 46, widthPt, 7.5);
  line(page, 'A “!” is overdue or outside a limit. Expected values are guesses to compare with. Taste nothing that smells or looks wrong; taste says nothing about safety.', paper.marginPt, 57, widthPt, 7.5);
};

const drumRow = (page: Page, drum: SheetDrum, number: number, y: number): void => {
  page.lineWidth(0.8).moveTo(paper.marginPt, y).lineTo(paper.marginPt + widthPt, y).stroke('black');
  expectedColumn(page, drum, number, y);
  taskColumn(page, drum, y);
  const from = paper.marginPt + leftPt + middlePt + 2 * gapPt;
  for (const [index, label] of boxes.entries()) writeBox(page, `${number}.${index + 1}`, label, from + (index % 4) * boxPt.width, y + 8 + Math.floor(index / 4) * (boxPt.height + 8));
};

const expectedColumn = (page: Page, drum: SheetDrum, number: number, y: number): void => {
  line(page, `${number}  ${drum.name}`, paper.marginPt, y + 5, leftPt, 12, bold);
  const lines = [`${drum.lot}: ${drum.stage}`, drum.cure, ...drum.expected];
  for (const [index, text] of lines.entries()) line(page, text, paper.marginPt, y + 20 + index * 9.4, leftPt, 7.5);
};

const taskColumn = (page: Page, { tasks, alert }: SheetDrum, y: number): void => {
  const x = paper.marginPt + leftPt + gapPt;
  const shown = tasks.slice(0, tasksShown);
  for (const [index, text] of shown.entries()) {
    const top = y + 7 + index * 13;
    page.lineWidth(0.8).rect(x, top, 9, 9).stroke('black');
    line(page, text, x + 13, top - 0.5, middlePt - 13, 8);
  }
  if (tasks.length === 0) line(page, 'Nothing is due.', x, y + 7, middlePt, 8.5);
  if (tasks.length > tasksShown) line(page, `and ${tasks.length - tasksShown} more on the screen`, x + 13, y + 6 + tasksShown * 13, middlePt - 13, 7);
  if (alert !== null) line(page, `! ${alert}`, x, y + rowPt - 13, middlePt, 7, bold);
};

const writeBox = (page: Page, number: string, label: string, x: number, y: number): void => {
  page.lineWidth(0.6).rect(x, y, boxPt.width - 3, boxPt.height).stroke('black');
  line(page, `${number} ${label}`, x + 2, y + 1.5, boxPt.width - 6, boxPt.labelSize, plain);
};

const foot = (page: Page, elsewhere: readonly string[], seal: string | null): void => {
  const y = paper.heightPt - 44;
  page.lineWidth(0.8).moveTo(paper.marginPt, y - 4).lineTo(paper.marginPt + widthPt, y - 4).stroke('black');
  if (elsewhere.length > 0) line(page, `Not in a drum: ${elsewhere.join(' · ')}`, paper.marginPt, y, widthPt, 8);
  line(page, 'Notes:', paper.marginPt, y + 14, widthPt, 8);
  if (seal !== null) line(page, `Sealed so far, to compare later: ${seal}`, paper.marginPt, y + 32, widthPt, 6);
};
