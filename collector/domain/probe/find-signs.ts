import { followingAir, isInAir } from '../detect/probe-in-air.ts';
import type { TemperatureReading } from '../cure/temperature-dose.ts';
import { channels, type Channel } from '../reading/channel.ts';
import type { Reading } from '../reading/reading.ts';
import type { Point } from '../reading/store.ts';
import { hourMs, minuteMs, type EpochMs } from '../units/time.ts';
import type { ProbeSign, ProbeSignKind } from './sign.ts';

/** One channel of a probe, with what it has lately said. */
export interface ChannelTrace {
  readonly channel: Channel;
  /** The newest reading, whatever its quality. */
  readonly last: Reading;
  readonly isSilent: boolean;
  /** Single readings of the last day, oldest first, as many as were looked at. */
  readonly recent: readonly Reading[];
  /** Good readings of the last day in small steps. */
  readonly day: readonly Point[];
  /** The same time of another probe that watches the same channel of the same drum; empty where there is none. */
  readonly beside: readonly Point[];
  /** The air of the shed in that time; empty where nobody measures it. */
  readonly air: readonly Point[];
}

const stuckHours = 6;
const airSwingC = 3;
const jumpC = 1;
const jumpWithinMs = 15 * minuteMs;
/** Half a degree each is what the parts promise: further apart, one of them is wrong. */
const apartC = 1;
/** Two cells of 1.5 V in line: from here down a common sensor reads high. Other batteries are told by their share. */
const starvedV = { low: 1.8, high: 2.7 };
const lowShare = 0.2;
const weakDbm = -90;

/** What the readings of one channel say about the probe. Pure, so that each signature is tested by a trace of its own. */
export const findProbeSigns = (trace: ChannelTrace, allSilent: boolean, now: EpochMs): readonly ProbeSign[] => {
  const { channel, last, isSilent } = trace;
  const sign = (kind: ProbeSignKind, value: number | null = null): ProbeSign => ({ kind, channel, value });
  // What has said nothing for long is judged by its silence alone.
  if (isSilent) return [sign(allSilent ? 'all-silent' : 'silent')];
  const { quality } = last;
  if (quality === 'power-on' || quality === 'disconnected' || quality === 'blank-scratchpad' || quality === 'out-of-range') return [sign(quality)];
  const found: ProbeSign[] = [];
  if (channel === 'temperature') {
    const still = stillHours(trace, now);
    const isInTheAir = followsAir(trace, now);
    if (still !== null) found.push(sign('stuck', still));
    if (isInTheAir) found.push(sign('follows-air'));
    const jumps = countJumps(trace.recent);
    // A probe in the air jumps with every door.
    if (jumps > 0 && !isInTheAir) found.push(sign('jumps', jumps));
    const distance = distanceBeside(trace);
    if (distance !== null && Math.abs(distance) > apartC) found.push(sign('apart', distance));
  }
  if (channel === 'battery' && last.value > starvedV.low && last.value <= starvedV.high) found.push(sign('battery-low', last.value));
  if (channel === 'battery-ratio' && last.value <= lowShare) found.push(sign('battery-low', last.value));
  if (channel === 'signal' && last.value <= weakDbm) found.push(sign('signal-weak', last.value));
  if (channel === 'ph' && isAtSeven(trace)) found.push(sign('ph-seven'));
  if (channel === 'conductivity' && last.value < 0.05 && Math.max(...trace.day.map(({ max }) => max), 0) > 1) found.push(sign('dry', last.value));
  return found;
};

const swing = (points: readonly Point[]): number => (points.length === 0 ? 0 : Math.max(...points.map(({ max }) => max)) - Math.min(...points.map(({ min }) => min)));

/** For how long it has not moved by more than its own step, where the air swung enough that it should have; null: it moved. */
const stillHours = ({ day, air, last, channel }: ChannelTrace, now: EpochMs): number | null => {
  const { resolution } = channels[channel];
  const moved = day.findLast(({ min, max }) => Math.max(Math.abs(min - last.value), Math.abs(max - last.value)) > resolution * 1.01);
  const since = moved?.t ?? day[0]?.t ?? now;
  const hours = (now - since) / hourMs;
  const held = day.filter(({ t }) => t > since);
  return hours > stuckHours && held.length >= stuckHours && swing(air.filter(({ t }) => t >= since)) > airSwingC ? hours : null;
};

const followsAir = ({ day, air }: ChannelTrace, now: EpochMs): boolean => {
  const following = followingAir(day.map(asTemperature), air.map(asTemperature), now);
  return following !== null && isInAir(following);
};

const asTemperature = ({ t, mean }: Point): TemperatureReading => ({ t, temperatureC: mean });

/** Steps of more than a degree between neighbours in time, if there were some of each direction: brine warms by a degree in hours. */
const countJumps = (recent: readonly Reading[]): number => {
  const steps = recent.flatMap((reading, index) => {
    const before = recent[index - 1];
    return before === undefined || reading.at - before.at > jumpWithinMs || reading.quality !== 'good' || before.quality !== 'good' ? [] : [reading.value - before.value];
  });
  const [up, down] = [steps.filter((step) => step > jumpC).length, steps.filter((step) => step < -jumpC).length];
  return Math.min(up, down) >= 2 ? up + down : 0;
};

/** Mean distance over the last six hours both have. */
const distanceBeside = ({ day, beside }: ChannelTrace): number | null => {
  const from = Math.max((day.at(-1)?.t ?? 0) - 6 * hourMs, beside[0]?.t ?? Number.POSITIVE_INFINITY);
  const [own, other] = [day, beside].map((points) => points.filter(({ t }) => t >= from));
  if (own === undefined || other === undefined || own.length < 6 || other.length < 6) return null;
  const mean = (points: readonly Point[]): number => points.reduce((sum, point) => sum + point.mean, 0) / points.length;
  return mean(own) - mean(other);
};

/** Within 7 ± 0.3 all day, and hardly moving: no olive brine does that. */
const isAtSeven = ({ day }: ChannelTrace): boolean => day.length >= 6 && day.every(({ min, max }) => min >= 6.7 && max <= 7.3) && swing(day) < 0.3;
