/** What the comparison says: no more than the cures allow, and always what it does not know. */
import { describe, expect, it } from 'vitest';
import { metric, type UnitChoice } from '../../dashboard/format/units.ts';
import { lotChoices, suggestedPair, widestPair } from '../../dashboard/state/compare/choices.ts';
import { daysWords, fitFacts, groupWords, kindWords } from '../../dashboard/state/compare/group-words.ts';
import { overlayDays, overlayInWords } from '../../dashboard/state/compare/overlay-words.ts';
import { misfitWords, pairTitle, partWords, uncertaintyWords, unexplainedWords, type Factor } from '../../dashboard/state/compare/pair-words.ts';
import { parseRoute, pathOf } from '../../dashboard/state/route.ts';
import { courseOf, groupOf, pairOf, six, type Made } from '../helpers/compare-fixture.ts';

const plain = (text: string): string => text.replaceAll('\u00a0', ' ');
const fahrenheit: UnitChoice = { ...metric, temperature: 'F' };
const said = (made: readonly Made[], units = metric): string => {
  const { strong, plain: rest } = groupWords(groupOf(made), units);
  return plain(`${strong} ${rest}`);
};

describe('a group of cures', () => {
  it('is named by what may not be mixed', () => {
    expect(kindWords(groupOf(six))).toBe('slit · changed brine · green');
  });

  it('of none, one or two claims nothing about temperature', () => {
    expect(said([])).toBe('No finished cure yet. ');
    expect(said([[15.2, 26, 7]])).toContain('Your last batch took between 19 and 26 days, at 15.2 °C. That is too little for a line.');
    expect(said([[15.2, 26]])).toContain('took at most 26 days');
    expect(said([[15.2, 26], [18, 20]])).toContain('Your last 2 batches took 20 to 26 days, at 15.2 to 18.0 °C.');
    for (const made of [six.slice(0, 1), six.slice(0, 3)]) expect(said(made)).not.toMatch(/degree warmer|%/);
  });

  it('at temperatures too alike has a line whose slope is called an assumption', () => {
    const words = said([[16, 33], [17, 40], [18, 29], [19, 34]]);
    expect(words).toContain('too alike to tell what a degree does');
    expect(words).toContain('its slope is an assumption');
    expect(words).not.toMatch(/%/);
  });

  it('that shows it says what a degree does, with its interval', () => {
    // ln(days) = -16.11456 + 47.2685/(R T) is 30.3 at 18 °C; a degree there is exp(-Ea/(R T²)) with 47.20 ± 2.66 kJ/mol: 6.5 % (5.8 to 7.2).
    expect(said(six)).toBe('Near 18 °C, one degree warmer makes a cure about 6 % shorter (6 to 7 %): 30.3 days become 28.4. 6 cures, from 12.0 to 24.0 °C, took 21 to 46 days.');
    // A degree Fahrenheit is 5/9 of that.
    expect(said(six, fahrenheit)).toContain('one degree warmer makes a cure about 4 % shorter (3 to 4 %)');
    expect(said(six, fahrenheit)).toContain('from 53.6 to 75.2 °F');
  });

  it('that scatters says that the assumption carries it', () => {
    const words = said([[14, 40], [16, 52], [18, 22], [19, 26]]);
    expect(words).toContain('most of that is the usual dependence, assumed');
    expect(said(six)).not.toContain('assumed');
    // 47.7 ± 14.6 kJ/mol, pulled from 90 ± 60: 2 to 10 %.
    expect(words).toContain('(3 to 10 %)');
  });

  it('that took longer the warmer it was does not blame temperature', () => {
    const words = said(six.map(([temperatureC, days]) => [temperatureC, 1_000 / days]));
    expect(words).toContain('temperature does not explain it');
    expect(words).toContain('Do not plan by it');
    expect(words).not.toMatch(/degree warmer/);
  });

  it('tells its fit in numbers, the assumed energy as assumed', () => {
    const fit = groupOf(six).fit;
    if (fit === null) throw new Error('no fit');
    expect(fitFacts(fit, metric).map(([name, value]) => `${name}: ${plain(value)}`)).toEqual([
      'Cures: 6', 'Temperatures: 12.0 to 24.0 °C', 'Activation energy: 47.3 kJ/mol (95 %: 39.8 to 54.8 kJ/mol)', 'Pulled towards 45 ± 15: 47.2 kJ/mol', 'Scatter of ln(days): 0.038', 'R²: 0.987',
    ]);
    const assumed = groupOf([[16, 33], [17, 40], [18, 29], [19, 34]]).fit;
    expect(assumed === null ? '' : fitFacts(assumed, metric).flat().join(' ')).toContain('assumed');
  });
});

