import { findBatch } from '../shed/find-code.ts';
import type { Forecasts } from '../shed/forecasts.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import { whatIfView } from '../shed/what-if-view.ts';
import type { Handlers } from './mount.ts';

/** What becomes of a forecast if something turns out otherwise. */
export const whatIfRoutes = (model: ShedModel, forecasts: Forecasts): Handlers<'whatIf'> => ({
  whatIf: ({ params, query: { warmerC, changes } }) =>
    whatIfView(forecasts, findBatch(model, params.lot ?? ''), warmerC === undefined && changes === undefined ? null : { warmerC: warmerC ?? 0, changes: changes ?? 'as-planned' }),
});
