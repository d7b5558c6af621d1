import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dayMs, type Ribbon } from '#contract';
import { sharedSpan } from '../../dashboard/parts/ribbon/axis.ts';
import { widthOf } from '../../dashboard/parts/ribbon/labels.ts';
import { drawRibbon, type Drawing } from '../../dashboard/parts/ribbon/layout.ts';
import { ribbonInWords } from '../../dashboard/parts/ribbon/summary.ts';
import { fixtureNow, fixtureWall, fixtureZone } from '../helpers/shed-fixture.ts';

const zone = fixtureZone;
const now = fixtureNow;
const wall = fixtureWall('full');
const ribbonOf = (id: string): Ribbon => {
  const found = wall.drums.find((drum) => drum.id === id)?.ribbon;
  if (found == null) throw new Error(`no ribbon ${id}`);
  return found;
};
const span = sharedSpan(wall.drums.flatMap(({ ribbon }) => (ribbon === null ? [] : [ribbon])), now);
const draw = (ribbon: Ribbon, width = 930, words = true): Drawing => drawRibbon(ribbon, { axis: { ...span, width }, height: 120, now, zone, textPx: 19, words });

/** The strip that placed words cover. */
const reach = (words: Drawing['words'][number]): { readonly from: number; readonly to: number } => {
  const wide = widthOf(words, 19);
  return words.anchor === 'start' ? { from: words.x, to: words.x + wide } : { from: words.x - wide, to: words.x };
};

describe('the drawing of a cure', () => {
  it('puts now at the same place on every drum', () => {
    expect(new Set(wall.drums.map(({ ribbon }) => (ribbon === null ? null : draw(ribbon).now)))).toHaveProperty('size', 1);
  });

  it('holds the safe band inside the body', () => {
    const { body, band } = draw(ribbonOf('barrel-2'));
    expect(band?.y).toBeGreaterThan(body.y);
    expect((band?.y ?? 0) + (band?.height ?? 0)).toBeLessThan(body.y + body.height);
  });

  it('stretches the scale for what leaves the band, so that nothing is cut off', () => {
    const hot = { ...ribbonOf('barrel-2'), temperature: ribbonOf('barrel-2').temperature.map((step) => ({ ...step, max: step.max + 30 })) };
    const { body, envelope } = draw(hot);
    const ys = [...(envelope[0] ?? '').matchAll(/[\d.]+ ([\d.]+)/g)].map((match) => Number(match[1]));
    expect(Math.min(...ys)).toBeGreaterThanOrEqual(body.y);
  });

  it('draws heavy what was outside, however short', () => {
    expect(draw(ribbonOf('barrel-3')).outside).toHaveLength(1);
    const blink = { ...ribbonOf('barrel-2'), outside: [{ from: now - 10 * dayMs, to: now - 9.9 * dayMs, side: 'high' as const }] };
    expect(draw(blink).outside).toHaveLength(1);
    expect(draw(ribbonOf('barrel-2')).outside).toEqual([]);
  });

  it('hatches gaps and breaks the line there', () => {
    const drawing = draw(ribbonOf('barrel-5'));
    expect(drawing.gaps).toHaveLength(2);
    expect(drawing.line).toHaveLength(2);
  });

  it('numbers every tasting, apart from each other and not after now', () => {
    const { tastings, ring, now: nowX } = draw(ribbonOf('crock'));
    expect(tastings.map(({ score }) => score)).toEqual(['6', '6', '5']);
    for (const [index, { x }] of tastings.entries()) {
      expect(x).toBeLessThanOrEqual(nowX);
      const next = tastings[index + 1];
      if (next !== undefined) expect(next.x - x).toBeGreaterThanOrEqual(ring * 2);
    }
  });

  it('writes the likely day and its range beside the haze', () => {
    const { words, haze } = draw(ribbonOf('barrel-2'));
    expect(words).toHaveLength(1);
    expect(words[0]?.strong).toBe('likely sweet 22\u00a0Jun');
    expect(words[0]?.plain).toBe('18 – 29\u00a0Jun');
    expect(reach(words[0]!).from).toBeGreaterThan(haze?.to ?? 0);
  });

  it('keeps words off the line of now and off the haze, wherever the forecast lies', () => {
    fc.assert(
      fc.property(fc.integer({ min: -10, max: 40 }), fc.integer({ min: 1, max: 25 }), fc.integer({ min: 1, max: 25 }), fc.integer({ min: 700, max: 1_400 }), (first, early, late, width) => {
        const at = (days: number): string => new Date(now + days * dayMs).toISOString();
        const ribbon: Ribbon = { ...ribbonOf('barrel-2'), to: now + Math.max(first + early + late, 1) * dayMs, forecast: { readyFrom: at(first), readyLikely: at(first + early), readyTo: at(first + early + late), basis: '' } };
        const own = sharedSpan([ribbon], now);
        const drawing = drawRibbon(ribbon, { axis: { ...own, width }, height: 120, now, zone, textPx: 19, words: true });
        for (const words of drawing.words) {
          const { from, to } = reach(words);
          expect(from).toBeGreaterThanOrEqual(-1);
          expect(to).toBeLessThanOrEqual(width + 1);
          if (words.plate) continue;
          expect(to < drawing.now || from > drawing.now).toBe(true);
          expect(to <= (drawing.haze?.from ?? 0) || from >= (drawing.haze?.to ?? 0)).toBe(true);
        }
      }),
    );
  });

  it('shows jars and their rest as blocks, without a forecast', () => {
    const drawing = draw(ribbonOf('barrel-1'));
    expect(drawing.haze).toBeNull();
    expect(drawing.rest?.width).toBeGreaterThan(20);
    expect(drawing.words.map(({ strong }) => strong)).toEqual(['jarred', 'ready to eat']);
  });

  it('admits that a date is not known', () => {
    const { words } = draw({ ...ribbonOf('barrel-2'), forecast: { unknown: 'two tastings are needed' } });
    expect(words.map(({ plain }) => plain)).toEqual(['ready date not known yet']);
  });

  it('leaves words out where there is no room for any', () => {
    expect(draw(ribbonOf('barrel-2'), 240, false).words).toEqual([]);
  });
});

describe('the ribbon for those who hear it', () => {
  it('names what is drawn', () => {
    const words = ribbonInWords(ribbonOf('barrel-5'), zone).replaceAll('\u00a0', ' ');
    expect(words).toContain('Cure from 27 May');
    expect(words).toContain('4 brine changes');
    expect(words).toContain('2 gaps in the readings');
    expect(words).toContain('likely sweet 8 Jul, between 30 Jun and 18 Jul');
  });
});
