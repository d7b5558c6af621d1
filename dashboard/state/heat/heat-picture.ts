import { dayMs, hourMs, type DrumHeat, type HeatPlan } from '#contract';
import { clockTime, startOfDay, weekdayShort } from '../../format/time.ts';
import { inWords, showLimit, type UnitChoice } from '../../format/units.ts';

export interface HeatPicture {
  readonly plot: { readonly left: number; readonly right: number; readonly top: number; readonly bottom: number };
  readonly nowX: number;
  readonly past: string;
  readonly ahead: string;
  readonly band: string;
  readonly airPast: string;
  readonly airAhead: string;
  readonly limits: readonly { readonly y: number; readonly label: string; readonly danger: boolean }[];
  readonly crossing: { readonly x: number; readonly y: number; readonly from: number; readonly to: number } | null;
  readonly days: readonly { readonly x: number; readonly label: string }[];
  readonly hours: readonly { readonly x: number; readonly label: string }[];
}

export interface PictureSize {
  readonly width: number;
  readonly height: number;
  readonly textPx: number;
  readonly units: UnitChoice;
  readonly zone: string;
}

interface At {
  readonly t: number;
  readonly temperatureC: number;
}

/** Limits further away than this from all that is drawn say nothing here. */
const nearC = 3;
const gapMs = 30 * 60_000;

/** The last 24 hours of a drum and the 48 to come, with its air, its limits, and where it crosses one. */
export const drawHeat = (heat: DrumHeat, air: HeatPlan['air'], now: number, { width, height, textPx, units, zone }: PictureSize): HeatPicture => {
  const plot = { left: 4, right: width - textPx * 4, top: 6, bottom: height - textPx * 1.8 };
  const [from, to] = [now - dayMs, now + 2 * dayMs];
  const values = [...heat.past.map(({ temperatureC }) => temperatureC), ...heat.ahead.flatMap(({ low, high }) => [low, high]), ...(air?.past ?? []).map(({ temperatureC }) => temperatureC), ...(air?.ahead ?? []).map(({ temperatureC }) => temperatureC)];
  const [lowest, highest] = values.length === 0 ? [10, 25] : [Math.min(...values), Math.max(...values)];
  const shown = heat.limits.filter(({ limitC }) => limitC > lowest - nearC && limitC < highest + nearC);
  const bottom = Math.min(lowest, ...shown.map(({ limitC }) => limitC)) - 0.8;
  const top = Math.max(highest, ...shown.map(({ limitC }) => limitC)) + 0.8;
  const x = (t: number): number => plot.left + ((t - from) / (to - from)) * (plot.right - plot.left);
  const y = (value: number): number => plot.bottom - ((value - bottom) / (top - bottom)) * (plot.bottom - plot.top);
  const place = (t: number, value: number): string => `${x(t).toFixed(1)} ${y(value).toFixed(1)}`;
  const line = (points: readonly At[]): string => points.map(({ t, temperatureC }, index) => `${index === 0 || t - (points[index - 1]?.t ?? t) > gapMs * 2 ? 'M' : 'L'}${place(t, temperatureC)}`).join('');
  const edge = [...heat.ahead.map(({ t, high }) => place(t, high)), ...heat.ahead.toReversed().map(({ t, low }) => place(t, low))];
  const { crossing } = heat;
  const midnights = [0, 1, 2, 3].map((days) => startOfDay(startOfDay(from, zone) + (days + 0.5) * dayMs + dayMs / 2, zone)).filter((t) => t > from && t < to);
  return {
    plot,
    nowX: x(now),
    past: line(heat.past),
    ahead: line(heat.ahead),
    band: edge.length === 0 ? '' : `M${edge.join('L')}Z`,
    airPast: line(air?.past ?? []),
    airAhead: line(air?.ahead ?? []),
    limits: shown.map(({ limitC, priority }) => ({ y: y(limitC), label: inWords(showLimit(limitC, 'Cel', units)), danger: priority === 'high' })),
    crossing: crossing === null ? null : { x: x(Date.parse(crossing.at)), y: y(crossing.limitC), from: x(Math.max(from, Date.parse(crossing.earliest))), to: x(Math.min(to, crossing.latest === null ? to : Date.parse(crossing.latest))) },
    days: midnights.map((t) => ({ x: x(t), label: weekdayShort(t + hourMs * 12, zone) })),
    hours: midnights.flatMap((t) => [t - 12 * hourMs, t + 12 * hourMs]).filter((t, index, all) => all.indexOf(t) === index && t > from + 3 * hourMs && t < to - 3 * hourMs).map((t) => ({ x: x(t), label: clockTime(t, zone) })),
  };
};
