import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { openBook, openReadings, type Readings } from '#collector';
import { projectAll } from '#domain/journal/project.ts';
import type { Arguments, Terminal } from './command.ts';

/** The address of the store elsewhere, as the running program would have it; null for the data directory itself. */
const storeOf = ({ values }: Arguments): string | null => values.store ?? (process.env.BRINEWARD_STORE || null);

/** Opens the readings of a directory, wherever they are; says why not and answers null. */
export const openReadingsFor = async (given: Arguments, readOnly: boolean, terminal: Terminal): Promise<Readings | null> => {
  const book = openBook(join(given.directory, 'book.db'));
  if (!book.ok) {
    terminal.error(book.error.message);
    return null;
  }
  const site = projectAll(book.value.read(0, Number.MAX_SAFE_INTEGER)).site?.site ?? 'home';
  book.value.close();
  const store = storeOf(given);
  const readings = await openReadings({ directory: given.directory, site, store, readOnly });
  if (!readings.ok) {
    terminal.error(readings.error.message);
    return null;
  }
  if (store === null && existsSync(join(given.directory, 'outbox.db'))) terminal.error('These are the readings of this directory; those it keeps in InfluxDB are met with --store.');
  return readings.value;
};

/** Whether the directory keeps its readings in InfluxDB: so named, or begun there. */
export const isElsewhere = (given: Arguments): boolean => storeOf(given) !== null || (existsSync(join(given.directory, 'outbox.db')) && !existsSync(join(given.directory, 'readings.db')));

/** What cannot be sealed or checked here, for a directory whose readings are elsewhere. */
export const notSealedElsewhere =
  'The readings are in InfluxDB: days are not sealed there, and whether a reading was changed in it cannot be told from here. The journal is sealed by its own chain as always.';