describe('days', () => {
  it.each([[1, '1 day'], [46, '46 days'], [44.5, '44.5 days'], [0.96, '1 day'], [-2.04, '−2 days']])('%f reads %s', (days, words) => {
    expect(plain(daysWords(days))).toBe(words);
  });
});

describe('two cures to be laid side by side', () => {
  const leftOut = [{ lot: 'ST26-Z9', drum: 'crock', reason: 'not-finished', text: 'still curing', days: null, temperatureC: 17 }] as const;

  it('are the slowest and the fastest of the fullest group, if there are two', () => {
    expect(widestPair(groupOf(six))).toEqual({ lot: 'ST26-A0', other: 'ST26-F5' });
    expect(widestPair(groupOf(six.slice(0, 1)))).toBe(null);
    expect(suggestedPair({ bitterness: 1, source: '', groups: [groupOf(six.slice(0, 1), { leftOut: [...leftOut] })] })).toEqual({ lot: 'ST26-A0', other: 'ST26-Z9' });
    expect(suggestedPair({ bitterness: 1, source: '', groups: [groupOf(six.slice(0, 1))] })).toBe(null);
  });

  it('are told apart by cut and days, or by what is not known', () => {
    expect(lotChoices({ bitterness: 1, source: '', groups: [groupOf(six.slice(0, 1), { leftOut: [...leftOut] })] }).map(({ words }) => plain(words))).toEqual(['ST26-A0 · slit · 46 days', 'ST26-Z9 · slit · still curing']);
  });
});

describe('why one was slower', () => {
  const part = (factor: Factor, days: number, first: Parameters<typeof pairOf>[0], units = metric): string => {
    const pair = pairOf(first);
    return plain(partWords(factor, days, pair.first, pair.second, units));
  };

  it('names the reason in the words of the shed', () => {
    expect(part('temperature', 4, { temperatureC: 14 })).toBe('4 days longer because it was 3.0 °C colder (14.0 °C against 17.0)');
    expect(part('temperature', 4, { temperatureC: 14 }, fahrenheit)).toBe('4 days longer because it was 5.4 °F colder (57.2 °F against 62.6)');
    expect(part('temperature', -2, { temperatureC: 19 })).toBe('2 days shorter because it was 2.0 °C warmer (19.0 °C against 17.0)');
    expect(part('changes', 3.24, { changesToEnd: 1 })).toBe('3.2 days longer because its brine was changed once, not 4 times, and at other times');
    expect(part('changes', 60, { style: 'kept-brine', changesToEnd: 0 })).toBe('60 days longer because it was kept brine, not changed brine (changed never, not 4 times)');
    expect(part('cut', 30, { cut: 'whole' })).toBe('30 days longer because it was whole, not slit');
    expect(part('maturity', -8, { maturity: 'black' })).toBe('8 days shorter because it was picked black, not green');
    expect(part('ratio', 1, { brineRatio: 1.1 })).toBe('1 day longer because it had 1.10 L of brine to a litre of water in the fruit, not 1.50');
  });

  it('does not claim that colder was quicker: then the times of the warmth decided', () => {
    expect(part('temperature', -1, { temperatureC: 16.8 })).toBe('1 day shorter because it was warm at other times (16.8 °C against 17.0 on the mean)');
  });

  it('says where there was no difference', () => {
    expect(part('cut', 0, {})).toBe('no difference: both slit');
    expect(part('changes', 0, {})).toBe('no difference: changed at the same pace');
    expect(part('temperature', 0.01, {})).toBe('no difference: 17.0 °C against 17.0 on the mean');
    expect(part('ratio', 0, {})).toBe('no difference: both 1.50 L of brine to a litre of water in the fruit');
  });

  it('shows the rest, and warns where it is the largest part', () => {
    const { attribution } = pairOf({});
    if ('unknown' in attribution) throw new Error('not shared out');
    expect(plain(unexplainedWords(attribution))).toMatch(/^6 days longer that none of these explains: .*That is more than all the rest together/);
    expect(unexplainedWords({ ...attribution, unexplainedDays: -1 })).not.toContain('more than all the rest');
    expect(unexplainedWords({ ...attribution, unexplainedDays: 0.01 })).toBe('nothing is left unexplained');
  });

  it('warns where the model is far from what happened', () => {
    const warned = (modelDays: { first: number; second: number }): string | null => {
      const pair = pairOf({}, { modelDays });
      return 'unknown' in pair.attribution ? null : misfitWords(pair, pair.attribution);
    };
    // Both took 28.5 days.
    expect(warned({ first: 40, second: 20 })).toBe(null);
    expect(plain(warned({ first: 461, second: 20 }) ?? '')).toContain('does not describe one of these cures: it says 461 days for ST26-A0, which took 28.5. Were all brine changes');
    expect(warned({ first: 461, second: 10 })).toContain('does not describe these cures');
  });

  it('heads with the days, and with what is not known of them', () => {
    expect(plain(pairTitle(pairOf({ end: { sweetAt: '', days: 40, bitterDays: 37, likelyDays: 38.5 } })))).toBe('ST26-A0 took about 10 days longer than ST26-B1: 38.5 days against 28.5.');
    expect(plain(pairTitle(pairOf({}, { differenceDays: -3 })))).toContain('ST26-A0 took about 3 days less than ST26-B1');
    expect(plain(pairTitle(pairOf({}, { differenceDays: 0.2 })))).toBe('ST26-A0 took as long as ST26-B1: about 28.5 days.');
    expect(pairTitle({ ...pairOf({}), attribution: { unknown: 'x' } })).toBe('ST26-A0 beside ST26-B1');
    const once = pairOf({ end: { sweetAt: '', days: 40, bitterDays: null, likelyDays: 40 } });
    expect('unknown' in once.attribution ? '' : plain(uncertaintyWords(once, once.attribution))).toBe('Give or take 1.2 days: between two tastings nobody knows the day. ST26-A0 was done at its first tasting, and may have been earlier.');
  });
});

