import { createHash } from 'node:crypto';
import type { AnnouncedBody, AnnouncementKind } from '#domain/announce/announced.ts';
import { giveUpAfterMs, pauseAfter } from '#domain/announce/backoff.ts';
import { busOutlet, type Outlet } from '#domain/announce/outlet.ts';
import { dueAnnouncements, type Due } from '#domain/announce/plan.ts';
import { lateMs, messageOf } from '#domain/announce/words.ts';
import { byCollector, type Draft } from '#domain/journal/entry.ts';
import type { Shed } from '#domain/journal/shed.ts';
import { minuteMs, toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { endFailing, raiseFailing } from './failing.ts';
import type { Letter, SendFault } from './sender.ts';

/**
 * Tells people: sends what is due, writes in the journal what came of it, tries again what failed. It keeps nothing that a restart may
 * lose: what was told stands in the journal, and until the journal is seen to have it nothing more goes to that outlet.
 */
export interface Announcer {
  /** Once a second, with the shed as far as the journal is written. `healthy`: readings can be stored, so that the heart may beat. */
  tick(shed: Shed, now: EpochMs, healthy: boolean): void;
  status(shed: Shed): readonly OutletStatus[];
  /** Waits for what is under way. */
  settled(): Promise<void>;
}

export interface OutletStatus {
  readonly id: string;
  readonly kind: string;
  readonly status: 'ok' | 'failing' | 'not-tried';
  readonly failures: number;
  readonly detail: string | null;
  readonly lastSentAt: EpochMs | null;
  readonly nextTryAt: EpochMs | null;
}

export interface AnnouncerOptions {
  readonly zone: string;
  readonly site: { readonly id: string; readonly name: string };
  /** Sends one message; never throws. */
  readonly send: (outlet: Outlet, letter: Letter) => Promise<SendFault>;
  readonly beat: (outlet: Outlet) => Promise<SendFault>;
  /** Says a test on the bus. */
  readonly sayOnBus: (letter: Pick<Letter, 'id' | 'at'>) => SendFault;
  readonly sealLine: (entry: number) => string;
  readonly append: (drafts: readonly Draft[]) => void;
  readonly now: () => EpochMs;
}

interface Line {
  running: Promise<void> | null;
  failures: number;
  failingSince: EpochMs;
  detail: string | null;
  nextTryAt: EpochMs;
  lastSentAt: EpochMs | null;
  /** The message the journal must be seen to tell of before the next. */
  awaits: string | null;
  beatAt: EpochMs;
  setting: number;
}

export const createAnnouncer = ({ zone, site, send, beat, sayOnBus, sealLine, append, now: clockNow }: AnnouncerOptions): Announcer => {
  const lines = new Map<string, Line>();
  let latest: Shed | null = null;

  const lineOf = (outlet: Pick<Outlet, 'id' | 'sequence'>): Line => {
    const fresh = { failures: 0, failingSince: 0, detail: null, nextTryAt: Number.NEGATIVE_INFINITY, beatAt: Number.NEGATIVE_INFINITY, setting: outlet.sequence };
    let line = lines.get(outlet.id);
    if (line === undefined) lines.set(outlet.id, (line = { running: null, lastSentAt: null, awaits: null, ...fresh }));
    // Set anew it may work at once.
    else if (line.setting !== outlet.sequence) Object.assign(line, fresh);
    return line;
  };

  /** What an attempt came to, for the journal: the first failure of a row, what is given up, and whatever was sent. */
  const settle = (outlet: Outlet, line: Line, told: Omit<AnnouncedBody, 'at' | 'result' | 'detail' | 'attempts' | 'outlet' | 'to'>, fault: SendFault, newest: EpochMs | null): void => {
    const at = clockNow();
    const attempts = line.failures + 1;
    const shed = latest;
    // What was sent was sent, also where the outlet was set anew meanwhile; that it failed tells nothing of the new setting.
    if (shed === null || (fault !== null && shed.outlets.get(outlet.id)?.sequence !== outlet.sequence)) return;
    const body = { ...told, outlet: outlet.id, to: outlet.to, at: toRfc3339(at), attempts, detail: fault };
    const drafts: Draft[] = [];
    const write = (result: AnnouncedBody['result']): void => {
      drafts.push({ who: byCollector, kind: 'announced', body: { ...body, result } });
      line.awaits = told.delivery;
    };
    if (fault === null) {
      // A heart that beats is no news; one that beats again is.
      if (told.what !== 'heartbeat' || line.failures > 0) write('sent');
      drafts.push(...endFailing(shed, outlet.id, at));
      Object.assign(line, { failures: 0, detail: null, nextTryAt: Number.NEGATIVE_INFINITY, lastSentAt: at });
    } else {
      if (line.failures === 0) line.failingSince = at;
      line.failures += 1;
      line.detail = fault;
      line.nextTryAt = at + pauseAfter(line.failures);
      const isTest = told.what === 'test';
      if (!isTest && newest !== null && at - newest > giveUpAfterMs) write('given-up');
      else if (isTest || line.failures === 1) write('failed');
      drafts.push(...raiseFailing(shed, outlet, line.failures, line.failingSince, at));
    }
    append(drafts);
  };

  const run = (line: Line, sending: Promise<SendFault>, then: (fault: SendFault) => void): void => {
    line.running = sending.then(then).finally(() => (line.running = null));
  };

  const tell = (due: Due, line: Line, now: EpochMs): void => {
    const { outlet, what, alerts, seals } = due;
    const sealLines = seals.map(sealLine);
    const told = alerts.map(({ id, excursions }) => ({ id, excursion: excursions.length }));
    const delivery = deliveryOf(outlet, what, [...told.map(({ id, excursion }) => `${id} ${excursion} ${latest?.announced.said.get(`${outlet.id} ${id}`)?.at ?? ''}`), ...seals.map(String), what === 'test' ? String(latest?.announced.testsAsked.get(outlet.id)) : '']);
    const late = what === 'reminder' || what === 'test' ? 0 : lateMs(due, now);
    const letter: Letter = { ...messageOf(due, { site: site.name, zone, now, sealLines }), id: delivery, what, site: site.id, at: now, lateMs: late, alerts, sealLines };
    const facts = { delivery, what, alerts: told, lateS: Math.round(late / 1_000), ...(seals.length === 0 ? {} : { sealsTo: seals.at(-1) ?? 0 }) };
    const newest = alerts.length === 0 ? (what === 'seals' ? now : null) : Math.max(...alerts.map(({ raisedAt }) => raisedAt));
    const sending = what === 'test' && outlet.kind === 'heartbeat' ? beat(outlet) : send(outlet, letter);
    run(line, sending, (fault) => settle(outlet, line, facts, fault, newest));
  };

  const beatAll = (shed: Shed, now: EpochMs): void => {
    for (const outlet of shed.outlets.values()) {
      if (outlet.kind !== 'heartbeat') continue;
      const line = lineOf(outlet);
      if (line.running !== null || now < Math.max(line.nextTryAt, line.beatAt + outlet.everyMinutes * minuteMs)) continue;
      line.beatAt = now;
      const facts = { delivery: deliveryOf(outlet, 'heartbeat', [String(now)]), what: 'heartbeat' as const, alerts: [], lateS: 0 };
      run(line, beat(outlet), (fault) => settle(outlet, line, facts, fault, null));
    }
  };

  /** The bus is no outlet that anyone sets, and can be tried all the same. */
  const testBus = (shed: Shed, now: EpochMs): void => {
    const asked = shed.announced.testsAsked.get(busOutlet);
    const line = lineOf({ id: busOutlet, sequence: 0 });
    const delivery = `${busOutlet}-${String(asked)}`;
    if (asked === undefined || line.awaits === delivery) return;
    const fault = sayOnBus({ id: delivery, at: now });
    line.awaits = delivery;
    append([{ who: byCollector, kind: 'announced', body: { delivery, outlet: busOutlet, what: 'test', to: 'the broker', alerts: [], at: toRfc3339(now), lateS: 0, attempts: 1, result: fault === null ? 'sent' : 'failed', detail: fault } }]);
  };

  return {
    tick: (shed, now, healthy) => {
      latest = shed;
      for (const id of lines.keys()) {
        if (id === busOutlet || shed.outlets.has(id)) continue;
        lines.delete(id);
        const ended = endFailing(shed, id, now);
        if (ended.length > 0) append(ended);
      }
      testBus(shed, now);
      for (const due of dueAnnouncements(shed, now, zone)) {
        const line = lineOf(due.outlet);
        if (line.awaits !== null && shed.announced.lastDelivery.get(due.outlet.id) === line.awaits) line.awaits = null;
        if (line.running === null && line.awaits === null && (due.what === 'test' || now >= line.nextTryAt)) tell(due, line, now);
      }
      if (healthy) beatAll(shed, now);
    },
    status: (shed) =>
      [...shed.outlets.values()].map(({ id, kind }) => {
        const line = lines.get(id);
        const failures = line?.failures ?? 0;
        return { id, kind, status: failures > 0 ? 'failing' : (line?.lastSentAt ?? null) === null ? 'not-tried' : 'ok', failures, detail: line?.detail ?? null, lastSentAt: line?.lastSentAt ?? null, nextTryAt: failures > 0 ? (line?.nextTryAt ?? null) : null };
      }),
    settled: async () => {
      await Promise.all([...lines.values()].flatMap(({ running }) => (running === null ? [] : [running])));
    },
  };
};

/** The same message gives the same id, also after a restart. */
const deliveryOf = (outlet: Outlet, what: AnnouncementKind, about: readonly string[]): string =>
  createHash('sha256').update(JSON.stringify([outlet.id, outlet.sequence, what, ...about])).digest('hex').slice(0, 32);
