import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { openBook, openSqliteStore, verifyJournal, verifySeals, type Book, type Seals } from '#collector';
import { blockFaultText, cutOffUnknown, intactText, journalFaultText, notChecked, sealFaultText } from '../shed/fault-words.ts';
import { argumentsOf, type Command, type Terminal } from './command.ts';
import { missingFrom } from './kept-seals.ts';
import { isElsewhere, notSealedElsewhere } from './readings.ts';

/** Walks everything there is to check and names the first fault by entry or by day. Exit 0: intact. */
export const verify: Command = {
  usage: 'verify [--seals FILE] [--store URL]',
  summary: 'checks journal, seals and sealed readings; --seals: lines kept elsewhere, as `seal` prints them',
  run: async (args, terminal) => {
    const given = argumentsOf(args, ['seals', 'store'], verify.usage, terminal);
    if (given === null) return 1;
    const kept = given.values.seals;
    if (kept !== undefined && !existsSync(kept)) return refuse(terminal, `There is no file ${kept}.`);
    const book = openBook(join(given.directory, 'book.db'));
    if (!book.ok) return refuse(terminal, book.error.message);
    try {
      const journal = checkJournal(book.value, terminal);
      if (journal === null) return 1;
      const seals = verifySeals(book.value);
      if (seals.fault !== null) return refuse(terminal, sealFaultText(seals.fault, seals.days));
      const missing = kept === undefined ? null : missingFrom(readFileSync(kept, 'utf8'), seals.lines);
      if (missing !== null) return refuse(terminal, missing);
      const isHere = existsSync(join(given.directory, 'readings.db'));
      const checked = isHere || !isElsewhere(given) ? await checkBlocks(given.directory, book.value, seals, terminal) : 0;
      if (checked === null) return 1;
      terminal.out(intactText(journal, seals.days, checked));
      if (isElsewhere(given)) terminal.out(notSealedElsewhere);
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
  terminal.error(journalFaultText(fault, checked));
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
      terminal.error(blockFaultText(check, seals.lines));
      return null;
    }
    if (terminal.isTTY) terminal.progress('');
    return checked;
  } finally {
    await store.value.close();
  }
};

/** What nothing in this directory can prove. */
const sayUnchecked = (entries: number, seals: Seals, compared: boolean, terminal: Terminal): void => {
  terminal.out(notChecked);
  const after = entries - seals.coversTo;
  if (compared) terminal.out(`The seals kept elsewhere all stand in the journal. ${after} entries are newer than the last seal: whether more were cut off after it cannot be told.`);
  else terminal.out(cutOffUnknown);
};

const refuse = (terminal: Terminal, message: string): number => {
  terminal.error(message);
  return 1;
};
