/** The shape of an architecture rule, and where its imports lead. */
import { isBuiltin } from 'node:module';
import { posix } from 'node:path';
import { readSource, type Import, type SourceFile } from './source-file.ts';

/** A small tree of files, path to text. */
export type Snippet = Readonly<Record<string, string>>;

export interface Violation {
  readonly path: string;
  readonly line: number;
  readonly what: string;
}

export interface Rule {
  readonly name: string;
  /** Why the rule exists. */
  readonly because: string;
  /** What to do when it fires. */
  readonly instead: string;
  readonly violations: (files: readonly SourceFile[]) => Violation[];
  /** Trees the rule must catch: the proof that it can fail. */
  readonly wrong: readonly Snippet[];
  /** Trees that come close and must pass. */
  readonly right: readonly Snippet[];
}

export type Target =
  | { readonly kind: 'file'; readonly path: string }
  | { readonly kind: 'node'; readonly name: string }
  | { readonly kind: 'package'; readonly name: string }
  | { readonly kind: 'unknown' };

/** The subpath imports of package.json, which is their source of truth; a test compares the two. */
export const subpaths: readonly { readonly prefix: string; readonly folder: string }[] = [
  { prefix: '#domain/', folder: 'collector/domain/' },
  { prefix: '#contract', folder: 'api/contract/index.ts' },
  { prefix: '#collector', folder: 'collector/index.ts' },
];

const packageName = (specifier: string): string => specifier.split('/').slice(0, specifier.startsWith('@') ? 2 : 1).join('/');

export const targetOf = (from: string, specifier: string | null): Target => {
  if (specifier === null) return { kind: 'unknown' };
  if (specifier.startsWith('.')) return { kind: 'file', path: posix.join(posix.dirname(from), specifier) };
  const subpath = subpaths.find(({ prefix }) => (prefix.endsWith('/') ? specifier.startsWith(prefix) : specifier === prefix));
  if (subpath !== undefined) return { kind: 'file', path: subpath.folder + specifier.slice(subpath.prefix.length) };
  if (specifier.startsWith('#')) return { kind: 'unknown' };
  return isBuiltin(specifier) ? { kind: 'node', name: specifier } : { kind: 'package', name: packageName(specifier) };
};

const collectorRooms = ['domain', 'sources', 'stores', 'journal', 'watch', 'outlets', 'demo'];

/** The room a file stands in; the files directly in `collector` wire its rooms together and are a room of their own. */
export const roomOf = (path: string): string => {
  const [top = '', second = ''] = path.split('/');
  if (top === 'collector' && collectorRooms.includes(second)) return `collector/${second}`;
  if (top === 'api' && second === 'contract') return 'api/contract';
  return top;
};

/** A rule that looks at each import alone: what the answer says is wrong with it, or null. */
export const eachImport =
  (wrongWith: (file: SourceFile, target: Target, specifier: string | null) => string | null) =>
  (files: readonly SourceFile[]): Violation[] =>
    files.flatMap((file) =>
      file.imports.flatMap(({ specifier, line }: Import) => {
        const what = wrongWith(file, targetOf(file.path, specifier), specifier);
        return what === null ? [] : [{ path: file.path, line, what: `${specifier ?? 'an import'} ${what}` }];
      }),
    );

export const readSnippet = (snippet: Snippet): SourceFile[] => Object.entries(snippet).map(([path, text]) => readSource(path, text));

export const explain = (rule: Rule, found: readonly Violation[]): string =>
  [`${rule.name}: ${rule.because} ${rule.instead}`, ...found.map(({ path, line, what }) => `  ${path}:${line} ${what}`)].join('\n');
