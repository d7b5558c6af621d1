/** How large everything on the wall is: rows fill the height, type follows the rows, words stop shrinking where they stop being readable. */
export interface WallScale {
  /** List: one card a drum, the page scrolls. Rows: everything on one screen. */
  readonly kind: 'rows' | 'list';
  readonly perPage: number;
  readonly rowPx: number;
  /** One pixel of the design, which is drawn for rows of 138 px on a 1920 px wide wall. */
  readonly unitPx: number;
  readonly columnPx: number;
  readonly textPx: number;
}

export const mostRows = 8;
const leastRowPx = 82;

export const wallScale = ({ width, height }: { readonly width: number; readonly height: number }, drums: number): WallScale => {
  if (width < 1_100 || height < 480) return { kind: 'list', perPage: Number.MAX_SAFE_INTEGER, rowPx: 0, unitPx: 0.62, columnPx: 0, textPx: 14 };
  const aroundPx = Math.min(Math.max(height * 0.157, 128), 220);
  const free = height - aroundPx;
  const perPage = Math.min(Math.max(Math.floor(free / leastRowPx), 1), mostRows);
  const rows = Math.min(Math.max(drums, 1), perPage);
  const rowPx = Math.min(free / rows, height * 0.23);
  const unitPx = Math.min(rowPx / 148, (width / 1_920) * 1.12);
  const least = height >= 900 ? 17 : 13.5;
  return { kind: 'rows', perPage, rowPx, unitPx, columnPx: width / 1_920, textPx: Math.max(least, 19 * unitPx) };
};
