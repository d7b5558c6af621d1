import express, { Router, type Express, type Request } from 'express';
import { rateLimit } from 'express-rate-limit';
import { calendarPath, daySheetPath, importUploadPath, liveRoles, livePath, type Health, type Session } from '#contract';
import type { EpochMs } from '#domain/units/time.ts';
import type { AccessStore } from './access/access-store.ts';
import { ownPagesOnly } from './access/own-pages.ts';
import { createUserOf, renewSessions } from './access/session-cookie.ts';
import { ApiError, answerErrors, noSuchPath } from './errors.ts';
import type { Live } from './events/live.ts';
import { openApi } from './openapi.ts';
import { pagePolicy, servePage } from './page.ts';
import { accessRoutes } from './routes/access.ts';
import { alertRoutes } from './routes/alerts.ts';
import { outOfServiceRoutes } from './routes/out-of-service.ts';
import { batchRoutes } from './routes/batches.ts';
import { calculateRoutes } from './routes/calculate.ts';
import { calendarFeed } from './routes/calendar.ts';
import { mountCompare } from './routes/compare.ts';
import { importRoutes, takeUpload } from './routes/imports.ts';
import { deviationRoutes } from './routes/deviations.ts';
import { drumRoutes } from './routes/drums.ts';
import { heatRoutes } from './routes/heat.ts';
import { inspectionRoutes } from './routes/inspections.ts';
import { instrumentRoutes } from './routes/instruments.ts';
import { limitRoutes } from './routes/limits.ts';
import { allow, mount } from './routes/mount.ts';
import { outletRoutes } from './routes/outlets.ts';
import { daySheet } from './routes/papers.ts';
import { pickRoutes } from './routes/picks.ts';
import { probeRoutes } from './routes/probes.ts';
import { questionRoutes } from './routes/questions.ts';
import { readinessRoutes } from './routes/readiness.ts';
import { mountRecords } from './routes/records.ts';
import { scheduleRoutes } from './routes/schedules.ts';
import { mountSeason } from './routes/season.ts';
import { siteRoutes, type SiteFacts } from './routes/site.ts';
import { stallRoutes } from './routes/stall.ts';
import { verificationRoutes } from './routes/verification.ts';
import { mountLabels } from './routes/labels.ts';
import { storesRoutes } from './routes/stores.ts';
import { taskRoutes } from './routes/tasks.ts';
import { tokenRoutes } from './routes/tokens.ts';
import { mountTrace } from './routes/trace.ts';
import { whatIfRoutes } from './routes/what-if.ts';
import type { Forecasts } from './shed/forecasts.ts';
import type { HealthWatch } from './shed/health.ts';
import type { Heat } from './shed/heat.ts';
import type { ClocksOf } from './shed/probe-clock.ts';
import type { PresenceOf } from './shed/probe-view.ts';
import type { Verifier } from './shed/verification.ts';
import type { ShedModel } from './shed/shed-model.ts';

/** The HTTP side, wired; it does not listen. Tests call it in process. */
export interface AppDeps {
  readonly model: ShedModel;
  readonly forecasts: Forecasts;
  readonly heat: Heat;
  readonly access: AccessStore;
  readonly live: Live;
  readonly facts: SiteFacts;
  readonly demo: Session['demo'];
  readonly presenceOf: PresenceOf;
  readonly clocks: ClocksOf;
  healthNow(): Health;
  readonly outletStatus: HealthWatch['outletStatus'];
  log(error: unknown): void;
  /** The clock of the machine, which accesses run by. */
  machineNow(): EpochMs;
  readonly verifier: Verifier;
  /** Where the data lie, the key of the site among them. */
  readonly directory: string;
  /** The built dashboard; null serves the API alone. */
  readonly dashboard: string | null;
}

const mostBodyBytes = 262_144;
/** Wrong passwords from one address: ten in five minutes. */
const signInWindowMs = 5 * 60_000;
const signInTries = 10;

