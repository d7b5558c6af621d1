import type { Probe } from '#contract';
import { ago } from '../../format/age.ts';

const why: Readonly<Record<string, string>> = {
  'time-in-future': 'lies ahead of now',
  'time-before-2020': 'lies before 2020, as that of a clock nobody has set',
};

/** What is wrong with the clock of a probe, and what to do; null while nothing is known of that. */
export const clockHint = (clock: Probe['clock'], now: number): { readonly title: string; readonly hint: string } | null => {
  if (clock === null) return null;
  const last = ago(now - Date.parse(clock.at));
  const reason = why[clock.reason] ?? 'cannot be true';
  const aside =
    clock.refused === 1
      ? `1 reading was set aside ${last}: its time ${reason}. It is kept, and watched by nobody.`
      : `${clock.refused.toLocaleString('en-GB')} readings were set aside, the last ${last}: their time ${reason}. They are kept, and watched by nobody.`;
  return {
    title: 'Its clock is wrong',
    hint: `${aside} Set its clock from the network, or let it send no time: then the time of arrival counts. Measure by hand until it is right.`,
  };
};
