import type { CureStyle, Stage } from '../cure/batch.ts';
import { overdueAfterHours } from '../cure/schedules.ts';
import { drumChannels, channels } from '../reading/channel.ts';
import type { AlertPriority } from './alert.ts';
import type { Limit, LimitKind } from './limit.ts';

/**
 * The limits a shed starts with: guide values, each with its source; people change them for their site or for one drum.
 * They are no approval: local rules and a process authority decide. Where sources disagree the strictest that applies stands here.
 *
 * Salt is in g per litre of brine (60 g/L = 6 % weight by volume). Limits of the stage `soak` also stand for a leach in weak brine.
 * Danger raises at once (`onDelayS` 0) and clears only after `offDelayS`, so that short dips do not end an excursion; cautions wait
 * a while first, because a brine change moves every quantity for some minutes. Deadband of temperature: 1 % of a 0 to 50 °C range.
 */
const temperatureDeadband = 0.5;
const phDeadband = 0.05;
const saltDeadband = 2;
const tenMinutesS = 600;
const hourS = 3_600;

interface Row {
  readonly id: string;
  readonly kind?: LimitKind;
  readonly quantity: string;
  readonly unit: string;
  readonly stage?: Stage;
  readonly style?: CureStyle;
  readonly low?: number;
  readonly high?: number;
  readonly deadband?: number;
  readonly onDelayS?: number;
  readonly offDelayS?: number;
  readonly priority: AlertPriority;
  readonly source: string;
}

const limit = (row: Row): Limit => ({ kind: 'range', stage: null, style: null, low: null, high: null, deadband: 0, onDelayS: 0, offDelayS: 0, ...row });

const temperature = (row: Omit<Row, 'quantity' | 'unit'>): Limit =>
  limit({ quantity: 'temperature', unit: 'Cel', deadband: temperatureDeadband, onDelayS: row.priority === 'high' ? 0 : tenMinutesS, offDelayS: tenMinutesS, ...row });
const ph = (row: Omit<Row, 'quantity' | 'unit'>): Limit => limit({ quantity: 'ph', unit: 'pH', deadband: phDeadband, onDelayS: row.priority === 'high' ? 0 : tenMinutesS, offDelayS: hourS, ...row });
const salt = (row: Omit<Row, 'quantity' | 'unit'>): Limit =>
  limit({ quantity: 'salinity', unit: 'g/L', deadband: saltDeadband, onDelayS: row.priority === 'high' ? 0 : hourS, offDelayS: hourS, ...row });

const noAcidBarrier = 'assumption: water and weak brine hold back nothing, ideal 10 to 18 °C';
const practiceAbove25 = 'practice advice: above 25 °C risk of bad fermentations; Tassou et al. 2002 found 25 °C best in one trial';
const alarmAt30 = 'assumption: 30 °C, top of the range of olive lactic bacteria (Iorizzo et al. 2016)';
const slowBelow15 = 'practice advice: fermentation strongly delayed below 15 °C; adapted bacteria work at 12 to 15 °C (Int. J. Food Microbiol. 1999, 51:133)';
const olivesInBrine = 'CXS 66-1981, natural olives: at least 6 % salt, pH at most 4.3';
const saltRisk = 'risk table of Ruiz Bellido et al. 2017 (Front. Microbiol. 8:2326), salt in % weight by volume';

