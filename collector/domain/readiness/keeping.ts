import { dayMs } from '../units/time.ts';
import type { Finding, ReadinessRule } from './finding.ts';

/** Behind it: a hole in the sequence, or a broken hash (21 CFR 11.10 asks that records can be shown to be unchanged). */
export const brokenJournal: ReadinessRule = {
  id: 'R28', level: 'stop', what: 'Journal or seals that do not hold',
  check: ({ facts }) => {
    if (facts.verified === null) return { notRecorded: 'the journal was not checked since the program started: check it under Records' };
    return facts.verified.fault === null ? [] : [{ lot: null, text: `The check of the journal found a fault: ${facts.verified.fault.replace(/\.$/, '')}.`, act: 'Keep a copy as it is, and compare it with the last backup.', place: { screen: 'journal', id: null } }];
  },
};

const onJournal = (text: string): Finding => ({ lot: null, text, act: 'Make a backup to another disk: npm run cli -- backup FILE.', place: { screen: 'journal', id: null } });

/** Behind it: records not at hand, or gone before their time (21 CFR 114.100 (e): three years). */
export const notAtHand: ReadinessRule = {
  id: 'R29', level: 'look', what: 'No backup for a month',
  check: ({ shed, now }) => {
    if (shed.lastBackupAt === null) return [onJournal('No backup was made with this program yet.')];
    return now - shed.lastBackupAt > 31 * dayMs ? [onJournal('The last backup is more than a month old.')] : [];
  },
};
