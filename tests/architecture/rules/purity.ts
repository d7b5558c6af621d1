/** What the pure rooms may take from the language: nothing that gives two answers to one question. */
import type { FreeName } from '../free-names.ts';
import { roomOf, type Rule, type Violation } from '../rule.ts';
import type { SourceFile } from '../source-file.ts';
import { lineAt, nodesOf, type SyntaxNode } from '../syntax.ts';

const pureNames = new Set(
  `undefined NaN Infinity isNaN isFinite parseInt parseFloat Object Array Number String Boolean BigInt Symbol Function Map Set WeakMap WeakSet
   RegExp JSON Math Date Temporal Error RangeError TypeError SyntaxError AggregateError ArrayBuffer DataView Uint8Array Int8Array Uint16Array Int16Array
   Uint32Array Int32Array Float32Array Float64Array BigInt64Array BigUint64Array Iterator Reflect Proxy encodeURIComponent decodeURIComponent`
    .trim()
    .split(/\s+/),
);

const memberOf = ({ parent, field }: FreeName): string | null =>
  parent.type === 'MemberExpression' && field === 'object' && parent['computed'] !== true ? String((parent['property'] as SyntaxNode)['name']) : null;

/** `Date`, `Math` and `Temporal` are half pure, so only the pure half is let through, spelled out where it is used. */
const impureUse = (use: FreeName): string | null => {
  const member = memberOf(use);
  switch (use.name) {
    case 'Date': {
      if (use.parent.type === 'NewExpression' && use.field === 'callee') {
        const given = (use.parent['arguments'] as unknown[]).length;
        if (given === 1) return null;
        return given === 0 ? 'reads the clock with new Date()' : 'reads the zone of the machine with new Date(year, month, …)';
      }
      if (member === 'parse' || member === 'UTC' || (use.parent.type === 'BinaryExpression' && use.parent['operator'] === 'instanceof')) return null;
      return member === 'now' ? 'reads the clock with Date.now' : 'uses Date other than as new Date(time), Date.parse or Date.UTC';
    }
    case 'Math':
      if (member === null) return 'hands Math on whole, Math.random with it';
      return member === 'random' ? 'is random' : null;
    case 'Temporal':
      if (member === null) return 'hands Temporal on whole, Temporal.Now with it';
      return member === 'Now' ? 'reads the clock with Temporal.Now' : null;
    default:
      return pureNames.has(use.name) ? null : `uses ${use.name}, which is not part of the pure language`;
  }
};

/** Methods of a Date, or of a number or list, whose answer depends on the zone or the language of the machine. */
const machineMethods = /^(?:get(?:Date|Day|FullYear|Hours|Milliseconds|Minutes|Month|Seconds|TimezoneOffset|Year)|set(?:Date|FullYear|Hours|Minutes|Month)|toLocale\w*|toDateString|toTimeString|localeCompare)$/;

const machineUses = ({ path, text, program }: SourceFile): Violation[] =>
  nodesOf(program).flatMap((node) => {
    if (node.type !== 'MemberExpression' || node['computed'] === true) return [];
    const method = String((node['property'] as SyntaxNode)['name']);
    return machineMethods.test(method) ? [{ path, line: lineAt(text, node.start), what: `asks the machine for its zone or language with ${method}` }] : [];
  });

/** The physics of the demonstration shed are as pure as the domain, with the random source handed in. */
const isPureRoom = ({ path }: SourceFile): boolean => ['collector/domain', 'api/contract'].includes(roomOf(path)) || path.startsWith('collector/demo/physics/');

const sameAnswer: Rule = {
  name: 'the domain, the contract and the demonstration physics give the same answer everywhere',
  because: 'A clock, a random number or the zone of the machine inside a formula makes it untestable and a replay of the journal a guess.',
  instead: 'Take the time, the zone or the random source as an argument.',
  violations: (files) =>
    files.filter(isPureRoom).flatMap((file) => [
      ...file.freeNames.flatMap((use) => {
        const what = impureUse(use);
        return what === null ? [] : [{ path: file.path, line: use.line, what }];
      }),
      ...machineUses(file),
    ]),
  wrong: [
    'export const at = () => Date.now();',
    'export const at = () => new Date();',
    'export const at = () => Date();',
    'const { now } = Date; export const at = () => now();',
    'export const at = new Date(2026, 4, 1);',
    'export const clock: () => number = Date.now;',
    'export const at = () => Temporal.Now.instant();',
    "export const at = () => Temporal['Now'].instant();",
    'export const noise = () => Math.random();',
    "export const noise = () => Math['random']();",
    'export const noise = ({ random } = Math) => random();',
    'export const started = performance.now();',
    'export const zone = process.env.TZ;',
    'export const all = globalThis;',
    "export const page = () => fetch('/api/health');",
    'export const id = () => crypto.randomUUID();',
    'export const later = (f: () => void) => setTimeout(f, 1);',
    'export const say = (text: string) => console.log(text);',
    'export const here = import.meta.url;',
    "export const width = () => window['innerWidth'];",
    'export const hour = (at: number) => new Date(at).getHours();',
    'export const shown = (value: number) => value.toLocaleString();',
    "export const run = (code: string) => eval(code);",
    'export const half = <T,>(value: T) => (performance satisfies object, value);',
  ].map((text) => ({ 'collector/domain/a.ts': text })),
  right: [
    { 'collector/domain/a.ts': 'export const day = (at: number) => new Date(at).getUTCDate() + Math.floor(at); export type When = Date;' },
    { 'collector/domain/a.ts': "export const local = (at: number, zone: string) => Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(zone);" },
    { 'collector/domain/a.ts': 'export const spread = (window: readonly number[], process: { fetch: number }) => window.length + process.fetch;' },
    { 'api/contract/a.ts': "import { z } from 'zod'; export const time = z.string().refine((text) => !Number.isNaN(Date.parse(text)));" },
    { 'collector/demo/demo-series.ts': 'export const at = () => Date.now();' },
  ],
};

