import { describe, expect, it } from 'vitest';
import { inWords, massScale, metric, showLimit, showMass, showQuantity, showTemperature, showTemperatureStep, showVolume, toFahrenheit, typedNumber, volumeScale, type UnitChoice } from '../../dashboard/format/units.ts';

const imperial: UnitChoice = { temperature: 'F', mass: 'oz', volume: 'gal' };

describe('units on screen', () => {
  it('knows the fixed points of Fahrenheit', () => {
    // NIST SP 811, appendix B.8: t/°F = 1.8 t/°C + 32; the two scales meet at -40.
    expect(toFahrenheit(0)).toBe(32);
    expect(toFahrenheit(100)).toBe(212);
    expect(toFahrenheit(-40)).toBe(-40);
    expect(showTemperature(25, imperial)).toEqual({ text: '77.0', unit: '°F' });
  });

  it('scales a difference without shifting it', () => {
    expect(showTemperatureStep(1, imperial).text).toBe('1.8');
    expect(showTemperatureStep(1, metric).text).toBe('1.0');
  });

  it('converts mass and volume by their definitions', () => {
    // NIST SP 811, appendix B.8: 1 lb = 453.59237 g, 1 US gallon = 3.785411784 L, both exact.
    expect(showMass(453.59237, imperial)).toEqual({ text: '1', unit: 'lb' });
    expect(showMass(453.59237 / 16, imperial)).toEqual({ text: '1', unit: 'oz' });
    expect(showVolume(37.85411784, imperial)).toEqual({ text: '10', unit: 'gal' });
    expect(massScale(imperial).metric).toBeCloseTo(453.59237, 9);
    expect(volumeScale(imperial).metric).toBe(3.785411784);
  });

  it('writes as few places as say something', () => {
    expect(inWords(showMass(1_740, metric))).toBe('1.74\u00a0kg');
    expect(inWords(showMass(2_000, metric))).toBe('2\u00a0kg');
    expect(inWords(showMass(850, metric))).toBe('850\u00a0g');
    expect(inWords(showVolume(26, metric))).toBe('26\u00a0L');
    expect(inWords(showVolume(9.5, metric))).toBe('9.5\u00a0L');
    expect(inWords(showLimit(25, 'Cel', metric))).toBe('25\u00a0°C');
    expect(inWords(showLimit(4.6, 'pH', metric))).toBe('pH\u00a04.6');
    expect(inWords(showQuantity(4.4, 'pH', metric))).toBe('pH\u00a04.40');
  });

  it('writes a true minus sign and no minus zero', () => {
    expect(showTemperature(-3.25, metric).text).toBe('−3.3');
    expect(showTemperature(-0.04, metric).text).toBe('0.0');
  });

  it('reads numbers as people type them, and refuses the rest', () => {
    expect(typedNumber(' 4,21 ')).toBe(4.21);
    expect(typedNumber('.5')).toBe(0.5);
    expect(typedNumber('-3')).toBe(-3);
    for (const text of ['', '.', '4.2.1', 'four', '1e3', '--1']) expect(typedNumber(text)).toBeNull();
  });
});
