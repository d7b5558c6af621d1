import { describe, expect, it } from 'vitest';
import type { Reading, SeriesId } from '#domain/reading/reading.ts';
import { createAdmission, mostSeries } from '../../collector/admission.ts';

const reading = (series: SeriesId, at: number): Reading => ({ series, at, value: 18, quality: 'good' });

describe('admitting readings', () => {
  it('gives plain numbers of one series that arrive in the same millisecond a time each', () => {
    const admission = createAdmission([]);
    const times = [100, 100, 100, 101, 200].flatMap((at) => admission.admit([reading('p/ph', at)], at).readings.map((admitted) => admitted.at));
    expect(times).toEqual([100, 101, 102, 103, 200]);
  });

  it('leaves readings with a time of their own as they came, also twice', () => {
    const admission = createAdmission([]);
    expect(admission.admit([reading('p/ph', 50), reading('p/ph', 50)], 100).readings.map(({ at }) => at)).toEqual([50, 50]);
  });

  it('takes in new series up to a limit, and known ones always', () => {
    const admission = createAdmission(['old/ph']);
    const invented = Array.from({ length: mostSeries + 10 }, (_empty, index) => reading(`p${index}/ph`, 1));
    expect(admission.admit(invented, 100)).toMatchObject({ refused: 11 });
    expect(admission.admit([reading('old/ph', 2)], 100).refused).toBe(0);
  });
});
