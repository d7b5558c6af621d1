/** How long a file may grow. */
import type { Rule } from '../rule.ts';

export const longestFile = 300;

const linesOf = (text: string): number => text.split('\n').length - (text.endsWith('\n') ? 1 : 0);

const tree = (lines: number): Record<string, string> => ({ 'api/a.ts': 'export {};\n'.repeat(lines) });

export const oneIdea: Rule = {
  name: `no source file is longer than ${longestFile} lines`,
  because: 'A file holds one idea; past this length there are two.',
  instead: 'Find the second idea and give it a file of its own.',
  violations: (files) =>
    files
      .filter(({ path, text }) => !path.startsWith('tests/') && linesOf(text) > longestFile)
      .map(({ path, text }) => ({ path, line: longestFile, what: `has ${linesOf(text)} lines` })),
  wrong: [tree(longestFile + 1)],
  right: [tree(longestFile), { 'tests/a.test.ts': 'export {};\n'.repeat(longestFile + 1) }],
};
