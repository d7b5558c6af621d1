/** The files around the code: folders, packages, words. Each check is a function that is also shown a wrong case. */
import { describe, expect, it } from 'vitest';
import { longestFile } from './rules/size.ts';
import { projectPaths, readProjectFile } from './project-tree.ts';

const rooms = ['api', 'collector', 'dashboard', 'firmware-notes', 'tests'];

const strayFolders = (paths: readonly string[]): string[] => {
  const tops = new Set(paths.filter((path) => path.includes('/')).map((path) => path.slice(0, path.indexOf('/'))));
  return [...tops].filter((top) => !rooms.includes(top) && !top.startsWith('.'));
};

describe('the top of the tree', () => {
  it('holds the five rooms and nothing beside them but dotfolders', () => {
    expect(strayFolders(projectPaths()), 'Put it in the room it serves; tool settings too.').toEqual([]);
    expect(strayFolders(['api/app.ts', '.ci/run', 'README.md', 'scripts/build.ts'])).toEqual(['scripts']);
  });

  it('keeps stylesheets and pages as short as other files', () => {
    const long = projectPaths().filter((path) => /\.(css|html)$/.test(path) && !path.startsWith('tests/') && readProjectFile(path).split('\n').length > longestFile + 1);
    expect(long, 'Split it by the part it dresses.').toEqual([]);
  });
});

interface Manifest {
  readonly dependencies: Readonly<Record<string, string>>;
  readonly devDependencies: Readonly<Record<string, string>>;
}

const loose = ({ dependencies, devDependencies }: Manifest): string[] =>
  Object.entries({ ...dependencies, ...devDependencies })
    .filter(([, version]) => !/^\d+\.\d+\.\d+(?:-[\w.]+)?$/.test(version))
    .map(([name, version]) => `${name}@${version}`);

type Locked = Readonly<Record<string, unknown>>;

const addressed = ({ packages }: { readonly packages: Readonly<Record<string, Locked>> }): string[] =>
  Object.entries(packages)
    .filter(([path, locked]) => 'resolved' in locked || (path !== '' && JSON.stringify({ ...locked, funding: undefined }).includes('://')))
    .map(([path]) => path);

const unsealed = ({ packages }: { readonly packages: Readonly<Record<string, Locked>> }): string[] =>
  Object.entries(packages)
    .filter(([path, locked]) => path !== '' && !('integrity' in locked) && locked['inBundle'] !== true)
    .map(([path]) => path);

describe('the packages', () => {
  it('are pinned to one exact version', () => {
    expect(loose(JSON.parse(readProjectFile('package.json')) as Manifest), 'Install with --save-exact.').toEqual([]);
    expect(loose({ dependencies: { a: '1.2.3', b: '^1.2.3', c: 'latest' }, devDependencies: { d: '1.x', e: 'github:a/b' } })).toHaveLength(4);
  });

  it('are locked without a download address, so that any mirror will do', () => {
    const lock = JSON.parse(readProjectFile('package-lock.json')) as Parameters<typeof addressed>[0];
    expect(addressed(lock), 'Keep omit-lockfile-registry-resolved in .npmrc and install again.').toEqual([]);
    const address = 'https://mirror.example/a.tgz';
    expect(addressed({ packages: { 'node_modules/a': { resolved: address }, 'node_modules/b': { version: address }, 'node_modules/c': { funding: address } } })).toEqual([
      'node_modules/a',
      'node_modules/b',
    ]);
  });

  it('are locked with the digest of their content', () => {
    const lock = JSON.parse(readProjectFile('package-lock.json')) as Parameters<typeof unsealed>[0];
    expect(unsealed(lock)).toEqual([]);
    expect(unsealed({ packages: { '': {}, 'node_modules/a': { version: '1.0.0' } } })).toEqual(['node_modules/a']);
  });
});

/** Written in two halves, so that this file does not contain them. */
const unwanted: readonly string[] = [
  ['registry', '.npmjs.'],
  ['registry', '.yarnpkg.'],
  ['deb.', 'debian.org'],
  ['/wo', 'rk/'],
  ['/ro', 'ot/'],
  ['/tm', 'p/'],
  ['/Us', 'ers/'],
  ['.lib', 'rary'],
  ['../sha', 'red'],
  ['bash_', 'jobs'],
].map((halves) => halves.join(''));

const wordsIn = (text: string): string[] => unwanted.filter((word) => text.includes(word));

describe('the files', () => {
  it('name no registry and no place on the machine they were written on', () => {
    const found = projectPaths().flatMap((path) => wordsIn(`${path}\n${readProjectFile(path)}`).map((word) => `${path}: ${word}`));
    expect(found, 'Use a path relative to the file, or a temporary folder from node:os.').toEqual([]);
    expect(wordsIn(`see ${['/wo', 'rk/main'].join('')} or https://${['registry', '.npmjs.org'].join('')}/zod`)).toHaveLength(2);
  });
});
