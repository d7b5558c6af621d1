import { channels, isChannelName, type DrumFlag, type ProbeSignShown } from '#contract';
import { age } from '../../format/age.ts';
import { inWords, showQuantity, type UnitChoice } from '../../format/units.ts';
import { qualityWord } from '../value.ts';
import type { ProbeSeen } from './probes.ts';

type ChannelSeen = ProbeSeen['channels'][number];

export const channelLabel = (channel: string): string => (isChannelName(channel) ? channels[channel].label : channel);

/** A channel that tells of the probe itself is placed nowhere. */
export const isOfDrum = ({ channel }: Pick<ChannelSeen, 'channel'>): boolean => !isChannelName(channel) || channels[channel].of === 'drum';

export const isPlaced = (probe: Pick<ProbeSeen, 'channels'>): boolean => probe.channels.some(({ placement }) => placement !== null);

/** What measures the air alone tells of the whole shed, and need not hang at a drum. */
export const isAirOnly = (probe: Pick<ProbeSeen, 'channels'>): boolean => probe.channels.length > 0 && probe.channels.filter(isOfDrum).every(({ channel }) => channel === 'air-temperature');

/** One shape and one word for the whole probe: the worst of what it says about itself. */
export const probeFlag = (probe: ProbeSeen): { readonly state: DrumFlag; readonly word: string } => {
  const { signs } = probe.about;
  // Heard, and nothing of it could be stored.
  if (probe.channels.length === 0) return { state: 'unknown', word: 'wrong clock' };
  if (!probe.isJudged) return { state: 'unknown', word: probe.health === 'silent' || probe.health === 'faulty' ? probe.health : 'not judged yet' };
  const silent = signs.find(({ kind }) => kind === 'silent' || kind === 'all-silent');
  if (silent !== undefined) return { state: 'unknown', word: 'silent' };
  if (signs.some(({ state, kind }) => state === 'unknown' && kind !== 'never-calibrated')) return { state: 'unknown', word: 'faulty' };
  if (signs.length > 0 || probe.clock !== null) return { state: 'caution', word: 'look' };
  return probe.about.isFromFile ? { state: 'done', word: 'from a file' } : { state: 'inside', word: 'speaks' };
};

const isWell = ({ about, clock }: ProbeSeen): boolean => about.signs.length === 0 && clock === null;

/** Not placed first, then those that want a look, then by name: the order in which somebody is needed. */
export const inNeedOrder = (probes: readonly ProbeSeen[]): readonly ProbeSeen[] =>
  probes.toSorted((one, other) => Number(isPlaced(one)) - Number(isPlaced(other)) || Number(isWell(one)) - Number(isWell(other)) || one.id.localeCompare(other.id));

/** What a reading that is no measurement says is left out: the false value is not dressed as one. */
const noNumber: ReadonlySet<string> = new Set(['power-on', 'disconnected', 'blank-scratchpad']);

export const lastWords = ({ last, unit, channel }: ChannelSeen, units: UnitChoice, sinceAskedMs: number): { readonly value: string; readonly when: string } => {
  if (last === null) return { value: '–', when: 'no reading yet' };
  const value = noNumber.has(last.quality) ? '–' : channel.endsWith('-ratio') ? `${String(Math.round(last.value * 100))} %` : inWords(showQuantity(last.value, unit, units));
  const fault = last.quality === 'good' ? '' : `, ${qualityWord(last.quality)}`;
  return { value, when: `${age(last.ageS * 1_000 + sinceAskedMs)} ago${fault}` };
};

/** How an electrode stood at its last calibration, on one line. */
export const electrodeWords = ({ electrode }: ProbeSeen['about']): string | null => {
  if (electrode === null) return null;
  const days = Math.floor(electrode.ageDays);
  const when = days === 0 ? 'today' : days === 1 ? 'yesterday' : `${String(days)} days ago`;
  return `Electrode: slope ${electrode.slopePercent.toFixed(0)} %, offset ${electrode.offsetMv.toFixed(0).replace('-', '−')} mV, calibrated ${when}`;
};

export const paceWords = ({ intervalS, isFromFile }: Pick<ProbeSeen['about'], 'intervalS' | 'isFromFile'>): string => {
  if (isFromFile) return 'taken from a file';
  if (intervalS === null) return 'its pace is not known yet';
  if (intervalS < 90) return `speaks every ${String(intervalS)} s`;
  return intervalS < 5_400 ? `speaks every ${String(Math.round(intervalS / 60))} min` : `speaks every ${String(Math.round(intervalS / 3_600))} h`;
};

/** The same sign on several channels is told once. */
export const signsOnce = (signs: readonly ProbeSignShown[]): readonly ProbeSignShown[] => signs.filter(({ title }, index) => signs.findIndex((other) => other.title === title) === index);

/** Hints where a probe is put in its drum. Common practice of the trade; the figures are assumptions unless a number says how it was found. */
export const placingHints: readonly string[] = [
  'Half depth, and half-way from the wall to the middle. Not at the wall, not beside an ice bottle, not in the sun.',
  'In a closed tube of food plastic, a little brine-free water inside for contact. Steel tips pit in salt and acid within a season.',
  'Lead the cable through a gland in the lid, with a drip loop outside. A cable under the rim lets air in, and film follows.',
  'From 60 L on, a second one 5 to 10 cm below the surface: an unstirred drum can differ by several degrees.',
  'No bare glass bulb stays in a drum. Draw a cup, measure, throw the cup away.',
];
