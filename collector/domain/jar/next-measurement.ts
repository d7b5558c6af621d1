import type { EpochMs } from '../units/time.ts';
import { hourMs } from '../units/time.ts';
import type { JarFinding } from './jar-finding.ts';
import { coverage, saltAllowance } from './jar-uncertainty.ts';
import type { JarReading, PackedJarRule } from './packed-jar-rule.ts';

/** Terms of the uncertainty that something can be done about. */
export const mendableTerms = ['buffer', 'slope', 'temperature', 'jars'] as const;
export type MendableTerm = (typeof mendableTerms)[number];

/** The cheapest thing that would bring a lot nearer to an answer: what is missing in the rule first, then the largest term. */
export type NextMeasurement = { readonly text: string } & (
  | { readonly code: 'measure-jars'; readonly from: EpochMs; readonly jars: number }
  | { readonly code: 'use-meter' }
  | { readonly code: 'calibrate-meter' }
  | { readonly code: 'check-second-buffer'; readonly within: number }
  | { readonly code: 'measure-again'; readonly jar: string | null }
  | { readonly code: 'measure-other-jar'; readonly jars: number }
  | { readonly code: 'repeat-jar'; readonly jar: string | null; readonly from: EpochMs; readonly moving: boolean }
  /** `marginThen`: what the margin would be without the term; for `jars`, with `jarsThen` of them. */
  | { readonly code: 'reduce'; readonly term: MendableTerm; readonly share: number; readonly marginThen: number; readonly jarsThen: number | null }
  | { readonly code: 'add-acid' }
);

interface Asked extends JarFinding {
  readonly packedAt: EpochMs;
  readonly rule: PackedJarRule;
  readonly doubts: readonly JarReading[];
}

export const nextMeasurement = (asked: Asked): NextMeasurement | null => {
  const { verdict, unmet, packedAt, rule, doubts, jars } = asked;
  if (verdict === 'inside') return null;
  if (verdict === 'outside') return addAcid('No further reading brings it inside. Keep the lot on hold; acid for a target pH comes from a bench trial.');
  if (unmet.includes('no-reading')) return firstReading(asked);
  const doubt = doubts[0];
  if (doubt !== undefined) return { code: 'measure-again', jar: doubt.jar, text: `Measure ${nameOf(doubt.jar)} again with a meter calibrated that day: a reading of ${doubt.ph.toFixed(2)} stands against it.` };
  if (unmet.includes('too-few-jars')) {
    const more = rule.jars - jars.length;
    return { code: 'measure-other-jar', jars: more, text: `Measure ${more === 1 ? 'one other jar' : `${more} other jars`}, flesh and brine blended; write which jar it is.` };
  }
  const moving = jars.find(({ course }) => course === 'moving');
  const soonest = jars.filter(({ repeatFrom }) => repeatFrom !== null).sort((one, other) => (one.repeatFrom ?? 0) - (other.repeatFrom ?? 0))[0];
  const again = moving ?? (unmet.includes('not-repeated') ? soonest : undefined);
  if (again !== undefined) {
    const why = again.course === 'moving' ? 'its pH is still moving' : 'one reading does not tell whether the acid has come to rest';
    return {
      code: 'repeat-jar', jar: again.jar, from: again.repeatFrom ?? packedAt, moving: again.course === 'moving',
      text: `Measure ${nameOf(again.jar)} again ${rule.hoursBetween} h or more after its ${again.course === 'moving' ? 'last' : 'first'} reading: ${why}.`,
    };
  }
  return tooClose(asked);
};

const firstReading = ({ discounted, packedAt, rule }: Asked): NextMeasurement => {
  const why = (code: string): boolean => discounted.some((each) => each.why === code);
  if (why('second-buffer')) {
    const within = rule.secondBufferWithin ?? 0;
    return { code: 'check-second-buffer', within, text: `Read a second, freshly opened acid buffer: within ${within.toFixed(2)} the readings of that day count.` };
  }
  if (why('not-calibrated')) return { code: 'calibrate-meter', text: 'Calibrate the meter in two fresh buffers and measure again the same day.' };
  const from = packedAt + rule.hoursAfterPacking * hourMs;
  if (why('strip') && !why('too-early')) return { code: 'use-meter', text: 'Measure with a pH meter: a strip is a rough guide and never counts for release.' };
  return { code: 'measure-jars', from, jars: rule.jars, text: `Measure ${rule.jars} jars, flesh and brine blended, ${rule.hoursAfterPacking} h or more after packing.` };
};

/** All rules are met, only the uncertainty is in the way: the largest term is the one to work on, if that can help at all. */
const tooClose = ({ uncertainty, mean, limit, decidedBy, jars }: Asked): NextMeasurement => {
  if (uncertainty === null || mean === null) return addAcid('Measure again.');
  const best = decidedBy === 'worst-jar' ? Math.max(...jars.map(({ last }) => last.ph)) : mean;
  if (best + saltAllowance >= limit.ph) return addAcid(`No better measurement can decide: the salt alone may hide ${saltAllowance.toFixed(2)}. More acid, by a bench trial, makes it clear.`);
  // The worst jar is judged without the spread: more jars do not mend it.
  const terms = mendableTerms.filter((term) => !(term === 'jars' && decidedBy === 'worst-jar'));
  const squares = terms.map((term) => uncertainty[term] ** 2);
  const total = squares.reduce((sum, square) => sum + square, 0);
  const largest = squares.indexOf(Math.max(...squares));
  const term = terms[largest] ?? 'buffer';
  const rest = total - (squares[largest] ?? 0);
  const jarsThen = term === 'jars' ? jarsNeeded((limit.ph - saltAllowance - best) / coverage, rest, uncertainty.jars ** 2 * jars.length, jars.length) : null;
  const left = term === 'jars' ? (uncertainty.jars ** 2 * jars.length) / (jarsThen ?? jars.length * 2) : 0;
  const marginThen = limit.ph - (best + coverage * Math.sqrt(rest + left) + saltAllowance);
  return { code: 'reduce', term, share: total === 0 ? 0 : (squares[largest] ?? 0) / total, marginThen, jarsThen, text: advice(term, jarsThen) };
};

/** The fewest jars with which the spread no longer matters, spread as it is now; null above twelve: then it is the pack, not the measuring. */
const jarsNeeded = (room: number, rest: number, variance: number, jars: number): number | null => {
  for (let count = jars + 1; count <= mostJars; count++) if (Math.sqrt(rest + variance / count) <= room) return count;
  return null;
};

const mostJars = 12;

const advice = (term: MendableTerm, jarsThen: number | null): string => {
  switch (term) {
    case 'buffer':
      return 'Largest doubt: the buffers. Calibrate in freshly opened ones and read a second acid buffer.';
    case 'slope':
      return 'Largest doubt: the slope. Calibrate with a buffer near the jars (4.01), not with 7 alone.';
    case 'temperature':
      return 'Largest doubt: the temperature. Bring jars, buffers and meter to one temperature, or enter it.';
    case 'jars':
      return jarsThen === null ? 'Largest doubt: the jars differ too much. Look for the cause; more jars alone will not settle it.' : `Largest doubt: the jars differ. ${jarsThen} jars in all that agree as these do would settle it.`;
  }
};

const addAcid = (text: string): NextMeasurement => ({ code: 'add-acid', text });

const nameOf = (jar: string | null): string => (jar === null ? 'the jar' : `jar ${jar}`);
