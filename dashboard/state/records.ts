import { signal, type ReadonlySignal } from '@preact/signals';
import type { LotRecord, RecordList, Result, SealedRecord, Verification } from '#contract';
import type { Call, Failure } from '../client/call.ts';
import { missingWords } from './record-words.ts';

/** What a record lacks, once it was looked at; a failure in words where it could not be. */
export type Lacks = { readonly lines: readonly string[] } | { readonly trouble: string };

export interface RecordsModel {
  readonly list: ReadonlySignal<RecordList | null>;
  readonly failure: ReadonlySignal<Failure | null>;
  readonly lacks: ReadonlySignal<ReadonlyMap<string, Lacks>>;
  readonly check: ReadonlySignal<Verification | null>;
  readonly load: () => Promise<void>;
  /** Looks at one record for what it lacks. */
  readonly look: (lot: string) => Promise<void>;
  /** Looks at the records of lots that are not gone, one after the other: making a record is work for a small computer. */
  readonly lookAtOpen: () => Promise<void>;
  /** `start`: begins a check; else asks how it is. */
  readonly verify: (start: boolean) => Promise<void>;
}

/** Records looked at by themselves; the others when asked. */
const mostLooks = 12;

export const createRecords = (call: Call, fetchRecord: (lot: string) => Promise<Result<SealedRecord, Failure>>): RecordsModel => {
  const list = signal<RecordList | null>(null);
  const failure = signal<Failure | null>(null);
  const lacks = signal<ReadonlyMap<string, Lacks>>(new Map());
  const check = signal<Verification | null>(null);
  const tell = (lot: string, what: Lacks): void => {
    lacks.value = new Map([...lacks.value, [lot, what]]);
  };
  const look = async (lot: string): Promise<void> => {
    const answer = await fetchRecord(lot);
    if (!answer.ok) return tell(lot, { trouble: `${answer.error.title}. ${answer.error.detail}` });
    const record: LotRecord = answer.value.record;
    tell(lot, { lines: missingWords(record) });
  };
  return {
    list,
    failure,
    lacks,
    check,
    load: async () => {
      const answer = await call('records');
      failure.value = answer.ok ? null : answer.error;
      if (answer.ok) list.value = answer.value;
    },
    look,
    lookAtOpen: async () => {
      const open = (list.value?.lots ?? []).filter(({ place, lot }) => place !== 'sold out' && !lacks.value.has(lot)).slice(0, mostLooks);
      for (const { lot } of open) await look(lot);
    },
    verify: async (start) => {
      const answer = start ? await call('startVerification', { body: {} }) : await call('verification');
      if (answer.ok) check.value = answer.value;
      else failure.value = answer.error;
    },
  };
};
