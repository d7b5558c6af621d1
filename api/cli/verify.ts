import { join } from 'node:path';
import { openBook, verifyJournal } from '#collector';
import { argumentsOf, type Command } from './command.ts';

const faultTexts = {
  'not-json': 'is not readable',
  'not-canonical': 'is not in the form it was written in',
  'wrong-number': 'is missing or out of its place',
  'wrong-hash': 'was changed: its hash does not fit its content',
  'broken-chain': 'does not follow the entry before it: that one was changed, or one was taken out',
} as const;

export const verify: Command = {
  usage: 'verify [--data DIR]',
  summary: 'checks every entry of the journal; exit 0 intact, 1 with the first fault named',
  run: async (args, terminal) => {
    const given = argumentsOf(args, [], verify.usage, terminal);
    if (given === null) return 1;
    const book = openBook(join(given.directory, 'book.db'));
    if (!book.ok) {
      terminal.error(book.error.message);
      return 1;
    }
    const { checked, fault } = verifyJournal(book.value, (entries) => terminal.isTTY && terminal.progress(`${entries} entries checked`));
    book.value.close();
    if (terminal.isTTY) terminal.progress('');
    if (fault !== null) {
      terminal.error(`Journal entry ${fault.sequence} ${faultTexts[fault.what]}. The ${checked} entries before it are as they were written.`);
      return 1;
    }
    terminal.out(`The journal is intact: ${checked} entries, each as it was written, in one unbroken chain.`);
    terminal.out('Not checked: readings (they carry no seal in this version), and whether entries were cut off at the end (compare the last hash with one kept elsewhere).');
    return 0;
  },
};
