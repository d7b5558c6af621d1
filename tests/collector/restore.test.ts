import { describe, expect, it } from 'vitest';
import { restoredFrom } from '../../collector/restore.ts';
import { createMemoryStore } from '../../collector/stores/memory.ts';
import { openSqliteStore } from '#collector';
import type { Reading } from '#domain/reading/reading.ts';
import { addToExposure, exposureAt, startExposure } from '#domain/rules/exposure.ts';
import { hourMs, minuteMs, toRfc3339 } from '#domain/units/time.ts';
import { createShedBook, openDrum } from '../helpers/shed-book.ts';
import { valueOf } from '../helpers/value-of.ts';

/** Off the grid of six hours. */
const start = Date.UTC(2026, 8, 7, 8, 20);

describe('what the watch starts from', () => {
  // Every minute: only six-hour rows are few enough. Every two hours: readings, which must not be put together across six hours. A late probe: ten-minute rows.
  const cases = [['often', 1, 0], ['seldom', 130, 0], ['in the last days only', 1, 130]] as const;
  for (const [name, everyMinutes, fromHour] of cases) {
    it.each([['memory', createMemoryStore], ['SQLite', () => valueOf(openSqliteStore({ file: ':memory:' }))]] as const)(`gives the warmth of a batch since its start in six-hour steps, read ${name}, over a change of probe: %s`, async (_kind, openStore) => {
      const book = createShedBook();
      const lot = openDrum(book, start);
      const swap = start + 170 * hourMs + 7 * minuteMs;
      book.write('placed', { probe: 'probe-2', channel: 'temperature', drum: 'barrel-1', from: toRfc3339(swap) }, swap);
      const now = start + 200 * hourMs;
      const store = openStore();
      const live = startExposure(start);
      const readings: Reading[] = [];
      for (let at = start - 12 * hourMs; at <= now; at += everyMinutes * minuteMs) {
        if (at < start + fromHour * hourMs && fromHour > 0) continue;
        const value = 25 + ((Math.floor((at - start) / minuteMs) * 7919) % 80) / 16;
        // The first probe goes on in the drum; the one placed last is believed.
        readings.push({ series: 'probe-1/temperature', at, value: at < swap ? value : 60, quality: 'good' });
        if (at >= swap) readings.push({ series: 'probe-2/temperature', at, value, quality: 'good' });
        if (at >= start) addToExposure(live, at, value, 1);
      }
      await store.append(readings);

      const restored = startExposure(start);
      for (const { t, mean, count } of (await restoredFrom(store, book.shed, now)).sixHourMeans?.(lot) ?? []) addToExposure(restored, t, mean * count, count);
      for (const later of [0, 6 * hourMs]) expect(exposureAt(restored, now + later)).toEqual(exposureAt(live, now + later));
      expect(exposureAt(restored, now).degreeHours).toBeGreaterThan(50);
      await store.close();
    });
  }
});
