import type { Request, RequestHandler, Router } from 'express';
import { defaultSheet, fitsPage, labelQuery, labelRoles, type LabelQuery } from '#contract';
import type { LabelSheet } from '#domain/journal/producer.ts';
import { labelOf, notReleased } from '#domain/label/label.ts';
import { jarStock } from '#domain/jar/jar-stock.ts';
import type { UserOf } from '../access/session-cookie.ts';
import { ApiError, doesNotFit, unfit } from '../errors.ts';
import { labelPdf } from '../papers/label-sheet.ts';
import { findBatch } from '../shed/find-code.ts';
import { gateAt } from '../shed/jar-view.ts';
import { keyShape } from '../shed/key.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import { allow } from './mount.ts';

/** Labels stand beside the table of routes: they are paper. */
export const mountLabels = (router: Router, model: ShedModel, userOf: UserOf): void => {
  router.get('/labels/:lot.pdf', labels(model, userOf));
};

const labels = (model: ShedModel, userOf: UserOf): RequestHandler => async (request, response) => {
  allow(userOf(request), labelRoles);
  const query = labelQuery.safeParse(request.query);
  if (!query.success) throw doesNotFit(query.error, 'bad-query');
  const batch = findBatch(model, String(request.params.lot ?? ''));
  const shed = model.shed();
  const now = model.clock.now();
  const barred = notReleased(batch, gateAt(model, batch, now), now);
  // A label on a jar tells everybody that it may go: without a release there is none, whatever was asked for.
  if (barred !== null && (query.data.proof !== 'true' || barred.code === 'not-jarred')) throw new ApiError(barred.code, `${barred.text} No label was printed.`);
  const sheet = sheetOf(shed.producer?.sheet ?? defaultSheet, query.data);
  const label = labelOf({ batch, producer: shed.producer, address: addressOf(request, shed.producer?.webAddress ?? null), fingerprint: keyShape(shed)?.fingerprint ?? null, zone: model.zone, now });
  if (!label.ok) {
    const { missing } = label.error;
    throw new ApiError('label-incomplete', `${missing.map(({ message }) => message).join('; ')}. No label was printed.`, missing.map(({ field, message }) => ({ path: field, message })));
  }
  const count = query.data.labels ?? Math.max(1, Math.min(1_000, jarStock(batch.acts, now).left));
  const skip = query.data.skip ?? 0;
  if (skip >= sheet.columns * sheet.rows) throw unfit('skip', 'leaves no place on the sheet');
  const pdf = await labelPdf({ label: label.value, sheet, count, skip, notReleased: barred !== null, madeAt: new Date(now) });
  if (!pdf.ok) {
    const { field } = pdf.error;
    throw new ApiError('label-does-not-fit', `${field}: does not fit in letters large enough to be read. Take a larger label or fewer words. No label was printed.`, [{ path: field, message: 'does not fit' }]);
  }
  response.type('application/pdf').set('content-disposition', `inline; filename="labels-${batch.lot}.pdf"`).send(pdf.value);
};

const sheetOf = (kept: LabelSheet, { single, labels: _labels, skip: _skip, proof: _proof, ...sizes }: LabelQuery): LabelSheet => {
  const given = Object.fromEntries(Object.entries(sizes).filter(([, value]) => value !== undefined)) as Partial<LabelSheet>;
  const whole = { ...kept, ...given };
  const sheet = single === 'true' ? { ...whole, pageWidthMm: whole.labelWidthMm, pageHeightMm: whole.labelHeightMm, columns: 1, rows: 1, marginTopMm: 0, marginLeftMm: 0 } : whole;
  if (!fitsPage(sheet)) throw new ApiError('bad-query', 'The labels do not fit on the page.', [{ path: 'labelWidthMm', message: 'does not fit on the page' }]);
  return sheet;
};

/** Where the record is read: as the producer set it, else where the label was asked for. */
const addressOf = (request: Request, webAddress: string | null): string => (webAddress ?? `${request.protocol}://${request.get('host') ?? 'localhost'}`).replace(/\/+$/, '');
