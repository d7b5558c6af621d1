import type { RequestHandler } from 'express';
import { calendarQuery, routes } from '#contract';
import type { AccessStore } from '../access/access-store.ts';
import { ApiError } from '../errors.ts';
import { calendarOf } from '../papers/calendar.ts';
import type { Forecasts } from '../shed/forecasts.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import { tasksNow } from '../shed/task-view.ts';
import { allow } from './mount.ts';

/** The tasks as a calendar feed. Its token opens it for whoever may read tasks; a session does not: calendars have none, and browsers no use for it. */
export const calendarFeed = (model: ShedModel, forecasts: Forecasts, { tokens }: AccessStore, site: string): RequestHandler => async (request, response) => {
  const query = calendarQuery.safeParse(request.query);
  const user = query.success ? tokens.userOf(query.data.token, 'calendar') : null;
  if (user === null) throw new ApiError('not-signed-in', 'The address of the calendar has no token, or one that was revoked. Make a new one.');
  allow(user, routes.tasks.roles);
  const shed = model.shed();
  const tasks = await tasksNow(model, forecasts);
  const names = new Map([...shed.drums].map(([id, { name }]) => [id, name]));
  const calendar = calendarOf(tasks.map((task) => ({ ...task, drum: names.get(task.drum) ?? task.drum })), { site, siteName: shed.site?.name ?? site, zone: model.zone, now: model.clock.now() });
  response.type('text/calendar; charset=utf-8').attachment('tasks.ics').send(calendar);
};
