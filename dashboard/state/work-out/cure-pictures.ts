import type { UnitChoice } from '../../format/units.ts';
import { firstAbove } from './cure-plan.ts';
import { measureOf, plain } from './measure.ts';
import { ticks, type Plot, type Point } from './picture.ts';

/** Bitterness leaving the flesh, the changes below it, the likely days dotted. */
export const leachingPicture = (curve: readonly { readonly day: number; readonly flesh: number; readonly brine: number }[], changes: readonly number[], pleasant: number | null, sweet: number | null): Plot => {
  const to = Math.min(curve.at(-1)?.day ?? 1, Math.max(7, Math.ceil((sweet ?? pleasant ?? 365) * 1.15)));
  const shown = curve.filter(({ day }) => day <= to);
  const day = (value: number | null): string => (value === null ? 'not within a year' : `day ${plain(value, 0)}`);
  return {
    kind: 'plot',
    summary: `Bitterness of the flesh falls from ${plain((curve[0]?.flesh ?? 1) * 100, 0)} to ${plain((shown.at(-1)?.flesh ?? 0) * 100, 0)} of a hundred in ${String(to)} days; pleasant ${day(pleasant)}, sweet ${day(sweet)}.`,
    x: { from: 0, to, ticks: ticks(0, to, 5).map((tick) => ({ ...tick, label: tick.at === 0 ? 'day 0' : tick.label })) },
    y: { from: 0, to: 1.05, ticks: [] },
    lines: [
      { points: shown.map(({ day: x, brine }) => ({ x, y: brine })), tone: 'quiet', label: 'brine' },
      { points: shown.map(({ day: x, flesh }) => ({ x, y: flesh })), tone: 'trace', label: 'bitterness of the flesh' },
    ],
    changes: changes.filter((change) => change <= to),
    likely: [{ at: pleasant, label: 'pleasant' }, { at: sweet, label: 'sweet' }].flatMap(({ at, label }) => (at === null || at > to ? [] : [{ x: at, label }])),
  };
};

interface Prediction {
  readonly temperatureC: number;
  readonly days: number | null;
  readonly low: number;
  readonly high: number;
}

/** The grower's own cures as rings, the fit through them, and how far one more may fall from it. */
export const curesPicture = (cures: readonly { readonly temperatureC: number; readonly days: number }[], curve: readonly Prediction[], here: { readonly temperatureC: number; readonly days: number | null }, units: UnitChoice): Plot => {
  const { toShown, unit } = measureOf('temperature', units);
  const fitted = curve.filter(({ days }) => days !== null);
  const most = Math.max(...cures.map(({ days }) => days), here.days ?? 0) * 1.35;
  const [from, to] = [toShown(curve[0]?.temperatureC ?? 0), toShown(curve.at(-1)?.temperatureC ?? 45)];
  return {
    kind: 'plot',
    summary: `${String(cures.length)} cures, days against temperature${here.days === null ? '' : `; likely ${plain(here.days, 0)} days at ${plain(toShown(here.temperatureC), 1)} ${unit}`}.`,
    x: { from, to, ticks: ticks(from, to, 4, ` ${unit}`) }, y: { from: 0, to: most, ticks: ticks(0, most, 3, ' d') },
    ...(fitted.length > 0 && { band: fitted.map(({ temperatureC, low, high }) => ({ x: toShown(temperatureC), low, high: Math.min(high, most) })) }),
    lines: fitted.length > 0 ? [{ points: fitted.map(({ temperatureC, days }) => ({ x: toShown(temperatureC), y: days ?? 0 })), tone: 'trace' }] : [],
    dots: cures.map(({ temperatureC, days }) => ({ x: toShown(temperatureC), y: days })),
    ...(here.days !== null && { here: { x: toShown(here.temperatureC), y: here.days } }),
  };
};

/** The drum following the air; what lies over the limit is heavy and red, as on the ribbon. */
export const drumPicture = (curve: readonly { readonly hours: number; readonly temperatureC: number }[], { airC, warmC, hours }: { readonly airC: number; readonly warmC: number; readonly hours: number }, units: UnitChoice): Plot => {
  const { toShown, unit } = measureOf('temperature', units);
  const points: Point[] = curve.map((point) => ({ x: point.hours, y: toShown(point.temperatureC) }));
  const all = [...points.map(({ y }) => y), toShown(airC), toShown(warmC)];
  const [low, high] = [Math.min(...all), Math.max(...all)];
  const spare = Math.max((high - low) * 0.12, 1);
  const passes = firstAbove(curve, warmC);
  const warm = [...(passes === null || passes === 0 ? [] : [{ x: passes, y: toShown(warmC) }]), ...points.filter(({ y }) => y > toShown(warmC))];
  const last = points.at(-1);
  return {
    kind: 'plot',
    summary: `The drum goes from ${plain(points[0]?.y ?? 0, 1)} to ${plain(last?.y ?? 0, 1)} ${unit} in ${plain(hours, 1)} hours; the air is at ${plain(toShown(airC), 1)} ${unit}.`,
    x: { from: 0, to: hours, ticks: ticks(0, hours, 5, ' h') }, y: { from: low - spare, to: high + spare, ticks: [] },
    lines: [{ points, tone: 'trace' }, ...(warm.length > 1 ? [{ points: warm, tone: 'outside' as const }] : [])],
    levels: [{ y: toShown(warmC), label: `${plain(toShown(warmC), 0)} ${unit}` }, { y: toShown(airC), label: 'air' }],
    ...(last !== undefined && { here: last }),
  };
};
