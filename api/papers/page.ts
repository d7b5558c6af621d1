import { fileURLToPath } from 'node:url';
import Document from 'pdfkit';

/** A page of paper: A4, black on white, in a typeface that has Latin, Greek and Cyrillic letters; only what is used of it is embedded. */
export type Page = PDFKit.PDFDocument;

export const paper = { widthPt: 595.28, heightPt: 841.89, marginPt: 28 } as const;

export const plain = 'plain';
export const bold = 'bold';

const fontFiles = {
  plain: fileURLToPath(import.meta.resolve('dejavu-fonts-ttf/ttf/DejaVuSansCondensed.ttf')),
  bold: fileURLToPath(import.meta.resolve('dejavu-fonts-ttf/ttf/DejaVuSansCondensed-Bold.ttf')),
};

export type PaperSize = 'A4' | 'LETTER';

/** `keepPages`: pages can be gone back to until the end, to number them. */
export const openPaper = (title: string, madeAt: Date, { size = 'A4', keepPages = false }: { readonly size?: PaperSize | [number, number]; readonly keepPages?: boolean } = {}): Page => {
  // No margin of its own: text near the edge must never start a page that nobody asked for.
  const page = new Document({ size, bufferPages: keepPages, margin: 0, lang: 'en', displayTitle: true, info: { Title: title, Creator: 'Brineward', Producer: 'Brineward', CreationDate: madeAt, ModDate: madeAt } });
  page.registerFont(plain, fontFiles.plain);
  page.registerFont(bold, fontFiles.bold);
  return page;
};

/** One line of text, cut with an ellipsis where it does not fit. */
export const line = (page: Page, text: string, x: number, y: number, widthPt: number, sizePt: number, font: typeof plain | typeof bold = plain): void => {
  page.font(font).fontSize(sizePt);
  page.text(text, x, y, { width: widthPt, height: page.currentLineHeight(true), lineBreak: true, ellipsis: '…' });
};

export const finish = (page: Page): Promise<Buffer> =>
  new Promise((resolve, reject) => {
    const parts: Buffer[] = [];
    page.on('data', (part: Buffer) => parts.push(part));
    page.on('end', () => resolve(Buffer.concat(parts)));
    page.on('error', reject);
    page.end();
  });
