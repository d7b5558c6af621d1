import type { WhatIfAnswer } from '#contract';
import { forecastReadiness } from '#domain/cure/forecast.ts';
import { usualWhatIfs, whatIf, type WhatIf } from '#domain/cure/what-if.ts';
import type { Batch } from '#domain/journal/shed.ts';
import type { Forecasts } from './forecasts.ts';
import { forecastShape } from './shape.ts';

const source = 'Leaching model with this batch’s own temperatures, changes and tastings; its rates are assumptions until tastings replace them. 80 % range. It says nothing about safety.';

/** What becomes of the day the fruit is likely sweet, if something turns out otherwise; null asks the usual. */
export const whatIfView = async (forecasts: Forecasts, batch: Batch, asked: WhatIf | null): Promise<WhatIfAnswer> => {
  const known = await forecasts.known(batch);
  if ('unknown' in known) return { asPlanned: known, whatIfs: [], source };
  const questions = asked === null ? usualWhatIfs(known.open) : [asked];
  const asPlanned = forecastReadiness(known);
  return {
    asPlanned: forecastShape(asPlanned),
    whatIfs: questions.map((question) => {
      const { title, warmerC, changes, forecast, laterDays, caution } = whatIf(known, question, asPlanned);
      return { title, warmerC, changes, forecast: forecastShape(forecast), laterDays: laterDays === null ? null : Math.round(laterDays * 10) / 10 + 0, caution };
    }),
    source,
  };
};
