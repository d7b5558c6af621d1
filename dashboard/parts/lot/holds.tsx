import type { OpenHold } from '#contract';
import { pastMoment } from '../../format/time.ts';
import { signName } from '../../state/signs.ts';
import './holds.css';

interface HoldsProps {
  readonly holds: readonly OpenHold[];
  readonly now: number;
  readonly zone: string;
  readonly onRelease: (() => void) | null;
}

/** A reason that comes of a sign begins with its id, which becomes the words people know. */
const reasonWords = ({ reason, from }: OpenHold): string => {
  if (from !== 'sign') return reason;
  const [id = '', ...rest] = reason.split(': ');
  const [name, mayBe] = [signName(id), rest.join(': ')];
  return mayBe === '' || name === mayBe ? name : `${name}, which may be ${mayBe}`;
};

/** Why a lot may not leave, too large to be missed. */
export const Holds = ({ holds, now, zone, onRelease }: HoldsProps) => {
  if (holds.length === 0) return null;
  return (
    <section class="hold-board" aria-labelledby="hold-title">
      <h2 id="hold-title">
        <svg viewBox="0 0 24 24" aria-hidden="true">
          <path d="M6.5 2.500h11L23 12l-5.500 9.500h-11L1 12z" fill="currentColor" />
          <path d="M6.500 12h11" class="bar" />
        </svg>
        On hold
      </h2>
      <ul>
        {holds.map((hold) => (
          <li key={hold.entry}>
            <b>{reasonWords(hold)}</b>
            <span>
              {hold.from === 'sign' ? 'seen' : 'held'} {pastMoment(Date.parse(hold.at), now, zone)} by {hold.by}
            </span>
          </li>
        ))}
      </ul>
      <p>Nobody tastes and no jar leaves until it is released.</p>
      {onRelease !== null && (
        <button type="button" class="quiet" onClick={onRelease}>
          Release, with who answers for it
        </button>
      )}
    </section>
  );
};
