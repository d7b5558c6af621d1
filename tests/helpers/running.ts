/**
 * The real program, `node api/start.ts`, as a child of a test: with a data directory of its own, on ports that the machine picks
 * (port 0), known from its ready line. A place keeps account of everything that was started and made, and clears all of it.
 */
import { spawn, type ChildProcess } from 'node:child_process';
import { mkdtempSync, readFileSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { env, execPath } from 'node:process';
import { fileURLToPath } from 'node:url';
import { until } from './until.ts';

const project = fileURLToPath(new URL('../..', import.meta.url));

export interface Ended {
  readonly code: number | null;
  readonly signal: NodeJS.Signals | null;
  readonly stdout: string;
  readonly stderr: string;
}

export interface Started {
  readonly pid: number;
  stdout(): string;
  stderr(): string;
  readonly ended: Promise<Ended>;
  signal(name: NodeJS.Signals): void;
}

export interface Running extends Started {
  readonly directory: string;
  readonly http: string;
  readonly mqttUrl: string;
  readonly mqttPort: number;
  /** The process id of one of the two children, as it is now. */
  childPid(program: 'api' | 'collector'): number;
  stop(signal?: NodeJS.Signals): Promise<Ended>;
}

export interface StartOptions {
  /** Further options of the command line. */
  readonly options?: readonly string[];
  readonly environment?: Readonly<Record<string, string>>;
  readonly directory?: string;
  /** Where relative paths start; the directory of the project otherwise. */
  readonly from?: string;
}

export const ownerPassword = 'a long enough password';
/** Only to give up on a machine that is busy with much else; what must be quick is measured by the tests themselves. */
const readyWithinMs = 60_000;
const stopWithinMs = 30_000;

/** Settings and flags of whoever runs the tests stay out. */
const cleanEnvironment = Object.fromEntries(Object.entries(env).filter(([name]) => !/^(BRINEWARD_|VITEST|NODE_OPTIONS|NODE_ENV)/.test(name)));

const launch = (argv: readonly string[], { environment = {}, from = project }: StartOptions): Started & { readonly child: ChildProcess } => {
  const child = spawn(execPath, [join(project, 'api/start.ts'), ...argv], { cwd: from, env: { ...cleanEnvironment, ...environment }, stdio: ['ignore', 'pipe', 'pipe'] });
  let stdout = '';
  let stderr = '';
  child.stdout.setEncoding('utf8').on('data', (text: string) => (stdout += text));
  child.stderr.setEncoding('utf8').on('data', (text: string) => (stderr += text));
  return {
    child,
    pid: child.pid ?? 0,
    stdout: () => stdout,
    stderr: () => stderr,
    // `close`, not `exit`: everything it wrote has then arrived, and its children have let go of the same pipes.
    ended: new Promise((resolve) => child.once('close', (code, signal) => resolve({ code, signal, stdout, stderr }))),
    signal: (name) => void child.kill(name),
  };
};

export interface Place {
  /** An empty directory of its own. */
  directory(): string;
  /** Starts the program with exactly these options and hands it over at once. */
  launch(argv: readonly string[], options?: StartOptions): Started;
  /** Starts it on free ports and waits for its ready line. */
  start(options?: StartOptions): Promise<Running>;
  /** Something else to end or remove when the place is cleared. */
  keep(clear: () => Promise<unknown> | void): void;
  clear(): Promise<void>;
}

export const createPlace = (): Place => {
  const clears: (() => Promise<unknown> | void)[] = [];
  const directory = (): string => {
    const made = mkdtempSync(join(tmpdir(), 'brineward-'));
    clears.push(() => rmSync(made, { recursive: true, force: true }));
    return made;
  };
  const launchKept: Place['launch'] = (argv, options = {}) => {
    const { child, ...started } = launch(argv, options);
    let hasEnded = false;
    void started.ended.then(() => (hasEnded = true));
    clears.push(async () => {
      if (hasEnded) return;
      // Its children end with it, because the channel to them closes; one that was stopped must go on to notice.
      for (const pid of childPids(started.pid)) signalIfThere(pid, 'SIGCONT');
      child.kill('SIGKILL');
      await started.ended;
    });
    return started;
  };

  const start: Place['start'] = async (options = {}) => {
    const data = options.directory ?? join(directory(), 'data');
    const started = launchKept(['--data', data, '--port', '0', '--mqtt-port', '0', ...(options.options ?? [])], { ...options, environment: { BRINEWARD_OWNER_PASSWORD: ownerPassword, ...options.environment } });
    let ended: Ended | null = null;
    void started.ended.then((how) => (ended = how));
    const line = await until('the ready line', () => {
      if (ended !== null) throw new Error(`ended before it was ready:\n${started.stderr()}`);
      return /^ready (http:\S+) (\S+)\n/m.exec(started.stdout());
    }, readyWithinMs).catch((error: unknown) => {
      throw new Error(`${String(error)}\n${started.stdout()}\n${started.stderr()}`);
    });
    const [, http = '', mqttUrl = ''] = line;
    return {
      ...started,
      directory: data,
      http,
      mqttUrl,
      mqttPort: Number(new URL(mqttUrl).port),
      childPid: (program) => {
        const pid = childPids(started.pid).find((child) => commandOf(child).some((word) => word.endsWith(`/${program}/main.ts`)));
        if (pid === undefined) throw new Error(`there is no ${program} under ${started.pid}`);
        return pid;
      },
      stop: async (signal = 'SIGTERM') => {
        started.signal(signal);
        await until('the program has ended', () => ended, stopWithinMs);
        return started.ended;
      },
    };
  };

  return {
    directory,
    launch: launchKept,
    start,
    keep: (clear) => void clears.push(clear),
    clear: async () => {
      for (const clear of clears.splice(0).toReversed()) await clear();
    },
  };
};

/** Parent of a process, from Linux's own list (proc(5): the fourth field of `stat`; the second may hold spaces and brackets). */
const parentOf = (pid: string): number | null => {
  try {
    return Number(readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ').at(-1)?.split(' ')[1]);
  } catch {
    return null;
  }
};
const childPids = (parent: number): number[] => readdirSync('/proc').filter((name) => /^\d+$/.test(name) && parentOf(name) === parent).map(Number);
const commandOf = (pid: number): string[] => {
  try {
    return readFileSync(`/proc/${pid}/cmdline`, 'utf8').split('\0');
  } catch {
    return [];
  }
};

const signalIfThere = (pid: number, signal: NodeJS.Signals): void => {
  try {
    process.kill(pid, signal);
  } catch {
    // It has gone by itself.
  }
};

/** A process that has ended but was not yet collected by its parent counts as gone. */
export const isAlive = (pid: number): boolean => {
  try {
    return !/^\d+ \(.*\) Z/s.test(readFileSync(`/proc/${pid}/stat`, 'utf8'));
  } catch {
    return false;
  }
};
