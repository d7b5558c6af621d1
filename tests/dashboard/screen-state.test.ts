import fc from 'fast-check';
import { signal } from '@preact/signals';
import { describe, expect, it } from 'vitest';
import { dayMs, hourMs, slugPattern, type Probe } from '#contract';
import { dragged, fit, presetStretch, step, zoom } from '../../dashboard/state/chart-range.ts';
import { createClock } from '../../dashboard/state/clock.ts';
import { firstLine, slugFrom, stepOf } from '../../dashboard/state/first-steps.ts';
import { pagesOf } from '../../dashboard/state/pages.ts';
import { parseRoute, pathOf } from '../../dashboard/state/route.ts';
import { createSettings } from '../../dashboard/state/settings.ts';
import { wallScale } from '../../dashboard/state/wall-scale.ts';
import { whenTime } from '../../dashboard/state/when.ts';

const now = Date.parse('2027-06-11T04:54:00Z');
const zone = 'Australia/Adelaide';

describe('pages of the wall', () => {
  const rows = Array.from({ length: 12 }, (_, index) => index);

  it('is one page while everything fits', () => {
    expect(pagesOf(rows.slice(0, 8), 8, () => true)).toEqual([rows.slice(0, 8)]);
  });

  it('pins what needs someone first on every page, and shows every drum in turn', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 8 }), fc.array(fc.boolean(), { minLength: 1, maxLength: 30 }), (perPage, alerting) => {
        const all = alerting.map((alert, id) => ({ id, alert }));
        const pages = pagesOf(all, perPage, ({ alert }) => alert);
        expect(new Set(pages.flat())).toEqual(new Set(all));
        const pinned = all.length <= perPage ? [] : all.filter(({ alert }) => alert).slice(0, Math.max(0, perPage - 2));
        for (const page of pages) {
          expect(page.length).toBeLessThanOrEqual(Math.max(perPage, 1));
          expect(page.slice(0, pinned.length)).toEqual(pinned.slice(0, page.length));
        }
      }),
    );
  });
});

describe('how large the wall is', () => {
  it('fills 1080 lines with up to eight drums', () => {
    for (const drums of [1, 3, 6, 8, 12]) {
      const { kind, perPage, rowPx, textPx } = wallScale({ width: 1_920, height: 1_080 }, drums);
      expect(kind).toBe('rows');
      expect(perPage).toBe(8);
      expect(rowPx * Math.min(drums, 8)).toBeLessThanOrEqual(1_080 - 150);
      // No words on the wall are smaller than this.
      expect(textPx).toBeGreaterThanOrEqual(17);
    }
    expect(wallScale({ width: 1_920, height: 1_080 }, 8).rowPx * 8).toBeGreaterThan(880);
  });

  it('is a list on a phone', () => {
    expect(wallScale({ width: 390, height: 844 }, 6).kind).toBe('list');
  });
});

describe('addresses', () => {
  it('are read back as they were written', () => {
    fc.assert(
      fc.property(fc.string({ minLength: 1, maxLength: 40 }).filter((id) => id.isWellFormed() && id !== '.' && id !== '..'), (drum) => {
        expect(parseRoute(pathOf({ view: 'drum', drum }))).toEqual({ view: 'drum', drum });
      }),
    );
    for (const view of ['wall', 'today', 'round', 'start', 'sign-in'] as const) expect(parseRoute(pathOf({ view }))).toEqual({ view });
  });

  it('that lead nowhere say so', () => {
    expect(parseRoute('/drums/a/b').view).toBe('unknown');
    expect(parseRoute('/drums/%E0%A4%A').view).toBe('unknown');
    expect(parseRoute('/nothing').view).toBe('unknown');
  });
});

describe('what a screen prefers', () => {
  const store = (text: string | null) => {
    const kept = { text };
    return { kept, storage: { getItem: () => kept.text, setItem: (_: string, value: string) => void (kept.text = value) } };
  };

  it('is kept, and resolves auto by the light outside', () => {
    const { kept, storage } = store(null);
    const dark = signal(false);
    const settings = createSettings(storage, dark);
    expect(settings.shownTheme.value).toBe('day');
    dark.value = true;
    expect(settings.shownTheme.value).toBe('night');
    settings.theme.value = 'day';
    expect(settings.shownTheme.value).toBe('day');
    settings.units.value = { ...settings.units.value, temperature: 'F' };
    const again = createSettings(store(kept.text).storage, dark);
    expect(again.theme.value).toBe('day');
    expect(again.units.value.temperature).toBe('F');
  });

  it.each(['not json', '[]', 'null', '{"theme":"pink","temperature":7}'])('survives a store that holds %s', (text) => {
    const settings = createSettings(store(text).storage, signal(false));
    expect(settings.theme.value).toBe('auto');
    expect(settings.units.value.temperature).toBe('C');
  });

  it('survives a store that is closed', () => {
    const closed = { getItem: () => { throw new Error('closed'); }, setItem: () => { throw new Error('closed'); } };
    expect(createSettings(closed, signal(false)).theme.value).toBe('auto');
  });
});

