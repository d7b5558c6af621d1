import { readStatus, type CollectorStatus, type OutletStatus, type SourceStatus } from '#collector';
import type { Health } from '#contract';
import { byApi, type Draft } from '#domain/journal/entry.ts';
import { limitsOf } from '#domain/rules/limits-in-force.ts';
import { secondMs, toRfc3339, type EpochMs } from '#domain/units/time.ts';
import type { ClocksOf } from './probe-clock.ts';
import type { ShedModel } from './shed-model.ts';

/** How the shed is doing as a whole, from what the collector last said of itself; the API's own alert when it says nothing. */
export interface HealthWatch {
  /** Looks at the status file; `realNow` is the machine's clock. */
  look(realNow: EpochMs): void;
  health(): Health;
  presenceOf(probe: string): 'online' | 'offline' | 'unknown';
  readonly clocks: ClocksOf;
  outletStatus(id: string): OutletStatus | null;
}

const collectorLimit = 'collector-silent';
const silentAfterS = 60;

export const createHealthWatch = (model: ShedModel, directory: string, version: string, startedAt: EpochMs, read: (directory: string) => CollectorStatus | null = readStatus): HealthWatch => {
  let status: CollectorStatus | null = null;
  let silentSince: EpochMs | null = null;

  const limit = () => limitsOf(model.shed().limitChanges, null).find(({ id }) => id === collectorLimit);

  /** Written when silence begins and when it ends; an alert left open by an earlier run is taken over, not raised again. */
  const write = (silent: boolean): void => {
    const open = [...model.shed().openAlerts.values()].find(({ rule, excursions }) => rule === collectorLimit && excursions.at(-1)?.to === null);
    const at = toRfc3339(model.clock.now());
    if (silent && open === undefined) model.write([raise(at)]);
    if (!silent && open !== undefined) model.write([{ who: byApi, kind: 'alert-returned', body: { id: open.id, until: at, at, peak: null } }]);
  };
  const raise = (at: string): Draft => {
    const inForce = limit();
    return {
      who: byApi,
      kind: 'alert-raised',
      body: {
        id: `collector-silent-${at.slice(0, 19).replaceAll(/[-:]/g, '').toLowerCase()}`,
        rule: collectorLimit,
        drum: null,
        lot: null,
        quantity: 'collector',
        priority: inForce?.priority ?? 'high',
        since: at,
        at,
        value: null,
        limit: { value: inForce?.high ?? null, unit: 's', source: inForce?.source ?? '', side: null },
        text: 'The collector has fallen silent: nothing is being measured or watched.',
        advice: 'Measure by hand until it is back. It is started again by itself; if it does not come back, restart Brineward and look at its log.',
      },
    };
  };

  return {
    look: (realNow) => {
      status = read(directory);
      const lastWord = Math.max(status?.writtenAt ?? 0, startedAt);
      const { high = null } = limit() ?? {};
      const silent = realNow - lastWord > (high ?? silentAfterS) * secondMs;
      if (silent) silentSince ??= lastWord;
      else silentSince = null;
      // A limit that is switched off raises nothing; what is true is shown all the same.
      write(silent && high !== null);
    },
    health: () => {
      const silent = silentSince !== null || status === null;
      const lost = status !== null && (status.broker.status === 'lost' || status.store.status === 'lost' || status.sources.some(({ state }) => state === 'lost'));
      return {
        status: silent || lost ? 'degraded' : 'ok',
        version,
        collector: { status: silent ? 'silent' : 'ok', since: silentSince === null ? null : toRfc3339(silentSince), memoryMb: status?.memoryMb ?? null },
        ...(status === null ? {} : { sources: status.sources.map(shownSource), broker: { ...status.broker }, store: { ...status.store }, readings: { ...status.readings, refused: { ...status.readings.refused } } }),
        outlets: (status?.outlets ?? []).map(({ kind, status: how }) => ({ kind, status: how })),
      };
    },
    clocks: () => status?.clocks ?? {},
    outletStatus: (id) => status?.outlets.find((outlet) => outlet.id === id) ?? null,
    // A probe may be called `constructor`.
    presenceOf: (probe) => (status !== null && Object.hasOwn(status.presence, probe) ? (status.presence[probe] ?? 'unknown') : 'unknown'),
  };
};

const timeText = (at: EpochMs | null): string | null => (at === null ? null : toRfc3339(at));
const shownSource = ({ refused, lastReadingAt, units, ...rest }: SourceStatus): NonNullable<Health['sources']>[number] => ({
  ...rest,
  refused: { ...refused },
  lastReadingAt: timeText(lastReadingAt),
  ...(units === undefined ? {} : { units: units.map(({ lastAnswerAt, ...unit }) => ({ ...unit, lastAnswerAt: timeText(lastAnswerAt) })) }),
});
