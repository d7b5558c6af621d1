/**
 * The one door through which the API sees the collector's rooms: settings, the files both share, and the domain.
 * What is not named here is nobody's business outside.
 */
import { fileURLToPath } from 'node:url';

export { startChild } from './child.ts';
export { scaledClock, systemClock, type Clock } from './clock.ts';
export { environmentName, readConfig, type Config } from './config.ts';
export { canonical, openBook, type Book } from './journal/book.ts';
export { lookAtDirectory } from './data-directory.ts';
export { fingerprintOf, isSignedBy, keyFile, openSiteKey, type SiteKey } from './journal/site-key.ts';
export { createFollower } from './journal/follow.ts';
export { verifyJournal, walkJournal, type JournalFault } from './journal/verify.ts';
export { sealFaults, verifySeals, walkSeals, type SealFault, type Seals } from './journal/verify-seals.ts';
export { sealDueDays } from './seal-days.ts';
export { lockDirectory } from './lock.ts';
export { createLog, textOf, type Log } from './log.ts';
export { readMqttFiles } from './mqtt-files.ts';
export type { OutletStatus } from './outlets/announcer.ts';
export { readSecrets, writeSecret } from './outlets/secrets.ts';
export { addressOf, fromHere } from './sources/address.ts';
export { newProbePassword } from './sources/probe-access.ts';
export { headRows } from './sources/logger/csv-rows.ts';
export { beginImport, dropImport, importFile, importIds, importInfo, importProgress, importTouchedAt, keepImport, noProgress, type ImportInfo, type ImportProgress } from './sources/logger/files.ts';
export { listenToHints, type Hints } from './sources/hints.ts';
export type { SourceStatus } from './sources/source.ts';
export type { WrongClock } from './counters.ts';
export { readStatus, silentAfterMs, type CollectorStatus } from './status.ts';
export { openReadings, type Readings } from './open-readings.ts';
export { forgetPlace } from './stores/influx/outbox-file.ts';
export { lookAtDatabase } from './stores/look.ts';
export { failureOf } from './stores/sqlite/failure-of.ts';
export { openSqliteStore } from './stores/sqlite/open.ts';

/** The program the supervisor starts. */
export const collectorProgram = fileURLToPath(new URL('./main.ts', import.meta.url));
