import { describe, expect, it } from 'vitest';
import type { AlertMeasures, Announced, Outlet, OutletRoute } from '#contract';
import { measureRows, ruleWords } from '../../dashboard/state/alert-words.ts';
import { announcedWords, routeWords, statusWords } from '../../dashboard/state/outlet-words.ts';
import { outletId } from '../../dashboard/state/outlets.ts';

const route: OutletRoute = { priorities: ['high', 'medium'], quiet: { from: '22:00', to: '06:00' }, remindMinutes: 60, seals: true };
const outlet: Outlet = { id: 'anna', kind: 'mail', name: 'Anna', to: 'anna@example.org', server: null, everyMinutes: null, hasSecret: true, route, status: 'ok', failures: 0, detail: null, lastSentAt: '2026-10-03T12:00:00.000Z', nextTryAt: null };
const told: Announced = { entry: 1, outlet: 'anna', what: 'alerts', to: 'anna@example.org', alerts: ['a', 'b'], at: '2026-10-03T12:00:00.000Z', lateS: 0, attempts: 1, result: 'sent', detail: null };
const at = Date.UTC(2026, 9, 3, 12);

describe('what is said of outlets', () => {
  it('says what goes where and when', () => {
    expect(routeWords(route, 'mail')).toBe('Alerts of high and medium priority. From 22:00 to 06:00 only high ones; the others when the quiet hours end. Again every 60 min until somebody has seen them. The seal of each day.');
    expect(routeWords({ priorities: [], quiet: null, remindMinutes: 60, seals: true }, 'webhook')).toBe('No alerts.');
  });

  it('says whether it works, and what it failed at', () => {
    expect(statusWords(outlet, at + 60_000)).toBe('works, last used 60 s ago');
    expect(statusWords({ ...outlet, status: 'failing', failures: 3, nextTryAt: '2026-10-03T12:02:00.000Z' }, at)).toBe('failing: 3 times in a row, tried again in 2 min if something is due');
    expect(statusWords({ ...outlet, status: 'not-tried', lastSentAt: null }, at)).toBe('not used since the collector started');
  });

  it('says what was told, how late, and at which try', () => {
    expect(announcedWords(told)).toBe('alerts (2), taken');
    expect(announcedWords({ ...told, lateS: 7_200, attempts: 4 })).toBe('alerts (2), taken at the 4. try, 2 h late');
    expect(announcedWords({ ...told, what: 'test', alerts: [], result: 'failed', detail: 'It answered 500.' })).toBe('test, failed: It answered 500.');
  });

  it('makes addresses of names, each its own', () => {
    expect(outletId('Anna, phone', [])).toBe('anna-phone');
    expect(outletId('Ánna, phone', ['anna-phone', 'anna-phone-2'])).toBe('anna-phone-3');
    expect(outletId('MQTT', [])).toBe('mqtt-2');
    expect(outletId('Ωμέγα', [])).toBe('outlet');
  });
});

describe('what is said of alerts', () => {
  const measures: AlertMeasures = { from: '', to: '', count: 40, perDay: 200, mostInTenMinutes: 11, busyShare: 0, floodShare: 0.004, chattering: [], stale: 5, byPriority: { high: 20, medium: 20, low: 0, note: 0 }, mostFrequent: [], mostFrequentShare: 0 };

  it('holds each measure to its aim', () => {
    expect(measureRows(measures).map(({ name, value, good }) => [name, value, good])).toEqual([
      ['Alerts', '40, 200.0 a day', false],
      ['Most in ten minutes', '11', false],
      ['Time in flood', 'under 1 %', true],
      ['Chattering', '0', true],
      ['Open for more than a day', '5', false],
      ['Of high priority', '50 %', false],
    ]);
    expect(measureRows({ ...measures, count: 19 }).at(-1)?.good).toBeNull();
  });

  it('names rules in words', () => {
    expect(ruleWords('leach-temperature-danger')).toBe('leach temperature danger');
  });
});
