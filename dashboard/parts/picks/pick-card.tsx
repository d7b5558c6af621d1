import type { Pick } from '#contract';
import { clockWords, dayWords, massWords, maturityWords, openPicks, placeWords, waysOf } from '../../state/pick-words.ts';
import { Go } from '../go.tsx';
import { MaturityStrip } from './maturity-strip.tsx';

export type PickSheet = 'facts' | 'count' | 'sorted' | 'start' | 'take-back';

interface PickCardProps {
  readonly pick: Pick;
  readonly zone: string;
  readonly drumName: (id: string) => string;
  readonly onOpen: (sheet: PickSheet) => void;
}

const acts: readonly { readonly sheet: PickSheet; readonly words: string }[] = [
  { sheet: 'facts', words: 'Weigh, tell more' },
  { sheet: 'count', words: 'Count ripeness' },
  { sheet: 'sorted', words: 'Sorted' },
  { sheet: 'start', words: 'Start a batch' },
];

/** One pick: what it is, how ripe, how long it waits, and where it went. */
export const PickCard = ({ pick, zone, drumName, onOpen }: PickCardProps) => {
  const isOpen = openPicks([pick]).length > 0;
  const clock = clockWords(pick);
  const ways = waysOf(pick, drumName);
  const counts = pick.maturity?.counts ?? null;
  const words = maturityWords(pick);
  const whole = Math.max(pick.pickedKg ?? 0, ways.reduce((sum, way) => sum + way.kg, 0));
  return (
    <li class="pick-card" data-back={pick.takenBack === null ? undefined : 'true'}>
      <header>
        <h2>{pick.pick}</h2>
        <p>
          {dayWords(pick, zone)}, {placeWords(pick)}
        </p>
        <p class="pick-mass">{massWords(pick)}</p>
      </header>
      {pick.takenBack !== null && <p class="caution">Taken back: {pick.takenBack}</p>}
      <div class="pick-body">
        <div>
          {counts !== null && <MaturityStrip counts={counts} words={words} />}
          <p class={counts === null ? 'dim' : ''}>{words}</p>
        </div>
        <div class="pick-ways">
          {whole > 0 && (
            <div class="ways-bar" aria-hidden="true">
              {ways.map((way) => (
                <i key={way.text} data-kind={way.kind} style={{ flexGrow: way.kg }} />
              ))}
            </div>
          )}
          <ul>
            {ways.map((way) => (
              <li key={way.text} data-kind={way.kind}>
                {way.lot === undefined ? way.text : <Go to={{ view: 'batch', lot: way.lot }}>{way.text}</Go>}
              </li>
            ))}
          </ul>
          {clock !== null && (
            <p class="pick-clock" data-mark={clock.mark}>
              {clock.mark === 'late' && <b>Late: </b>}
              {clock.text}
            </p>
          )}
        </div>
      </div>
      {pick.warnings.map((warning) => (
        <p key={warning} class="caution">
          {warning}
        </p>
      ))}
      {pick.takenBack === null && (isOpen ? <Acts pick={pick} onOpen={onOpen} /> : (
        <details>
          <summary>
            Tell more<span class="hidden-words"> of {pick.pick}</span>
          </summary>
          <Acts pick={pick} onOpen={onOpen} />
        </details>
      ))}
    </li>
  );
};

const Acts = ({ pick, onOpen }: { readonly pick: Pick; readonly onOpen: (sheet: PickSheet) => void }) => (
  <div class="pick-acts">
    {acts.map(({ sheet, words }) => (
      <button key={sheet} type="button" aria-label={`${words}: ${pick.pick}`} onClick={() => onOpen(sheet)}>
        {words}
      </button>
    ))}
    {pick.batches.length === 0 && (
      <button type="button" class="quiet" aria-label={`No such pick: ${pick.pick}`} onClick={() => onOpen('take-back')}>
        No such pick
      </button>
    )}
  </div>
);
