/** How an import is written: a crossing between rooms can be seen in the line that makes it. */
import { eachImport, roomOf, subpaths, type Rule } from '../rule.ts';

/** The stretches without an inner wall that a relative path would hide: the collector's own rooms have a rule of their own. */
const area = (path: string): string => {
  const room = roomOf(path);
  return room.startsWith('collector/') && room !== 'collector/domain' ? 'collector' : room;
};

const subpathFor = (path: string): string | undefined => {
  const subpath = subpaths.find(({ folder }) => (folder.endsWith('/') ? path.startsWith(folder) : path === folder));
  return subpath && subpath.prefix + path.slice(subpath.folder.length);
};

const subpathAcross: Rule = {
  name: 'imports across rooms use a subpath',
  because: 'A wall that is crossed should be visible in the import line.',
  instead: 'Write #domain/…, #contract or #collector. Only a test may reach past them, for what has no subpath.',
  violations: eachImport(({ path }, target, specifier) => {
    if (target.kind !== 'file' || specifier?.startsWith('.') !== true || area(path) === area(target.path)) return null;
    const subpath = subpathFor(target.path);
    if (subpath !== undefined) return `should be ${subpath}`;
    return path.startsWith('tests/') ? null : 'leaves its room by a relative path';
  }),
  wrong: [
    { 'collector/pipeline.ts': "import { ok } from './domain/result.ts';" },
    { 'collector/watch/a.ts': "import { ok } from '../domain/result.ts';" },
    { 'api/app.ts': "import { routes } from './contract/index.ts';" },
    { 'api/app.ts': "import { routes } from './contract/routes.ts';" },
    { 'tests/a.test.ts': "import { ok } from '../collector/domain/result.ts';" },
  ],
  right: [
    { 'collector/pipeline.ts': "import { ok } from '#domain/result.ts'; import { open } from './stores/sqlite/open.ts';" },
    { 'tests/a.test.ts': "import { open } from '../collector/stores/sqlite/open.ts';" },
  ],
};

const relativeInside: Rule = {
  name: 'imports inside a room are relative',
  because: 'A subpath says that a wall is crossed; inside a room there is none.',
  instead: 'Write the relative path.',
  violations: eachImport(({ path }, target, specifier) =>
    target.kind === 'file' && specifier?.startsWith('#') === true && area(path) === area(target.path) ? 'is in the same room' : null,
  ),
  wrong: [
    { 'collector/domain/brine/a.ts': "import { ok } from '#domain/result.ts';" },
    { 'collector/main.ts': "import { open } from '#collector';" },
    { 'api/contract/a.ts': "import { routes } from '#contract';" },
  ],
  right: [{ 'collector/domain/brine/a.ts': "import { ok } from '../result.ts';" }],
};

const withExtension: Rule = {
  name: 'an import names the whole file',
  because: 'Node runs these files as they are and guesses no extension.',
  instead: 'Write the extension: .ts or .tsx, or .css and the like in the dashboard.',
  violations: eachImport((_file, target) => (target.kind === 'file' && !/\.(tsx?|css|svg|json|woff2)$/.test(target.path) ? 'has no extension' : null)),
  wrong: [{ 'api/app.ts': "import { a } from './routes/a';" }, { 'dashboard/main.tsx': "import { a } from './views';" }],
  right: [{ 'dashboard/main.tsx': "import './style.css'; import { a } from './views/a.tsx';" }],
};

const namedTarget: Rule = {
  name: 'an import says what it imports',
  because: 'A target worked out while running, or an unknown subpath, is one that no rule here can judge.',
  instead: 'Import the alternatives by name and choose between them.',
  violations: eachImport((_file, target) => (target.kind === 'unknown' ? 'cannot be followed' : null)),
  wrong: [{ 'api/app.ts': 'export const load = (path: string) => import(path);' }, { 'api/app.ts': "import { a } from '#elsewhere/a.ts';" }],
  right: [{ 'collector/stores/a.ts': "export const load = () => import('influx');" }],
};

export const pathRules: readonly Rule[] = [subpathAcross, relativeInside, withExtension, namedTarget];
