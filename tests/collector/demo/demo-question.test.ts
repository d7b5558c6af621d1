import { describe, expect, it } from 'vitest';
import { findQuestions } from '#domain/detect/find-questions.ts';
import type { Entry } from '#domain/journal/entry.ts';
import { projectAll } from '#domain/journal/project.ts';
import { drumResponse } from '#domain/heat/drum-response.ts';
import { disturbedAt } from '#domain/heat/disturbed.ts';
import { tenMinuteMeans } from '#domain/heat/ten-minute-means.ts';
import type { SeriesId } from '#domain/reading/reading.ts';
import { seriesWatching } from '#domain/journal/placement.ts';
import { dayMs, hourMs, minuteMs, toRfc3339 } from '#domain/units/time.ts';
import { buildDemoSeason, readingsBetween } from '../../../collector/demo/index.ts';

const zone = 'Europe/Athens';

describe('the demo shed', { timeout: 60_000 }, () => {
  it.each([0, 6, 9.5, 14.5, 18, 21.5])('has one change nobody wrote down, at whatever hour it is opened (%f)', (hour) => {
    const now = Date.UTC(2026, 10, 25) + hour * hourMs;
    const season = buildDemoSeason({ now, zone, lotFor: ({ drum }) => `LOT-${drum}` });
    const entries = season.entries.map(({ draft, time }, index): Entry => ({ ...draft, sequence: index + 1, time: toRfc3339(time), previousHash: '', hash: '' }));
    const shed = projectAll(entries);
    const points = new Map<SeriesId, { t: number; mean: number; count: number }[]>();
    const keep = (series: SeriesId): { t: number; mean: number; count: number }[] => {
      const kept = points.get(series) ?? [];
      points.set(series, kept);
      return kept;
    };
    for (const { series, at, value, quality } of readingsBetween(season, now - 4 * dayMs, now, 2 * minuteMs)) {
      if (quality === 'good') keep(series).push({ t: at, mean: value, count: 1 });
    }
    const meansOf = (series: SeriesId | null) => tenMinuteMeans((series === null ? undefined : points.get(series)) ?? []);
    const air = meansOf('shed-air/air-temperature');
    const watched = [...shed.drums.values()].flatMap((drum) => {
      const batch = drum.lot === null ? undefined : shed.batches.get(drum.lot);
      if (batch === undefined) return [];
      const trace = meansOf(seriesWatching(shed, drum.id, 'temperature', now - 12 * hourMs));
      const response = drumResponse({ volumeL: drum.volumeL, insulated: drum.insulated, drum: trace, air, disturbedAt: disturbedAt(shed, batch) });
      return [{ batch, trace: { drum: trace, air, response } }];
    });
    expect(findQuestions(watched, now)).toMatchObject([{ kind: 'unlogged-change', drum: 'barrel-2' }]);
  });
});
