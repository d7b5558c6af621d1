import { Go } from './go.tsx';
import { Places } from './places.tsx';
import { useScreen } from './screen.ts';
import { SettingsButton } from './settings.tsx';
import { SoundWaits } from './sound-waits.tsx';

/** What the marks mean, and the few things a wall can be asked to do. */
export const WallFoot = ({ list, page, pages, paused, onPause, onTurn }: { readonly list: boolean; readonly page: number; readonly pages: number; readonly paused: boolean; readonly onPause: () => void; readonly onTurn: () => void }) => {
  const { session, wall } = useScreen();
  const fingerprint = wall.wall.value?.site.keyFingerprint ?? null;
  return (
    <footer class="wall-foot">
      <ul class="legend" aria-label="What the marks mean">
        <li>
          <svg viewBox="0 0 16 16" aria-hidden="true">
            <path d="M8 2.5 14 14H2z" class="key-ink" />
          </svg>
          brine changed
        </li>
        <li>
          <svg viewBox="0 0 16 16" aria-hidden="true">
            <circle cx="8" cy="8" r="6.4" class="key-ring" />
            <path d="M6.2 5.8q1.800-1.600 3.300-.2 1.200 1.500-.8 2.300 2.300.6 1.200 2.400-1.500 1.500-3.700.1" class="key-line" />
          </svg>
          tasted, bitterness of 10
        </li>
        <li>
          <svg viewBox="0 0 16 16" aria-hidden="true">
            <rect x="0" y="2" width="16" height="12" class="key-body" />
            <rect x="0" y="5" width="16" height="6" class="key-band" />
          </svg>
          safe range
        </li>
        <li>
          <svg viewBox="0 0 16 16" aria-hidden="true">
            <path d="M1 11q7-8 14-3" class="key-outside" />
          </svg>
          outside it
        </li>
        <li>
          <svg viewBox="0 0 16 16" aria-hidden="true">
            <rect x="0" y="2" width="16" height="12" class="key-haze" />
            <path d="M8 2v12" class="key-median" />
          </svg>
          likely sweet, darker is likelier
        </li>
      </ul>
      <div class="foot-acts">
        {fingerprint !== null && <span class="key-code" title="The code of the key that seals records here: the same stands on the papers">key {fingerprint}</span>}
        {pages > 1 && (
          <>
            <span>
              page {page + 1} of {pages}
            </span>
            <button type="button" onClick={onTurn}>
              Next page
            </button>
            <button type="button" aria-pressed={paused} onClick={onPause}>
              {paused ? 'Turn pages' : 'Stop turning'}
            </button>
          </>
        )}
        <SoundWaits />
        {!list && <Places />}
        {session.isOwner.value && <Go to={{ view: 'start' }}>Add a drum</Go>}
        <SettingsButton />
      </div>
    </footer>
  );
};
