import { shortCode } from '#domain/journal/short-code.ts';

/** A line that `seal` prints: day, entry, hash; or with the short code of the hash, as it stands on a day sheet. */
const linePattern = /^(\d{4}-\d{2}-\d{2}) entry (\d+) ([0-9a-f]{64}|[0-9A-Z]{4}(?: [0-9A-Z]{4}){3})$/;

/** What of the seals somebody kept elsewhere does not stand in the journal, in a sentence; null when all do. Other lines of the file are passed over. */
export const missingFrom = (kept: string, inJournal: readonly string[]): string | null => {
  const lines = kept.split(/\r?\n/).map((line) => line.trim()).filter((line) => linePattern.test(line));
  if (lines.length === 0) return 'The file holds no seal: a line is a day, "entry", a number and a hash, as `npm run cli -- seal` prints it.';
  const standing = new Set(inJournal.flatMap((line) => [line, withCode(line)]));
  const missing = lines.find((line) => !standing.has(line));
  if (missing === undefined) return null;
  const [, day, entry] = linePattern.exec(missing) ?? [];
  const replaced = inJournal.find((line) => linePattern.exec(line)?.[2] === entry);
  return replaced === undefined
    ? `The seal of ${day} (entry ${entry}) that was kept elsewhere does not stand in the journal any more: its end was cut off, or it was written anew.`
    : `Entry ${entry} is not the seal of ${day} that was kept elsewhere: the journal was written anew.`;
};

const withCode = (line: string): string => line.replace(/[0-9a-f]{64}$/, shortCode);
