import { slugPattern, type Slug } from '#domain/reading/reading.ts';
import { fail, ok, type Result } from '#domain/result.ts';
import { parsePairs } from '../pairs.ts';

/** One cable, as `--serial` gives it: `path=/dev/ttyUSB0,baud=9600,format=lines,probe=barrel-2`. */
export interface SerialSpec {
  readonly path: string;
  readonly baud: number;
  readonly format: (typeof serialFormats)[number];
  /** What ends a message: the end of the line, or a frame with length and checksum. */
  readonly framing: (typeof serialFramings)[number];
  /** The name of the probe where messages carry none. */
  readonly probe: Slug | null;
}

export const serialFormats = ['lines', 'senml', '1-wire'] as const;
export const serialFramings = ['line', 'frame'] as const;
const example = 'path=/dev/ttyUSB0,baud=9600,format=lines,probe=barrel-2';
const highestBaud = 4_000_000;

/** The answer to a wrong one is half a sentence: which key, and what it should be. */
export const parseSerialSpec = (text: string): Result<SerialSpec, string> => {
  const pairs = parsePairs(text, ['path', 'baud', 'format', 'framing', 'probe']);
  if (!pairs.ok) return fail(`${pairs.error} (such as ${example})`);
  const { path, baud = '9600', format = 'lines', framing = 'line', probe = null } = pairs.value;
  if (path === undefined) return fail(`path is missing: the port, such as ${example}`);
  if (!/^\d{1,7}$/.test(baud) || Number(baud) < 50 || Number(baud) > highestBaud) return fail(`baud must be a whole number from 50 to ${highestBaud}`);
  const isFormat = serialFormats.find((known) => known === format);
  if (isFormat === undefined) return fail(`format must be one of ${serialFormats.join(', ')}`);
  const isFraming = serialFramings.find((known) => known === framing);
  if (isFraming === undefined) return fail(`framing must be one of ${serialFramings.join(', ')}`);
  if (probe !== null && !slugPattern.test(probe)) return fail('probe must be lower-case letters, digits and dashes, at most 40');
  if (isFormat === 'senml' && probe === null) return fail('probe is missing: the name that the packs get, such as probe=barrel-2');
  if (isFormat === '1-wire' && probe !== null) return fail('probe must be left out: sensors of a 1-Wire bridge are named by their ROM code');
  return ok({ path, baud: Number(baud), format: isFormat, framing: isFraming, probe });
};