export const createApp = (deps: AppDeps): Express => {
  const { model, forecasts, access, live } = deps;
  const userOf = createUserOf(access);
  const app = express();
  app.disable('x-powered-by');
  app.set('query parser', 'simple');
  app.use(pagePolicy);

  const api = Router();
  api.use((_request, response, next) => {
    response.set('cache-control', 'no-store');
    next();
  });
  api.use(ownPagesOnly, renewSessions(access));
  // Whatever is JSON is parsed, so that what does not fit is told by its field; a small body needs no packing.
  api.use(express.json({ limit: mostBodyBytes, strict: false, inflate: false }));
  const tries = rateLimit({
    windowMs: signInWindowMs,
    limit: signInTries,
    skipSuccessfulRequests: true,
    standardHeaders: true,
    legacyHeaders: false,
    // The address that counts is the one that is connected, whatever a header says of others.
    validate: { xForwardedForHeader: false },
    handler: (_request, _response, next) => next(new ApiError('too-many-tries', 'Wait five minutes, then try again.')),
  });
  mount(api, accessRoutes(access, model, deps.demo), userOf, { signIn: tries, setUp: tries });
  mount(api, siteRoutes(model, forecasts, deps), userOf);
  mount(api, drumRoutes(model, forecasts), userOf);
  mount(api, probeRoutes(model, deps.presenceOf, deps.clocks), userOf);
  mount(api, importRoutes(model, deps.directory), userOf);
  api.post(importUploadPath, takeUpload(model, deps.directory, userOf));
  mount(api, instrumentRoutes(model), userOf);
  mount(api, deviationRoutes(model), userOf);
  mount(api, readinessRoutes(model, deps.verifier), userOf);
  mount(api, batchRoutes(model, forecasts, deps.facts.site), userOf);
  mount(api, pickRoutes(model), userOf);
  mount(api, storesRoutes(model), userOf);
  mountTrace(api, model, userOf);
  mountLabels(api, model, userOf);
  mount(api, whatIfRoutes(model, forecasts), userOf);
  mount(api, taskRoutes(model, forecasts), userOf);
  mount(api, scheduleRoutes(model), userOf);
  mount(api, tokenRoutes(access, model), userOf);
  api.get(daySheetPath, daySheet(model, forecasts, userOf));
  api.get(calendarPath, calendarFeed(model, forecasts, access, deps.facts.site));
  mount(api, alertRoutes(model), userOf);
  mount(api, outOfServiceRoutes(model), userOf);
  mount(api, outletRoutes(model, deps.directory, deps.outletStatus), userOf);
  mount(api, heatRoutes(model, deps.heat), userOf);
  mount(api, questionRoutes(model), userOf);
  mount(api, limitRoutes(model), userOf);
  mount(api, calculateRoutes, userOf);
  mount(api, stallRoutes(model, forecasts), userOf);
  mountCompare(api, model, userOf);
  mountSeason(api, model, userOf);
  mount(api, inspectionRoutes(access, model, deps.machineNow), userOf, { openInspection: tries });
  mount(api, verificationRoutes(deps.verifier), userOf);
  mountRecords(api, { ...deps, userOf });
  const document = openApi(deps.facts.version);
  api.get('/openapi.json', (_request, response) => void response.json(document));
  const mayListen = (request: Request): boolean => {
    const user = userOf(request);
    return user !== null && liveRoles.includes(user.role);
  };
  api.get(livePath, async (request, response) => {
    allow(userOf(request), liveRoles);
    const lastId = request.headers['last-event-id'];
    if (request.method === 'HEAD') response.type('text/event-stream').end();
    else await live.listen(response, typeof lastId === 'string' ? lastId : null, () => mayListen(request));
  });
  api.use(noSuchPath);
  app.use('/api', api);

  if (deps.dashboard !== null) app.use(...servePage(deps.dashboard));
  app.use(noSuchPath);
  app.use(answerErrors(deps.log));
  return app;
};
