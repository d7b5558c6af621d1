import { aboutTime } from '../units/about-time.ts';
import { hourMs, type EpochMs } from '../units/time.ts';
import type { DrumHeat } from './drum-heat.ts';
import type { Help } from './what-helps.ts';

export const heatCaution = 'A guide from the air of the shed, not a promise: sun, doors and draughts are not in it. Go and look at the drum. A cool drum says nothing about whether fruit is safe; pH and salt do, and local rules decide.';

const spread = (hours: number): string => (hours < 0.75 ? '± ½ h' : `± ${Math.round(hours)} h`);

/** `kept`: for words that are written down and read on another day. */
export interface Said {
  readonly now: EpochMs;
  readonly zone: string;
  readonly kept: boolean;
}

const moment = (hours: number, { now, zone, kept }: Said): string => aboutTime(now + hours * hourMs, kept ? null : now, zone, 30);

/** When a drum passes a limit: `Passes 25 °C tomorrow about 15:00 (± 2 h).` */
export const crossingText = ({ crossing, outside }: Pick<DrumHeat, 'crossing' | 'outside'>, said: Said): string => {
  if (outside !== null) {
    const { limitC, side, backHours } = outside;
    const back = backHours === null ? 'It does not come back by itself within two days.' : `It comes back by itself ${moment(backHours, said)}.`;
    return `Is ${side === 'high' ? 'above' : 'below'} ${limitC} °C now. ${back}`;
  }
  if (crossing === null) return 'Stays inside its limits for the next two days.';
  const { hours, latestHours, plusMinusHours, limitC, side } = crossing;
  const verb = latestHours === null ? 'Is likely to pass' : 'Passes';
  return `${verb} ${limitC} °C${side === 'low' ? ' on its way down' : ''} ${moment(hours, said)} (${spread(plusMinusHours)}).`;
};

export const helpText = (help: Help, said: Said): string => {
  if (help.kind === 'ice') {
    const { bottles, bottleL, atHours, fits } = help;
    const what = `${bottles === 1 ? 'One sealed bottle' : `${bottles} sealed bottles`} of ice of ${bottleL} L`;
    const when = atHours < 0.5 ? 'now' : moment(atHours, said);
    return fits ? `${what}, put in ${when}.` : `${what} would be needed, put in ${when}: more than fits at once. Use shade and floor first, and change the ice.`;
  }
  const act = help.kind === 'shade' ? 'Shade it: it settles warmer than the air, so sun or a warm wall reaches it.' : 'Put it on the floor.';
  const worth = `About ${Math.round(help.coolerC)} °C cooler beside it`;
  if (help.enough) return `${act} ${worth}: enough by itself.`;
  return help.laterHours !== null && help.laterHours >= 1 ? `${act} ${worth}: passes ${Math.round(help.laterHours)} h later.` : `${act} ${worth}: helps, not enough by itself.`;
};
