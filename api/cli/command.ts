import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs, type ParseArgsConfig } from 'node:util';

/** One verb of the command line. `run` answers the exit code. */
export interface Command {
  readonly usage: string;
  readonly summary: string;
  run(args: readonly string[], terminal: Terminal): Promise<number>;
}

export interface Terminal {
  out(text: string): void;
  /** Without a line end; false when the reader is slow. */
  raw(text: string): boolean;
  error(text: string): void;
  progress(text: string): void;
  readonly isTTY: boolean;
}

export interface Arguments {
  readonly values: Readonly<Record<string, string | undefined>>;
  readonly positionals: readonly string[];
  readonly directory: string;
}

/** Reads the arguments of a verb; says what is wrong and answers null when they do not fit. */
export const argumentsOf = (args: readonly string[], names: readonly string[], usage: string, terminal: Terminal): Arguments | null => {
  const options: ParseArgsConfig['options'] = Object.fromEntries(['data', ...names].map((name) => [name, { type: 'string' as const }]));
  try {
    const { values, positionals } = parseArgs({ args: [...args], options, allowPositionals: true });
    const directory = String(values.data ?? process.env.BRINEWARD_DATA ?? './data');
    if (!existsSync(join(directory, 'book.db'))) {
      terminal.error(`There is no Brineward data in ${directory}. Give the directory with --data.`);
      return null;
    }
    return { values: values as Record<string, string | undefined>, positionals, directory };
  } catch (cause) {
    terminal.error(`${cause instanceof Error ? cause.message.split('. ')[0] : String(cause)}. Usage: npm run cli -- ${usage}`);
    return null;
  }
};