const range: readonly Limit[] = [
  temperature({ id: 'soak-temperature-low', stage: 'soak', low: 5, priority: 'low', source: 'assumption: below 5 °C leaching is slow' }),
  temperature({ id: 'soak-temperature-high', stage: 'soak', high: 20, priority: 'medium', source: noAcidBarrier }),
  temperature({ id: 'soak-temperature-danger', stage: 'soak', high: 25, priority: 'high', source: noAcidBarrier }),

  temperature({ id: 'leach-temperature-low', stage: 'leach', low: 5, priority: 'low', source: 'assumption: below 5 °C leaching is slow' }),
  temperature({ id: 'leach-temperature-high', stage: 'leach', high: 25, priority: 'medium', source: `${practiceAbove25}; home brine cures are kept at 15.6 to 26.7 °C (UC Leaflet 2758)` }),
  temperature({ id: 'leach-temperature-danger', stage: 'leach', high: 30, priority: 'high', source: alarmAt30 }),

  temperature({ id: 'ferment-temperature-low', stage: 'ferment', low: 15, priority: 'low', source: slowBelow15 }),
  temperature({ id: 'ferment-temperature-stalled', stage: 'ferment', low: 12, priority: 'medium', source: slowBelow15 }),
  temperature({ id: 'ferment-temperature-high', stage: 'ferment', high: 25, priority: 'medium', source: practiceAbove25 }),
  temperature({ id: 'ferment-temperature-danger', stage: 'ferment', high: 30, priority: 'high', source: alarmAt30 }),

  temperature({ id: 'hold-temperature-low', stage: 'hold', low: 2, priority: 'low', source: 'assumption: ice splits fruit' }),
  temperature({ id: 'hold-temperature-high', stage: 'hold', high: 25, priority: 'medium', source: practiceAbove25 }),
  temperature({ id: 'hold-temperature-danger', stage: 'hold', high: 30, priority: 'high', source: alarmAt30 }),

  salt({ id: 'ferment-salinity-low', stage: 'ferment', low: 60, priority: 'medium', source: saltRisk }),
  salt({ id: 'ferment-salinity-danger', stage: 'ferment', low: 50, priority: 'high', source: saltRisk }),
  salt({ id: 'ferment-salinity-slow', stage: 'ferment', high: 80, priority: 'note', source: 'above 8 % salt lactic bacteria are slowed (Garrido Fernández et al. 1996; Tassou et al. 2002)' }),
  salt({ id: 'ferment-salinity-high', stage: 'ferment', high: 100, priority: 'low', source: 'assumption, from the same trials: above 10 % little acid is formed' }),
  salt({ id: 'hold-salinity-low', stage: 'hold', low: 60, priority: 'medium', source: `${olivesInBrine}; asked of waiting fruit too (assumption)` }),

  ph({ id: 'kept-brine-hold-ph-high', stage: 'hold', style: 'kept-brine', high: 4.3, priority: 'medium', source: olivesInBrine }),
  ph({ id: 'kept-brine-hold-ph-danger', stage: 'hold', style: 'kept-brine', high: 4.6, priority: 'high', source: '21 CFR 114.3: acid or acidified food, equilibrium pH at most 4.6' }),
  ph({ id: 'changed-brine-hold-ph-high', stage: 'hold', style: 'changed-brine', high: 4.6, priority: 'medium', source: '21 CFR 114.3: acid or acidified food, equilibrium pH at most 4.6' }),
  ph({ id: 'water-then-brine-hold-ph-high', stage: 'hold', style: 'water-then-brine', high: 4.6, priority: 'medium', source: '21 CFR 114.3: acid or acidified food, equilibrium pH at most 4.6' }),
];

const quantities = [...new Set(drumChannels.map((name) => channels[name].quantity))];

/** A drum whose temperature is not known is watched by nobody; the other quantities can be measured by hand in time. */
const losing = (quantity: string): AlertPriority => (quantity === 'temperature' ? 'medium' : 'low');

/** `high` is a least time without a reading; a probe that speaks seldom is given three of its own intervals. */
const silentAfterMinutes = 10;
const silentSource = 'assumption: three of the probe\'s usual intervals, and at least this long';
const silence = (quantity: string): Limit => limit({ id: `${quantity}-silent`, kind: 'silence', quantity, unit: 'min', high: silentAfterMinutes, priority: losing(quantity), source: silentSource });

/** `high` is the number of readings in a row that may not be good before it is a fault. */
const fault = (quantity: string): Limit =>
  limit({ id: `${quantity}-fault`, kind: 'fault', quantity, unit: 'readings', high: 1, priority: losing(quantity), source: 'assumption: one bad reading is noise, two in a row are a fault' });