const isEmptyLiteral = ({ type, ...node }: SyntaxNode): boolean => {
  if (type === 'NewExpression') return /^(?:Weak)?(?:Map|Set)$/.test(String((node['callee'] as SyntaxNode)['name'])) && (node['arguments'] as unknown[]).length === 0;
  return (type === 'ArrayExpression' && (node['elements'] as unknown[]).length === 0) || (type === 'ObjectExpression' && (node['properties'] as unknown[]).length === 0);
};

/** An empty container is made to be filled, unless its type says that it stays empty. */
const waitsToBeFilled = (text: string, declarator: SyntaxNode): boolean => {
  const init = declarator['init'] as SyntaxNode | null;
  return init !== null && isEmptyLiteral(init) && !/readonly/i.test(text.slice(declarator.start, init.start));
};

const noMemory: Rule = {
  name: 'the domain remembers nothing between calls',
  because: 'State at the top of a module is shared by every caller in the process and survives from one test to the next.',
  instead: 'Take the state as an argument and return the next one.',
  violations: (files) =>
    files.filter(isPureRoom).flatMap(({ path, text, program }) =>
      (program['body'] as SyntaxNode[])
        .map((statement) => (statement.type === 'ExportNamedDeclaration' ? (statement['declaration'] as SyntaxNode | null) : statement))
        .filter((statement) => statement?.type === 'VariableDeclaration')
        .filter((statement) => statement?.['kind'] !== 'const' || (statement['declarations'] as SyntaxNode[]).some((declarator) => waitsToBeFilled(text, declarator)))
        .map((statement) => ({ path, line: lineAt(text, statement?.start ?? 0), what: 'keeps state in the module' })),
    ),
  wrong: [
    { 'collector/domain/a.ts': 'let count = 0; export const next = () => ++count;' },
    { 'collector/domain/a.ts': 'const seen = new Map<string, number>(); export const first = (key: string) => !seen.has(key);' },
    { 'collector/domain/a.ts': 'export const log: string[] = [];' },
  ],
  right: [
    { 'collector/domain/a.ts': 'const none: readonly string[] = []; export const names = () => none;' },
    { 'collector/domain/a.ts': 'const names = new Set(["a"]); export const sum = (list: number[]) => { let all = 0; for (const one of list) all += one; return names.size + all; };' },
  ],
};

/** Timers and the clock are fair in the state of the screens; the page is not. */
const pageless = new Set([...pureNames, ...'Promise Intl URLSearchParams AbortController AbortSignal setTimeout clearTimeout setInterval clearInterval queueMicrotask'.split(' ')]);

const noPage: Rule = {
  name: 'the state and the formats of the dashboard touch no page',
  because: 'They are tested without a browser, and a view can be redrawn without asking what they hold.',
  instead: 'Read the page in a view or in dashboard/client and hand the value in.',
  violations: (files) =>
    files
      .filter(({ path }) => /^dashboard\/(?:state|format)\//.test(path))
      .flatMap(({ path, freeNames }) => freeNames.filter(({ name }) => !pageless.has(name)).map(({ name, line }) => ({ path, line, what: `uses ${name}` }))),
  wrong: [
    { 'dashboard/state/a.ts': "export const theme = () => localStorage.getItem('theme');" },
    { 'dashboard/state/a.ts': 'export const width = () => window.innerWidth;' },
    { 'dashboard/format/a.ts': 'export const language = navigator.language;' },
  ],
  right: [
    { 'dashboard/state/a.ts': 'export const tick = (f: () => void) => setInterval(f, 1000);' },
    { 'dashboard/parts/a.tsx': "export const focus = () => document.querySelector('main');" },
  ],
};

const logOnly: Rule = {
  name: 'no room writes to the console',
  because: 'stdout belongs to the one line that says ready; what happened belongs in the log, where it can be searched.',
  instead: 'Use the Log handed in; a command-line program writes to process.stdout itself.',
  violations: (files) =>
    files
      .filter(({ path }) => !path.startsWith('tests/'))
      .flatMap(({ path, freeNames }) => freeNames.filter(({ name }) => name === 'console').map(({ line }) => ({ path, line, what: 'uses console' }))),
  wrong: [{ 'api/app.ts': "export const say = () => console.log('started');" }, { 'dashboard/main.tsx': 'window.onerror = console.error;' }],
  right: [{ 'api/app.ts': 'export const say = (log: { info(text: string): void }) => log.info("started");' }, { 'tests/bench/run.ts': 'console.log(1);' }],
};

export const purityRules: readonly Rule[] = [sameAnswer, noMemory, noPage, logOnly];
