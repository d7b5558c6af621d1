import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { openBook, openSqliteStore, sealFaults, verifyJournal, verifySeals, type Book, type Seals } from '#collector';
import { blockFaults, type BlockCheck } from '#domain/reading/sealing.ts';
import { argumentsOf, type Command, type Terminal } from './command.ts';
import { missingFrom } from './kept-seals.ts';

const faultTexts = {
  'not-json': 'is not readable',
  'not-canonical': 'is not in the form it was written in',
  'wrong-number': 'is missing or out of its place',
  'wrong-hash': 'was changed: its hash does not fit its content',
  'broken-chain': 'does not follow the entry before it: that one was changed, or one was taken out',
} as const;

/** Walks everything there is to check and names the first fault by entry or by day. Exit 0: intact. */
export const verify: Command = {
  usage: 'verify [--seals FILE]',
  summary: 'checks journal, seals and sealed readings; --seals: lines kept elsewhere, as `seal` prints them',
  run: async (args, terminal) => {
    const given = argumentsOf(args, ['seals'], verify.usage, terminal);
    if (given === null) return 1;
    const kept = given.values.seals;
    if (kept !== undefined && !existsSync(kept)) return refuse(terminal, `There is no file ${kept}.`);
    const book = openBook(join(given.directory, 'book.db'));
    if (!book.ok) return refuse(terminal, book.error.message);
    try {
      const journal = checkJournal(book.value, terminal);
      if (journal === null) return 1;
      const seals = verifySeals(book.value);
      if (seals.fault !== null) return refuse(terminal, `The seal of ${seals.fault.day} (entry ${seals.fault.entry}) does not hold: ${sealFaults[seals.fault.what]}. The ${seals.days} days sealed before it hold.`);
      const missing = kept === undefined ? null : missingFrom(readFileSync(kept, 'utf8'), seals.lines);
      if (missing !== null) return refuse(terminal, missing);
      const checked = await checkBlocks(given.directory, book.value, seals, terminal);
      if (checked === null) return 1;
      terminal.out(`Intact: ${journal} journal entries in one unbroken chain, ${seals.days} sealed days with ${checked} blocks of readings, each as it was when it was sealed.`);
      sayUnchecked(journal, seals, kept !== undefined, terminal);
      return 0;
    } finally {
      book.value.close();
    }
  },
};

const checkJournal = (book: Book, terminal: Terminal): number | null => {
  const { checked, fault } = verifyJournal(book, (entries) => terminal.isTTY && terminal.progress(`${entries} entries checked`));
  if (terminal.isTTY) terminal.progress('');
  if (fault === null) return checked;
  terminal.error(`Journal entry ${fault.sequence} ${faultTexts[fault.what]}. The ${checked} entries before it are as they were written.`);
  return null;
};

/** How many blocks hold; null, and the first that does not is named. */
const checkBlocks = async (directory: string, book: Book, before: Seals, terminal: Terminal): Promise<number | null> => {
  const store = openSqliteStore({ file: join(directory, 'readings.db'), readOnly: true });
  if (!store.ok) {
    terminal.error(store.error.message);
    return null;
  }
  try {
    let checked = 0;
    let seals = before;
    for await (const check of store.value.verifyBlocks(seals.blocks)) {
      ({ checked } = check);
      if (checked % 100 === 0) terminal.progress(`${checked} of ${check.total} blocks checked`);
      if (check.fault === null) continue;
      // Sealing may go on meanwhile: a block newer than the seals that were read is asked about once more.
      seals = check.fault === 'not-in-seal' ? verifySeals(book) : seals;
      if (check.fault === 'not-in-seal' && seals.blocks.some((block) => block.series === check.series && block.part === check.part && block.from === check.from)) continue;
      terminal.error(faultText(check, seals));
      return null;
    }
    if (terminal.isTTY) terminal.progress('');
    return checked;
  } finally {
    await store.value.close();
  }
};

const faultText = ({ series, from, to, part, fault }: BlockCheck, { lines }: Seals): string => {
  const begins = new Date(from).toISOString();
  const what = fault === null ? '' : blockFaults[fault];
  if (part === null) return `The readings of ${series} from ${begins} to ${new Date(to).toISOString()} are not as they were stored: ${what}.`;
  const which = `The readings of ${series} of the day that begins ${begins}${part === 0 ? '' : `, amendment ${part},`}`;
  if (fault !== 'not-in-seal') return `${which} are not as they were sealed: ${what}.`;
  return `${which} are sealed and no entry of the journal names them: the end of the journal was cut off after ${lines.at(-1) ?? 'its beginning'}, or the program was stopped in that moment. Start Brineward once; if it says nothing of an interrupted sealing, entries are missing.`;
};

/** What nothing in this directory can prove. */
const sayUnchecked = (entries: number, seals: Seals, compared: boolean, terminal: Terminal): void => {
  terminal.out('Not checked: readings that are not sealed yet (the last day or two).');
  const after = entries - seals.coversTo;
  if (compared) terminal.out(`The seals kept elsewhere all stand in the journal. ${after} entries are newer than the last seal: whether more were cut off after it cannot be told.`);
  else terminal.out(`Whether entries were cut off at the end cannot be told from here alone. Print the seals now and then (npm run cli -- seal), keep them elsewhere, and check with --seals FILE.`);
};

const refuse = (terminal: Terminal, message: string): number => {
  terminal.error(message);
  return 1;
};