const due: readonly Limit[] = [
  limit({ id: 'change-overdue', kind: 'due', quantity: 'change', unit: 'h', high: overdueAfterHours, priority: 'low', source: 'assumption: the evening of the day it fell due' }),
  limit({ id: 'soak-change-late', kind: 'due', quantity: 'brine-age', unit: 'h', stage: 'soak', high: 24, priority: 'medium', source: 'home curing guidance: water is changed at least once a day' }),
  limit({ id: 'soak-change-danger', kind: 'due', quantity: 'brine-age', unit: 'h', stage: 'soak', high: 48, priority: 'high', source: 'assumption: twice the interval of home curing guidance' }),
];

/** `high` is how many hours ahead a limit of temperature that will be crossed is announced. */
const foresight = limit({ id: 'temperature-forecast', kind: 'forecast', quantity: 'temperature', unit: 'h', high: 24, deadband: temperatureDeadband, priority: 'low', source: 'assumption: a day ahead leaves time to bring ice or shade' });

/** A milestone is due at the day told by `onDelayS`, from the start of the cure. The days are assumptions; the pH are published. */
const dayS = 24 * hourS;
const milestone = (row: Pick<Row, 'id' | 'high' | 'onDelayS' | 'priority' | 'source'>): Limit => limit({ kind: 'milestone', quantity: 'ph', unit: 'pH', style: 'kept-brine', deadband: phDeadband, ...row });
const rises = 'assumption: more than two good measurements differ by';

const looked: readonly Limit[] = [
  limit({ id: 'temperature-rate', kind: 'rate', quantity: 'temperature', unit: 'K/h', high: 3, deadband: 1, priority: 'low', source: 'assumption: a drum of 60 L follows its air by a tenth in an hour' }),
  limit({ id: 'temperature-stuck', kind: 'stuck', quantity: 'temperature', unit: 'h', high: 12, priority: 'medium', source: 'assumption: half a day without any change while another temperature moved by 2 °C' }),
  milestone({ id: 'ph-day-14', high: 4.6, onDelayS: 14 * dayS, priority: 'high', source: '21 CFR 114.3: acid or acidified food, equilibrium pH at most 4.6; the day is an assumption' }),
  milestone({ id: 'ph-day-30', high: 4.3, onDelayS: 30 * dayS, priority: 'medium', source: `${olivesInBrine}; the day is an assumption` }),
  limit({ id: 'ferment-ph-rebound', kind: 'rebound', quantity: 'ph', unit: 'pH', stage: 'ferment', style: 'kept-brine', high: 0.2, deadband: phDeadband, priority: 'medium', source: rises }),
  limit({ id: 'hold-ph-rebound', kind: 'rebound', quantity: 'ph', unit: 'pH', stage: 'hold', style: 'kept-brine', high: 0.2, deadband: phDeadband, priority: 'medium', source: rises }),
  limit({ id: 'temperature-exposure', kind: 'exposure', quantity: 'temperature', unit: 'K.h', high: 120, priority: 'low', source: 'assumption: degree-hours above 25 °C (practice advice) since the start of the cure; a day at 30 °C or five at 26 °C' }),
  limit({ id: 'ph-calibration', kind: 'calibration', quantity: 'ph', unit: 'd', high: 7, priority: 'low', source: 'common practice, no source: a pH electrode is calibrated every week' }),
];

export const defaultLimits: readonly Limit[] = [
  ...range,
  ...quantities.map(silence),
  ...quantities.map(fault),
  ...due,
  foresight,
  ...looked,
  limit({ id: 'collector-silent', kind: 'collector', quantity: 'collector', unit: 's', high: 60, priority: 'high', source: 'assumption: a minute without a sign from the collector' }),
  limit({ id: 'outlet-failing', kind: 'outlet', quantity: 'outlet', unit: 'times', high: 3, priority: 'medium', source: 'assumption: one or two failures are the weather of a network, three in a row are not' }),
];
