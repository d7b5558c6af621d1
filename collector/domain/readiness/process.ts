import { isAct } from '../journal/shed.ts';
import { lateness } from '../record/lateness.ts';
import { dayMs, hourMs } from '../units/time.ts';
import { isOut, onBatch, type Finding, type ReadinessRule } from './finding.ts';

/** Behind it: scheduled process not followed (published FDA citations 2024 to 2025). */
export const lateActs: ReadinessRule = {
  id: 'R10', level: 'fix', what: 'Changes that were late against the schedule',
  check: ({ alerts, now, settings }) =>
    alerts
      .filter(({ rule, lot }) => rule === 'change-overdue' && lot !== null)
      .flatMap(({ lot, excursions }) => excursions.filter(({ from, to }) => (to ?? now) - from > settings.actLateDays * dayMs).map(({ from, to }) => onBatch(lot ?? '', `A change of brine was ${(((to ?? now) - from) / dayMs).toFixed(1)} days late.`, 'Write down why, and what was done.'))),
};

/** Behind it: production records do not show the process (an FDA warning letter of 2015). */
export const emptyFields: ReadinessRule = {
  id: 'R11', level: 'fix', what: 'Fields of a lot that nobody filled in',
  check: ({ lots }) =>
    lots.flatMap(({ batch }) => {
      const missing = [...(batch.variety === null && batch.picks.length === 0 ? ['variety'] : []), ...(batch.trees === null && batch.picks.length === 0 ? ['trees or block'] : [])];
      return missing.length === 0 ? [] : [onBatch(batch.lot, `Not written down: ${missing.join(', ')}.`, 'Name the pick it came from.')];
    }),
};

/** Behind it: monitoring frequency not adequate (published FDA citations 2024 to 2025). */
export const gaps: ReadinessRule = {
  id: 'R12', level: 'look', what: 'Gaps in the temperature of a lot without a reason or a reading by hand',
  check: ({ shed, alerts, lots, now, settings }) =>
    alerts
      .filter(({ rule, lot }) => rule === 'temperature-silent' && lot !== null)
      .flatMap(({ id, lot, excursions }) =>
        excursions.flatMap(({ from, to }) => {
          const hours = ((to ?? now) - from) / hourMs;
          const batch = lots.find((each) => each.batch.lot === lot)?.batch;
          const byHand = batch?.acts.filter(isAct('measured')).some((act) => act.body.quantity === 'temperature' && act.at >= from && act.at <= (to ?? now)) ?? false;
          const hasReason = (shed.alertActions.get(id) ?? []).length > 0;
          if (hours <= settings.gapLookHours || byHand || hasReason) return [];
          return [{ ...onBatch(lot ?? '', `No temperature for ${hours.toFixed(0)} h.`, 'Write down why, at the alert.'), ...(hours > settings.gapFixHours && { level: 'fix' as const }) }];
        }),
      ),
};

const onLimits = (text: string, act: string): Finding => ({ lot: null, text, act, place: { screen: 'limits', id: null } });

/** Behind it: limits without a lowest or highest value, or without a source (published FDA citations 2024 to 2025). */
export const limitSources: ReadinessRule = {
  id: 'R16', level: 'fix', what: 'Limits that were changed without a source',
  check: ({ shed }) => {
    const { site, drums } = shed.limitChanges;
    return [...site, ...[...drums.values()].flatMap((changes) => [...changes])].flatMap(([id, change]) => ((change.low !== undefined || change.high !== undefined) && (change.source === undefined || change.source.trim() === '') ? [onLimits(`The limit ${id} was changed, and its source was not.`, 'Say whose number it is.')] : []));
  },
};

/** Behind it: formula changed after validation (a food control plan form of New Zealand). */
export const validation: ReadinessRule = {
  id: 'R17', level: 'stop', what: 'Formulas that changed since five batches showed that they work',
  check: () => ({ notRecorded: 'which batches a formula was proven by is not kept here' }),
};

/** Behind it: closures not checked, drums or jars not cleaned before use (forms of extension services and of the International Olive Council). */
export const closures: ReadinessRule = {
  id: 'R31', level: 'look', what: 'Packings without a check of the closures, or cleaning',
  check: ({ lots }) => (lots.some(isOut) ? { notRecorded: 'closures and cleaning are not kept here' } : []),
};

/** Behind it: entries not made at the time (21 CFR 117.305 (d)). */
export const lateEntries: ReadinessRule = {
  id: 'R27', level: 'look', what: 'Many entries written late',
  check: ({ lots, settings }) =>
    lots.flatMap(({ batch }) => {
      const acts = batch.written.filter(({ corrects }) => corrects === null);
      const late = acts.filter(({ at, writtenAt, body }) => lateness(at, writtenAt) === 'late' && body.writtenAt === undefined).length;
      return acts.length >= 5 && (100 * late) / acts.length > settings.lateSharePercent ? [onBatch(batch.lot, `${String(late)} of ${String(acts.length)} entries were written more than a day later.`, 'Write at the drum, or say when it was noted on paper.')] : [];
    }),
};
