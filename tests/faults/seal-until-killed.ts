import { argv, kill, pid } from 'node:process';
import { openSqliteStore } from '../../collector/stores/sqlite/open.ts';
import { valueOf } from '../helpers/value-of.ts';

/** The process that gets killed: seals one day and kills itself at a step of sealing, at that step's n-th time. */
const [file = '', from = '', to = '', step = '', times = '1'] = argv.slice(2);
let left = Number(times);
const store = valueOf(
  openSqliteStore({
    file,
    onSealStep: (reached) => {
      if (reached === step && (left -= 1) === 0) kill(pid, 'SIGKILL');
    },
  }),
);
await store.seal({ from: Number(from), to: Number(to) });
