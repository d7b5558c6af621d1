import { drumTemperature } from '#domain/cure/drum-warming.ts';
import type { EpochMs } from '#domain/units/time.ts';
import { hourMs, minuteMs } from '#domain/units/time.ts';
import type { Signal } from './signal.ts';

const stepMs = 10 * minuteMs;
const stepHours = stepMs / hourMs;

export interface Body {
  readonly start: EpochMs;
  readonly startC: number;
  readonly timeConstantHours: number;
}

/**
 * The temperature of a body that follows its air, step by step with the exact answer to air that changes evenly within ten minutes:
 * no error grows with time. What the linear pieces lose of a daily wave is below 0.03 % of its height.
 */
export const followAir = (air: Signal, { start, startC, timeConstantHours }: Body): Signal => {
  const airAtNode = [air(start)];
  const nodes = [startC];
  const after = (index: number, hours: number): number => {
    airAtNode[index + 1] ??= air(start + (index + 1) * stepMs);
    const from = airAtNode[index] as number;
    return drumTemperature(nodes[index] as number, from, ((airAtNode[index + 1] as number) - from) / stepHours, hours, timeConstantHours);
  };
  return (at) => {
    if (at <= start) return startC;
    const index = Math.floor((at - start) / stepMs);
    for (let last = nodes.length - 1; last < index; last++) nodes.push(after(last, stepHours));
    return after(index, (at - start - index * stepMs) / hourMs);
  };
};
