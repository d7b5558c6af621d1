import type { EpochMs } from '../units/time.ts';
import { hourMs } from '../units/time.ts';
import type { MeterCheck } from './meter-check.ts';

/** One pH of the blended flesh and brine of a packed jar. */
export interface JarReading {
  /** Number or mark of the jar; readings without one all count as the same jar. */
  readonly jar: string | null;
  readonly at: EpochMs;
  readonly ph: number;
  readonly method: 'meter' | 'strip';
  /** What is known of the meter that day; null: not calibrated as required. */
  readonly meter: MeterCheck | null;
  /** A later check of the meter failed, and nobody has decided that this reading stands. */
  readonly inDoubt?: true;
}

/** What release asks of the readings. */
export interface PackedJarRule {
  readonly jars: number;
  readonly hoursAfterPacking: number;
  readonly hoursBetween: number;
  readonly agreeWithin: number;
  /** How near a second, freshly opened acid buffer must read; null: not asked for. */
  readonly secondBufferWithin: number | null;
}

/**
 * Two jars, 24 h after packing at the earliest, one of them read again after 48 h or more with the same result, and the meter checked in
 * a second acid buffer.
 *
 * Source: 24 h is what extension pages ask; one preserving page says that pickled vegetables take about three weeks, and whole olives are slow,
 * so it is the agreement over 48 h that tells that the acid has come to rest. Two jars, 48 h and 0.05 are assumptions. The second buffer is
 * there because a spoiled 4.01 that is really 4.15 makes a brine look 0.13 more acid than it is.
 */
export const packedJarRule: PackedJarRule = { jars: 2, hoursAfterPacking: 24, hoursBetween: 48, agreeWithin: 0.05, secondBufferWithin: 0.05 };

/** Why a reading is no evidence for release. */
export type Discount = 'strip' | 'too-early' | 'not-calibrated' | 'second-buffer' | 'implausible' | 'in-doubt';

export const discountOf = (reading: JarReading, packedAt: EpochMs, rule: PackedJarRule): Discount | null => {
  // Strips count only below pH 4.0 (21 CFR 114.80), and were found to be off and unreadable in dark liquids: rough, never for release.
  if (reading.method === 'strip') return 'strip';
  if (!(reading.ph >= 2.5 && reading.ph <= 14) || !Number.isFinite(reading.at)) return 'implausible';
  if (reading.at < packedAt + rule.hoursAfterPacking * hourMs) return 'too-early';
  if (reading.meter === null) return 'not-calibrated';
  if (reading.inDoubt === true) return 'in-doubt';
  const { secondBufferError } = reading.meter;
  if (rule.secondBufferWithin !== null && (secondBufferError === null || !(Math.abs(secondBufferError) <= rule.secondBufferWithin + rounding))) return 'second-buffer';
  return null;
};

/** What is known of one jar from the readings that count. */
export interface JarState {
  readonly jar: string | null;
  readonly last: JarReading;
  /** `steady`: the last reading agrees with one far enough before it; `moving`: it does not; `once`: there is none to compare with. */
  readonly course: 'steady' | 'moving' | 'once';
  /** From when a further reading can settle the course; null when it is steady. */
  readonly repeatFrom: EpochMs | null;
}

export const jarStates = (counting: readonly JarReading[], rule: PackedJarRule): readonly JarState[] => {
  const jars = new Map<string | null, JarReading[]>();
  for (const reading of counting.toSorted((one, other) => one.at - other.at)) jars.set(reading.jar, [...(jars.get(reading.jar) ?? []), reading]);
  const apartMs = rule.hoursBetween * hourMs;
  return [...jars].flatMap(([jar, readings]): JarState[] => {
    const last = readings.at(-1);
    const first = readings[0];
    if (last === undefined || first === undefined) return [];
    const earlier = readings.findLast(({ at }) => last.at - at >= apartMs);
    if (earlier === undefined) return [{ jar, last, course: 'once', repeatFrom: first.at + apartMs }];
    const steady = Math.abs(last.ph - earlier.ph) <= rule.agreeWithin + rounding;
    return [{ jar, last, course: steady ? 'steady' : 'moving', repeatFrom: steady ? null : last.at + apartMs }];
  });
};

/** 4.15 - 4.10 is a hair more than 0.05 in binary numbers; the reader meant 0.05. */
const rounding = 1e-9;
