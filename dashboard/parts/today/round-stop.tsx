import type { RefObject } from 'preact';
import type { BatchDetail, Drum, Sign } from '#contract';
import type { UnitChoice } from '../../format/units.ts';
import { nextFor } from '../../state/next.ts';
import { formFor, type ActForm } from '../../state/task-act.ts';
import { ActGrid } from '../act-grid.tsx';
import { DueMark, Mark } from '../mark.tsx';
import { SignCard } from '../sign-card.tsx';
import { useScreen } from '../screen.ts';
import { ageWords, BigTemperature } from '../value.tsx';

interface RoundStopProps {
  readonly drum: Drum;
  readonly batch: BatchDetail | null;
  readonly head: RefObject<HTMLHeadingElement | null>;
  readonly now: number;
  readonly zone: string;
  readonly units: UnitChoice;
  readonly seen: boolean;
  readonly sign: { readonly sign: Sign; readonly drum: string } | null;
  readonly onReadSign: () => void;
  readonly onAct: (form: ActForm) => void;
}

/** One drum of the round: which, how warm, what it wants, and the acts. */
export const RoundStop = ({ drum, batch, head, now, zone, units, seen, sign, onReadSign, onAct }: RoundStopProps) => {
  const { link } = useScreen();
  const next = nextFor(drum, { now, zone, units });
  const due = next.mark === 'none' || drum.nextTask === null ? null : formFor(drum.nextTask);
  return (
    <>
      <section class="stop-head">
        <h1 ref={head} tabIndex={-1}>
          {drum.name}
        </h1>
        <BigTemperature value={drum.now.temperature} units={units} emptied={false} />
        <p class="dim">
          {drum.batch?.cut}, day {drum.batch?.day}
          {seen && <b> · written</b>}
        </p>
        <p class="stop-state">
          <span class="flag chip" data-state={drum.flag.state}>
            <Mark state={drum.flag.state} /> {drum.flag.word}
          </span>{' '}
          <span class="dim">{ageWords(drum.now.temperature, now, zone, link.connection.value.state !== 'lost')}</span>
        </p>
      </section>
      {sign !== null && <SignCard {...sign} onClose={onReadSign} />}
      {due !== null ? (
        <button type="button" class="due-act" onClick={() => onAct(due)}>
          <span class="due-title">
            <DueMark /> {next.title}
          </span>
          <span>{next.detail}</span>
        </button>
      ) : (
        next.title !== '' && (
          <p class="stop-next">
            <b>{next.title}</b> <span class="dim">{next.detail}</span>
          </p>
        )
      )}
      <ActGrid batch={batch} now={now} units={units} onAct={onAct} numbered />
    </>
  );
};
