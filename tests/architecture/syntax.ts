/** A walk over the syntax tree that needs no table of node types: whatever carries a `type` and a `start` is a node. */
export interface SyntaxNode {
  readonly type: string;
  readonly start: number;
  readonly [field: string]: unknown;
}

const isNode = (value: unknown): value is SyntaxNode =>
  typeof value === 'object' && value !== null && 'type' in value && typeof value.type === 'string' && 'start' in value && typeof value.start === 'number';

/** The direct children with the field they hang on, in source order of the fields. */
export const childrenOf = (node: SyntaxNode): { readonly field: string; readonly child: SyntaxNode }[] =>
  Object.entries(node).flatMap(([field, value]) =>
    (Array.isArray(value) ? value : [value]).filter(isNode).map((child) => ({ field, child })),
  );

/** The node itself and everything below it. */
export const nodesOf = (node: SyntaxNode): SyntaxNode[] => [node, ...childrenOf(node).flatMap(({ child }) => nodesOf(child))];

export const lineAt = (text: string, start: number): number => text.slice(0, start).split('\n').length;
