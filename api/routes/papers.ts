import type { RequestHandler } from 'express';
import { daySheetQuery, daySheetRoles } from '#contract';
import { localDate } from '#domain/cure/stage.ts';
import type { UserOf } from '../access/session-cookie.ts';
import { ApiError, doesNotFit } from '../errors.ts';
import { daySheetPdf } from '../papers/day-sheet.ts';
import { daySheetOf } from '../shed/day-sheet-view.ts';
import type { Forecasts } from '../shed/forecasts.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import { allow } from './mount.ts';

/** Further ahead than this nobody knows what will be due. */
const mostDaysAhead = 14;

/** The sheet for the shed, on paper: today's, or that of a day soon to come. */
export const daySheet = (model: ShedModel, forecasts: Forecasts, userOf: UserOf): RequestHandler => async (request, response) => {
  allow(userOf(request), daySheetRoles);
  const query = daySheetQuery.safeParse(request.query);
  if (!query.success) throw doesNotFit(query.error, 'bad-query');
  const today = localDate(model.clock.now(), model.zone);
  const date = query.data.date === undefined ? today : Temporal.PlainDate.from(query.data.date);
  const ahead = today.until(date, { largestUnit: 'days' }).days;
  if (ahead < 0 || ahead > mostDaysAhead) throw new ApiError('bad-query', `date: lies outside today and the next ${mostDaysAhead} days.`, [{ path: 'date', message: `lies outside today and the next ${mostDaysAhead} days` }]);
  const pdf = await daySheetPdf(await daySheetOf(model, forecasts, date));
  response.type('application/pdf').set('content-disposition', `inline; filename="day-sheet-${date.toString()}.pdf"`).send(pdf);
};
