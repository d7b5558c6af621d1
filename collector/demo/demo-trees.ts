import { localDate } from '#domain/cure/stage.ts';
import type { EntryBodies } from '#domain/journal/entry.ts';
import type { EpochMs } from '#domain/units/time.ts';

/** What the invented trees bore in the three years before, oldest first, kg: most of them swing, the Leccino hardly. */
const earlierKg: readonly (readonly [tree: string, kg: readonly number[]])[] = [
  ['Picual 1', [7, 19, 6]], ['Picual 2', [6, 17, 5.5]], ['Picual 3', [8, 18, 7]], ['Picual 4', [9, 7, 21]], ['Picual 5', [10, 5, 19]], ['Picual 6', [8, 6, 18]],
  ['Leccino 7', [16, 19, 17]], ['Leccino 8', [15, 18, 16]], ['Leccino 9', [14, 17, 15]], ['Leccino 10', [13, 18, 15]],
  ['Frantoio 11', [18, 6, 17]], ['Frantoio 12', [17, 5, 15]], ['Frantoio 13', [19, 7, 18]], ['Frantoio 14', [5, 16, 4]],
];

export const demoTreeLoads = (firstPick: EpochMs, zone: string): readonly EntryBodies['tree-load'][] => {
  const { year } = localDate(firstPick, zone);
  return earlierKg.flatMap(([tree, all]) => all.map((kg, index) => ({ tree, year: year - all.length + index, kg })));
};
