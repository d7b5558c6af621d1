import type { Probe } from '#contract';
import { ago } from '../../format/age.ts';

const why: Readonly<Record<string, string>> = {
  'time-in-future': 'lies ahead of now',
  'time-before-2020': 'lies before 2020, as it does after a start without the time',
};

/** What is wrong with the clock of a probe, and what to do; null while nothing is known of that. */
export const clockHint = (clock: Probe['clock'], now: number): { readonly title: string; readonly hint: string } | null => {
  if (clock === null) return null;
  const many = clock.refused === 1 ? '1 reading was' : `${clock.refused.toLocaleString('en-GB')} readings were`;
  return {
    title: 'Its clock is wrong',
    hint: `${many} set aside, the last ${ago(now - Date.parse(clock.at))}: its time ${why[clock.reason] ?? 'cannot be true'}. They are kept, and watched by nobody. Set its clock from the network, or let it send no time: then the time of arrival counts. Measure by hand until it is right.`,
  };
};
