import { isAct } from '../journal/shed.ts';
import { dayMs } from '../units/time.ts';
import { onBatch, type ReadinessRule } from './finding.ts';

/** Behind it: no verification records, not reviewed in time (published FDA citations 2024 to 2025). */
export const unreviewed: ReadinessRule = {
  id: 'R15', level: 'fix', what: 'Entries that nobody has reviewed',
  check: ({ shed, lots, now, settings }) =>
    lots.flatMap(({ batch }) => {
      const until = Math.max(0, ...shed.reviews.filter(({ lot }) => lot === null || batch.lineage.includes(lot)).map((review) => review.until));
      const old = batch.written.filter(({ sequence, writtenAt }) => sequence > until && now - writtenAt > settings.reviewDays * dayMs).length;
      return old === 0 ? [] : [{ lot: batch.lot, text: `${String(old)} ${old === 1 ? 'entry' : 'entries'} older than ${String(settings.reviewDays)} days without a review.`, act: 'Read the record and write down the review.', place: { screen: 'readiness', id: batch.lot } }];
    }),
};

/** Behind it: who did it unknown (21 CFR 117.305 (f)). */
export const unnamed: ReadinessRule = {
  id: 'R26', level: 'fix', what: 'Measurements without an instrument, and all by one account',
  check: ({ shed, lots }) => {
    const bare = lots.flatMap(({ batch }) => {
      const count = batch.written.filter(isAct('measured')).filter(({ body }) => body.instrument === undefined).length;
      return count === 0 ? [] : [onBatch(batch.lot, `${String(count)} ${count === 1 ? 'measurement' : 'measurements'} without an instrument.`, 'Name the instrument, as a correction.')];
    });
    const people = new Set([...lots.flatMap(({ batch }) => batch.written.map(({ by }) => by)), ...shed.reviews.map(({ by }) => by)]);
    const alone = people.size === 1 && shed.reviews.length > 0 ? [{ level: 'look' as const, lot: null, text: 'All entries and reviews are by one account.', act: 'Where one person works alone, say so: reviewed by the maker.', place: { screen: 'readiness' as const, id: null } }] : [];
    return [...bare, ...alone];
  },
};
