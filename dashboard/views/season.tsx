import { useEffect, useMemo, useRef } from 'preact/hooks';
import type { Season } from '#contract';
import { SeasonFlow } from '../parts/season/flow.tsx';
import { LedgerTable } from '../parts/season/ledger-table.tsx';
import { PlanSection } from '../parts/season/plan-section.tsx';
import { TreeForm } from '../parts/season/tree-form.tsx';
import { Trees } from '../parts/season/trees.tsx';
import { Go } from '../parts/go.tsx';
import { Notice } from '../parts/notice.tsx';
import { Places } from '../parts/places.tsx';
import { useScreen } from '../parts/screen.ts';
import { SettingsButton } from '../parts/settings.tsx';
import { calendarDay, daySpan } from '../format/time.ts';
import type { UnitChoice } from '../format/units.ts';
import { kgText, missingWords, seasonSentence } from '../state/season/season-words.ts';
import { createSeason } from '../state/season/season.ts';
import '../parts/forms/forms.css';
import './season.css';

/** One harvest from the trees to the market, what each tree bore, and the plan of the next. */
export const SeasonView = ({ year }: { readonly year: number | null }) => {
  const { call, link, settings, session, wall, clock } = useScreen();
  const model = useMemo(() => createSeason(call), [call]);
  const head = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    const load = (): void => void model.load(year);
    load();
    return link.onRegained(load);
  }, [model, link, year]);
  useEffect(() => {
    document.title = 'Season · Brineward';
    // Whoever listens hears which screen has come.
    head.current?.focus({ preventScroll: true });
  }, []);

  const season = model.season.value;
  const failure = model.failure.value;
  const zone = wall.wall.value?.site.zone ?? null;
  if (failure !== null && season === null) {
    return (
      <Notice title={failure.title} urgent>
        {failure.detail} <Go to={{ view: 'wall' }}>To the wall</Go>
      </Notice>
    );
  }
  const units = settings.units.value;
  return (
    <div class="season">
      <header class="top">
        <Places />
        <div class="top-end">
          <SettingsButton />
        </div>
      </header>
      <main>
        <h1 ref={head} tabIndex={-1}>
          {season === null || season.year === null ? 'Season' : `Season ${String(season.year)}`}
        </h1>
        {season === null || zone === null ? (
          <p class="waiting">One moment …</p>
        ) : (
          <>
            <Ledger season={season} units={units} zone={zone} />
            <section aria-labelledby="trees">
              <h2 id="trees">Trees, year by year</h2>
              {season.trees.length === 0 ? (
                <p>No tree has a weight or a load yet. Write down what each bore, also for years before: two years in a row show which trees swing.</p>
              ) : (
                <>
                  <p class="dim">
                    Full bars are heavy years of the tree, open bars light ones, grey bars neither{season.trees.some(({ years }) => years.some(({ from }) => from === 'shared')) ? '; * is an even part of fruit weighed together' : ''}. Swing: 0 is the same every year, 1 all or nothing.
                  </p>
                  <Trees trees={season.trees} units={units} />
                </>
              )}
              {session.mayWork.value && (
                <details>
                  <summary>Write down a tree</summary>
                  <TreeForm trees={season.trees.map(({ tree }) => tree)} year={season.year ?? calendarDay(clock.now.peek(), zone).year} onWrite={model.writeLoad} />
                </details>
              )}
            </section>
            {session.mayWork.value && <PlanSection model={model} next={season.next} units={units} />}
          </>
        )}
      </main>
    </div>
  );
};

const Ledger = ({ season, units, zone }: { readonly season: Season; readonly units: UnitChoice; readonly zone: string }) => {
  const { ledger, seasons, year } = season;
  return (
    <section aria-labelledby="ledger">
      <h2 id="ledger">{ledger === null ? 'Where the fruit goes' : `Where the fruit went, ${daySpan(Date.parse(ledger.firstPick), Date.parse(ledger.lastPick), zone)}`}</h2>
      {ledger === null ? (
        <p class="none-yet">{year === null || seasons.length === 0 ? 'Nothing has been picked yet. The first batch that starts in a drum begins the season here.' : `Nothing was picked in ${String(year)}.`}</p>
      ) : (
        <>
          <p class="season-words">{seasonSentence(ledger.totals, units)}</p>
          <SeasonFlow ledger={ledger} units={units} zone={zone} />
          <details>
            <summary>The numbers</summary>
            <LedgerTable ledger={ledger} units={units} zone={zone} />
            <p>
              <a class="act-link" href={`/api/season.csv?year=${String(year ?? '')}`} download>
                As a table for a spreadsheet
              </a>
            </p>
          </details>
        </>
      )}
      {seasons.length > 1 && (
        <ul class="season-years" aria-label="Seasons">
          {seasons.map(({ year: one, pickedKg, jars, unaccountedShare }) => (
            <li key={one}>
              <Go to={{ view: 'season', year: one }} aria-current={one === year ? 'page' : undefined}>
                {one}
              </Go>{' '}
              {kgText(pickedKg, units)}, {jars} jars{unaccountedShare === null ? '' : `, ${missingWords(unaccountedShare)}`}
            </li>
          ))}
        </ul>
      )}
    </section>
  );
};
