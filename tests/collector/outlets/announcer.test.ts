import { describe, expect, it } from 'vitest';
import { hourMs, minuteMs, secondMs } from '#domain/units/time.ts';
import { addHook, announceNoon as noon, openAnnouncing, raiseWarm } from '../../helpers/announcing.ts';

describe('an announcer', () => {
  it('tells once, also after a restart, and writes down what, to whom, when and with what result', async () => {
    const { book, letters, tick, restart, announced } = openAnnouncing();
    addHook(book);
    raiseWarm(book, 'a', noon);
    for (let second = 0; second < 5; second += 1) await tick(noon + second * secondMs);
    restart();
    await tick(noon + 10 * secondMs);
    expect(letters.map(({ subject }) => subject)).toEqual(['Home: Barrel 1 is too warm.']);
    expect(announced()).toEqual([{ delivery: letters[0]?.id, outlet: 'hook', what: 'alerts', to: 'example.org', alerts: [{ id: 'a', excursion: 1 }], at: '2026-10-03T12:00:00.000Z', lateS: 0, attempts: 1, result: 'sent', detail: null }]);
  });

  it('sends nothing twice while the journal cannot be written; after a crash before that the copy has the same id', async () => {
    const announcing = openAnnouncing();
    const { book, letters, tick, restart } = announcing;
    addHook(book);
    raiseWarm(book, 'a', noon);
    announcing.stuck = true;
    for (let second = 0; second < 90; second += 30) await tick(noon + second * secondMs);
    expect(letters).toHaveLength(1);
    restart();
    await tick(noon + minuteMs);
    expect(letters).toHaveLength(2);
    expect(letters[1]?.id).toBe(letters[0]?.id);
  });

  it('tries again after 30 s, 1 min, 2 min …, says how late it is, and is an alert from the third failure until it works', async () => {
    const announcing = openAnnouncing();
    const { book, letters, tick, announced } = announcing;
    addHook(book);
    raiseWarm(book, 'a', noon);
    announcing.answer = 'example.org answered 500.';
    const tried: number[] = [];
    for (let second = 0; second <= 900; second += 10) {
      const before = letters.length;
      await tick(noon + second * secondMs);
      if (letters.length > before) tried.push(second);
    }
    expect(tried).toEqual([0, 30, 90, 210, 450]);
    // In the journal the first of a row stands, not each.
    expect(announced().map(({ result, detail }) => [result, detail])).toEqual([['failed', 'example.org answered 500.']]);
    const failing = [...book.shed.openAlerts.values()].filter(({ rule }) => rule === 'outlet-failing');
    expect(failing).toMatchObject([{ state: 'unacknowledged', text: 'Hook cannot be told anything: it has failed 3 times in a row.', raisedAt: noon + 90 * secondMs }]);
    expect(announcing.announcer.status(book.shed)).toMatchObject([{ id: 'hook', status: 'failing', failures: 5, detail: 'example.org answered 500.' }]);
    announcing.answer = null;
    await tick(noon + hourMs);
    expect(announced().at(-1)).toMatchObject({ result: 'sent', attempts: 6, lateS: 3_600 });
    expect(letters.at(-1)?.text).toContain('LATE by 1 h: raised Saturday 3 October 12:00; it could not be told before.');
    expect(book.shed.openAlerts.get(failing[0]?.id ?? '')?.state).toBe('returned');
  });

  it('gives up what is a day old, once, and shows it', async () => {
    const announcing = openAnnouncing();
    const { book, letters, tick, announced } = announcing;
    addHook(book);
    book.write('route-set', { outlet: 'hook', priorities: ['high'], quiet: null, remindMinutes: null, seals: false }, noon);
    raiseWarm(book, 'a', noon);
    announcing.answer = 'no';
    for (let hour = 0; hour < 30; hour += 1) await tick(noon + hour * hourMs);
    expect(announced().map(({ result }) => result)).toEqual(['failed', 'given-up']);
    expect(letters).toHaveLength(26);
  });

  it('answers a test at once and once, whatever came of it, and never tries it again', async () => {
    const announcing = openAnnouncing();
    const { book, letters, tick, announced } = announcing;
    addHook(book);
    announcing.answer = 'no';
    book.write('outlet-test-asked', { outlet: 'hook' }, noon);
    book.write('outlet-test-asked', { outlet: 'mqtt' }, noon);
    for (let second = 0; second < 100; second += 10) await tick(noon + second * secondMs);
    expect(letters).toHaveLength(1);
    expect(announced().map(({ outlet, what, result }) => `${outlet} ${what} ${result}`)).toEqual(['mqtt test sent', 'hook test failed']);
  });

  it('beats its heart by the clock, only while readings can be stored, and tells of failure and recovery alone', async () => {
    const announcing = openAnnouncing();
    const { book, beats, tick, announced } = announcing;
    book.write('outlet-set', { id: 'heart', name: 'Heart', kind: 'heartbeat', to: 'example.org', everyMinutes: 5 }, noon);
    for (let minute = 0; minute <= 15; minute += 1) await tick(noon + minute * minuteMs);
    expect(beats.map((at) => (at - noon) / minuteMs)).toEqual([0, 5, 10, 15]);
    await tick(noon + 20 * minuteMs, false);
    expect(beats).toHaveLength(4);
    expect(announced()).toEqual([]);
    announcing.answer = 'no';
    await tick(noon + 21 * minuteMs);
    announcing.answer = null;
    await tick(noon + 26 * minuteMs);
    expect(announced().map(({ what, result }) => `${what} ${result}`)).toEqual(['heartbeat failed', 'heartbeat sent']);
  });

  it('says nothing more of an outlet that was taken away, and ends the alert that it failed', async () => {
    const announcing = openAnnouncing();
    const { book, letters, tick } = announcing;
    addHook(book);
    raiseWarm(book, 'a', noon);
    announcing.answer = 'no';
    for (let second = 0; second <= 90; second += 10) await tick(noon + second * secondMs);
    book.write('outlet-removed', { id: 'hook' }, noon + 91 * secondMs);
    await tick(noon + 100 * secondMs);
    expect(letters).toHaveLength(3);
    expect([...book.shed.openAlerts.values()].filter(({ rule }) => rule === 'outlet-failing').map(({ state }) => state)).toEqual(['returned']);
  });
});
