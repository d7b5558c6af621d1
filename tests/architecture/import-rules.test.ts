/** Every architecture rule: it can fail, it lets near misses pass, and the project keeps it. */
import { describe, expect, it } from 'vitest';
import { projectSources, readProjectFile } from './project-tree.ts';
import { explain, readSnippet, subpaths, type Rule } from './rule.ts';
import { noCycles } from './rules/cycles.ts';
import { serverPackages } from './rules/packages.ts';
import { pathRules } from './rules/paths.ts';
import { purityRules } from './rules/purity.ts';
import { roomRules } from './rules/rooms.ts';
import { oneIdea } from './rules/size.ts';

const rules: readonly Rule[] = [...roomRules, ...pathRules, ...purityRules, serverPackages, noCycles, oneIdea];
const sources = projectSources();

describe.each(rules)('$name', (rule) => {
  it.each(rule.wrong)('catches %j', (snippet) => {
    expect(rule.violations(readSnippet(snippet))).not.toEqual([]);
  });

  it.each(rule.right)('lets pass %j', (snippet) => {
    expect(rule.violations(readSnippet(snippet))).toEqual([]);
  });

  it('holds in this project', () => {
    const found = rule.violations(sources);
    expect(found, explain(rule, found)).toEqual([]);
  });
});

describe('the rules', () => {
  it('look at every room', () => {
    const rooms = new Set(sources.map(({ path }) => path.split('/')[0] ?? ''));
    expect([...rooms].toSorted()).toEqual(['api', 'collector', 'dashboard', 'tests']);
  });

  it('know the subpaths that package.json declares', () => {
    const { imports } = JSON.parse(readProjectFile('package.json')) as { imports: Record<string, string> };
    const declared = Object.entries(imports).map(([name, path]) => [name.replace('*', ''), path.replace('*', '').replace('./', '')]);
    expect(subpaths.map(({ prefix, folder }) => [prefix, folder])).toEqual(declared);
  });
});
