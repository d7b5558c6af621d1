import type { RequestHandler, Router } from 'express';
import { planDefaults, routes, seasonCsvPath, seasonQuery } from '#contract';
import { byUser } from '#domain/journal/entry.ts';
import { planSeason } from '#domain/season/season-plan.ts';
import { seededUniform } from '#domain/stats/seeded-uniform.ts';
import type { UserOf } from '../access/session-cookie.ts';
import { ApiError, doesNotFit } from '../errors.ts';
import { seasonCsv } from '../shed/season-csv.ts';
import { planView, seasonView, treesView } from '../shed/season-view.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import { allow, mount, type Handlers } from './mount.ts';

/** A season as its journal tells it, the loads of its trees, and the plan of the next. */
export const mountSeason = (router: Router, model: ShedModel, userOf: UserOf): void => {
  mount(router, seasonRoutes(model), userOf);
  router.get(seasonCsvPath, seasonTable(model, userOf));
};

const seasonRoutes = (model: ShedModel): Handlers<'season' | 'planSeason' | 'writeTreeLoad'> => ({
  season: ({ query }) => seasonView(model, query.year ?? null),
  planSeason: ({ body: { seed, ...given } }) => {
    const input = { ...planDefaults, ...given } as typeof planDefaults;
    const plan = planSeason(input, seededUniform(seed));
    if (!plan.ok) throw new ApiError('outside-valid-range', `${plan.error.message}.`, [{ path: plan.error.field, message: plan.error.message }]);
    return planView(input, plan.value);
  },
  writeTreeLoad: ({ body: { tree, year, kg, load }, user }) => {
    model.write([{ who: byUser(user.name), kind: 'tree-load', body: { tree, year, ...(kg === undefined ? {} : { kg }), ...(load === undefined ? {} : { load }) } }]);
    return { trees: treesView(model) };
  },
});

const seasonTable = (model: ShedModel, userOf: UserOf): RequestHandler => (request, response) => {
  allow(userOf(request), routes.season.roles);
  const query = seasonQuery.safeParse(request.query);
  if (!query.success) throw doesNotFit(query.error, 'bad-query');
  const season = seasonView(model, query.data.year ?? null);
  response.type('text/csv').attachment(`season-${String(season.year ?? 'none')}.csv`).send(seasonCsv(season));
};
