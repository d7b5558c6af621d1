import { createHash } from 'node:crypto';
import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';

/** Every file below a directory with the SHA-256 of its content: two equal answers mean that nothing was made, changed or removed. */
export const treeDigest = (directory: string): Readonly<Record<string, string>> | 'not there' => {
  if (!existsSync(directory)) return 'not there';
  const entries = readdirSync(directory, { recursive: true, withFileTypes: true });
  return Object.fromEntries(
    entries.map((entry) => {
      const path = join(entry.parentPath, entry.name);
      return [path, entry.isFile() ? createHash('sha256').update(readFileSync(path)).digest('hex') : 'directory'];
    }),
  );
};
