import { useComputed } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import { AirDays } from '../parts/heat/air-days.tsx';
import { DrumHeatSection } from '../parts/heat/drum-heat-section.tsx';
import { HeatKey } from '../parts/heat/heat-picture.tsx';
import { Go } from '../parts/go.tsx';
import { Notice } from '../parts/notice.tsx';
import { Places } from '../parts/places.tsx';
import { useScreen } from '../parts/screen.ts';
import { SettingsButton } from '../parts/settings.tsx';
import { createHeat } from '../state/heat/heat.ts';
import '../parts/forms/forms.css';
import '../parts/ribbon/ribbon.css';
import './heat-plan.css';

const againMs = 10 * 60_000;

/** Which drum passes which limit when in the next two days, and what helps. */
export const HeatPlanView = () => {
  const { call, clock, link, session, settings } = useScreen();
  const model = useMemo(() => createHeat(call), [call]);
  const turn = useComputed(() => Math.floor(clock.now.value / againMs)).value;
  useEffect(() => {
    document.title = 'Heat plan · Brineward';
  }, []);
  useEffect(() => {
    void model.load();
    return link.onRegained(() => void model.load());
  }, [model, link, turn]);

  const plan = model.plan.value;
  const failure = model.failure.value;
  if (plan === null) {
    if (failure === null) return <p class="waiting">One moment …</p>;
    return (
      <Notice title={failure.title} urgent>
        {failure.detail} <Go to={{ view: 'wall' }}>To the wall</Go>
      </Notice>
    );
  }
  const units = settings.units.value;
  const now = Date.parse(plan.now);
  const passing = plan.drums.filter(({ outside, crossing }) => outside !== null || crossing !== null).length;
  return (
    <div class="heat-plan">
      <header class="top">
        <Places />
        <div class="top-end">
          <SettingsButton />
        </div>
      </header>
      <main>
        <header class="heat-head">
          <h1>Heat plan</h1>
          <p class="heat-sum">{sumOf(plan.drums.length, passing)}</p>
          <p class="dim">{plan.caution}</p>
        </header>
        {plan.air === null ? (
          <p class="none-yet">Nothing can be foretold without the air of the shed. Hang a probe in the air by the drums, and let it speak for a day.</p>
        ) : (
          <AirDays days={plan.air.days} zone={plan.zone} units={units} mayWork={session.mayWork.value} onSet={model.setAir} />
        )}
        {plan.drums.length > 0 && <HeatKey />}
        {plan.drums.map((heat) => (
          <DrumHeatSection key={heat.drum} heat={heat} air={plan.air} now={now} zone={plan.zone} units={units} />
        ))}
      </main>
    </div>
  );
};

const sumOf = (drums: number, passing: number): string => {
  if (drums === 0) return 'There is no fruit in a drum now.';
  if (passing === 0) return 'No drum is foreseen to pass a limit in the next two days.';
  return passing === 1 ? 'One drum is past a limit or will be within two days.' : `${String(passing)} drums are past a limit or will be within two days. The most urgent stands first.`;
};