describe('the overlay in words and numbers', () => {
  it('tells each cure in a sentence', () => {
    expect(plain(overlayInWords(pairOf({ gaps: [{ from: 3, to: 5 }], end: { reason: 'not-finished', text: 'still curing: last tasted 3 of 10, above 1' } }), metric))).toContain(
      'ST26-A0: mean 17.0 °C; 4 brine changes; last tasted 1 of 10 on day 30; one gap in the readings; still curing: last tasted 3 of 10, above 1. ST26-B1: mean 17.0 °C',
    );
  });

  it('has a line a day for both, empty where nothing was measured', () => {
    const days = overlayDays({ first: courseOf('a', { temperature: [], changes: [{ day: 7.4, fraction: 1 }], tastings: [{ day: 7.9, bitterness: 6 }] }), second: courseOf('b') }, metric);
    expect(days).toHaveLength(31);
    expect(days[7]).toEqual({ day: 7, cells: [{ temperature: '', what: 'brine changed, tasted 6' }, { temperature: '17.0', what: 'brine changed' }] });
  });
});

describe('the addresses', () => {
  it.each([
    ['/compare', { view: 'compare', pair: null, bitterness: 1 }],
    ['/compare?bitterness=4', { view: 'compare', pair: null, bitterness: 4 }],
    ['/compare/ST26-A7/ST26-B5', { view: 'compare', pair: { lot: 'ST26-A7', other: 'ST26-B5' }, bitterness: 1 }],
    ['/compare/ST26-A7/ST26-B5?bitterness=4', { view: 'compare', pair: { lot: 'ST26-A7', other: 'ST26-B5' }, bitterness: 4 }],
  ] as const)('%s there and back', (address, route) => {
    expect(parseRoute(address)).toEqual(route);
    expect(pathOf(route)).toBe(address);
  });

  it('that mean nothing are not taken for others', () => {
    expect(parseRoute('/compare/ST26-A7')).toMatchObject({ view: 'unknown' });
    expect(parseRoute('/compare?bitterness=much')).toMatchObject({ bitterness: 1 });
    expect(parseRoute('/compare/%E0%A4%A/b')).toMatchObject({ view: 'compare', pair: { lot: '%E0%A4%A' } });
    expect(parseRoute('/compare/%FF/b')).toMatchObject({ view: 'compare', pair: { lot: '%FF' } });
  });
});
