import { describe, expect, it } from 'vitest';
import { qualities } from '#domain/reading/reading.ts';
import { drumChannels, channels } from '#domain/reading/channel.ts';
import { adviceFor } from '#domain/rules/advice.ts';
import { defaultLimits } from '#domain/rules/default-limits.ts';
import type { Limit } from '#domain/rules/limit.ts';
import { dueMessage, faultMessage, rangeMessage, silenceMessage, type Message } from '#domain/rules/message.ts';
import { minuteMs } from '#domain/units/time.ts';

const limitOf = (id: string): Limit => {
  const found = defaultLimits.find((limit) => limit.id === id);
  if (found === undefined) throw new Error(`no limit ${id}`);
  return found;
};

/** Every message the default limits can give. */
const every: readonly Message[] = [
  ...defaultLimits.flatMap((limit) => {
    const channel = drumChannels.find((name) => channels[name].quantity === limit.quantity);
    if (limit.kind === 'due') return [dueMessage(limit)];
    if (limit.kind !== 'range' || channel === undefined) return [];
    const side = limit.high === null ? 'low' : 'high';
    const edge = limit.high ?? limit.low ?? 0;
    return (['probe', 'person'] as const).map((by) => rangeMessage(limit, side, channel, edge, by));
  }),
  ...drumChannels.map((channel) => silenceMessage(`probe-1/${channel}`, 12 * minuteMs)),
  ...qualities.filter((quality) => quality !== 'good').map((quality) => faultMessage('probe-1/temperature', quality)),
];

describe('what an alert says', () => {
  it('tells value, uncertainty and limit in plain words', () => {
    const { text, advice } = rangeMessage(limitOf('ferment-temperature-danger'), 'high', 'temperature', 31, 'probe');
    expect(text).toBe('Brine is too warm: 31.0 ± 0.5 °C, limit 30 °C.');
    expect(advice).toMatch(/^Cool the drum now/);
  });

  it('says "may be" within the guard band, on both sides of a limit', () => {
    expect(rangeMessage(limitOf('ferment-temperature-danger'), 'high', 'temperature', 30.4, 'probe').text).toBe('Brine may be too warm: 30.4 ± 0.5 °C, limit 30 °C.');
    expect(rangeMessage(limitOf('ferment-salinity-danger'), 'low', 'salinity', 53, 'probe').text).toBe('Brine may be too weak: 53 ± 5 g/L, limit 50 g/L.');
    expect(rangeMessage(limitOf('ferment-salinity-danger'), 'low', 'salinity', 44, 'probe').text).toBe('Brine is too weak: 44 ± 5 g/L, limit 50 g/L.');
  });

  it('says when a person measured', () => {
    expect(rangeMessage(limitOf('kept-brine-hold-ph-danger'), 'high', 'ph', 4.8, 'person').text).toBe('pH is too high: 4.80 ± 0.12 by hand, limit 4.6.');
  });

  it('tells a probe that fell silent from one that never spoke', () => {
    expect(silenceMessage('probe-1/temperature', 12 * minuteMs).text).toBe('Probe probe-1 has sent no brine temperature for 12 minutes.');
    expect(silenceMessage('probe-1/temperature', null).text).toBe('Probe probe-1 has not sent its first brine temperature.');
  });

  it('keeps the two reasons for a change apart', () => {
    expect(dueMessage(limitOf('soak-change-late')).advice).toContain('hygiene limit, not a matter of speed');
    expect(dueMessage(limitOf('change-overdue')).advice).toContain('Late costs time');
  });

  it('has advice of its own for every range and due limit', () => {
    const fallback = adviceFor({ ...limitOf('change-overdue'), id: 'unknown', quantity: 'unknown' }, null);
    for (const limit of defaultLimits.filter(({ kind }) => kind === 'range' || kind === 'due')) expect(adviceFor(limit, limit.high === null ? 'low' : 'high'), limit.id).not.toBe(fallback);
  });

  it('never says that anything may be eaten, and never uses a word that sounds like it', () => {
    expect(every.length).toBeGreaterThan(40);
    for (const { text, advice } of every) {
      expect(`${text} ${advice}`).not.toMatch(/\bsafe(?:ly)?\b|\bok(?:ay)?\b|\bgood\b|\beat(?:en|able)?\b|\bedible\b|harmless/i);
      expect(text).not.toMatch(/NaN|undefined|null/);
      expect(advice).not.toBe('');
    }
  });

  it('in danger always says measure, hold, do not taste, and defers to local rules', () => {
    for (const limit of defaultLimits.filter(({ kind, priority }) => (kind === 'range' || kind === 'due') && priority === 'high')) {
      const advice = adviceFor(limit, limit.high === null ? 'low' : 'high');
      expect(advice, limit.id).toMatch(/[Mm]easure pH/);
      expect(advice, limit.id).toMatch(/[Hh]old the lot/);
      expect(advice, limit.id).toContain('do not taste');
      expect(advice, limit.id).toContain('local rules decide');
    }
  });
});
