import type { Batch, StoryAct } from '../journal/shed.ts';
import { isAct } from '../journal/shed.ts';
import { hourMs, type EpochMs } from '../units/time.ts';
import { stepId, type Outcomes, type Step } from './schedule.ts';
import { eveningHour, morningHour } from './schedules.ts';
import { localDate } from './stage.ts';

/** Who is there a little early has measured for that round (assumption). */
const earlyMs = 3 * hourMs;

/**
 * The temperature of a drum that no probe watches, by hand in the morning and in the evening: the coolest and the warmest of a day come
 * near those hours. A round that nobody walked cannot be made up for: what is open is the last one, or, when that is done, the next.
 * Numbered by rounds from the day of the start on, two a day.
 */
export const handTemperatureStep = (batch: Batch, past: readonly StoryAct[], outcomes: Outcomes, now: EpochMs, zone: string): Step => {
  const first = localDate(batch.startedAt, zone);
  const dueAt = (round: number): EpochMs => hourOf(first.add({ days: Math.floor(round / 2) }), round % 2 === 0 ? morningHour : eveningHour, zone);
  const today = first.until(localDate(now, zone), { largestUnit: 'days' }).days;
  // Three rounds at most may be meant: this morning's, this evening's, or last evening's.
  const begun = [2 * today + 1, 2 * today, 2 * today - 1].find((round) => round >= 0 && dueAt(round) - earlyMs <= now) ?? -1;
  const measured = past.filter(isAct('measured')).filter(({ body }) => body.quantity === 'temperature');
  const isSettled = (round: number): boolean => {
    const outcome = outcomes.of(stepId(batch.lot, 'measure-temperature', round + 1));
    if (outcome !== undefined && (outcome.kind === 'skipped' || outcome.entry === null || outcomes.standing(outcome.entry) !== undefined)) return true;
    return measured.some(({ at }) => at >= dueAt(round) - earlyMs && at < dueAt(round + 1) - earlyMs);
  };
  // Nobody is asked for a round before the drum was filled.
  const isOpen = begun >= 0 && dueAt(begun) >= batch.startedAt && !isSettled(begun);
  let round = isOpen ? begun : begun + 1;
  while (dueAt(round) < batch.startedAt) round += 1;
  return { id: stepId(batch.lot, 'measure-temperature', round + 1), kind: 'measure-temperature', ordinal: round + 1, dueAt: dueAt(round) };
};

const hourOf = (date: Temporal.PlainDate, hour: number, zone: string): EpochMs => date.toZonedDateTime({ timeZone: zone, plainTime: Temporal.PlainTime.from({ hour }) }).epochMilliseconds;
