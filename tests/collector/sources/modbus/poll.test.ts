import { describe, expect, it } from 'vitest';
import { createPollPlan } from '../../../../collector/sources/modbus/poll.ts';
import type { Register } from '../../../../collector/sources/modbus/register.ts';

const register = (unit: number, address: number, everyS: number): Register => ({ unit, function: 4, address, type: 'int16', order: 'high-first', scale: 1, offset: 0, missing: [], in: null, probe: `barrel-${unit}`, channel: 'temperature', everyS });
const start = Date.UTC(2026, 4, 3, 6);
const second = 1_000;

/** Ten minutes on a bus where each question takes this long, and these units say nothing. */
const bus = (registers: readonly Register[], silent: readonly number[], { answerMs = 50, timeoutMs = 1_000, minutes = 10 } = {}) => {
  const plan = createPollPlan(registers, start);
  const asked = new Map<Register, number[]>(registers.map((item) => [item, []]));
  let now = start;
  while (now < start + minutes * 60 * second) {
    const due = plan.due(now);
    if (due === null) {
      now = plan.nextAt();
      continue;
    }
    asked.get(due)?.push(now - start);
    const isSilent = silent.includes(due.unit);
    now += isSilent ? timeoutMs : answerMs;
    if (isSilent) plan.failed(due, now, 'silent');
    else plan.answered(due, now);
  }
  return { plan, times: (item: Register) => asked.get(item) ?? [] };
};

describe('when a bus is asked', () => {
  it('each register keeps its own pace', () => {
    const [often, seldom] = [register(1, 0, 10), register(2, 0, 60)];
    const { times } = bus([often, seldom], []);
    expect([times(often).length, times(seldom).length]).toEqual([60, 10]);
    // The pace is that of the plan: what an answer takes does not add up.
    expect(times(often).at(-1)).toBeLessThan(590 * second + 200);
  });
  it('a device that says nothing is asked less and less, and the others keep their pace', () => {
    const [good, dead] = [register(1, 0, 1), register(2, 0, 1)];
    const { plan, times } = bus([good, dead], [2]);
    const pauses = times(dead).slice(1).map((at, index) => at - (times(dead)[index] ?? 0));
    expect(pauses.slice(0, 4).map((pause) => Math.round(pause / second))).toEqual([2, 3, 5, 9]);
    expect(Math.max(...pauses)).toBeLessThan(63 * second);
    // Sixteen questions of a second each are all that the dead one may cost of ten minutes.
    expect(times(dead).length).toBeLessThan(18);
    expect(times(good).length).toBeGreaterThan(570);
    expect(plan.units()).toMatchObject([{ unit: 1, state: 'ok', failed: 0 }, { unit: 2, state: 'silent', answered: 0, lastAnswerAt: null }]);
  });
  it('on a bus too slow for its plan nobody is left out, and nothing piles up', () => {
    const registers = [1, 2, 3, 4].map((unit) => register(unit, 0, 1));
    const { times } = bus(registers, [], { answerMs: 500 });
    for (const item of registers) expect(times(item).length).toBe(300);
  });
  it('a device that answers again, or refuses one thing, is asked as before', () => {
    const [one, two] = [register(1, 0, 10), register(1, 1, 10)];
    const plan = createPollPlan([one, two], start);
    for (let round = 0; round < 6; round += 1) plan.failed(one, start, 'silent');
    expect(plan.due(start + 10 * second)).toBeNull();
    plan.answered(one, start + 40 * second);
    plan.failed(two, start + 40 * second, 'refusing');
    expect(plan.units()[0]).toMatchObject({ state: 'refusing', answered: 1, failed: 7 });
    expect(plan.nextAt()).toBeLessThanOrEqual(start + 70 * second);
  });
});
