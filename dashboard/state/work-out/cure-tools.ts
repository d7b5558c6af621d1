import { cuts, maturities, ok } from '#contract';
import type { NumberField, RowsField } from './field.ts';
import { amount, degrees, degreesInWords, exact, measureOf, plain, withUnit } from './measure.ts';
import { curesPicture, drumPicture, leachingPicture } from './cure-pictures.ts';
import { firstAbove, plannedChanges } from './cure-plan.ts';
import { moistureField, stoneField } from './salt.ts';
import { ask, type Given, type Tool } from './tool.ts';

const number = (name: string, label: string, quantity: NumberField['quantity'], step: number, start: number | null, more: Partial<NumberField> = {}): NumberField => ({ kind: 'number', name, label, quantity, step, start, ...more });
const choice = (name: string, label: string, options: readonly string[], start: string, words: Readonly<Record<string, string>> = {}) => ({ kind: 'choice' as const, name, label, options, words, start });

const whole = (value: number): string => plain(value, 0);
const longestDays = 365;

const leaching: Tool = {
  id: 'leaching', group: 'Cure', question: 'How long at this temperature?', about: 'Days until pleasant, and until sweet', calculator: 'leaching',
  fields: () => [
    choice('cut', 'Cut', cuts, 'slit'),
    choice('maturity', 'Colour at picking', maturities, 'green'),
    number('temperatureC', 'in the drum', 'temperature', 1, 15),
    number('early', 'between changes, first week', 'plain', 1, 2, { unit: 'days', decimals: 0, hint: '0: no change', range: { low: 0, high: 60 } }),
    number('later', 'between changes, later', 'plain', 1, 7, { unit: 'days', decimals: 0, hint: '0: no change', range: { low: 0, high: 365 } }),
    number('fruitKg', 'fruit, with stones', 'kilograms', 1, 11),
    number('brineL', 'brine', 'litres', 1, 10),
    number('fraction', 'of the brine renewed each time', 'share', 0.1, null, { assumed: 1, range: { low: 0, high: 1 } }),
    stoneField, moistureField,
  ],
  find: (given, bench) => {
    const fraction = given.number('fraction');
    const changes = plannedChanges(given.number('early'), given.number('later'), longestDays);
    const temperatureC = given.number('temperatureC');
    const answer = ask(bench, 'leaching', {
      cut: given.choice('cut') as 'whole', maturity: given.choice('maturity') as 'green', temperatureC, fruitKg: given.number('fruitKg'), brineL: given.number('brineL'),
      stoneFraction: given.number('stoneFraction'), fleshMoisture: given.number('fleshMoisture'), changes: changes.map((day) => ({ day, fraction })), days: longestDays,
    });
    if (!answer.ok) return answer;
    const { dayPleasant, daySweet, curve, ratio } = answer.value;
    const day = (label: string, value: number | null) => ({ label, text: value === null ? 'not' : whole(value), unit: value === null ? 'within a year' : 'days' });
    const until = changes.filter((change) => change < (daySweet ?? longestDays)).length;
    return ok({
      bigs: [day('likely pleasant', dayPleasant), day('likely sweet', daySweet)],
      sentence: 'A starting guess: this fruit may give up its bitterness half or twice as fast. Your own tastings tell better.',
      lines: [{ label: daySweet === null ? 'Changes in a year' : 'Changes until then', text: String(until) }, { label: 'Brine to water of the flesh', text: plain(ratio, 2) }],
      picture: leachingPicture(curve, changes, dayPleasant, daySweet),
      beside: [answer.value],
    });
  },
};

