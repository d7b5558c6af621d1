import { useEffect, useState } from 'preact/hooks';
import type { BatchSummary } from '#contract';
import type { Failure } from '../client/call.ts';
import { Go } from '../parts/go.tsx';
import { StallSection } from '../parts/lot/stall.tsx';
import { Notice } from '../parts/notice.tsx';
import { Places } from '../parts/places.tsx';
import { useScreen } from '../parts/screen.ts';
import { SettingsButton } from '../parts/settings.tsx';
import { batchWords } from '../state/batch-words.ts';
import { groupLots } from '../state/lots.ts';
import '../parts/forms/forms.css';
import './lots.css';

/** Every lot of the shed, in drums, in jars and gone; and backwards from a stall date. */
export const LotsView = () => {
  const { call, link, wall } = useScreen();
  const [lots, setLots] = useState<readonly BatchSummary[] | null>(null);
  const [failure, setFailure] = useState<Failure | null>(null);
  useEffect(() => {
    document.title = 'Lots · Brineward';
    const load = (): void =>
      void call('batches').then((answer) => {
        setFailure(answer.ok ? null : answer.error);
        if (answer.ok) setLots(answer.value.batches);
      });
    load();
    return link.onRegained(load);
  }, [call, link]);
  const shown = wall.wall.value;
  if (lots === null || shown === null) {
    if (failure === null) return <p class="waiting">One moment …</p>;
    return (
      <Notice title={failure.title} urgent>
        {failure.detail} <Go to={{ view: 'wall' }}>To the wall</Go>
      </Notice>
    );
  }
  const { zone } = shown.site;
  const nameOf = (id: string): string => shown.drums.find((drum) => drum.id === id)?.name ?? id;
  return (
    <div class="lots">
      <header class="top">
        <Places />
        <div class="top-end">
          <SettingsButton />
        </div>
      </header>
      <main>
        <h1>Lots</h1>
        {lots.length === 0 && <p>No batch has been opened yet. The first one gets its lot when it starts in a drum.</p>}
        {groupLots(lots).map(({ group, lots: some }) => (
          <section key={group} data-group={group === 'On hold' ? 'held' : 'other'} aria-labelledby={`lots-${group}`}>
            <h2 id={`lots-${group}`}>{group}</h2>
            <ul>
              {some.map((lot) => {
                const words = batchWords(lot, zone);
                return (
                  <li key={lot.lot}>
                    <Go class="lot-row" to={{ view: 'batch', lot: lot.lot }}>
                      <b>{lot.lot}</b>
                      <span>
                        {words.fruit} <span class="dim">{nameOf(lot.drum)}</span>
                      </span>
                      <span>{lot.jarsLeft === null ? (words.lot.split(' · ').at(-1) ?? '') : `${String(lot.jarsLeft)} jars here, ${words.lot.split(' · ').at(-1) ?? ''}`}</span>
                    </Go>
                  </li>
                );
              })}
            </ul>
          </section>
        ))}
        <StallSection zone={zone} nameOf={nameOf} />
        <p>
          <Go class="act-link" to={{ view: 'bench' }}>
            Bench trial: how much acid the jars need ›
          </Go>
        </p>
      </main>
    </div>
  );
};
