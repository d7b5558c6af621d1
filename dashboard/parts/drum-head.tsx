import type { Drum } from '#contract';
import { batchWords } from '../state/batch-words.ts';
import { inOrder, isUnseen } from '../state/alerts.ts';
import { inWords, showQuantity } from '../format/units.ts';
import { shown } from '../state/value.ts';
import { Go } from './go.tsx';
import { Mark } from './mark.tsx';
import { useScreen } from './screen.ts';
import { ageWords, BigTemperature, phWords } from './value.tsx';

/** Who it is, how warm it is, and how that is to be read. */
export const DrumHead = ({ drum, zone, live }: { readonly drum: Drum; readonly zone: string; readonly live: boolean }) => {
  const { settings, clock } = useScreen();
  const now = clock.now.value;
  const units = settings.units.value;
  const words = batchWords(drum.batch, zone);
  const emptied = drum.batch?.jarredAt != null;
  const ph = phWords(drum.now.ph, now);
  const salt = shown(drum.now.salinity);
  const saltWords = salt.kind === 'absent' || salt.value === null ? null : `salt ${inWords(showQuantity(salt.value, 'g/L', units))}, ${ageWords(drum.now.salinity, now, zone, live)}`;
  return (
    <section class="drum-head" data-live={live ? 'yes' : 'no'} aria-label="Now">
      <h1>{drum.name}</h1>
      <p class="dim">
        {drum.batch === null ? `empty, ${String(drum.volumeL)} L` : words.fruit}
        {drum.batch !== null && (
          <>
            {' '}
            <Go class="lot-link" to={{ view: 'batch', lot: drum.batch.lot }}>
              {words.lot}
            </Go>
          </>
        )}
      </p>
      <BigTemperature value={drum.now.temperature} units={units} emptied={emptied} />
      <p class="drum-state">
        <span class="flag chip" data-state={drum.flag.state}>
          <Mark state={drum.flag.state} /> {drum.flag.word}
          {inOrder(drum.alerts).some(isUnseen) && ', unseen'}
        </span>
        <span class="dim">{ageWords(drum.now.temperature, now, zone, live)}</span>
      </p>
      {(ph !== null || saltWords !== null) && (
        <p class="dim">{[ph, saltWords].filter((part) => part !== null).join(' · ')}</p>
      )}
      {words.forecast !== '' && <p>{forecastWords(drum)}</p>}
    </section>
  );

  function forecastWords({ batch }: Drum): string {
    if (batch === null) return '';
    return 'unknown' in batch.forecast ? `Ready date not known yet: ${batch.forecast.unknown}.` : `${words.forecast.charAt(0).toUpperCase()}${words.forecast.slice(1)}; ${batch.forecast.basis}. Sweet says nothing about safety.`;
  }
};
