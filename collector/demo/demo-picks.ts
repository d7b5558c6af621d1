import { pickCode } from '#domain/cure/lot-code.ts';
import { byUser } from '#domain/journal/entry.ts';
import type { Cull, PickCode, PickShare } from '#domain/journal/pick-entries.ts';
import { minuteMs, toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { localTime } from './local-time.ts';
import type { DatedStory } from './season-plan.ts';
import { roles, type Moment } from './story.ts';
import type { TimedDraft } from './timed-draft.ts';

interface PickPlan {
  readonly picked: Moment;
  readonly hours: number;
  readonly variety: string;
  readonly trees: readonly string[];
  readonly massKg: number;
  readonly counts: readonly number[];
  readonly culls: readonly Cull[];
  /** Which drum took how much. */
  readonly into: Readonly<Partial<Record<string, number>>>;
}

/** What was picked, oldest first. The Leccino of one afternoon went into two drums, and one of those holds two picks; the last one waits. */
const plans: readonly PickPlan[] = [
  { picked: { daysAgo: 41, clock: '09:30' }, hours: 3, variety: 'Leccino', trees: ['7', '8'], massKg: 38.5, counts: [30, 55, 12, 3, 0, 0, 0, 0], culls: [{ cause: 'bruised', kg: 1.2 }, { cause: 'leaves and stalks', kg: 0.8 }], into: { [roles.jarred]: 36 } },
  { picked: { daysAgo: 36, clock: '08:40' }, hours: 4, variety: 'Picual', trees: ['1', '2', '3'], massKg: 39, counts: [30, 52, 14, 4, 0, 0, 0, 0], culls: [{ cause: 'olive fly', kg: 2.4 }, { cause: 'hail', kg: 1 }], into: { [roles.forgotten]: 35 } },
  { picked: { daysAgo: 26, clock: '09:00' }, hours: 2, variety: 'Picual', trees: ['4', '5', '6'], massKg: 24, counts: [0, 0, 2, 14, 44, 26, 10, 4], culls: [{ cause: 'shrivelled', kg: 1.6 }], into: { [roles.fermenting]: 22 } },
  { picked: { daysAgo: 15, clock: '08:30' }, hours: 3, variety: 'Frantoio', trees: ['11', '12', '13'], massKg: 26, counts: [38, 50, 10, 2, 0, 0, 0, 0], culls: [{ cause: 'olive fly', kg: 0.7 }], into: { [roles.warm]: 25 } },
  { picked: { daysAgo: 15, clock: '12:30' }, hours: 3, variety: 'Leccino', trees: ['9', '10'], massKg: 46, counts: [8, 34, 38, 14, 5, 1, 0, 0], culls: [{ cause: 'bruised', kg: 1.5 }], into: { [roles.warm]: 11, [roles.silent]: 33 } },
  { picked: { daysAgo: 6, clock: '10:00' }, hours: 1, variety: 'Frantoio', trees: ['14'], massKg: 9.4, counts: [44, 48, 8, 0, 0, 0, 0, 0], culls: [], into: { [roles.soaking]: 9 } },
  { picked: { daysAgo: 1, clock: '16:20' }, hours: 2, variety: 'Picual', trees: ['1', '2'], massKg: 27.5, counts: [4, 26, 22, 16, 14, 10, 6, 2], culls: [{ cause: 'olive fly', kg: 1.1 }], into: {} },
];

export interface DemoPicks {
  readonly entries: readonly TimedDraft[];
  /** What of which pick went into a drum. */
  readonly sharesOf: (drum: string) => readonly PickShare[];
}

const owner = byUser('owner');

export const demoPicks = ({ now, zone }: DatedStory): DemoPicks => {
  const at = ({ daysAgo, clock }: Moment): EpochMs => localTime(now, zone, daysAgo, clock);
  const numbers = new Map<number, number>();
  const codes = plans.map(({ picked }): PickCode => {
    const year = Temporal.Instant.fromEpochMilliseconds(at(picked)).toZonedDateTimeISO(zone).year;
    const number = (numbers.get(year) ?? 0) + 1;
    numbers.set(year, number);
    return pickCode(year, number);
  });
  return {
    entries: plans.flatMap((plan, index) => [...entriesOf(plan, codes[index] ?? '', at(plan.picked))]),
    sharesOf: (drum) =>
      plans.flatMap(({ into }, index) => {
        const kg = into[drum];
        return kg === undefined ? [] : [{ pick: codes[index] ?? '', kg }];
      }),
  };
};

/** Begun under the tree, weighed and counted at the bench, sorted before the drum. */
const entriesOf = function* ({ hours, variety, trees, massKg, counts, culls }: PickPlan, pick: PickCode, at: EpochMs): Generator<TimedDraft> {
  const weighed = at + hours * 60 * minuteMs;
  const sorted = weighed + 40 * minuteMs;
  yield { time: at, draft: { who: owner, kind: 'picked', body: { pick, at: toRfc3339(at), variety, trees } } };
  yield { time: weighed + 5 * minuteMs, draft: { who: owner, kind: 'pick-amended', body: { pick, until: toRfc3339(weighed), massKg, counts } } };
  yield { time: sorted, draft: { who: owner, kind: 'sorted', body: { pick, at: toRfc3339(sorted), culls } } };
};
