/** Where packages come from: what the server needs is a dependency, not a tool of the desk. */
import { readProjectFile } from '../project-tree.ts';
import { eachImport, type Rule } from '../rule.ts';

interface Manifest {
  readonly dependencies: Readonly<Record<string, string>>;
}

const { dependencies } = JSON.parse(readProjectFile('package.json')) as Manifest;

export const serverPackages: Rule = {
  name: 'the server imports no development dependency',
  because: 'After npm prune --omit=dev, as on a small machine, it would not start. The dashboard is bundled, so its packages are development dependencies.',
  instead: 'Move the package to dependencies in package.json, or do without it.',
  violations: eachImport(({ path }, target) =>
    /^(api|collector)\//.test(path) && target.kind === 'package' && !(target.name in dependencies) ? 'is not a dependency' : null,
  ),
  wrong: [
    { 'collector/main.ts': "import { chromium } from 'playwright-core';" },
    { 'api/app.ts': "import type { ViteDevServer } from 'vite';" },
    { 'api/app.ts': "import left from 'never-installed';" },
  ],
  right: [{ 'api/app.ts': "import express from 'express'; import { createServer } from 'node:http';" }, { 'tests/a.test.ts': "import { it } from 'vitest';" }],
};
