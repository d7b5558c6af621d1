import { sealFaults, type JournalFault, type SealFault } from '#collector';
import { blockFaults, type BlockCheck } from '#domain/reading/sealing.ts';
import { toRfc3339 } from '#domain/units/time.ts';

/** What a check of everything found, in a sentence; the same in the terminal and on the screen. */
const faultTexts = {
  'not-json': 'is not readable',
  'not-canonical': 'is not in the form it was written in',
  'wrong-number': 'is missing or out of its place',
  'wrong-hash': 'was changed: its hash does not fit its content',
  'broken-chain': 'does not follow the entry before it: that one was changed, or one was taken out',
} as const;

export const journalFaultText = ({ sequence, what }: JournalFault, checked: number): string => `Journal entry ${sequence} ${faultTexts[what]}. The ${checked} entries before it are as they were written.`;

export const sealFaultText = ({ day, entry, what }: SealFault, days: number): string => `The seal of ${day} (entry ${entry}) does not hold: ${sealFaults[what]}. The ${days} days sealed before it hold.`;

/** `lines`: the seals that were read, as a third party keeps them. */
export const blockFaultText = ({ series, from, to, part, fault }: BlockCheck, lines: readonly string[]): string => {
  const begins = toRfc3339(from);
  const what = fault === null ? '' : blockFaults[fault];
  if (part === null) return `The readings of ${series} from ${begins} to ${toRfc3339(to)} are not as they were stored: ${what}.`;
  const which = `The readings of ${series} of the day that begins ${begins}${part === 0 ? '' : `, amendment ${part},`}`;
  if (fault !== 'not-in-seal') return `${which} are not as they were sealed: ${what}.`;
  return `${which} are sealed and no entry of the journal names them: the end of the journal was cut off after ${lines.at(-1) ?? 'its beginning'}, or the program was stopped in that moment. Start Brineward once; if it says nothing of an interrupted sealing, entries are missing.`;
};

export const intactText = (entries: number, days: number, blocks: number): string => `Intact: ${entries} journal entries in one unbroken chain, ${days} sealed days with ${blocks} blocks of readings, each as it was when it was sealed.`;
export const notChecked = 'Not checked: readings that are not sealed yet (the last day or two).';
export const readingsElsewhere = 'Not checked: the readings, which lie in another store and are not sealed here.';
export const cutOffUnknown = 'Whether entries were cut off at the end cannot be told from here alone. Print the seals now and then (npm run cli -- seal), keep them elsewhere, and check with --seals FILE.';