describe('the clock', () => {
  it('runs on the time of the server though the browser is wrong', () => {
    let own = 1_000_000;
    let tick = (): void => undefined;
    const clock = createClock({ now: () => own, every: (_, run) => { tick = run; return () => undefined; } });
    clock.sync('2027-06-11T04:54:00Z');
    expect(clock.now.value).toBe(now);
    own += 5_000;
    tick();
    expect(clock.now.value).toBe(now + 5_000);
    clock.sync('nonsense');
    expect(clock.now.value).toBe(now + 5_000);
  });
});

describe('the stretch a chart shows', () => {
  const bounds = { from: now - 30 * dayMs, to: now };

  it('stays inside the cure whatever is done to it', () => {
    const act = fc.oneof(fc.record({ zoom: fc.constantFrom(0.5, 2) }), fc.record({ step: fc.constantFrom(-1 as const, 1 as const) }), fc.record({ drag: fc.tuple(fc.integer({ min: -50, max: 900 }), fc.integer({ min: -50, max: 900 })) }));
    fc.assert(
      fc.property(fc.array(act, { maxLength: 20 }), (acts) => {
        let stretch = presetStretch('7 days', bounds);
        for (const one of acts) {
          if ('zoom' in one) stretch = zoom(stretch, one.zoom, bounds);
          else if ('step' in one) stretch = step(stretch, one.step, bounds);
          else stretch = dragged(stretch, 800, one.drag[0], one.drag[1], bounds) ?? stretch;
          expect(stretch.from).toBeGreaterThanOrEqual(bounds.from - 1);
          expect(stretch.to).toBeLessThanOrEqual(bounds.to + 1);
          expect(stretch.to - stretch.from).toBeGreaterThanOrEqual(30 * 60_000 - 1);
        }
      }),
    );
  });

  it('is what was dragged over, either way, and not changed by a click', () => {
    const shown = { from: now - 8 * hourMs, to: now };
    const expected = { from: now - 6 * hourMs, to: now - 2 * hourMs };
    expect(dragged(shown, 800, 200, 600, bounds)).toEqual(expected);
    expect(dragged(shown, 800, 600, 200, bounds)).toEqual(expected);
    expect(dragged(shown, 800, 300, 303, bounds)).toBeNull();
  });

  it('keeps the newest in sight when looking closer from there', () => {
    expect(zoom({ from: now - 4 * dayMs, to: now }, 0.5, bounds)).toEqual({ from: now - 2 * dayMs, to: now });
    expect(fit({ from: now - 90 * dayMs, to: now + dayMs }, bounds)).toEqual(bounds);
  });
});

describe('the first steps', () => {
  const probe = (drum: string | null): Probe => ({ id: 'probe-1', channels: [{ channel: 'temperature', unit: 'Cel', last: null, count: 1, placement: drum === null ? null : { drum, from: '' } }], presence: 'unknown', calibrations: [], health: 'ok', hasPassword: false, clock: null });

  it('go on as the shed does', () => {
    expect(stepOf(null, [])).toBe('drum');
    expect(stepOf({ id: 'barrel-1' }, [])).toBe('reading');
    expect(stepOf({ id: 'barrel-1' }, [probe(null)])).toBe('place');
    expect(stepOf({ id: 'barrel-1' }, [probe('barrel-2')])).toBe('place');
    expect(stepOf({ id: 'barrel-1' }, [probe('barrel-1')])).toBe('done');
  });

  it('print the exact line for this site', () => {
    const site = { site: 'saltbush', mqtt: { host: '0.0.0.0', port: 2_883, external: false } };
    expect(firstLine(site, 'shed.local', [])).toEqual({
      topic: 'brineward/saltbush/probe/probe-1/temperature',
      command: 'mosquitto_pub -h shed.local -p 2883 -t brineward/saltbush/probe/probe-1/temperature -m 18.4',
      onlyHere: false,
    });
    expect(firstLine({ ...site, mqtt: { ...site.mqtt, host: '127.0.0.1' } }, 'localhost', [probe(null)])).toMatchObject({ topic: 'brineward/saltbush/probe/probe-2/temperature', onlyHere: true });
  });

  it('make a short name from any name, or none', () => {
    expect(slugFrom('Barrel 2')).toBe('barrel-2');
    expect(slugFrom('  Fût n° 3 – größer ')).toBe('fut-n-3-gro-er');
    fc.assert(fc.property(fc.string({ unit: 'grapheme', maxLength: 60 }), (name) => slugFrom(name) === '' || slugPattern.test(slugFrom(name))));
  });
});

describe('when an act happened', () => {
  it('is told the way people tell it, and never in time to come', () => {
    expect(whenTime('just now', '', now, zone)).toBe(now);
    expect(whenTime('1 h ago', '', now, zone)).toBe(now - hourMs);
    // 08:00 in Adelaide in winter is 22:30 UTC of the day before (tz database: UTC+9:30).
    expect(whenTime('this morning', '', now, zone)).toBe(Date.parse('2027-06-10T22:30:00Z'));
    expect(whenTime('this morning', '', Date.parse('2027-06-10T20:00:00Z'), zone)).toBe(Date.parse('2027-06-10T20:00:00Z'));
    expect(whenTime('other', '2027-06-09T09:15', now, zone)).toBe(Date.parse('2027-06-08T23:45:00Z'));
    expect(whenTime('other', '', now, zone)).toBeNull();
    expect(whenTime('other', '2027-06-12T09:15', now, zone)).toBeNull();
  });
});