const cures: Tool = {
  id: 'cures', group: 'Cure', question: 'How long will mine take?', about: 'By your own finished cures', calculator: 'cure-regression',
  fields: () => [
    number('atC', 'the cure to come', 'temperature', 1, 18, { range: { low: 0, high: 45 } }),
    {
      kind: 'rows', name: 'cures', label: 'Finished cures of one cut, style and colour', row: 'cure', least: 1, most: 40,
      columns: [number('temperatureC', 'mean temperature', 'temperature', 1, 16), number('days', 'until sweet', 'plain', 1, 30, { unit: 'days', decimals: 1 })],
      start: [[12, 46], [14, 41], [18, 31], [21, 24]],
    },
  ],
  find: (given, bench) => {
    const finished = given.rows('cures').map(([temperatureC = 0, days = 0]) => ({ temperatureC, days }));
    const atC = given.number('atC');
    const temperatures = [...finished.map(({ temperatureC }) => temperatureC), atC];
    const [from, to] = [Math.max(0, Math.min(...temperatures) - 2), Math.min(45, Math.max(...temperatures) + 2)];
    const along = Array.from({ length: 25 }, (_, index) => from + ((to - from) * index) / 24);
    const answer = ask(bench, 'cure-regression', { cures: finished, at: [atC, ...along] });
    if (!answer.ok) return answer;
    const { method, predictions, refused, plausible, observed, activationEnergyKjPerMol, rSquared } = answer.value;
    const [here, ...curve] = predictions;
    const likely = here?.days ?? null;
    const sentences = [
      method === 'too-few' ? `${refused?.replace(/:.*/, '') ?? 'Too few cures'}: the range is only what yours took.` : `Nineteen of twenty such cures lie between ${whole(here?.low ?? 0)} and ${whole(here?.high ?? 0)} days.`,
      here?.extrapolated === true ? 'None of your cures was near this temperature: take it with care.' : '',
      plausible === false ? 'Temperature does not explain these cures: something else decides.' : '',
    ];
    return ok({
      bigs: [likely === null ? { label: 'yours took', text: observed.days.low === observed.days.high ? whole(observed.days.low) : `${whole(observed.days.low)} – ${whole(observed.days.high)}`, unit: 'days' } : { label: `likely at ${amount(atC, 'temperature', bench.units)}`, text: whole(likely), unit: 'days', note: `${whole(here?.low ?? 0)} to ${whole(here?.high ?? 0)}` }],
      sentence: sentences.filter((sentence) => sentence !== '').join(' '),
      lines: [
        ...(activationEnergyKjPerMol === null ? [] : [{ label: 'Activation energy', text: withUnit(plain(activationEnergyKjPerMol, 1), 'kJ/mol') }]),
        ...(rSquared === null ? [] : [{ label: 'R²', text: plain(rSquared, 3) }]),
        { label: 'Cures', text: `${String(observed.cures)}, from ${degreesInWords(observed.temperatureC.low, bench.units)} to ${degreesInWords(observed.temperatureC.high, bench.units)}` },
      ],
      picture: curesPicture(finished, curve, { temperatureC: atC, days: likely }, bench.units),
      beside: [answer.value],
    });
  },
};

const warmC = 25;

