import { describe, expect, test } from 'vitest';
import { dayMs, hourMs, minuteMs } from '#domain/units/time.ts';
import { brineHeatShare, settlingHours, withBrineChanges } from '../../../collector/demo/physics/brine-change-step.ts';
import { dailyWave, swell, weatherNoise } from '../../../collector/demo/physics/outside-air.ts';
import { phFall } from '../../../collector/demo/physics/ph-fall.ts';
import { quantise } from '../../../collector/demo/physics/probe.ts';
import { draws } from '../../../collector/demo/physics/random.ts';
import { saltUptake } from '../../../collector/demo/physics/salt-uptake.ts';
import { followAir } from '../../../collector/demo/physics/warming.ts';

const start = Date.UTC(2026, 4, 1);

describe('a body follows its air', () => {
  // Problem V of teacher.smartermaths.com.au: 100 °C in a room at 20 °C falls to 80 °C in 5 minutes; then 65 °C at 10 minutes.
  test('Newton: 100 to 80 °C in five minutes is 65 °C after ten', () => {
    const timeConstantHours = -5 / 60 / Math.log(3 / 4);
    const cup = followAir(() => 20, { start, startC: 100, timeConstantHours });
    expect(cup(start + 5 * minuteMs)).toBeCloseTo(80, 9);
    expect(cup(start + 10 * minuteMs)).toBeCloseTo(65, 9);
  });

  // mathhelpforum 126430: 95 to 61 °C in 30 minutes in a room at 20 °C, k = 0.02 per minute (exactly ln(75/41)/30 = 0.02013).
  test('Newton: 95 °C with k = 0.02013 per minute is 61 °C after half an hour', () => {
    const cup = followAir(() => 20, { start, startC: 95, timeConstantHours: 1 / 0.02013 / 60 });
    expect(cup(start + 30 * minuteMs)).toBeCloseTo(61, 2);
  });

  // Steady answer of a first-order system to a sine (textbook): gain 1/√(1 + (ωτ)²), lag atan(ωτ)/ω. Euler's rule on the same steps is 0.4 to 1.1 % high and up to 5 minutes late.
  test.each([4, 10, 14, 20])('a daily wave reaches a body with τ = %i h smaller and later', (timeConstantHours) => {
    const wave = dailyWave({ meanC: 18, amplitudeC: 6, highestAt: start + 15 * hourMs });
    const body = followAir(wave, { start, startC: 18, timeConstantHours });
    const from = start + 20 * dayMs;
    let cosine = 0;
    let sine = 0;
    const samples = 24 * 60;
    for (let i = 0; i < samples; i++) {
      const at = from + i * minuteMs;
      const angle = (2 * Math.PI * (at - (start + 15 * hourMs))) / dayMs;
      cosine += ((body(at) - 18) * Math.cos(angle) * 2) / samples;
      sine += ((body(at) - 18) * Math.sin(angle) * 2) / samples;
    }
    const speed = ((2 * Math.PI) / 24) * timeConstantHours;
    const gain = Math.hypot(cosine, sine) / 6;
    const lagHours = Math.atan2(sine, cosine) / ((2 * Math.PI) / 24);
    expect(gain / (1 / Math.sqrt(1 + speed ** 2))).toBeCloseTo(1, 3);
    expect(lagHours).toBeCloseTo(Math.atan(speed) / ((2 * Math.PI) / 24), 3);
  });

  test('the same temperature whatever was asked before', () => {
    const air = weatherNoise({ start, draws: draws(1, 'air'), standardDeviationC: 2, correlationHours: 10 });
    const make = () => followAir((at) => 18 + air(at), { start, startC: 15, timeConstantHours: 14 });
    const [asked, fresh] = [make(), make()];
    for (let hours = 0; hours < 500; hours += 7) asked(start + hours * hourMs);
    for (const hours of [499.3, 0.1, 77.77, 250]) expect(asked(start + hours * hourMs)).toBe(fresh(start + hours * hourMs));
  });
});

describe('weather', () => {
  // First-order autoregression (textbook): spread σ, correlation e^(-lag/τ).
  test('has the spread and the memory it was given', () => {
    const noise = weatherNoise({ start, draws: draws(11, 'weather'), standardDeviationC: 1.5, correlationHours: 20 });
    const values = Array.from({ length: 40_000 }, (_, hour) => noise(start + hour * hourMs));
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    const covariance = (lag: number): number => values.slice(lag).reduce((sum, value, index) => sum + (value - mean) * ((values[index] as number) - mean), 0) / (values.length - lag);
    // 40,000 hours are about 1,000 independent stretches of 2τ: standard error of the spread near 2 %, of a correlation near 0.03.
    expect(Math.sqrt(covariance(0)) / 1.5).toBeGreaterThan(0.92);
    expect(Math.sqrt(covariance(0)) / 1.5).toBeLessThan(1.08);
    for (const lag of [5, 20, 40]) expect(Math.abs(covariance(lag) / covariance(0) - Math.exp(-lag / 20))).toBeLessThan(0.1);
  });

  test('a swell is one at its centre, half at half its width, nothing outside', () => {
    const rise = swell(start, 10 * hourMs);
    expect([-11, -10, -5, 0, 5, 10, 11].map((hours) => rise(start + hours * hourMs))).toEqual([0, 0, expect.closeTo(0.5, 12), 1, expect.closeTo(0.5, 12), 0, 0]);
  });
});

