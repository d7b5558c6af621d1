import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import type { Alert, NowValue } from '#contract';
import type { Failure } from '../client/call.ts';
import { age } from '../format/age.ts';
import { pastMoment } from '../format/time.ts';
import { inWords, showLimit, showQuantity, type UnitChoice } from '../format/units.ts';
import { isUnseen } from '../state/alerts.ts';
import { isMeasured } from '../state/value.ts';
import { byWhom } from '../state/story-words.ts';
import { useScreen } from './screen.ts';
import './alert-card.css';

interface AlertCardProps {
  readonly alert: Alert;
  /** What the quantity of the alert is now. */
  readonly current: NowValue | undefined;
  readonly zone: string;
  readonly units: UnitChoice;
  readonly mayWork: boolean;
  readonly onAcknowledge: (id: string) => Promise<Failure | null>;
  /** Above its text: where it is. */
  readonly place?: ComponentChildren;
  /** Below: what else can be done. */
  readonly children?: ComponentChildren;
}

const quantityUnits = new Set(['Cel', 'pH', 'g/L']);

/** The three answers: what is wrong, how bad it is, what to do now. */
export const AlertCard = ({ alert, current, zone, units, mayWork, onAcknowledge, place, children }: AlertCardProps) => {
  const [problem, setProblem] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const now = useScreen().clock.now.value;
  const since = Date.parse(alert.since);
  const ended = alert.returnedAt === null ? null : Date.parse(alert.returnedAt);
  const amount = (value: number | null): string | null => (value === null || !quantityUnits.has(alert.limit.unit) ? null : inWords(showQuantity(value, alert.limit.unit, units)));
  const rows = [
    ['now', current !== undefined && isMeasured(current) && current.quality === 'good' ? amount(current.value) : null],
    ['at first', amount(alert.value)],
    ['furthest', alert.peak === alert.value ? null : amount(alert.peak)],
    ['limit', alert.limit.value === null || !quantityUnits.has(alert.limit.unit) ? null : inWords(showLimit(alert.limit.value, alert.limit.unit, units))],
    ['since', `${pastMoment(since, now, zone)}, ${ended === null ? `${age(now - since)} so far` : `back inside ${pastMoment(ended, now, zone)}`}`],
    ['source', alert.limit.source],
  ] as const;
  return (
    <article class="alert-card" data-priority={alert.priority} data-state={alert.state}>
      {place}
      <h2>
        {alert.text}
        <span class="alert-state">
          {alert.priority} priority, {stateWords[alert.state]}
        </span>
      </h2>
      <dl>
        {rows.map(([name, value]) =>
          value === null ? null : (
            <div key={name}>
              <dt>{name}</dt>
              <dd>{value}</dd>
            </div>
          ),
        )}
      </dl>
      <p class="alert-advice">
        <b>Do now: </b>
        {alert.advice}
      </p>
      {isUnseen(alert) && mayWork && (
        <button
          type="button"
          class="main-act"
          disabled={busy}
          onClick={() => {
            setBusy(true);
            void onAcknowledge(alert.id).then((failure) => {
              setBusy(false);
              setProblem(failure === null ? null : `${failure.title}. ${failure.detail}`);
            });
          }}
        >
          I have seen this
        </button>
      )}
      {alert.acknowledgedBy !== null && <p class="alert-seen">seen by {byWhom(alert.acknowledgedBy)}</p>}
      {children}
      {problem !== null && <p role="alert">{problem}</p>}
    </article>
  );
};

const stateWords: Readonly<Record<Alert['state'], string>> = {
  normal: 'over', unacknowledged: 'not yet seen', acknowledged: 'seen', returned: 'back inside, not yet seen', shelved: 'shelved', suppressed: 'suppressed', 'out-of-service': 'out of service',
};
