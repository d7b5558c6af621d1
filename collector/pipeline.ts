import { join } from 'node:path';
import { byCollector, type Draft } from '#domain/journal/entry.ts';
import { drumWatchedBy, seriesWatching } from '#domain/journal/placement.ts';
import { emptyShed, project } from '#domain/journal/project.ts';
import type { Shed } from '#domain/journal/shed.ts';
import { drumChannels, channels, type Channel } from '#domain/reading/channel.ts';
import { nowValue, type NowValue } from '#domain/reading/now.ts';
import type { Reading } from '#domain/reading/reading.ts';
import { appended, type AppendOutcome } from '#domain/reading/store.ts';
import { fail, ok, type Result } from '#domain/result.ts';
import type { EpochMs } from '#domain/units/time.ts';
import { allowedSilenceMs, usualIntervalMs } from '#domain/rules/silence.ts';
import { tasksOf } from '#domain/cure/tasks.ts';
import { createAdmission, mostSeries } from './admission.ts';
import type { Clock } from './clock.ts';
import type { Config } from './config.ts';
import { createCounters } from './counters.ts';
import { createFollower } from './journal/follow.ts';
import { lookAtDirectory, makeDirectory, openFiles } from './data-directory.ts';
import { lockDirectory } from './lock.ts';
import { textOf, type Log } from './log.ts';
import { readMqttFiles } from './mqtt-files.ts';
import { refusalOf, sayOfStore, whyStoreAway, withoutWaiting } from './open-readings.ts';
import { createBus } from './outlets/bus.ts';
import { createRecent, recentCount } from './recent.ts';
import { restoredFrom } from './restore.ts';
import { startBroker } from './sources/broker.ts';
import { checkBroker, startMqttSource } from './sources/mqtt.ts';
import { createProbeAccess } from './sources/probe-access.ts';
import type { Decoded } from './sources/decoded.ts';
import { decodeMessage } from './sources/payload.ts';
import type { Sink } from './sources/source.ts';
import { journalHintTopic, type Wire, type WireHandlers } from './sources/wire.ts';
import { startSources } from './start-sources.ts';
import { startAnnouncer } from './start-announcer.ts';
import { startSealing } from './seal-days.ts';
import { takeImports } from './take-imports.ts';
import { writeStatus } from './status.ts';
import { openAside } from './stores/aside.ts';
import { createGroupCommit } from './stores/group-commit.ts';
import { writeDemoHistory, type DemoShed } from './demo-shed.ts';
import { createWatch } from './watch/watch.ts';

/**
 * The collector, wired: messages → readings → store → rules → journal, and the state of the shed on the bus.
 * The only file that knows all rooms of the collector. It owns no timer: `main.ts` calls `tick`, tests do it with a clock of theirs.
 */
export interface Collector {
  readonly mqttUrl: string;
  readonly demo: DemoShed | null;
  /** Once a second: follows the journal, judges silence and delays. */
  tick(): void;
  /** A few times a second: what changed about drums goes on the bus. */
  sayDrums(): void;
  /** Every two seconds: the status file. */
  sayStatus(): void;
  /** Takes no more, commits what waits, and lets go of everything. */
  close(): Promise<void>;
}

export interface CollectorDeps {
  readonly clock: Clock;
  readonly random: () => number;
  readonly log: Log;
  /** A process started again must wait for its broker; one started first must say that it is not there. */
  readonly restarted: boolean;
  readonly progress: (fraction: number, text: string) => void;
}

export type StartFailure = { readonly code: string; readonly message: string };

const firstConnectMs = 4_000;
const ticksPerTaskRound = 10;

