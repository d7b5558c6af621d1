/** Which rows stand on which page of the wall: those that need someone are on every page, first; the others take turns. */
export const pagesOf = <Row>(rows: readonly Row[], perPage: number, needsSomeone: (row: Row) => boolean): readonly (readonly Row[])[] => {
  if (rows.length <= perPage) return [rows];
  // Two places always turn, so that no drum is hidden for good behind many alerts.
  const pinned = rows.filter(needsSomeone).slice(0, Math.max(0, perPage - 2));
  const turning = rows.filter((row) => !pinned.includes(row));
  const places = perPage - pinned.length;
  const pages = Math.ceil(turning.length / places);
  return Array.from({ length: pages }, (_, page) => [...pinned, ...turning.slice(page * places, (page + 1) * places)]);
};
