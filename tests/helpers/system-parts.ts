/**
 * The programs of the machine that tests run against: a real broker and client, a real browser, a reader of PDF files,
 * and what builds and runs the example probes.
 * A test asks for one by name; a missing one is never a silent skip but an error that names the command to run.
 */
import { spawnSync } from 'node:child_process';
import { accessSync, constants } from 'node:fs';
import { delimiter, join } from 'node:path';
import { env } from 'node:process';

/** Each program with the names it goes by and the Debian package that brings it. */
const parts = {
  chromium: { commands: ['chromium', 'chromium-browser', 'google-chrome'], aptPackage: 'chromium' },
  gcc: { commands: ['gcc'], aptPackage: 'gcc libc6-dev' },
  influxd: { commands: ['influxd'], aptPackage: 'influxdb' },
  mosquitto: { commands: ['mosquitto'], aptPackage: 'mosquitto' },
  mosquitto_pub: { commands: ['mosquitto_pub'], aptPackage: 'mosquitto-clients' },
  mosquitto_sub: { commands: ['mosquitto_sub'], aptPackage: 'mosquitto-clients' },
  openssl: { commands: ['openssl'], aptPackage: 'openssl' },
  pdftoppm: { commands: ['pdftoppm'], aptPackage: 'poppler-utils' },
  pdfdetach: { commands: ['pdfdetach'], aptPackage: 'poppler-utils' },
  pdftotext: { commands: ['pdftotext'], aptPackage: 'poppler-utils' },
  python3: { commands: ['python3'], aptPackage: 'python3' },
  socat: { commands: ['socat'], aptPackage: 'socat' },
} as const;

export type SystemPart = keyof typeof parts;

const partNames = Object.keys(parts) as SystemPart[];

// Debian keeps the broker in sbin, which is not on the path of an ordinary user.
const folders = [...(env.PATH ?? '').split(delimiter), '/usr/local/sbin', '/usr/sbin', '/sbin'];

const isExecutable = (path: string): boolean => {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
};

const find = (command: string): string | undefined => folders.map((folder) => join(folder, command)).find(isExecutable);

const locate = (part: SystemPart): string | undefined => parts[part].commands.map(find).find((path) => path !== undefined);

export const missingParts = (): SystemPart[] => partNames.filter((part) => locate(part) === undefined);

const packagesOf = (missing: readonly SystemPart[]): string[] => [...new Set(missing.flatMap((part) => parts[part].aptPackage.split(' ')))];

/** The one command that brings the given parts on Debian and its relatives. */
export const installCommand = (missing: readonly SystemPart[]): string =>
  `sudo apt-get update && sudo apt-get install --yes --no-install-recommends ${packagesOf(missing).join(' ')}`;

/** The full path of a program, for `spawn`. */
export const systemPart = (part: SystemPart): string => {
  const path = locate(part);
  if (path === undefined) throw new Error(`${part} is not on this machine; run: ${installCommand([part])}`);
  return path;
};

const run = (command: string, ...args: string[]): boolean =>
  spawnSync(command, args, { stdio: 'inherit', env: { ...env, DEBIAN_FRONTEND: 'noninteractive' } }).status === 0;

/** Installs parts where that needs no question: as root, with apt. Answers whether all are there afterwards. */
export const installParts = (missing: readonly SystemPart[]): boolean => {
  if (process.getuid?.() !== 0 || find('apt-get') === undefined) return false;
  const installed = run('apt-get', 'update') && run('apt-get', 'install', '--yes', '--no-install-recommends', ...packagesOf(missing));
  // These packages start a server of their own (a broker on port 1883, InfluxDB on 8086), which the tests do not want and nobody asked for.
  const services = [...(missing.includes('mosquitto') ? ['mosquitto'] : []), ...(missing.includes('influxd') ? ['influxdb'] : [])];
  if (find('service') !== undefined) for (const service of services) run('service', service, 'stop');
  return installed && missingParts().length === 0;
};