const drum: Tool = {
  id: 'drum', group: 'Cure', question: 'How warm will the drum get?', about: 'In the air of a warm day', calculator: 'drum-warming',
  fields: () => [
    number('startC', 'in the drum now', 'temperature', 1, 19),
    number('airC', 'of the air', 'temperature', 1, 32),
    number('hours', 'ahead', 'plain', 1, 8, { unit: 'hours', decimals: 1 }),
    number('volumeL', 'the drum holds', 'litres', 10, 60, { range: { low: 1, high: 2_000 } }),
    number('timeConstantHours', 'is how slowly the drum follows', 'plain', 1, null, { unit: 'hours', decimals: 1, invite: 'I know how slowly it follows', first: 14, hint: 'after this time it has gone 63 % of the way to the air' }),
  ],
  find: (given, bench) => {
    const estimate = bench.estimateTimeConstantHours(given.number('volumeL'));
    if (!estimate.ok) return { ok: false, error: { field: 'volumeL', message: estimate.error.message } };
    const own = given.own('timeConstantHours');
    const timeConstantHours = own ?? estimate.value;
    const [airC, startC, hours] = [given.number('airC'), given.number('startC'), given.number('hours')];
    const answer = ask(bench, 'drum-warming', { airC, startC, timeConstantHours, hours });
    if (!answer.ok) return answer;
    const { temperatureC, curve } = answer.value;
    const passes = firstAbove(curve, warmC);
    const assumed = own === undefined ? ['drumShape'] : [];
    return ok({
      bigs: [{ label: `the drum in ${withUnit(plain(hours, 1), 'hours')}`, ...degrees(temperatureC, bench.units), ...(temperatureC > warmC && { flag: { state: 'caution', word: `over ${amount(warmC, 'temperature', bench.units)}` } }) }],
      sentence: passes === null ? `It does not pass ${amount(warmC, 'temperature', bench.units)} in this time.` : passes === 0 ? `It is over ${amount(warmC, 'temperature', bench.units)} already.` : `It passes ${amount(warmC, 'temperature', bench.units)} after about ${withUnit(plain(passes, 0), 'hours')}.`,
      lines: [{ label: own === undefined ? 'How slowly such a drum follows, likely' : 'How slowly it follows', text: withUnit(plain(timeConstantHours, 0), 'hours') }],
      picture: drumPicture(curve, { airC, warmC, hours }, bench.units),
      beside: [{ ...answer.value, assumed: [...assumed, ...(answer.value.assumed ?? [])] }],
    });
  },
};

const stretches: RowsField = {
  kind: 'rows', name: 'parts', label: 'How long, and how warm', row: 'stretch', least: 1, most: 40,
  columns: [number('hours', 'for', 'plain', 1, 24, { unit: 'hours', decimals: 1 }), number('temperatureC', 'at', 'temperature', 1, 18)],
  start: [[72, 16], [24, 24], [48, 18]],
};
const parts = (given: Given) => given.rows('parts').map(([hours = 0, temperatureC = 0]) => ({ hours, temperatureC }));

const heat: Tool = {
  id: 'heat', group: 'Cure', question: 'How warm has it been?', about: 'Mean kinetic temperature and degree-hours', calculator: 'mean-kinetic-temperature',
  fields: () => [
    stretches,
    number('baseC', 'is too warm', 'temperature', 1, 20, { range: { low: -40, high: 100 } }),
    number('activationEnergyKjPerMol', 'of activation energy', 'plain', 1, null, { unit: 'kJ/mol', decimals: 1, assumed: 83.144, hint: 'made for medicines; 45 is a start for cures' }),
  ],
  find: (given, bench) => {
    const activation = given.own('activationEnergyKjPerMol');
    const mean = ask(bench, 'mean-kinetic-temperature', { parts: parts(given), ...(activation !== undefined && { activationEnergyKjPerMol: activation }) });
    if (!mean.ok) return mean;
    const above = ask(bench, 'degree-hours', { parts: parts(given), baseC: given.number('baseC') });
    if (!above.ok) return above;
    const step = measureOf('temperature-step', bench.units);
    return ok({
      bigs: [{ label: 'kinetic mean', ...degrees(mean.value.meanKineticC, bench.units) }, { label: `above ${amount(given.number('baseC'), 'temperature', bench.units)}`, text: plain(above.value.hoursAbove, 1), unit: 'hours' }],
      sentence: 'The steady temperature that would have done the same: warm hours count more than cool ones.',
      lines: [
        { label: 'Plain mean', text: degreesInWords(mean.value.meanC, bench.units) },
        { label: 'Degree-hours above', text: withUnit(plain(step.toShown(above.value.degreeHours), 0), `${step.unit}·h`) },
        { label: 'Highest', text: degreesInWords(above.value.highestC, bench.units) },
        { label: 'In all', text: withUnit(exact(mean.value.hours, 0), 'hours') },
      ],
      beside: [mean.value, above.value],
    });
  },
};

export const cureTools: readonly Tool[] = [leaching, cures, drum, heat];
