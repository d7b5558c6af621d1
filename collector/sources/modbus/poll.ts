import type { Register } from './register.ts';
import type { UnitStatus } from '../source.ts';
import type { EpochMs } from '#domain/units/time.ts';

/**
 * When each register of a bus is asked next, and how each device on it fares. One question at a time; a device that does not
 * answer is asked less and less often, so that it does not take the bus from the others. Pure of timers and of Modbus.
 */
export interface PollPlan {
  /** What to ask now, the one that waits longest first, or null. */
  due(now: EpochMs): Register | null;
  /** When something is due next. */
  nextAt(): EpochMs;
  answered(register: Register, now: EpochMs): void;
  failed(register: Register, now: EpochMs, how: 'silent' | 'refusing'): void;
  units(): readonly UnitStatus[];
}

interface UnitState {
  state: UnitStatus['state'];
  answered: number;
  failed: number;
  lastAnswerAt: EpochMs | null;
  /** Failures since the last answer. */
  inARow: number;
  notBefore: EpochMs;
}

const longestRestMs = 60_000;

export const createPollPlan = (registers: readonly Register[], startAt: EpochMs): PollPlan => {
  const plan = registers.map((register) => ({ register, at: startAt }));
  const units = new Map<number, UnitState>(registers.map(({ unit }) => [unit, { state: 'waiting', answered: 0, failed: 0, lastAnswerAt: null, inARow: 0, notBefore: startAt }]));
  const stateOf = (register: Register): UnitState => units.get(register.unit) ?? { state: 'waiting', answered: 0, failed: 0, lastAnswerAt: null, inARow: 0, notBefore: startAt };
  const planned = () => plan.map((item) => ({ item, at: Math.max(item.at, stateOf(item.register).notBefore) }));
  const advance = (register: Register, now: EpochMs): void => {
    const item = plan.find((known) => known.register === register);
    // Counted from the plan, not from the answer, so that readings keep their pace; what was missed is not asked twice.
    if (item !== undefined) item.at = Math.max(item.at + register.everyS * 1_000, now);
  };

  return {
    due: (now) => planned().filter(({ at }) => at <= now).toSorted((a, b) => a.at - b.at)[0]?.item.register ?? null,
    nextAt: () => Math.min(...planned().map(({ at }) => at)),
    answered: (register, now) => {
      const unit = stateOf(register);
      unit.state = 'ok';
      unit.answered += 1;
      unit.lastAnswerAt = now;
      unit.inARow = 0;
      advance(register, now);
    },
    failed: (register, now, how) => {
      const unit = stateOf(register);
      unit.state = how;
      unit.failed += 1;
      unit.inARow += 1;
      // A device that refuses one register still answers for others; only silence costs the bus its time.
      if (how === 'silent') unit.notBefore = now + Math.min(longestRestMs, 1_000 * 2 ** Math.min(unit.inARow - 1, 10));
      advance(register, now);
    },
    units: () => [...units].map(([unit, { state, answered, failed, lastAnswerAt }]) => ({ unit, state, answered, failed, lastAnswerAt })),
  };
};
