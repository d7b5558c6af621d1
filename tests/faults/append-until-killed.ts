import { writeSync } from 'node:fs';
import { argv } from 'node:process';
import { openSqliteStore } from '../../collector/stores/sqlite/open.ts';
import { streamBatch } from '../helpers/reading-stream.ts';
import { valueOf } from '../helpers/value-of.ts';

/** The process that gets killed: appends batch after batch and says, after each, that it is acknowledged. Never ends by itself. */
const [file = '', first = '0'] = argv.slice(2);
const store = valueOf(openSqliteStore({ file }));
for (let batch = Number(first); ; batch += 1) {
  await store.append(streamBatch(batch));
  // Written straight to the pipe: nothing acknowledged may wait in a buffer of the process.
  writeSync(1, `${batch}\n`);
}
