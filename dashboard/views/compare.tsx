import type { ComponentChildren } from 'preact';
import { useEffect, useMemo, useRef } from 'preact/hooks';
import { sweetBitterness, type Compare } from '#contract';
import { ChoosePair } from '../parts/compare/choose-pair.tsx';
import { GroupSection, LeftOutList } from '../parts/compare/group-section.tsx';
import { LotsKept } from '../parts/compare/lots-kept.tsx';
import { PairSection } from '../parts/compare/pair-section.tsx';
import { Go } from '../parts/go.tsx';
import { Notice } from '../parts/notice.tsx';
import { Places } from '../parts/places.tsx';
import { useScreen } from '../parts/screen.ts';
import { SettingsButton } from '../parts/settings.tsx';
import { lotChoices, suggestedPair } from '../state/compare/choices.ts';
import { createCompare } from '../state/compare/compare.ts';
import { kindWords } from '../state/compare/group-words.ts';
import { pairTitle } from '../state/compare/pair-words.ts';
import '../parts/forms/forms.css';
import '../parts/ribbon/ribbon.css';
import './compare.css';

interface CompareProps {
  readonly pair: { readonly lot: string; readonly other: string } | null;
  readonly bitterness: number;
}

const endPoints = [
  { bitterness: sweetBitterness, words: `sweet, ${String(sweetBitterness)} of 10` },
  { bitterness: 4, words: 'pleasant, 4 of 10' },
] as const;

/** How cure time depends on temperature, and why one cure was slower than another. */
export const CompareView = ({ pair, bitterness }: CompareProps) => {
  const { call, link, settings, wall, go } = useScreen();
  const model = useMemo(() => createCompare(call), [call]);
  const head = useRef<HTMLHeadingElement>(null);
  const { lot, other } = pair ?? { lot: null, other: null };

  useEffect(() => {
    const load = (): void => {
      void model.load(bitterness);
      if (lot !== null) void model.loadPair(lot, other, bitterness);
    };
    load();
    return link.onRegained(load);
  }, [model, link, lot, other, bitterness]);

  const compare = model.compare.value;
  const shownPair = model.pair.value;
  const fits = shownPair !== null && pair !== null && shownPair.first.lot === lot?.toUpperCase() && shownPair.second.lot === other?.toUpperCase() && shownPair.bitterness === bitterness;
  const title = pair === null ? 'Compare' : fits ? pairTitle(shownPair) : 'Side by side';
  useEffect(() => {
    document.title = `${lot === null ? 'Compare' : `${lot} beside ${other}`} · Brineward`;
    // Whoever listens hears which screen has come.
    head.current?.focus({ preventScroll: true });
  }, [lot, other]);

  const failure = model.failure.value;
  if (failure !== null && (compare === null || (pair !== null && !fits))) {
    return (
      <Notice title={failure.title} urgent>
        {failure.detail} <Go to={pair === null ? { view: 'wall' } : { view: 'compare', pair: null, bitterness }}>{pair === null ? 'To the wall' : 'To all cures'}</Go>
      </Notice>
    );
  }
  const zone = wall.wall.value?.site.zone ?? null;
  const units = settings.units.value;
  return (
    <div class="compare">
      <header class="top">
        <Places />
        <div class="top-end">
          {pair !== null && <Go to={{ view: 'compare', pair: null, bitterness }}>All cures</Go>}
          <SettingsButton />
        </div>
      </header>
      <main>
        <header class="compare-head">
          <h1 ref={head} tabIndex={-1}>
            <LotsKept text={title} />
          </h1>
          {pair === null && <p class="dim">How the days of a cure depend on its temperature, by your own finished cures. It speaks of bitterness only, never of safety.</p>}
          <div class="end-points">
            <span id="end-point">A cure ends when it is tasted</span>
            <div class="tabs" role="group" aria-labelledby="end-point">
              {endPoints.map((one) => (
                <button key={one.bitterness} type="button" aria-pressed={one.bitterness === bitterness} onClick={() => go({ view: 'compare', pair, bitterness: one.bitterness }, 'replace')}>
                  {one.words}
                </button>
              ))}
            </div>
          </div>
        </header>
        {compare === null || zone === null || (pair !== null && !fits) ? (
          <p class="waiting">One moment …</p>
        ) : (
          <>
            {pair !== null && shownPair !== null && <PairSection pair={shownPair} units={units} />}
            {pair === null && <Groups compare={compare}>{(group) => <GroupSection key={kindWords(group)} group={group} bitterness={compare.bitterness} units={units} zone={zone} />}</Groups>}
            <Choose compare={compare} pair={pair} />
          </>
        )}
      </main>
    </div>
  );
};

const Groups = ({ compare, children }: { readonly compare: Compare; readonly children: (group: Compare['groups'][number]) => ComponentChildren }) => {
  const full = compare.groups.filter(({ cures }) => cures.length > 0);
  const waiting = compare.groups.filter(({ cures }) => cures.length === 0).flatMap(({ leftOut }) => leftOut);
  return (
    <>
      {compare.groups.length === 0 && <p class="none-yet">There is no batch in this shed yet. When one has been tasted down to {compare.bitterness} of 10, it is the first here.</p>}
      {full.length === 0 && waiting.length > 0 && (
        <p class="none-yet">
          No cure has been tasted down to {compare.bitterness} of 10 yet. Taste every few days as it comes near: the closer two tastings stand, the better the day is known.
        </p>
      )}
      {full.map(children)}
      {waiting.length > 0 && (
        <section class="group" aria-labelledby="waiting">
          <h2 id="waiting">{full.length === 0 ? 'Not compared yet, and why' : 'Of other kinds, not compared yet'}</h2>
          <LeftOutList cures={waiting} />
        </section>
      )}
    </>
  );
};

const Choose = ({ compare, pair }: { readonly compare: Compare; readonly pair: CompareProps['pair'] }) => {
  const suggested = pair ?? suggestedPair(compare);
  if (suggested === null) return null;
  return (
    <section class="group" aria-labelledby="choose">
      <h2 id="choose">{pair === null ? 'Two cures side by side' : 'Two others'}</h2>
      <ChoosePair key={`${suggested.lot} ${suggested.other}`} choices={lotChoices(compare)} suggested={suggested} bitterness={compare.bitterness} />
    </section>
  );
};
