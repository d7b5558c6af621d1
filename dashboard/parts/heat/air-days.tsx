import { useState } from 'preact/hooks';
import type { AirForecast, HeatPlan } from '#contract';
import type { Failure } from '../../client/call.ts';
import { longDay } from '../../format/time.ts';
import { showTemperature, toFahrenheit, typedNumber, type UnitChoice } from '../../format/units.ts';

type Day = NonNullable<HeatPlan['air']>['days'][number];

interface AirDaysProps {
  readonly days: readonly Day[];
  readonly zone: string;
  readonly units: UnitChoice;
  readonly mayWork: boolean;
  readonly onSet: (day: AirForecast) => Promise<Failure | null>;
}

/** What the air will be: typed for a day from a weather forecast, otherwise the last day again. */
export const AirDays = ({ days, zone, units, mayWork, onSet }: AirDaysProps) => (
  <section class="air-days" aria-labelledby="air-days">
    <h2 id="air-days">Air in the shed</h2>
    <p class="dim">No forecast comes in by itself. Type the lowest and highest you expect in the shed; a day left empty is taken to be like the last 24 hours.</p>
    <ol>
      {days.map((day) => (
        <AirDayRow key={`${day.day} ${String(day.lowC)} ${String(day.highC)}`} day={day} zone={zone} units={units} mayWork={mayWork} onSet={onSet} />
      ))}
    </ol>
  </section>
);

const AirDayRow = ({ day, zone, units, mayWork, onSet }: Omit<AirDaysProps, 'days'> & { readonly day: Day }) => {
  const own = (celsius: number | null): string => (celsius === null ? '' : String(Math.round(units.temperature === 'F' ? toFahrenheit(celsius) : celsius)));
  const [low, setLow] = useState(own(day.lowC));
  const [high, setHigh] = useState(own(day.highC));
  const [busy, setBusy] = useState(false);
  const [problem, setProblem] = useState<string | null>(null);
  const name = longDay(Date.parse(`${day.day}T12:00:00Z`), zone);
  const celsius = (text: string): number | null => {
    const value = typedNumber(text);
    return value === null ? null : units.temperature === 'F' ? ((value - 32) * 5) / 9 : value;
  };
  const send = async (lowC: number | null, highC: number | null): Promise<void> => {
    setBusy(true);
    const failure = await onSet({ day: day.day, lowC, highC });
    setBusy(false);
    setProblem(failure === null ? null : failure.detail);
  };
  const unit = units.temperature === 'F' ? '°F' : '°C';
  return (
    <li>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          const [lowC, highC] = [celsius(low), celsius(high)];
          if (lowC === null || highC === null) setProblem('Type both, the lowest and the highest.');
          else void send(lowC, highC);
        }}
      >
        <b class="air-day">{name}</b>
        <label>
          lowest {unit}
          <input type="text" inputMode="numeric" value={low} placeholder={showTemperature(day.likeLowC, units, 0).text} disabled={!mayWork} onInput={({ currentTarget }) => setLow(currentTarget.value)} />
        </label>
        <label>
          highest {unit}
          <input type="text" inputMode="numeric" value={high} placeholder={showTemperature(day.likeHighC, units, 0).text} disabled={!mayWork} onInput={({ currentTarget }) => setHigh(currentTarget.value)} />
        </label>
        {mayWork && (
          <button type="submit" class="main-act" disabled={busy}>
            Set<span class="hidden-words"> the air of {name}</span>
          </button>
        )}
        {mayWork && day.lowC !== null && (
          <button type="button" class="quiet" disabled={busy} onClick={() => void send(null, null)}>
            Like the last day<span class="hidden-words"> on {name}</span>
          </button>
        )}
      </form>
      {problem !== null && <p class="problem" role="alert">{problem}</p>}
    </li>
  );
};
