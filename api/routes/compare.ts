import type { RequestHandler, Router } from 'express';
import { compareCsvPath, compareQuery, routes } from '#contract';
import type { UserOf } from '../access/session-cookie.ts';
import { ApiError, doesNotFit } from '../errors.ts';
import { findBatch } from '../shed/find-code.ts';
import { compareCsv } from '../shed/compare-csv.ts';
import { comparePairView } from '../shed/compare-pair.ts';
import { compareView } from '../shed/compare-view.ts';
import { createCureRecords, type CureRecords } from '../shed/cure-records.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import { allow, mount, type Handlers } from './mount.ts';

/** How cure time depends on temperature, and why one cure was slower than another. */
export const mountCompare = (router: Router, model: ShedModel, userOf: UserOf): void => {
  const records = createCureRecords(model);
  mount(router, compareRoutes(model, records), userOf);
  router.get(compareCsvPath, compareTable(model, records, userOf));
};

const compareRoutes = (model: ShedModel, records: CureRecords): Handlers<'compare' | 'comparePair'> => ({
  compare: ({ query }) => compareView(model, records, query.bitterness),
  comparePair: ({ params, query }) => {
    const [first, second] = [findBatch(model, params.lot ?? ''), findBatch(model, params.other ?? '')];
    if (first.lot === second.lot) throw new ApiError('bad-query', 'other: is the same lot as the first. Choose two.', [{ path: 'other', message: 'is the same lot as the first' }]);
    return comparePairView(model, records, [first, second], query.bitterness);
  },
});

const compareTable = (model: ShedModel, records: CureRecords, userOf: UserOf): RequestHandler => async (request, response) => {
  allow(userOf(request), routes.compare.roles);
  const query = compareQuery.safeParse(request.query);
  if (!query.success) throw doesNotFit(query.error, 'bad-query');
  const csv = compareCsv(await compareView(model, records, query.data.bitterness));
  response.type('text/csv').attachment('cures.csv').send(csv);
};
