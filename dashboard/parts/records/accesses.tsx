import { useState } from 'preact/hooks';
import type { Inspection } from '#contract';
import { accessWords, formWord, moment } from '../../state/record-words.ts';

interface AccessesProps {
  readonly inspections: readonly Inspection[];
  readonly others: Inspection['seen'];
  readonly now: number;
  readonly zone: string;
  readonly onRevoke: (id: string) => void;
}

/** Who was let in, and what each looked at. */
export const Accesses = ({ inspections, others, now, zone, onRevoke }: AccessesProps) => {
  const ended = inspections.filter(({ state }) => state !== 'open');
  return (
    <>
      {inspections.length === 0 && others.length === 0 && <p class="dim">Nobody was let in yet.</p>}
      <ul class="accesses">
        {inspections
          .filter(({ state }) => state === 'open')
          .map((each) => (
            <Access key={each.id} access={each} now={now} zone={zone} onRevoke={() => onRevoke(each.id)} />
          ))}
        {others.length > 0 && (
          <li>
            <h3>Accounts with a name</h3>
            <Seen seen={others} now={now} zone={zone} named />
          </li>
        )}
      </ul>
      {ended.length > 0 && (
        <details>
          <summary>{ended.length === 1 ? 'One is over' : `${String(ended.length)} are over`}</summary>
          <ul class="accesses">
            {ended.map((each) => (
              <Access key={each.id} access={each} now={now} zone={zone} onRevoke={() => onRevoke(each.id)} />
            ))}
          </ul>
        </details>
      )}
    </>
  );
};

const Access = ({ access, now, zone, onRevoke }: { readonly access: Inspection; readonly now: number; readonly zone: string; readonly onRevoke: () => void }) => {
  const [sure, setSure] = useState(false);
  return (
    <li data-state={access.state}>
      <h3>{access.name}</h3>
      <p>
        {access.lots.join(', ')} <span class="dim">{accessWords(access, now, zone)}</span>
      </p>
      <Seen seen={access.seen} now={now} zone={zone} />
      {access.state === 'open' && (
        <button type="button" class="quiet" onClick={() => (sure ? onRevoke() : setSure(true))}>
          {sure ? 'Take back now' : 'Take back'}
        </button>
      )}
    </li>
  );
};

const Seen = ({ seen, now, zone, named = false }: { readonly seen: Inspection['seen']; readonly now: number; readonly zone: string; readonly named?: boolean }) => {
  if (seen.length === 0) return <p class="dim">Nothing looked at.</p>;
  return (
    <details>
      <summary>
        {seen.length === 1 ? 'One look' : `${String(seen.length)} looks`}, the last {moment(seen[0]?.at ?? '', now, zone)}
      </summary>
      <ul>
        {seen.map(({ lot, form, at, by }) => (
          <li key={`${lot} ${form} ${at} ${by}`}>
            {moment(at, now, zone)}: {lot}, {formWord(form)}
            {named && `, by ${by}`}
          </li>
        ))}
      </ul>
    </details>
  );
};
