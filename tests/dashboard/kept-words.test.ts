import { describe, expect, it } from 'vitest';
import { opensHold, signs } from '#contract';
import { metric } from '../../dashboard/format/units.ts';
import { keptSummary } from '../../dashboard/state/kept-summary.ts';
import { keptWords } from '../../dashboard/state/kept-words.ts';
import type { Kept } from '../../dashboard/state/kept.ts';
import { allWell, answerTo, commonSigns, holdsLot, signName, signPlaces } from '../../dashboard/state/signs.ts';

const at = '2027-06-11T04:54:00.000Z';
const kept = (over: Partial<Kept> = {}): Kept => ({ key: 'k', keptAt: at, by: 'owner', drum: 'barrel-2', drumName: 'Barrel 2', lot: 'L', task: null, what: { kind: 'act', entry: { kind: 'tasted', at, bitterness: 4 } }, tried: false, takeBack: null, refused: null, ...over });
const fine = { lost: false, lasting: true, user: 'owner' };

describe('what is kept here, in words', () => {
  it('is nothing while all is written and there is signal', () => {
    expect(keptSummary([], fine)).toBeNull();
  });

  it('counts what waits, and says that the page must stay open while there is no signal', () => {
    expect(keptSummary([kept(), kept(), kept()], { ...fine, lost: true })?.title).toBe('3 kept here, sent when there is signal.');
    expect(keptSummary([], { ...fine, lost: true })?.detail).toContain('Keep this page open');
    expect(keptSummary([kept()], fine)?.detail).not.toContain('Keep this page open');
  });

  it('says what was not taken, whose turn it is, and where the browser keeps nothing', () => {
    const refused = kept({ refused: { title: 'No', detail: '' } });
    expect(keptSummary([refused], fine)?.detail).toBe('1 not taken: look at it.');
    expect(keptSummary([kept({ by: 'helper' }), kept({ by: 'helper' })], fine)).toEqual({ title: '', detail: '2 of helper wait for that sign-in.' });
    expect(keptSummary([kept()], { ...fine, lasting: false })?.detail).toContain('keeps nothing when the page is closed');
  });

  it('names each act, and the task that was done or left out', () => {
    expect(keptWords(kept(), metric)).toEqual({ title: 'Tasted', detail: 'bitterness 4 of 10' });
    expect(keptWords(kept({ what: { kind: 'skip', title: 'Taste', reason: 'no time' } }), metric)).toEqual({ title: 'Left out: Taste', detail: 'no time' });
    expect(keptWords(kept({ what: { kind: 'finish', title: 'Review the record' } }), metric).title).toBe('Done: Review the record');
  });
});

describe('signs', () => {
  it('are offered each in one place, the ones met most also with a picture', () => {
    const offered = signPlaces.flatMap(({ signs: some }) => some);
    expect(new Set(offered).size).toBe(offered.length);
    // What an instrument says is written as measured.
    expect(offered).toHaveLength(signs.filter(({ place }) => place !== 'reading').length);
    expect(commonSigns).toHaveLength(8);
  });

  it('hold the lot from severity 3 on, judged by the worst they may be', () => {
    for (const sign of signs) expect(holdsLot(sign)).toBe(Math.max(sign.severity, sign.atWorst) >= 3);
    expect(signs.some(opensHold) && signs.some((sign) => !opensHold(sign))).toBe(true);
  });

  it('have a short name and an answer; all well and words of a person have none', () => {
    expect(signs.map(({ id }) => signName(id)).filter((name) => name.length > 16 || name.includes('-'))).toEqual([]);
    expect(answerTo('mould')?.check).toContain('pH');
    expect(answerTo(allWell)).toBeNull();
    expect(signName('a hair in it')).toBe('a hair in it');
  });
});
