import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { canonical } from '#collector';
import type { SealedRecord } from '#contract';

/** The page of a record as it was built, without data; what it may do stands in it. */
export interface RecordPage {
  readonly policy: string;
  of(sealed: SealedRecord): string;
}

/** Null where the dashboard was not built. */
export const openRecordPage = (dashboard: string | null): RecordPage | null => {
  const file = dashboard === null ? null : join(dashboard, 'record.html');
  if (file === null || !existsSync(file)) return null;
  const page = readFileSync(file, 'utf8');
  const policy = /http-equiv="Content-Security-Policy" content="([^"]*)"/.exec(page)?.[1] ?? "default-src 'none'";
  return {
    policy,
    // In a page `<` would end the data; the check of the page knows that it stands there as JSON can write it otherwise.
    of: (sealed) => page.replace('__RECORD__', () => canonical(sealed).replaceAll('<', '\\u003c')),
  };
};
