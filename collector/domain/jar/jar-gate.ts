import { mean as meanOf } from '../stats/moments.ts';
import type { EpochMs } from '../units/time.ts';
import type { JarFinding, JarVerdict, Unmet } from './jar-finding.ts';
import { jarUncertainty } from './jar-uncertainty.ts';
import type { NextMeasurement } from './next-measurement.ts';
import { nextMeasurement } from './next-measurement.ts';
import type { PackLimit } from './pack-limits.ts';
import { packLimitInForce } from './pack-limits.ts';
import type { JarReading, PackedJarRule } from './packed-jar-rule.ts';
import { discountOf, jarStates, packedJarRule } from './packed-jar-rule.ts';

export interface JarGateInput {
  readonly packedAt: EpochMs;
  readonly readings: readonly JarReading[];
  readonly limit?: PackLimit;
  readonly rule?: PackedJarRule;
}

export interface JarGate extends JarFinding {
  readonly next: NextMeasurement | null;
  readonly text: string;
}

/**
 * Whether the packed jars of a lot are inside the pH limit in force: inside, outside or unknown, with the margin. No approval.
 *
 * margin = limit - max(mean + U, worst jar + U of one jar). Inside: every part of the packed-jar rule is met and the margin is not negative.
 * Outside: the mean, or any one jar, reads above the limit as it stands. Everything else is unknown, and unknown never counts as inside.
 *
 * Source: limits in `pack-limits.ts`, rule in `packed-jar-rule.ts`, uncertainty in `jar-uncertainty.ts`. The worst jar stands beside the mean because
 * a mean of many good jars would hide a bad one. A high reading that does not count (a strip, an unchecked meter) is not forgotten: until its
 * jar is read again the verdict is unknown.
 * Example: two jars at 4.12, read twice over 48 h, limit 4.30: 4.12 ± 0.13, inside by 0.05.
 */
export const jarGate = ({ packedAt, readings, limit = packLimitInForce(), rule = packedJarRule }: JarGateInput): JarGate => {
  const judged = readings.map((reading) => ({ reading, why: discountOf(reading, packedAt, rule) }));
  const counting = judged.filter(({ why }) => why === null).map(({ reading }) => reading);
  const discounted = judged.flatMap(({ reading, why }) => (why === null ? [] : [{ reading, why }]));
  const jars = jarStates(counting, rule);
  const doubts = discounted.filter(({ reading }) => reading.ph > limit.ph && !jars.some(({ jar, last }) => jar === reading.jar && last.at > reading.at));

  const phs = jars.map(({ last }) => last.ph);
  const mean = phs.length === 0 ? null : meanOf(phs);
  const uncertainty = mean === null ? null : jarUncertainty(phs, jars.flatMap(({ last }) => last.meter ?? []));
  const worst = Math.max(...phs);
  const byMean = mean === null || uncertainty === null ? null : limit.ph - (mean + uncertainty.expanded);
  const byJar = uncertainty === null ? null : limit.ph - (worst + uncertainty.ofOneJar);
  const decidedBy = byMean === null || byJar === null ? null : byJar < byMean ? 'worst-jar' : 'mean';
  const margin = byMean === null || byJar === null ? null : Math.min(byMean, byJar);

  const unmet: Unmet[] = [];
  if (jars.length === 0) unmet.push('no-reading');
  else if (jars.length < rule.jars) unmet.push('too-few-jars');
  if (jars.length > 0 && !jars.some(({ course }) => course === 'steady')) unmet.push('not-repeated');
  if (jars.some(({ course }) => course === 'moving')) unmet.push('still-moving');
  if (doubts.length > 0) unmet.push('high-reading-in-doubt');
  if (margin !== null && !(margin >= 0)) unmet.push('too-close');

  const isOutside = mean !== null && (mean > limit.ph || worst > limit.ph);
  const verdict: JarVerdict = isOutside ? 'outside' : unmet.length === 0 ? 'inside' : 'unknown';
  const found: JarFinding = { verdict, limit, mean, uncertainty, margin, decidedBy, jars, discounted, unmet };
  const next = nextMeasurement({ ...found, packedAt, rule, doubts: doubts.map(({ reading }) => reading) });
  return { ...found, next, text: sentence(found, next) };
};

const sentence = ({ verdict, limit, mean, uncertainty, margin, jars }: JarFinding, next: NextMeasurement | null): string => {
  const after = next === null ? '' : ` ${next.text}`;
  const rule = `limit ${limit.ph.toFixed(2)} (${limit.source})`;
  if (mean === null || uncertainty === null || margin === null) return `pH of the packed jars unknown, ${rule}.${after}`;
  const value = `${mean.toFixed(2)} ± ${uncertainty.expanded.toFixed(2)} from ${jars.length} ${jars.length === 1 ? 'jar' : 'jars'}, ${rule}`;
  if (verdict === 'inside') return `${value}: inside by ${floorTo(margin)}.${after}`;
  if (verdict === 'outside') return `${value}: outside.${after}`;
  return `${value}: unknown${margin < 0 ? ', too close to say' : ''}.${after}`;
};

/** Rounded down: a margin is never made to look larger than it is. */
const floorTo = (margin: number): string => (Math.floor(margin * 100 + 1e-9) / 100).toFixed(2);
