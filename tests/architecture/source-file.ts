/** What the import rules need to know of one source file, read with the parser that also builds the dashboard. */
import { parseSync } from 'vite';
import { freeNames, type FreeName } from './free-names.ts';
import { lineAt, nodesOf, type SyntaxNode } from './syntax.ts';

export interface Import {
  /** As written; null where the target is worked out while running. */
  readonly specifier: string | null;
  readonly line: number;
}

export interface SourceFile {
  /** From the top of the project, with forward slashes. */
  readonly path: string;
  readonly text: string;
  readonly program: SyntaxNode;
  readonly imports: readonly Import[];
  readonly freeNames: readonly FreeName[];
}

const importing = new Set(['ImportDeclaration', 'ExportNamedDeclaration', 'ExportAllDeclaration', 'ImportExpression', 'TSImportType']);

const literalText = (source: unknown): string | null =>
  typeof source === 'object' && source !== null && 'value' in source && typeof source.value === 'string' ? source.value : null;

const importsOf = (program: SyntaxNode, text: string): Import[] =>
  nodesOf(program)
    .filter((node) => importing.has(node.type) && node['source'] !== null && node['source'] !== undefined)
    .map((node) => ({ specifier: literalText(node['source']), line: lineAt(text, node.start) }));

export const readSource = (path: string, text: string): SourceFile => {
  const { program, errors } = parseSync(path, text);
  if (errors.length > 0) throw new Error(`${path} does not parse: ${errors.map(({ message }) => message).join('; ')}`);
  const root = program as unknown as SyntaxNode;
  return { path, text, program: root, imports: importsOf(root, text), freeNames: freeNames(root, text) };
};
