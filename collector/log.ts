import { pino, type Logger } from 'pino';

/** Structured lines on stderr; on a terminal one readable line each. stdout is kept for the one line that says "ready". */
export type Log = Pick<Logger, 'info' | 'warn' | 'error'>;

export const createLog = (process_: { readonly name: string; readonly stream?: NodeJS.WriteStream }): Log => {
  const stream = process_.stream ?? process.stderr;
  if (!stream.isTTY) return pino({ base: { process: process_.name }, timestamp: pino.stdTimeFunctions.isoTime, formatters: { level: (label) => ({ level: label }) } }, stream);
  return pino({ base: {} }, { write: (line: string) => void stream.write(readable(line, process_.name)) });
};

const readable = (line: string, name: string): string => {
  const { level, time, msg, ...rest } = JSON.parse(line) as { level: number; time: number; msg?: string };
  const clock = new Date(time).toTimeString().slice(0, 8);
  const more = Object.entries(rest).map(([key, value]) => `${key}=${typeof value === 'string' ? value : JSON.stringify(value)}`).join(' ');
  return `${clock} ${level >= 50 ? 'ERROR ' : level >= 40 ? 'WARN ' : ''}${name}: ${msg ?? ''}${more === '' ? '' : ` ${more}`}\n`;
};

/** What a log line says of an error nobody expected. */
export const textOf = (error: unknown): string => (error instanceof Error ? (error.stack ?? error.message) : String(error));
