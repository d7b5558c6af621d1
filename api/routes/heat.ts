import type { AirForecast } from '#contract';
import { localDate } from '#domain/cure/stage.ts';
import { byUser } from '#domain/journal/entry.ts';
import { unfit } from '../errors.ts';
import type { Heat } from '../shed/heat.ts';
import { heatPlanView } from '../shed/heat-view.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import type { Handlers } from './mount.ts';

/** How far ahead somebody may say how warm the air will be: as far as forecasts are made. */
const mostDaysAhead = 10;

/** What the air is expected to be, and what it will make of the drums. */
export const heatRoutes = (model: ShedModel, heat: Heat): Handlers<'heatPlan' | 'setAirForecast'> => ({
  heatPlan: () => heatPlanView(model, heat),
  setAirForecast: ({ body, user }) => {
    const { day, lowC, highC } = body;
    if ((lowC === null) !== (highC === null)) throw unfit(lowC === null ? 'lowC' : 'highC', 'is needed with the other, or neither');
    if (lowC !== null && highC !== null && lowC > highC) throw unfit('lowC', `must not be above the highest of ${highC}`);
    const today = localDate(model.clock.now(), model.zone);
    const ahead = today.until(Temporal.PlainDate.from(day), { largestUnit: 'days' }).days;
    if (ahead < 0 || ahead > mostDaysAhead) throw unfit('day', `must be today or one of the next ${mostDaysAhead} days`);
    model.write([{ who: byUser(user.name), kind: 'air-forecast', body }]);
    const days = [...model.shed().airDays].map(([typed, air]): AirForecast => ({ day: typed, ...air }));
    return { days: days.filter((each) => each.day >= today.toString()).toSorted((one, other) => (one.day < other.day ? -1 : 1)) };
  },
});
