import type { RequestHandler, Router } from 'express';
import { canonical, openSiteKey } from '#collector';
import { howToCheckPath, recordForms, recordRoles, type RecordForm } from '#contract';
import type { UserOf } from '../access/session-cookie.ts';
import { ApiError } from '../errors.ts';
import { howToCheck } from '../papers/how-to-check.ts';
import { signRecord, type SignedRecord } from '../papers/sealed-record.ts';
import { findBatch } from '../shed/find-code.ts';
import { recordOf } from '../shed/record-view.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import { allow } from './mount.ts';

export interface RecordDeps {
  readonly model: ShedModel;
  /** Where the key of the site lies. */
  readonly directory: string;
  /** The built dashboard, which brings the page of a record. */
  readonly dashboard: string | null;
  readonly userOf: UserOf;
}

/** The papers of a lot: signed data, a file that checks itself, paper and table, all drawn from one record. */
export const mountRecords = (router: Router, deps: RecordDeps): void => {
  router.get(howToCheckPath, (_request, response) => void response.type('text/plain; charset=utf-8').send(howToCheck));
  for (const form of recordForms) router.get(`/records/:lot.${form}`, paperOf(deps, form));
};

const paperOf = ({ model, directory, userOf }: RecordDeps, form: RecordForm): RequestHandler => async (request, response) => {
  allow(userOf(request), recordRoles);
  const batch = findBatch(model, String(request.params.lot ?? ''));
  const key = openSiteKey(directory, false);
  if (!key.ok) throw new ApiError('not-ready', `${key.error.message} Nothing was printed.`);
  const signed = signRecord(await recordOf(model, batch), key.value);
  const { type, body, inline } = await make[form](signed);
  response.type(type).set('content-disposition', `${inline ? 'inline' : 'attachment'}; filename="record-${batch.lot}.${form}"`).send(body);
};

interface Paper {
  readonly type: string;
  readonly body: string | Buffer;
  /** Shown where it was asked for; else kept as a file. */
  readonly inline: boolean;
}

const make: Readonly<Record<RecordForm, (signed: SignedRecord) => Promise<Paper> | Paper>> = {
  json: ({ sealed }) => ({ type: 'application/json', body: canonical(sealed), inline: true }),
};
