import type { Channel } from '#domain/reading/channel.ts';
import { channels } from '#domain/reading/channel.ts';
import type { SeriesId, Slug } from '#domain/reading/reading.ts';
import { seriesId } from '#domain/reading/reading.ts';
import type { EpochMs } from '#domain/units/time.ts';
import { probeSignal } from './physics/probe.ts';
import { draws } from './physics/random.ts';
import type { Signal } from './physics/signal.ts';
import type { DatedBatch, DatedStory } from './season-plan.ts';
import type { ShedCourses } from './shed-physics.ts';
import { roles } from './story.ts';

/** What one channel of one probe tells, and when. */
export interface DemoSeries {
  readonly id: SeriesId;
  readonly probe: Slug;
  readonly channel: Channel;
  /** When it speaks; `to` is null for one that goes on. Between spans the probe lies washed in its box. */
  readonly spans: readonly { readonly from: EpochMs; readonly to: EpochMs | null }[];
  readonly valueAt: Signal;
}

export const airProbe = 'shed-air';

/** Constant errors found in the bucket of ice: all within half a degree, as good probes are. */
export const iceOffsetsC: Readonly<Record<Slug, number>> = { 'probe-1': 0.0625, 'probe-2': -0.125, 'probe-3': 0, 'probe-4': 0.125, 'probe-5': -0.0625, [airProbe]: 0 };

const noise: Partial<Record<Channel, number>> = { temperature: 0.04, 'air-temperature': 0.06, ph: 0.012, salinity: 0.15 };

export const speaks = ({ spans }: DemoSeries, at: EpochMs): boolean => spans.some(({ from, to }) => at >= from && (to === null || at < to));

export const demoSeries = (story: DatedStory, shed: ShedCourses, seed: number): readonly DemoSeries[] => {
  const series = (probe: Slug, channel: Channel, course: Signal, spans: DemoSeries['spans']): DemoSeries => {
    const id = seriesId(probe, channel);
    const offset = channel === 'temperature' ? (iceOffsetsC[probe] ?? 0) : 0;
    return { id, probe, channel, spans, valueAt: probeSignal(course, { offset, noise: noise[channel] ?? 0, step: channels[channel].resolution, draws: draws(seed, id) }) };
  };
  const probes = [...new Set(story.batches.map(({ plan }) => plan.probe))].toSorted();
  const temperatures = probes.map((probe) => {
    const watched = story.batches.filter(({ plan }) => plan.probe === probe).toSorted((one, other) => one.startedAt - other.startedAt);
    const course: Signal = (at) => {
      const drum = watched.findLast(({ startedAt }) => startedAt <= at)?.plan.drum;
      return drum === undefined ? Number.NaN : (shed.temperature.get(drum) as Signal)(at);
    };
    return series(probe, 'temperature', course, watched.map((batch) => ({ from: batch.startedAt, to: spokeUntil(batch, story) })));
  });
  const fermenting = story.batches.find(({ plan }) => plan.drum === roles.fermenting) as DatedBatch;
  const fermentingSpan = [{ from: fermenting.startedAt, to: null }];
  return [
    ...temperatures,
    series(fermenting.plan.probe, 'ph', shed.ph, fermentingSpan),
    series(fermenting.plan.probe, 'salinity', shed.salinity, fermentingSpan),
    series(airProbe, 'air-temperature', shed.shedAir, [{ from: story.start, to: null }]),
  ];
};

const spokeUntil = ({ plan, jarredAt }: DatedBatch, { silentSince }: DatedStory): EpochMs | null => (plan.drum === roles.silent ? silentSince : jarredAt);
