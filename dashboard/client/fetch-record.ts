import { fail, ok, recordPath, type Result, type SealedRecord } from '#contract';
import { notUnderstood, toFailure, unreachable, type Failure } from './call.ts';

const knownForm = 'brineward-lot-record/1';

/** The signed record of a lot: a paper beside the table of routes, which a screen reads as data. */
export const fetchRecord = async (lot: string, fetcher: typeof fetch = fetch): Promise<Result<SealedRecord, Failure>> => {
  let answer: unknown;
  let response: Response;
  try {
    response = await fetcher(`/api${recordPath(lot, 'json')}`, { credentials: 'same-origin', headers: { accept: 'application/json' } });
    answer = await response.json();
  } catch (cause) {
    return fail(cause instanceof SyntaxError ? notUnderstood('The shed computer answered with something that is not JSON.') : unreachable);
  }
  if (!response.ok) return fail(toFailure(response.status, answer));
  const sealed = answer as SealedRecord;
  const form: string = sealed.record.form;
  return form === knownForm ? ok(sealed) : fail(notUnderstood('This record is of another version than this page. Load the page again.'));
};
