import type { BatchDetail, JarGate, StoryEntry } from '#contract';
import { lastOf } from './from-story.ts';

/** What the jars of a lot say, in words for screens. Inside, outside or unknown; never more. */
export const verdictTitle = { inside: 'inside', outside: 'outside', unknown: 'unknown' } as const satisfies Record<JarGate['verdict'], string>;

export const verdictWords = ({ verdict, limit, mean, uncertainty }: JarGate): string => {
  const value = mean === null || uncertainty === null ? 'not measured' : `${mean.toFixed(2)} ± ${uncertainty.expanded.toFixed(2)}`;
  return `The pH of the packed jars is ${verdictTitle[verdict]}: ${value}, limit ${limit.ph.toFixed(1)} (${limit.source}).`;
};

/** Rounded down: a margin is never made to look larger than it is. */
export const marginWords = (margin: number): string => (Math.floor(margin * 100 + 1e-9) / 100).toFixed(2).replace('-', '−');

/** Jars that were measured before, newest last, and one more that was not. */
export const jarMarks = (batch: BatchDetail | null): readonly string[] => {
  const told = (batch?.entries ?? []).filter(({ kind, standing }) => kind === 'jar-ph' && standing).map(({ body }) => body['jar']).filter((jar) => typeof jar === 'string');
  const known = [...new Set(told)].slice(-5);
  const numbers = known.map(Number).filter((each) => Number.isInteger(each));
  return [...known, String(Math.max(0, ...numbers) + 1)];
};

const textIn = (body: StoryEntry['body'] | null, name: string): string | null => (typeof body?.[name] === 'string' ? body[name] : null);

/** The meter that was in the hand last. */
export const lastMeter = (batch: BatchDetail | null): string =>
  batch === null ? 'meter' : (textIn(lastOf(batch.entries, 'jar-ph'), 'instrument') ?? textIn(lastOf(batch.entries, 'measured'), 'instrument') ?? 'meter');

export const courseWords = { steady: 'came to rest', moving: 'still moving', once: 'read once' } as const satisfies Record<JarGate['jars'][number]['course'], string>;

export const discountWords = {
  strip: 'a strip, which never counts', 'too-early': 'too soon after packing', 'not-calibrated': 'meter not checked that day', 'second-buffer': 'no second acid buffer, or it read differently', implausible: 'no pH of olives', 'in-doubt': 'in doubt: a later check of the meter failed',
} as const satisfies Record<JarGate['discounted'][number]['why'], string>;

export const termWords = { buffer: 'buffers', slope: 'slope of the meter', temperature: 'temperature', jars: 'difference between the jars', salt: 'salt at the junction (added whole)' } as const;
