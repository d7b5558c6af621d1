import { z } from 'zod';
import { bufferPh, bufferRange, bufferSets, bufferSource } from '#domain/acid/buffers.ts';
import { calibrateElectrode, electrodeRanges, electrodeSource } from '#domain/acid/electrode.ts';
import { phFromMv as fromMv } from '#domain/acid/ph-from-mv.ts';
import { ok } from '#domain/result.ts';
import { asFound, calculator, number } from './calculator.ts';
import { aboveJarPh, doubtfulElectrode } from './caution.ts';
import { choice, quantity, rows } from './fields.ts';

const bufferPoints = rows('Buffers', { ph: quantity('pH of the buffer', electrodeRanges.ph), mv: quantity('Electrode', electrodeRanges.mv) }, 20);
const widestBufferC = bufferRange('phthalate').temperatureC;

export const phBuffer = calculator({
  title: 'Buffer',
  purpose: 'What a calibration buffer really is at its temperature.',
  source: [...new Set(bufferSets.map((set) => bufferSource[set]))].join('; '),
  input: z.strictObject({ set: choice('Buffer', bufferSets), temperatureC: quantity('Temperature of the buffer', widestBufferC) }),
  answer: { ph: number('pH', 'pH') },
  find: ({ set, temperatureC }) => {
    const ph = bufferPh(set, temperatureC);
    return ph.ok ? ok({ answer: { ph: ph.value }, source: bufferSource[set], validRange: bufferRange(set) }) : ph;
  },
});

export const phElectrode = calculator({
  title: 'Electrode check',
  purpose: 'Slope and offset of a pH electrode from two buffers or more, and whether to trust it.',
  source: electrodeSource,
  input: z.strictObject({ points: bufferPoints, temperatureC: quantity('Temperature of the buffers', electrodeRanges.temperatureC) }),
  answer: {
    slopeMvPerPh: number('mV/pH', 'Slope'),
    slopePercent: number('%', 'Slope against a perfect electrode'),
    offsetMv: number('mV', 'Offset at pH 7'),
    verdict: z.enum(['good', 'check', 'replace']).meta({ title: 'Verdict' }),
    worstResidualPh: number('pH', 'Farthest buffer from the line'),
  },
  find: ({ points, temperatureC }) => asFound(calibrateElectrode(points, temperatureC), ({ verdict }) => ({ caution: doubtfulElectrode(verdict === 'good') })),
});

export const phFromMv = calculator({
  title: 'pH from millivolts',
  purpose: 'pH of a sample from the electrode, its calibration and the temperature of the sample.',
  source: 'Nernst equation, isopotential point at pH 7; R and F of CODATA 2018',
  input: z.strictObject({
    mv: quantity('Electrode in the sample', electrodeRanges.mv),
    points: bufferPoints,
    calibrationC: quantity('Temperature of the buffers', electrodeRanges.temperatureC),
    temperatureC: quantity('Temperature of the sample', electrodeRanges.temperatureC),
  }),
  answer: { ph: number('pH', 'pH') },
  find: ({ mv, points, calibrationC, temperatureC }) => {
    const ph = fromMv(mv, points, calibrationC, temperatureC);
    return ph.ok ? ok({ answer: { ph: ph.value }, caution: aboveJarPh(ph.value) }) : ph;
  },
});
