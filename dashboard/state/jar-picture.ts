import type { JarGate } from '#contract';
import { courseWords } from './jar-words.ts';

/** The jar gate as a picture on one axis of pH: the limit, the mean with its uncertainty, each jar a mark. All in pixels; drawn elsewhere. */
export interface JarPicture {
  readonly height: number;
  readonly limitX: number;
  readonly axisY: number;
  readonly ticks: readonly { readonly x: number; readonly words: string }[];
  /** What the shapes in it mean. */
  readonly key: readonly { readonly shape: JarShape; readonly words: string }[];
  readonly jars: readonly { readonly x: number; readonly y: number; readonly words: string; readonly shape: JarShape; readonly side: 'left' | 'right' }[];
  /** From the mean less to the mean more its uncertainty; null without a reading that counts. */
  readonly mean: { readonly x: number; readonly from: number; readonly to: number; readonly y: number; readonly words: string } | null;
}

export type JarShape = 'steady' | 'moving' | 'once' | 'not-counted';
const shapeWords: Readonly<Record<JarShape, string>> = { ...courseWords, 'not-counted': 'does not count' };

const jarRowPx = 34;
const topPx = 40;
const meanPx = 66;
const axisPx = 34;
/** Room at both ends, so that no mark lies on the edge. */
const edgePx = 14;
const tickPh = 0.1;
/** About the width of `jar 52: 4.02` with its distance from the mark. */
const labelPx = 108;

export const jarPicture = ({ limit, mean, uncertainty, jars, discounted }: JarGate, width: number): JarPicture => {
  const rows = [...jars.map((each) => ({ ...each, shape: each.course })), ...discounted.map((each) => ({ ...each, shape: 'not-counted' as const }))];
  const half = mean === null || uncertainty === null ? 0 : uncertainty.expanded;
  const told = [limit.ph - 0.35, limit.ph + 0.25, ...rows.map(({ ph }) => ph), ...(mean === null ? [] : [mean - half, mean + half])];
  const [low, high] = [Math.floor(Math.min(...told) * 10) / 10, Math.ceil(Math.max(...told) * 10) / 10];
  const x = (ph: number): number => edgePx + ((ph - low) / (high - low)) * (width - 2 * edgePx);
  // Numbers of ticks, not pH: tenths added up are no tenths.
  const every = Math.max(1, Math.ceil(((high - low) / tickPh) * (64 / Math.max(1, width - 2 * edgePx))));
  const ticks = Array.from({ length: Math.round((high - low) / tickPh) + 1 }, (_, index) => low + index * tickPh).filter((_, index) => index % every === 0);
  const body = topPx + rows.length * jarRowPx;
  const meanY = body + meanPx - 24;
  const axisY = body + (mean === null ? 12 : meanPx);
  return {
    height: axisY + axisPx,
    axisY,
    limitX: x(limit.ph),
    ticks: ticks.map((ph) => ({ x: x(ph), words: ph.toFixed(1) })),
    jars: rows.map(({ jar, ph, shape }, index) => ({
      x: x(ph),
      y: topPx + (index + 0.5) * jarRowPx,
      words: `${jar === null ? 'a jar' : `jar ${jar}`}: ${ph.toFixed(2)}`,
      shape,
      // Beside the mark, on the side where it keeps clear of the limit, as far as there is room.
      side: x(ph) + labelPx > x(limit.ph) && x(ph) < x(limit.ph) && x(ph) > labelPx ? 'left' : x(ph) + labelPx > width ? 'left' : 'right',
    })),
    key: [...new Set(rows.map(({ shape }) => shape))].map((shape) => ({ shape, words: shapeWords[shape] })),
    mean: mean === null ? null : { x: x(mean), from: x(mean - half), to: x(mean + half), y: meanY, words: `mean ${mean.toFixed(2)} ± ${half.toFixed(2)}` },
  };
};
