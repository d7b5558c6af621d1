/** Files that import each other in a ring. */
import { targetOf, type Rule, type Violation } from '../rule.ts';
import type { SourceFile } from '../source-file.ts';

const neighbours = (file: SourceFile): string[] =>
  file.imports.flatMap(({ specifier }) => {
    const target = targetOf(file.path, specifier);
    return target.kind === 'file' ? [target.path] : [];
  });

/** Depth-first; a file that is still open when it is met again closes a ring. Each ring is told once, at the file that closes it. */
const rings = (files: readonly SourceFile[]): Violation[] => {
  const byPath = new Map(files.map((file) => [file.path, file]));
  const done = new Set<string>();
  const found: Violation[] = [];
  const visit = (path: string, open: readonly string[]): void => {
    const start = open.indexOf(path);
    if (start !== -1) {
      found.push({ path: open.at(-1) ?? path, line: 1, what: `closes the ring ${[...open.slice(start), path].join(' → ')}` });
      return;
    }
    const file = byPath.get(path);
    if (file === undefined || done.has(path)) return;
    for (const next of neighbours(file)) visit(next, [...open, path]);
    done.add(path);
  };
  for (const { path } of files) visit(path, []);
  return found;
};

export const noCycles: Rule = {
  name: 'no file imports itself in a ring',
  because: 'A ring has no bottom to start reading at, and what it loads first depends on who asks.',
  instead: 'Move what both need into a third file.',
  violations: rings,
  wrong: [
    { 'api/a.ts': "import { b } from './b.ts';", 'api/b.ts': "import { c } from './c.ts';", 'api/c.ts': "export { a } from './a.ts';" },
    { 'collector/domain/a.ts': "import type { B } from './b.ts';", 'collector/domain/b.ts': "import type { A } from './a.ts';" },
  ],
  right: [{ 'api/a.ts': "import './b.ts'; import './c.ts';", 'api/b.ts': "import './c.ts';", 'api/c.ts': '' }],
};
