import { draws } from '../../collector/demo/physics/random.ts';
import type { TemperatureReading } from '#domain/cure/temperature-dose.ts';
import { dayMs, hourMs, minuteMs, type EpochMs } from '#domain/units/time.ts';

/**
 * A drum by other physics than the program's: brine and fruit are two bodies, the brine between the air and the fruit, integrated minute
 * by minute. C_b dT_b/dt = UA (T_air - T_b) + G (T_f - T_b); C_f dT_f/dt = G (T_b - T_f). The program knows one body only.
 */
export interface TwoNodeDrum {
  readonly seed: number;
  readonly start: EpochMs;
  readonly days: number;
  /** (C_b + C_f)/UA */
  readonly timeConstantHours: number;
  /** 1/(G (1/C_b + 1/C_f)) */
  readonly mixingHours: number;
  readonly brineShare: number;
  readonly offsetC: number;
  readonly meanC: number;
  readonly swingC: number;
  readonly weatherSdC: number;
  readonly noiseC: number;
  /** Brine poured over a quarter of an hour, so much warmer than what was in the drum. */
  readonly changes?: readonly { readonly at: EpochMs; readonly differenceC: number }[];
  /** When the probe hangs in the air beside the drum instead. */
  readonly outOfBrine?: { readonly from: EpochMs; readonly to: EpochMs };
}

export interface TwoNodeTrace {
  readonly drum: readonly TemperatureReading[];
  readonly air: readonly TemperatureReading[];
}

/** Ten-minute means of readings a minute apart, in steps of 1/16 °C with noise, as they come out of the store. */
export const runTwoNodeDrum = (given: TwoNodeDrum): TwoNodeTrace => {
  const { start, days, timeConstantHours, mixingHours, brineShare: w, changes = [], outOfBrine } = given;
  const random = draws(given.seed, 'two-node drum');
  const airNoise = draws(given.seed, 'its air');
  const weather = weatherOf(given);
  const airAt = (at: EpochMs): number => given.meanC + weather((at - start) / hourMs) - (given.swingC / 2) * Math.cos((2 * Math.PI * (at - start - 3 * hourMs)) / dayMs);
  const perMinute = 1 / 60;
  let fruitC = airAt(start);
  let brineC = fruitC;
  const trace = { drum: [] as TemperatureReading[], air: [] as TemperatureReading[] };
  const pours = changes.map((change) => ({ ...change, stepC: 0 }));
  let [drumSum, airSum] = [0, 0];
  for (let minute = 0; minute < days * 1_440; minute += 1) {
    const at = start + minute * minuteMs;
    const airC = airAt(at);
    const [brineBefore, fruitBefore] = [brineC, fruitC];
    brineC += perMinute * ((airC + given.offsetC - brineBefore) / (timeConstantHours * w) + ((1 - w) * (fruitBefore - brineBefore)) / mixingHours);
    fruitC += perMinute * ((w * (brineBefore - fruitBefore)) / mixingHours);
    for (const pour of pours) {
      if (at === pour.at) pour.stepC = pour.differenceC / pourMinutes;
      if (at >= pour.at && at < pour.at + pourMinutes * minuteMs) brineC += pour.stepC;
    }
    const isOut = outOfBrine !== undefined && at >= outOfBrine.from && at < outOfBrine.to;
    drumSum += Math.round(((isOut ? airC : brineC) + given.noiseC * random.gaussian(minute)) * 16) / 16;
    airSum += Math.round((airC + 0.1 * airNoise.gaussian(minute)) * 16) / 16;
    if (minute % 10 === 9) {
      const t = at - 9 * minuteMs + 5 * minuteMs;
      trace.drum.push({ t, temperatureC: drumSum / 10 });
      trace.air.push({ t, temperatureC: airSum / 10 });
      [drumSum, airSum] = [0, 0];
    }
  }
  return trace;
};

const pourMinutes = 15;
const weatherHours = 60;

/** A first-order autoregression by the hour, straight in between. */
const weatherOf = ({ seed, days, weatherSdC }: TwoNodeDrum): ((hour: number) => number) => {
  const random = draws(seed, 'its weather');
  const keep = Math.exp(-1 / weatherHours);
  const values = [weatherSdC * random.gaussian(0)];
  for (let hour = 1; hour <= days * 24 + 1; hour += 1) values.push(keep * (values[hour - 1] as number) + weatherSdC * Math.sqrt(1 - keep ** 2) * random.gaussian(hour));
  return (hour) => {
    const index = Math.floor(hour);
    return (values[index] as number) + (hour - index) * ((values[index + 1] as number) - (values[index] as number));
  };
};

/** Drums and weather of many kinds: heavy and light, in the draught and out of it, still and stormy. */
export const drumOfMany = (seed: number, start: EpochMs, days: number): TwoNodeDrum => {
  const random = draws(seed, 'kind of drum');
  const between = (index: number, low: number, high: number): number => low + (high - low) * random.uniform(index);
  return {
    seed, start, days,
    timeConstantHours: between(1, 5, 25),
    mixingHours: between(2, 0.5, 1.2),
    brineShare: between(3, 0.4, 0.6),
    offsetC: between(4, -1.5, 1.5),
    meanC: between(5, 12, 22),
    swingC: between(6, 4, 12),
    weatherSdC: between(7, 0.5, 2),
    noiseC: between(8, 0.03, 0.15),
  };
};
