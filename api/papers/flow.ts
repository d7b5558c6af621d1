import { bold, line, plain, type Page } from './page.ts';

/** Text and tables that run on over pages: whatever does not fit begins on a new one. Sizes in points. */
export interface Flow {
  readonly page: Page;
  readonly widthPt: number;
  y: number;
  /** A new page where less than this is left of the page. */
  need(heightPt: number): void;
  newPage(): void;
}

/** Room at the foot for what stands on every page. */
export const footPt = 34;
export const sidePt = 36;
const topPt = 34;

export const startFlow = (page: Page): Flow => {
  const flow: Flow = {
    page,
    widthPt: page.page.width - 2 * sidePt,
    y: topPt,
    need: (heightPt) => {
      if (flow.y + heightPt > page.page.height - footPt - 8) flow.newPage();
    },
    newPage: () => {
      page.addPage();
      flow.y = topPt;
    },
  };
  return flow;
};

export interface Words {
  readonly size: number;
  readonly font?: typeof plain | typeof bold;
  readonly x?: number;
  readonly widthPt?: number;
  readonly after?: number;
}

/** A paragraph, broken into lines. */
export const words = (flow: Flow, text: string, { size, font = plain, x = sidePt, widthPt = flow.widthPt, after = 3 }: Words): void => {
  const { page } = flow;
  page.font(font).fontSize(size);
  const height = page.heightOfString(text, { width: widthPt });
  flow.need(height);
  page.font(font).fontSize(size).fillColor('black').text(text, x, flow.y, { width: widthPt });
  flow.y += height + after;
};

/** Two texts at the two ends of a line; the left one breaks, the right one has its own width. */
export const pair = (flow: Flow, left: string, right: string, size: number, font: typeof plain | typeof bold): void => {
  const { page } = flow;
  page.font(font).fontSize(size);
  const fits = page.widthOfString(left) + page.widthOfString(right) + 12 < flow.widthPt;
  const rightPt = right === '' ? 0 : Math.min(page.widthOfString(right) + 1, fits ? flow.widthPt : flow.widthPt * 0.4);
  const leftPt = flow.widthPt - rightPt - (right === '' ? 0 : 10);
  const height = Math.max(page.heightOfString(left, { width: leftPt }), right === '' ? 0 : page.heightOfString(right, { width: rightPt }));
  flow.need(height);
  page.text(left, sidePt, flow.y, { width: leftPt });
  if (right !== '') page.text(right, sidePt + flow.widthPt - rightPt, flow.y, { width: rightPt, align: 'right' });
  flow.y += height + 2;
};

export interface FlowColumn {
  readonly title: string;
  readonly share: number;
  readonly right?: boolean;
}

export interface FlowRow {
  readonly cells: readonly string[];
  readonly struck?: boolean;
  readonly strong?: boolean;
}

const cellGapPt = 6;
const rowGapPt = 2.5;

/** A table whose rows are never cut; its head stands again on each page. */
export const flowTable = (flow: Flow, columns: readonly FlowColumn[], rows: readonly FlowRow[], size: number): void => {
  const { page } = flow;
  const shares = columns.reduce((sum, { share }) => sum + share, 0);
  const widths = columns.map(({ share }) => (flow.widthPt * share) / shares - cellGapPt);
  const lefts = widths.map((_width, index) => sidePt + widths.slice(0, index).reduce((sum, width) => sum + width + cellGapPt, 0));
  const heightOf = (cells: readonly string[]): number => Math.max(...cells.map((cell, index) => page.heightOfString(cell, { width: widths[index] ?? 0 })));
  const put = (cells: readonly string[], { struck = false }: { readonly struck?: boolean }): void => {
    for (const [index, cell] of cells.entries()) page.text(cell, lefts[index] ?? sidePt, flow.y, { width: widths[index] ?? 0, align: columns[index]?.right === true ? 'right' : 'left', strike: struck });
  };
  const rule = (weight: number): void => void page.lineWidth(weight).moveTo(sidePt, flow.y).lineTo(sidePt + flow.widthPt, flow.y).stroke('black');
  const head = (): void => {
    page.font(bold).fontSize(size);
    const titles = columns.map(({ title }) => title);
    put(titles, {});
    flow.y += heightOf(titles) + 1.5;
    rule(0.7);
    flow.y += rowGapPt;
  };
  page.font(bold).fontSize(size);
  flow.need(heightOf(columns.map(({ title }) => title)) + 3 * size);
  head();
  for (const row of rows) {
    page.font(row.strong === true ? bold : plain).fontSize(size);
    const height = heightOf(row.cells);
    const before = flow.page.bufferedPageRange().count;
    flow.need(height + rowGapPt);
    if (flow.page.bufferedPageRange().count > before) head();
    page.font(row.strong === true ? bold : plain).fontSize(size);
    put(row.cells, row);
    flow.y += height + rowGapPt;
  }
  rule(0.3);
  flow.y += 6;
};

/** What stands at the foot of every page, put there when the number of pages is known. */
export const numberPages = (page: Page, left: string, right: string): void => {
  const { start, count } = page.bufferedPageRange();
  for (let index = 0; index < count; index += 1) {
    page.switchToPage(start + index);
    const { width, height } = page.page;
    page.lineWidth(0.5).moveTo(sidePt, height - footPt).lineTo(width - sidePt, height - footPt).stroke('black');
    line(page, `${left}   page ${index + 1} of ${count}`, sidePt, height - footPt + 5, (width - 2 * sidePt) * 0.64, 8);
    page.font(bold).fontSize(8).text(right, sidePt + (width - 2 * sidePt) * 0.6, height - footPt + 5, { width: (width - 2 * sidePt) * 0.4, align: 'right', lineBreak: false });
  }
};
