/**
 * The names a file uses without declaring or importing them: what it takes from the language or the machine.
 * Types are left out, because they are gone when the program runs.
 */
import { childrenOf, lineAt, type SyntaxNode } from './syntax.ts';

export interface FreeName {
  readonly name: string;
  readonly line: number;
  readonly node: SyntaxNode;
  readonly parent: SyntaxNode;
  /** The field of the parent that holds the name, such as `callee`. */
  readonly field: string;
}

/** Wrappers that exist only for the type checker around an expression that does run. */
const typeWrappers = new Set(['TSAsExpression', 'TSSatisfiesExpression', 'TSNonNullExpression', 'TSInstantiationExpression']);

const functionTypes = new Set(['FunctionDeclaration', 'FunctionExpression', 'ArrowFunctionExpression']);

const runningChildren = (node: SyntaxNode): ReturnType<typeof childrenOf> => {
  if (typeWrappers.has(node.type)) return childrenOf(node).filter(({ field }) => field === 'expression');
  if (node.type.startsWith('TS')) return [];
  const passesOn = node.type === 'ExportNamedDeclaration' && (node['exportKind'] === 'type' || node['source'] !== null);
  if (passesOn) return [];
  return childrenOf(node);
};

/** The names a pattern binds: `{ a: b, ...rest }` binds b and rest. */
const bound = (pattern: unknown): string[] => {
  if (typeof pattern !== 'object' || pattern === null) return [];
  const node = pattern as SyntaxNode;
  switch (node.type) {
    case 'Identifier':
      return [String(node['name'])];
    case 'ObjectPattern':
      return (node['properties'] as SyntaxNode[]).flatMap((property) => bound(property.type === 'RestElement' ? property : property['value']));
    case 'ArrayPattern':
      return (node['elements'] as unknown[]).flatMap(bound);
    case 'AssignmentPattern':
      return bound(node['left']);
    case 'RestElement':
      return bound(node['argument']);
    default:
      return [];
  }
};

const declaredBy = (node: SyntaxNode): string[] => {
  if (node.type === 'VariableDeclarator') return bound(node['id']);
  if (functionTypes.has(node.type)) return [...bound(node['id']), ...(node['params'] as unknown[]).flatMap(bound)];
  if (node.type === 'ClassDeclaration' || node.type === 'ClassExpression') return bound(node['id']);
  if (node.type === 'CatchClause') return bound(node['param']);
  if (node.type.startsWith('Import') && 'local' in node) return bound(node['local']);
  return [];
};

const declaredIn = (node: SyntaxNode): string[] => [...declaredBy(node), ...runningChildren(node).flatMap(({ child }) => declaredIn(child))];

/** Whether an identifier in this place only labels something: `.name`, `{ name: … }`, `export { x as name }`. */
const isLabel = (parent: SyntaxNode, field: string): boolean => {
  if (parent.type === 'MemberExpression') return field === 'property' && parent['computed'] !== true;
  if (['Property', 'MethodDefinition', 'PropertyDefinition', 'AccessorProperty'].includes(parent.type)) return field === 'key' && parent['computed'] !== true;
  if (parent.type === 'ExportSpecifier') return field === 'exported';
  if (parent.type === 'MetaProperty') return false;
  return parent.type.startsWith('Import') || ['LabeledStatement', 'BreakStatement', 'ContinueStatement'].includes(parent.type);
};

const used = (node: SyntaxNode, text: string): FreeName[] =>
  runningChildren(node).flatMap(({ child, field }) => [
    ...(child.type === 'Identifier' && !isLabel(node, field)
      ? [{ name: String(child['name']), line: lineAt(text, child.start), node: child, parent: node, field }]
      : []),
    ...(child.type === 'MetaProperty' ? [{ name: 'import.meta', line: lineAt(text, child.start), node: child, parent: node, field }] : []),
    ...(node.type === 'ImportDeclaration' || child.type === 'MetaProperty' ? [] : used(child, text)),
  ]);

export const freeNames = (program: SyntaxNode, text: string): FreeName[] => {
  const declared = new Set(declaredIn(program));
  return used(program, text).filter(({ name }) => !declared.has(name));
};
