import type { RequestHandler, Router } from 'express';
import { canonical, openSiteKey } from '#collector';
import { howToCheckPath, recordForms, recordQuery, recordRoles, type RecordForm } from '#contract';
import type { UserOf } from '../access/session-cookie.ts';
import { ApiError, doesNotFit } from '../errors.ts';
import { howToCheck } from '../papers/how-to-check.ts';
import type { PaperSize } from '../papers/page.ts';
import { recordCsv } from '../papers/record-csv.ts';
import { openRecordPage } from '../papers/record-html.ts';
import { recordPdf } from '../papers/record-pdf.ts';
import { signRecord, type SignedRecord } from '../papers/sealed-record.ts';
import { noteLook, readableBatch } from '../shed/readable.ts';
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

const paperOf = ({ model, directory, dashboard, userOf }: RecordDeps, form: RecordForm): RequestHandler => async (request, response) => {
  const user = allow(userOf(request), recordRoles);
  const query = recordQuery.safeParse(request.query);
  if (!query.success) throw doesNotFit(query.error, 'bad-query');
  const batch = readableBatch(model, user, String(request.params.lot ?? ''));
  const key = openSiteKey(directory, false);
  if (!key.ok) throw new ApiError('not-ready', `${key.error.message} Nothing was printed.`);
  const signed = signRecord(await recordOf(model, batch), key.value);
  const { type, body, inline, policy } = await make[form](signed, { size: query.data.size === 'letter' ? 'LETTER' : 'A4', dashboard });
  if (policy !== undefined) response.set('content-security-policy', policy);
  noteLook(model, user, batch.lot, form);
  response.type(type).set('content-disposition', `${inline ? 'inline' : 'attachment'}; filename="record-${batch.lot}.${form}"`).send(body);
};

interface Paper {
  readonly type: string;
  readonly body: string | Buffer;
  /** Shown where it was asked for; else kept as a file. */
  readonly inline: boolean;
  /** What the page may do, where it is one. */
  readonly policy?: string;
}

interface Setting {
  readonly size: PaperSize;
  readonly dashboard: string | null;
}

const make: Readonly<Record<RecordForm, (signed: SignedRecord, setting: Setting) => Promise<Paper> | Paper>> = {
  json: ({ sealed }) => ({ type: 'application/json', body: canonical(sealed), inline: true }),
  html: ({ sealed }, { dashboard }) => {
    const page = openRecordPage(dashboard);
    if (page === null) throw new ApiError('not-ready', 'The page of a record is not built: run npm run build. The other forms of the record are there.');
    return { type: 'text/html', body: page.of(sealed), inline: false, policy: page.policy };
  },
  pdf: async (signed, { size }) => ({ type: 'application/pdf', body: await recordPdf(signed, size), inline: true }),
  csv: ({ sealed }) => ({ type: 'text/csv', body: recordCsv(sealed.record), inline: false }),
};