export const startCollector = async (config: Config, deps: CollectorDeps): Promise<Result<Collector, StartFailure>> => {
  const { clock, log } = deps;
  const directory = config.dataDirectory;
  // Everything that can be refused is refused before anything is made or changed.
  const mqttFiles = readMqttFiles(config);
  if (!mqttFiles.ok) return mqttFiles;
  if (config.broker !== null && !deps.restarted) {
    const unreachable = await checkBroker(config.broker, firstConnectMs, mqttFiles.value.authority);
    if (unreachable !== null) return fail(unreachable);
  }
  const refused = lookAtDirectory(directory) ?? (await whyStoreAway({ directory, store: config.store }));
  if (refused !== null) return fail(refused);
  const made = makeDirectory(directory);
  if (!made.ok) return made;
  const lock = lockDirectory(directory);
  if (!lock.ok) return lock;
  const files = await openFiles({ ...config, directory, outboxReadings: config.outboxReadings ?? undefined, changed: (trouble) => sayOfStore(log, trouble) });
  if (!files.ok) {
    lock.value.release();
    return files;
  }
  const { book, readings: kept, readings: { store } } = files.value;
  const demo = config.demo ? await writeDemoHistory({ config, book, store, clock, progress: deps.progress }) : null;

  let shed: Shed = emptyShed;
  const follower = createFollower(book, (entry) => {
    shed = project(shed, entry);
  });
  follower.poll();

  const counters = createCounters();
  const recent = createRecent();
  const presence = new Map<string, 'online' | 'offline'>();
  const aside = openAside(join(directory, 'aside.db'));
  const touched = new Set<string>();
  let storeLost = false;
  let wire: Wire | null = null;
  const bus = createBus(config.site, config.zone, (topic, payload, retain) => wire?.publish(topic, payload, retain));

  /** Entries written since the journal was last followed. */
  let written = 0;
  /** What the journal could not take (a full disk, a lock): an alert must not be lost by that, so it is written as soon as it can be. */
  let unwritten: readonly Draft[] = [];
  const append = (drafts: readonly Draft[]): void => {
    unwritten = [...unwritten, ...drafts];
    try {
      written += book.append(unwritten, clock.now()).length;
      unwritten = [];
    } catch (error) {
      log.error({ error: textOf(error), waiting: unwritten.length }, 'the journal could not be written; what waits is tried again');
    }
  };
  const watch = createWatch({ append, zone: config.zone });

  /** Takes in what is new in the journal; rules may answer to it with entries of their own, so it goes on until nothing is new. */
  const follow = (): void => {
    while (follower.poll() > 0) {
      if (written > 0) wire?.publish(journalHintTopic(config.site), String(shed.sequence), false);
      written = 0;
      watch.follow(shed, clock.now());
      sayState();
    }
  };
  const sayState = (): void => {
    bus.alerts(shed);
    bus.tasks(tasksOf(shed, clock.now(), config.zone));
    for (const drum of shed.drums.keys()) touched.add(drum);
  };

  const sealing = startSealing({ directory, zone: config.zone, book, store: kept.sealing, shed: () => shed, append, clock, log });
  const announcer = startAnnouncer({ config, book, append, clock, wire: () => wire });
  const opened = shed.site;
  if (opened?.site !== config.site || opened.zone !== config.zone) append([{ who: byCollector, kind: 'site-opened', body: { site: config.site, name: config.siteName, zone: config.zone } }]);

  const latest = await store.latest();
  for (const series of latest.keys()) recent.take(await store.recent(series, recentCount));
  const admission = createAdmission(latest.keys());
  follower.poll();
  written = 0;
  watch.restore(await restoredFrom(withoutWaiting(store), shed, clock.now()), clock.now());
  follow();
  // Nobody on the bus remembers it, or what they remember is older.
  sayState();

  const committed = (readings: readonly Reading[], outcome: AppendOutcome): void => {
    storeLost = false;
    counters.stored += outcome.stored;
    counters.duplicates += outcome.duplicates;
    counters.conflicts += outcome.conflicts;
    const fresh = outcome.stored === readings.length ? readings : readings.filter((_reading, index) => outcome.outcomes[index] === appended.stored);
    recent.take(fresh);
    for (const { series, at } of fresh) {
      const drum = drumWatchedBy(shed, series, at);
      if (drum !== null) touched.add(drum);
    }
    watch.readings(fresh, clock.now());
    if (written > 0) follow();
  };

  const commit = createGroupCommit({
    store,
    committed,
    failed: (error) => {
      storeLost = true;
      counters.refuse(refusalOf(error));
      log.error({ error: error instanceof Error ? error.message : String(error) }, 'readings could not be stored; they are kept and tried again');
    },
  });

  const imports = takeImports({ directory, clock, log, admission, shed: () => shed, write: append, store, committed });
  /** What a sender's message sets off may fail without ending the collector: the next round does it again. */
  const guarded = (work: () => void): void => {
    try {
      work();
    } catch (error) {
      log.error({ error: textOf(error) }, 'something could not be done; it is tried again');
    }
  };
  /** Whichever way it came in. */
  const take = (decoded: Decoded, arrivedAt: EpochMs, settled: () => void): void => {
    for (const reason of decoded.refused) counters.refuse(reason);
    if (decoded.presence !== null && (presence.size < mostSeries || presence.has(decoded.presence.probe))) presence.set(decoded.presence.probe, decoded.presence.online ? 'online' : 'offline');
    if (decoded.aside.length > 0) {
      counters.keepAside(decoded.aside, arrivedAt);
      guarded(() => aside.keep(decoded.aside, arrivedAt));
    }
    for (const { series, updateS } of decoded.quiet) watch.announceInterval(series, updateS * 1_000);
    const admitted = admission.admit(decoded.readings, arrivedAt);
    for (let count = 0; count < admitted.refused; count += 1) counters.refuse('too-many-series');
    commit.offer(admitted.readings, settled);
  };
  const handlers: WireHandlers = {
    message: (topic, payload, settled, delivery) => {
      const arrivedAt = clock.now();
      take(decodeMessage(config.site, topic, payload, arrivedAt, { mappings: config.mappings, ...delivery }), arrivedAt, settled);
    },
    full: commit.full,
    whenRoom: commit.whenRoom,
    hint: () => guarded(follow),
    connected: bus.sayAgain,
    kept: bus.kept,
  };
  const access = createProbeAccess({ site: config.site, anonymous: config.mqttAnonymous, digests: () => shed.probePasswords });
  const connected =
    config.broker === null
      ? await startBroker({ site: config.site, host: config.mqttHost, port: config.mqttPort, handlers, access, tls: mqttFiles.value.tls })
      : await startMqttSource({ site: config.site, url: config.broker, handlers, filters: config.mappings.map(({ topic }) => topic), authority: mqttFiles.value.authority, random: deps.random, firstConnectMs: deps.restarted ? null : firstConnectMs });

  const closeStores = async (): Promise<void> => {
    await commit.drain();
    await Promise.all([imports.close(), sealing.settled()]);
    await announcer.settled();
    await store.close();
    book.close();
    aside.close();
    lock.value.release();
  };
  if (!connected.ok) {
    await closeStores();
    return connected;
  }
  wire = connected.value;
  bus.sayAgain();
  const sink: Sink = { take: (decoded, arrivedAt) => take(decoded, arrivedAt, () => {}), full: commit.full, whenRoom: commit.whenRoom };
  const sources = startSources(config, { sink, clock, random: deps.random });

  const nowOf = (drum: string, channel: Channel, at: number): NowValue => {
    const series = seriesWatching(shed, drum, channel, at);
    const last = series === null ? [] : recent.of(series);
    const staleAfterMs = allowedSilenceMs(usualIntervalMs(null, last.map((reading) => reading.at)));
    return nowValue({ channel, watched: series !== null, recent: last, staleAfterMs, measured: null, trendPerHour: null }, at);
  };

  let ticks = 0;
  let brokerStatus = wire.status().status;
  const startedAt = Date.now();
  return ok({
    mqttUrl: wire.status().url,
    demo,
    tick: () => {
      if (unwritten.length > 0) append([]);
      follow();
      watch.tick(clock.now());
      sealing.tick();
      imports.tick();
      if (written > 0) follow();
      announcer.tick(shed, clock.now(), !storeLost && unwritten.length === 0);
      // Time alone makes tasks due and overdue.
      if (ticks % ticksPerTaskRound === 0) bus.tasks(tasksOf(shed, clock.now(), config.zone));
      ticks += 1;
    },
    sayDrums: () => {
      const at = clock.now();
      for (const drum of touched) {
        const values = drumChannels.map((channel) => [channels[channel].quantity, nowOf(drum, channel, at)] as const).filter(([quantity, value]) => quantity === 'temperature' || !('absent' in value));
        bus.drum(shed, drum, Object.fromEntries(values), at);
      }
      touched.clear();
    },
    sayStatus: () => {
      const broker = connected.value.status();
      if (broker.status !== brokerStatus) {
        if (broker.status === 'lost') log.warn({ broker: broker.url }, 'the broker is lost; it is tried again until it is back');
        else log.info({ broker: broker.url }, 'the broker is back');
        brokerStatus = broker.status;
      }
      writeStatus(directory, {
        writtenAt: Date.now(),
        startedAt,
        memoryMb: Math.round(process.memoryUsage().rss / 1_048_576),
        broker,
        store: { ...kept.status(), ...(storeLost || unwritten.length > 0 ? { status: 'lost' as const } : {}) },
        readings: { stored: counters.stored, duplicates: counters.duplicates, conflicts: counters.conflicts, late: watch.late, waiting: commit.waiting, setAside: counters.setAside, refused: counters.refused },
        sources: sources.map((source) => source.status()),
        outlets: announcer.status(shed),
        presence: Object.fromEntries(presence),
        clocks: Object.fromEntries(counters.clocks),
      });
    },
    close: async () => {
      await Promise.all(sources.map((source) => source.close()));
      await connected.value.close();
      await closeStores();
    },
  });
};
