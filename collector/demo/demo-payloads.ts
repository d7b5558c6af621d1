import { channels } from '#domain/reading/channel.ts';
import type { Slug } from '#domain/reading/reading.ts';
import type { EpochMs } from '#domain/units/time.ts';
import { secondMs } from '#domain/units/time.ts';
import type { DemoSeries } from './demo-series.ts';
import { airProbe, speaks } from './demo-series.ts';

/** One message as a probe sends it. */
export interface ProbeMessage {
  readonly topic: string;
  readonly payload: string;
}

const probeTopic = (site: Slug, probe: Slug): string => `brineward/${site}/probe/${probe}`;
export const presenceTopic = (site: Slug, probe: Slug): string => `${probeTopic(site, probe)}/presence`;

/** The air probe is of the simplest kind: it has no clock and sends bare numbers. */
const sendsBareNumbers = (probe: Slug): boolean => probe === airProbe;

/** What a probe says at a moment: one SenML pack of all its channels (RFC 8428), or a plain decimal number for each. */
export const probeMessages = (site: Slug, probe: Slug, series: readonly DemoSeries[], at: EpochMs): readonly ProbeMessage[] => {
  const spoken = series.filter((one) => one.probe === probe && speaks(one, at));
  if (spoken.length === 0) return [];
  if (sendsBareNumbers(probe)) return spoken.map(({ channel, valueAt }) => ({ topic: `${probeTopic(site, probe)}/${channel}`, payload: String(valueAt(at)) }));
  const records = spoken.map(({ channel, valueAt }, index) => ({
    ...(index === 0 && { bn: `${probe}:`, bt: at / secondMs }),
    n: channel,
    u: channels[channel].unit,
    v: valueAt(at),
  }));
  return [{ topic: probeTopic(site, probe), payload: JSON.stringify(records) }];
};