describe('a brine change', () => {
  const fruitKg = 35;
  const brineL = 25;
  const heatShare = brineHeatShare(fruitKg, brineL);

  // Conservation of heat, with the heat capacities named in the code: brine 1.055 kg/L · 3.8 kJ/kgK, olives 3.2 kJ/kgK.
  test('shares heat between fruit and brine without losing any', () => {
    const after = 17 + heatShare * (12 - 17);
    expect(brineL * 1.055 * 3.8 * (after - 12) + fruitKg * 3.2 * (after - 17)).toBeCloseTo(0, 9);
  });

  // A step of 17 → 12 °C that comes about half-way back within 0.5 to 3 hours: shape known from the trade, no source.
  test('shows the fresh brine at once, the mixture within hours, the air in the end', () => {
    const at = start + 5 * dayMs;
    const drum = withBrineChanges(() => 17, 14, [{ at, temperatureC: 12, heatShare }]);
    expect(drum(at - 1)).toBe(17);
    expect(drum(at)).toBeCloseTo(12, 12);
    const mixed = 17 + heatShare * (12 - 17);
    expect(drum(at + 2.5 * hourMs)).toBeGreaterThan(mixed - 0.5);
    expect(drum(at + 2.5 * hourMs)).toBeLessThan(mixed + 0.6);
    expect(drum(at + 5 * dayMs)).toBeCloseTo(17, 2);
    expect(settlingHours).toBeGreaterThanOrEqual(0.5);
    expect(settlingHours).toBeLessThanOrEqual(3);
  });

  test('a second change starts from the drum as the first one left it', () => {
    const first = start + dayMs;
    const second = first + 6 * hourMs;
    const drum = withBrineChanges(() => 17, 14, [
      { at: first, temperatureC: 12, heatShare },
      { at: second, temperatureC: 12, heatShare },
    ]);
    expect(drum(second)).toBeCloseTo(12, 12);
    expect(drum(second - 1)).toBeGreaterThan(12);
  });
});

// DS18B20 data sheet, table "temperature/data relationship": 0191h, 00A2h, 0008h, FFF8h, FF5Eh are sixteenths of a degree.
test.each([
  [25.07, 25.0625],
  [10.15, 10.125],
  [0.49, 0.5],
  [-0.51, -0.5],
  [-10.11, -10.125],
])('a 12-bit probe sends %f °C as %f', (true_, sent) => {
  expect(quantise(true_, 0.0625)).toBe(sent);
});

describe('a kept brine', () => {
  test('at 20 °C its pH falls by 63 % of the way in one time constant', () => {
    const ph = phFall(() => 20, { start, startPh: 4.9, plateauPh: 4, daysAt20C: 20 });
    expect(ph(start)).toBe(4.9);
    expect(ph(start + 20 * dayMs)).toBeCloseTo(4 + 0.9 / Math.E, 9);
  });

  // Good acid at 12 to 15 °C takes two to three times as long as at 20 to 25 °C (assumption; direction after Int. J. Food Microbiol. 1999, 51:133).
  test('falls two to three times slower at 13.5 than at 22.5 °C', () => {
    const rate = (temperatureC: number): number => -Math.log((phFall(() => temperatureC, { start, startPh: 5, plateauPh: 4, daysAt20C: 20 })(start + 10 * dayMs) - 4) / 1);
    expect(rate(22.5) / rate(13.5)).toBeGreaterThan(2);
    expect(rate(22.5) / rate(13.5)).toBeLessThan(3);
  });

  const uptake = { start, brineL: 7.3, saltGPerL: 100, ratio: 1.3531, uptakePerDay: 0.15, additions: [] };

  test('its salt goes as step-by-step integration of the exchange says', () => {
    const salt = saltUptake(uptake);
    let [flesh, brine] = [0, 100];
    const step = 1 / 20_000;
    for (let day = 1; day <= 14; day++) {
      for (let i = 0; i < 1 / step; i++) {
        const flow = 0.15 * (flesh - brine) * step;
        flesh -= flow;
        brine += flow / 1.3531;
      }
      expect(salt(start + day * dayMs)).toBeCloseTo(brine, 2);
    }
  });

  // Mass balance: all the salt poured and added, over all the water.
  test('dry salt stirred in ends up in brine and flesh alike', () => {
    const salt = saltUptake({ ...uptake, additions: [{ at: start + 8 * dayMs, saltG: 146 }] });
    expect(salt(start + 8 * dayMs) - salt(start + 8 * dayMs - 1)).toBeCloseTo(20, 3);
    expect(salt(start + 200 * dayMs)).toBeCloseTo((730 + 146) / (7.3 + 7.3 / 1.3531), 6);
  });
});
