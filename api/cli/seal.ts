import { join } from 'node:path';
import { lockDirectory, openBook, sealDueDays, verifySeals } from '#collector';
import { argumentsOf, type Command } from './command.ts';
import { isElsewhere, notSealedElsewhere, openReadingsFor } from './readings.ts';

/** Seals the days that are over, where nobody else does, and prints every seal for somebody outside to keep. */
export const seal: Command = {
  usage: 'seal [--store URL]',
  summary: 'seals the days that are over and prints all seals, to be kept elsewhere',
  run: async (args, terminal) => {
    const given = argumentsOf(args, ['store'], seal.usage, terminal);
    if (given === null) return 1;
    const lock = lockDirectory(given.directory);
    if (!lock.ok && lock.error.code !== 'in-use') {
      terminal.error(lock.error.message);
      return 1;
    }
    const book = openBook(join(given.directory, 'book.db'));
    if (!book.ok) {
      terminal.error(book.error.message);
      return 1;
    }
    try {
      if (!lock.ok && isElsewhere(given)) terminal.error(notSealedElsewhere);
      else if (!lock.ok) terminal.error('Brineward is running and seals each day by itself, half a day after it is over. These are its seals so far.');
      else {
        if (isElsewhere(given)) {
          terminal.error(notSealedElsewhere);
          return 1;
        }
        const readings = await openReadingsFor(given, false, terminal);
        if (readings?.sealing == null) return 1;
        const sealed = await sealDueDays({ directory: given.directory, book: book.value, store: readings.sealing, now: Date.now(), told: (day) => terminal.progress(`${day} sealed`) });
        await readings.store.close();
        if (!sealed.ok) {
          terminal.error(sealed.error.message);
          return 1;
        }
        if (terminal.isTTY) terminal.progress('');
      }
      const { lines, fault } = verifySeals(book.value);
      for (const line of lines) terminal.out(line);
      if (fault !== null) terminal.error(`The seal of ${fault.day} (entry ${fault.entry}) does not hold; run verify.`);
      return fault === null ? 0 : 1;
    } finally {
      book.value.close();
      if (lock.ok) lock.value.release();
    }
  },
};
