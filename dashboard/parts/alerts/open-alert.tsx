import { useState } from 'preact/hooks';
import type { Alert, Drum } from '#contract';
import { pastMoment } from '../../format/time.ts';
import type { UnitChoice } from '../../format/units.ts';
import type { AlertScreen } from '../../state/alert-screen.ts';
import { ruleWords } from '../../state/alert-words.ts';
import { byWhom } from '../../state/story-words.ts';
import { AlertCard } from '../alert-card.tsx';
import { Go } from '../go.tsx';
import { useScreen } from '../screen.ts';
import { ActionForm, OutOfServiceForm, ShelveForm } from './alert-forms.tsx';

interface OpenAlertProps {
  readonly alert: Alert;
  readonly drum: Drum | undefined;
  readonly zone: string;
  readonly units: UnitChoice;
  readonly model: AlertScreen;
}

/** One alert with all that can be done about it. */
export const OpenAlert = ({ alert, drum, zone, units, model }: OpenAlertProps) => {
  const { clock, session } = useScreen();
  const [asks, setAsks] = useState<'shelve' | 'action' | 'stop' | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const now = clock.now.value;
  const mayWork = session.mayWork.value;
  const close = (): void => setAsks(null);
  const shelved = alert.state === 'shelved' && alert.shelf !== null;
  return (
    <AlertCard
      alert={alert} current={drum?.now[alert.quantity]} zone={zone} units={units} mayWork={mayWork} onAcknowledge={model.acknowledge}
      place={
        <p class="alert-place">
          {drum === undefined ? <b>The shed</b> : <Go to={{ view: 'drum', drum: drum.id }}>{drum.name}</Go>}
          <span class="dim">{ruleWords(alert.rule)}</span>
        </p>
      }
    >
      {alert.shelf !== null && (
        <p>
          Put aside by {byWhom(alert.shelf.by)} until {untilWords(Date.parse(alert.shelf.until), now, zone)}: {alert.shelf.reason}
        </p>
      )}
      {alert.actions.map(({ at, by, text, disposition }) => (
        <p key={at} class="alert-done">
          <b>{pastMoment(Date.parse(at), now, zone)}</b> {byWhom(by)}: {text}
          {disposition === null ? '' : ` (fruit ${disposition})`}
        </p>
      ))}
      {mayWork && (
        <div class="alert-acts">
          <button type="button" onClick={() => setAsks('action')}>
            What was done
          </button>
          {shelved ? (
            <button type="button" onClick={() => void model.unshelve(alert.id).then((failure) => setProblem(failure === null ? null : `${failure.title}. ${failure.detail}`))}>
              Take it back
            </button>
          ) : (
            alert.state !== 'out-of-service' &&
            alert.state !== 'suppressed' && (
              <button type="button" onClick={() => setAsks('shelve')}>
                Put aside
              </button>
            )
          )}
          {session.isOwner.value && alert.drum !== null && alert.state !== 'out-of-service' && (
            <button type="button" class="quiet" onClick={() => setAsks('stop')}>
              Stop judging this limit
            </button>
          )}
        </div>
      )}
      {problem !== null && <p role="alert">{problem}</p>}
      {asks === 'shelve' && <ShelveForm alert={alert} onShelve={(minutes, reason) => model.shelve(alert.id, minutes, reason)} onClose={close} />}
      {asks === 'action' && <ActionForm alert={alert} onAction={(text, disposition) => model.writeAction(alert.id, text, disposition)} onClose={close} />}
      {asks === 'stop' && alert.drum !== null && <OutOfServiceForm alert={alert} onStop={(reason) => model.stopJudging(alert.drum ?? '', alert.rule, reason)} onClose={close} />}
    </AlertCard>
  );
};

/** A time ahead: the hour alone says it on the same day. */
const untilWords = (until: number, now: number, zone: string): string => pastMoment(until, until - now < 12 * 3_600_000 ? until : now, zone);
