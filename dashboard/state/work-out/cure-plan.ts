/** Days of the changes: so often in the first week, so often after it. Zero days between: none. */
export const plannedChanges = (early: number, later: number, days: number): readonly number[] => {
  const first: number[] = [];
  if (early > 0) for (let day = early; day < 7 && first.length < mostChanges; day += early) first.push(day);
  const then: number[] = [];
  if (later > 0) for (let day = (first.at(-1) ?? 0) + later; day <= days && first.length + then.length < mostChanges; day += later) then.push(day);
  return [...first, ...then];
};

/** As many as the calculator takes. */
const mostChanges = 500;

/** When a course first passes a level: 0 where it begins above, null where it never does. */
export const firstAbove = (curve: readonly { readonly hours: number; readonly temperatureC: number }[], level: number): number | null => {
  const index = curve.findIndex(({ temperatureC }) => temperatureC > level);
  const [before, after] = [curve[index - 1], curve[index]];
  if (after === undefined) return null;
  if (before === undefined) return 0;
  return before.hours + ((level - before.temperatureC) / (after.temperatureC - before.temperatureC)) * (after.hours - before.hours);
};
