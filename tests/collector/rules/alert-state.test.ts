import { describe, expect, it } from 'vitest';
import { alertEvents, alertTransitions, hasTransition, transition, type AlertEvent } from '#domain/rules/alert-state.ts';
import { alertStates, type AlertState } from '#domain/rules/alert.ts';

/**
 * The alarm state transition diagram of ISA-18.2-2009 (taken over by IEC 62682:2014), letters as there:
 * A normal, B unacknowledged, C acknowledged, D returned, G shelved, H suppressed by design, I out of service.
 * `published`: the row stands in the documentation of an independent ISA-18.2 state machine; the others are from memory of the standard.
 */
const rows: readonly (readonly [source: 'published' | 'from memory', from: AlertState, event: AlertEvent, whileTrue: AlertState, whileFalse: AlertState])[] = [
  ['published', 'normal', 'condition-true', 'unacknowledged', 'unacknowledged'], // A to B
  ['published', 'unacknowledged', 'acknowledge', 'acknowledged', 'acknowledged'], // B to C
  ['published', 'unacknowledged', 'condition-clear', 'returned', 'returned'], // B to D
  ['published', 'acknowledged', 'condition-clear', 'normal', 'normal'], // C to A
  ['from memory', 'returned', 'acknowledge', 'normal', 'normal'], // D to A
  ['from memory', 'returned', 'condition-true', 'unacknowledged', 'unacknowledged'], // D to B
  ['from memory', 'acknowledged', 're-alarm', 'unacknowledged', 'unacknowledged'], // C to B
  ['published', 'normal', 'shelve', 'shelved', 'shelved'],
  ['published', 'unacknowledged', 'shelve', 'shelved', 'shelved'],
  ['published', 'acknowledged', 'shelve', 'shelved', 'shelved'],
  ['from memory', 'returned', 'shelve', 'shelved', 'shelved'],
  ['published', 'normal', 'suppress', 'suppressed', 'suppressed'],
  ['published', 'unacknowledged', 'suppress', 'suppressed', 'suppressed'],
  ['published', 'acknowledged', 'suppress', 'suppressed', 'suppressed'],
  ['from memory', 'returned', 'suppress', 'suppressed', 'suppressed'],
  ['published', 'normal', 'remove-from-service', 'out-of-service', 'out-of-service'],
  ['published', 'unacknowledged', 'remove-from-service', 'out-of-service', 'out-of-service'],
  ['from memory', 'acknowledged', 'remove-from-service', 'out-of-service', 'out-of-service'],
  ['from memory', 'returned', 'remove-from-service', 'out-of-service', 'out-of-service'],
  ['from memory', 'shelved', 'unshelve', 'unacknowledged', 'normal'], // G to A or B by the present condition
  ['from memory', 'suppressed', 'unsuppress', 'unacknowledged', 'normal'], // H to A or B
  ['from memory', 'out-of-service', 'return-to-service', 'unacknowledged', 'normal'], // I to A or B
];

describe('alert states of IEC 62682', () => {
  for (const [source, from, event, whileTrue, whileFalse] of rows) {
    it(`${from} + ${event} (${source})`, () => {
      expect([transition(from, event, true), transition(from, event, false)]).toEqual([whileTrue, whileFalse]);
      expect(hasTransition(from, event)).toBe(true);
    });
  }

  it('has these rows and no others', () => {
    const own = alertTransitions.map(({ from, event }) => `${from} ${event}`).sort();
    expect(own).toEqual(rows.map(([, from, event]) => `${from} ${event}`).sort());
  });

  it('leaves a state as it is where an event means nothing there', () => {
    const published = new Set(rows.map(([, from, event]) => `${from} ${event}`));
    const others = alertStates.flatMap((state) => alertEvents.map((event) => ({ state, event }))).filter(({ state, event }) => !published.has(`${state} ${event}`));
    expect(others.length).toBe(alertStates.length * alertEvents.length - rows.length);
    for (const { state, event } of others) {
      expect([transition(state, event, true), transition(state, event, false)], `${state} ${event}`).toEqual([state, state]);
      expect(hasTransition(state, event)).toBe(false);
    }
  });

  it('never forgets an alert nobody has seen: only an acknowledgement or the end of a hiding leads to normal', () => {
    const ways = alertTransitions.filter(({ to }) => to === 'normal').map(({ from, event }) => `${from} ${event}`);
    expect(ways.sort()).toEqual(['acknowledged condition-clear', 'returned acknowledge']);
  });
});
