import { useEffect } from 'preact/hooks';
import type { RecordList, Verification } from '#contract';
import { moment } from '../../state/record-words.ts';

interface SealCheckProps {
  readonly list: RecordList;
  readonly check: Verification | null;
  readonly now: number;
  /** Only the owner checks. */
  readonly verify: ((start: boolean) => Promise<void>) | null;
}

const askAgainMs = 500;

/** The key of the site, the last seal, and the check of everything that is written. */
export const SealCheck = ({ list: { fingerprint, lastSeal, zone }, check, now, verify }: SealCheckProps) => {
  const running = check?.state === 'running';
  useEffect(() => {
    if (!running || verify === null) return undefined;
    const timer = setInterval(() => void verify(false), askAgainMs);
    return () => clearInterval(timer);
  }, [running, verify]);
  return (
    <div class="seal-check">
      <p>Key of the site</p>
      <p class="fingerprint">{fingerprint ?? 'none yet: it is made when the collector starts'}</p>
      <p>{lastSeal === null ? 'No day is sealed yet.' : `Last sealed: the day ${lastSeal.day}, ${moment(lastSeal.at, now, zone)}.`}</p>
      {verify !== null && (
        <button type="button" class="main-act" disabled={running} onClick={() => void verify(true)}>
          {running ? 'Checking …' : 'Check everything now'}
        </button>
      )}
      {check !== null && check.state !== 'never' && (
        <div role="status" class="verdict" data-state={check.state}>
          {running ? (
            <>
              <progress max={Math.max(1, check.ofEntries + (check.ofBlocks ?? 0))} value={check.entries + check.blocks} aria-label="Checked so far" />
              <p>
                {check.entries} of {check.ofEntries} journal entries, {check.days} sealed days, {check.blocks} {check.ofBlocks === null ? '' : `of ${String(check.ofBlocks)} `}blocks of readings
              </p>
            </>
          ) : (
            <>
              <p>
                <b>{check.state === 'intact' ? 'Intact' : check.state === 'fault' ? 'Not as it was written' : 'Not checked to the end'}</b>
                {check.endedAt !== null && `, checked ${moment(check.endedAt, now, zone)}`}
              </p>
              <p>{(check.text ?? '').replace(/^Intact: /, '')}</p>
            </>
          )}
        </div>
      )}
    </div>
  );
};
