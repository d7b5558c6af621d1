import { z } from 'zod';
import { accessFile } from '../access/access-store.ts';
import { keyFile } from '#collector';

/** What a backup holds, the journal first: what is sealed while the copy is being made is then in the readings and not yet named, and is named at the next start. */
export const backupParts: readonly { readonly name: string; readonly database: boolean }[] = [
  { name: 'book.db', database: true },
  { name: 'readings.db', database: true },
  { name: 'outbox.db', database: true },
  { name: accessFile, database: true },
  { name: 'aside.db', database: true },
  { name: keyFile, database: false },
  { name: 'demo-origin.json', database: false },
];

export const manifestFile = 'manifest.json';

/** The SHA-256 (hex) of each file, by its name. */
export const manifest = z.object({ form: z.literal(1), madeAt: z.string(), files: z.record(z.string(), z.string().regex(/^[0-9a-f]{64}$/)) });
export type Manifest = z.infer<typeof manifest>;
