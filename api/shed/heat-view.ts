import type { DrumHeat as DrumHeatShape, HeatPlan } from '#contract';
import { localDate, stageAt } from '#domain/cure/stage.ts';
import { brineAt } from '#domain/cure/brine.ts';
import type { TemperatureReading } from '#domain/cure/temperature-dose.ts';
import { airAhead, type AirAhead } from '#domain/heat/air-ahead.ts';
import { dayToDaySdC } from '#domain/heat/day-to-day.ts';
import { enteredAirError, repeatedAirError } from '#domain/heat/drum-ahead.ts';
import { drumHeat, type DrumHeat } from '#domain/heat/drum-heat.ts';
import { crossingText, helpText, heatCaution } from '#domain/heat/heat-text.ts';
import { limitsInForce } from '#domain/rules/limits-in-force.ts';
import { dayMs, hourMs, minuteMs, toRfc3339, type EpochMs } from '#domain/units/time.ts';
import type { DrumWeek, Heat } from './heat.ts';
import type { ShedModel } from './shed-model.ts';

const aheadHours = 48;
/** What was last said an hour ago is no start for a forecast. */
const freshMs = hourMs;

/** Every drum with fruit in it: what the air will make of it, which limit it passes when, and what helps. */
export const heatPlanView = async (model: ShedModel, heat: Heat): Promise<HeatPlan> => {
  const now = model.clock.now();
  const past = await heat.air(null);
  const ahead = airAhead({ past, now, zone: model.zone, days: model.shed().airDays }, aheadHours);
  const weeks = await Promise.all([...model.shed().drums.keys()].map((id) => heat.week(id)));
  const drums = weeks.flatMap((week) => (week === null ? [] : [drumOf(model, week, now)]));
  return {
    now: toRfc3339(now),
    zone: model.zone,
    air: ahead === null ? null : { past: lastDay(past, now), ahead: pointsOf(ahead, now), basis: ahead.entered.length > 0 ? 'entered' : 'repeated', days: daysAhead(model, past, now) },
    drums: drums.toSorted((one, other) => Number(other.outside !== null) - Number(one.outside !== null) || other.urgency - one.urgency),
    caution: heatCaution,
  };
};

const drumOf = (model: ShedModel, { batch, drum, air, response }: DrumWeek, now: EpochMs): DrumHeatShape => {
  const shed = model.shed();
  const stage = stageAt(batch, now);
  const inForce = limitsInForce(shed.limitChanges, batch.drum, batch, now).filter(({ kind, quantity, priority }) => kind === 'range' && quantity === 'temperature' && priority !== 'note');
  const limits = inForce.flatMap((limit) => (['high', 'low'] as const).flatMap((side) => (limit[side] === null ? [] : [{ id: limit.id, limitC: limit[side], side, priority: limit.priority, source: limit.source }])));
  const name = shed.drums.get(batch.drum)?.name ?? batch.drum;
  const shape = { drum: batch.drum, name, lot: batch.lot, stage, past: lastDay(drum, now), limits };
  const last = drum.at(-1);
  const airNext = airAhead({ past: air, now, zone: model.zone, days: shed.airDays }, aheadHours);
  const unknown = last === undefined || now - last.t > freshMs ? 'its probe has said nothing for an hour' : airNext === null ? 'the air of the last 24 hours is not known: a forecast needs an air probe' : null;
  if (last === undefined || airNext === null || unknown !== null) return { ...shape, ahead: [], unknown, response: null, outside: null, crossing: null, helps: [], urgency: 0, text: `Nothing can be foretold: ${unknown ?? ''}.` };
  const startC = last.temperatureC;
  const airError = airNext.entered.length > 0 ? enteredAirError : repeatedAirError(dayToDaySdC(air, now));
  const foretold = drumHeat({ ahead: { startC, response, air: airNext.spans, airError, hours: aheadHours }, limits: inForce, stage, brineL: brineAt(batch, now).brineL, fruitKg: batch.fruitKg });
  const said = { now, zone: model.zone, kept: false };
  const factor = Math.exp(bandZ * response.logSd);
  return {
    ...shape,
    ahead: foretold.points.map(({ hours, temperatureC, low, high }) => ({ t: now + hours * hourMs, temperatureC, low, high })),
    unknown: null,
    response: { timeConstantHours: response.timeConstantHours, lowHours: response.timeConstantHours / factor, highHours: response.timeConstantHours * factor, offsetC: response.offsetC, basis: response.basis },
    outside: foretold.outside === null ? null : { limitC: foretold.outside.limitC, side: foretold.outside.side },
    crossing: crossingShape(foretold, now),
    helps: foretold.helps.map((help) => ({ ...(help.kind === 'ice' ? { kind: help.kind, bottles: help.bottles, bottleL: help.bottleL, fits: help.fits, at: toRfc3339(now + help.atHours * hourMs) } : help), text: helpText(help, said) })),
    urgency: foretold.urgency,
    text: crossingText(foretold, said),
  };
};

const bandZ = 1.2816;

const crossingShape = ({ crossing }: DrumHeat, now: EpochMs): DrumHeatShape['crossing'] => {
  if (crossing === null) return null;
  const { hours, earliestHours, latestHours, plusMinusHours, limit, limitC, side, peakC } = crossing;
  const at = (later: number): string => toRfc3339(now + Math.round((later * hourMs) / minuteMs) * minuteMs);
  return { at: at(hours), earliest: at(earliestHours), latest: latestHours === null ? null : at(latestHours), plusMinusMinutes: Math.round(plusMinusHours * 60), limit: limit.id, limitC, side, peakC };
};

const lastDay = (readings: readonly TemperatureReading[], now: EpochMs): TemperatureReading[] => readings.filter(({ t }) => t > now - dayMs);

const pointsOf = ({ spans }: AirAhead, now: EpochMs): TemperatureReading[] => {
  let t = now;
  return [{ t, temperatureC: spans[0]?.fromC ?? Number.NaN }, ...spans.map(({ hours, toC }) => ({ t: (t += hours * hourMs), temperatureC: toC }))];
};

/** Today and the two local days the forecast reaches into. */
const daysAhead = (model: ShedModel, past: readonly TemperatureReading[], now: EpochMs): NonNullable<HeatPlan['air']>['days'] => {
  const values = lastDay(past, now).map(({ temperatureC }) => temperatureC);
  const like = { likeLowC: Math.min(...values), likeHighC: Math.max(...values) };
  const today = localDate(now, model.zone);
  return [0, 1, 2].map((days) => {
    const day = today.add({ days }).toString();
    const typed = model.shed().airDays.get(day);
    return { day, lowC: typed?.lowC ?? null, highC: typed?.highC ?? null, ...like };
  });
};
