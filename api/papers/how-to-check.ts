import { readFileSync } from 'node:fs';

/** For inspectors: how to check a record with tools of their own. */
export const howToCheck = readFileSync(new URL('./how-to-check.md', import.meta.url), 'utf8');
