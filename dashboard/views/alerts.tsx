import { useEffect, useMemo, useState } from 'preact/hooks';
import { Go } from '../parts/go.tsx';
import { Measures } from '../parts/alerts/measures.tsx';
import { OpenAlert } from '../parts/alerts/open-alert.tsx';
import { OutOfServiceList } from '../parts/alerts/out-of-service.tsx';
import { OutletsSection } from '../parts/alerts/outlets-section.tsx';
import { PastAlerts } from '../parts/alerts/past-alerts.tsx';
import { Options } from '../parts/forms/options.tsx';
import { Notice } from '../parts/notice.tsx';
import { Places } from '../parts/places.tsx';
import { useScreen } from '../parts/screen.ts';
import { SettingsButton } from '../parts/settings.tsx';
import { createAlertScreen, type AlertScreen } from '../state/alert-screen.ts';
import { alertSum } from '../state/alert-words.ts';
import { inOrder } from '../state/alerts.ts';
import type { AlertTab } from '../state/route.ts';
import '../parts/forms/forms.css';
import './alerts.css';

const tabs: readonly { readonly tab: AlertTab; readonly words: string }[] = [
  { tab: 'now', words: 'Now' },
  { tab: 'past', words: 'Over' },
  { tab: 'measures', words: 'Measures' },
  { tab: 'outlets', words: 'Who is told' },
];

/** Alerts: what is open and all that can be done about it, what is over, how well they serve, and who is told. */
export const AlertsView = ({ tab }: { readonly tab: AlertTab }) => {
  const { call, link, session, wall } = useScreen();
  const model = useMemo(() => createAlertScreen(call), [call]);
  // Any change of an alert reaches the wall at once: its sign is that this screen is out of date.
  const drums = wall.wall.value?.drums ?? [];
  const sign = drums.flatMap(({ alerts }) => alerts.map(({ id, state }) => `${id} ${state}`)).join(' ');
  useEffect(() => {
    document.title = 'Alerts · Brineward';
  }, []);
  useEffect(() => {
    void model.load();
    return link.onRegained(() => void model.load());
  }, [model, link, sign]);

  const open = model.open.value;
  const shown = wall.wall.value;
  const failure = model.failure.value;
  if (open === null || shown === null) {
    if (failure === null) return <p class="waiting">One moment …</p>;
    return (
      <Notice title={failure.title} urgent>
        {failure.detail} <Go to={{ view: 'wall' }}>To the wall</Go>
      </Notice>
    );
  }
  const nameOf = (id: string): string => drums.find((drum) => drum.id === id)?.name ?? id;
  return (
    <div class="alerts">
      <header class="top">
        <Places />
        <div class="top-end">
          <SettingsButton />
        </div>
      </header>
      <main>
        <h1>Alerts</h1>
        <nav class="tabs" aria-label="Alerts">
          {tabs
            .filter((each) => each.tab !== 'outlets' || session.mayWork.value)
            .map((each) => (
              <Go key={each.tab} to={{ view: 'alerts', tab: each.tab }} aria-current={each.tab === tab ? 'page' : undefined}>
                {each.words}
              </Go>
            ))}
        </nav>
        {failure !== null && <p class="problem">{failure.detail}</p>}
        {tab === 'now' && <Now model={model} zone={shown.site.zone} nameOf={nameOf} />}
        {tab === 'past' && <Past model={model} zone={shown.site.zone} nameOf={nameOf} />}
        {tab === 'measures' && <MeasuresTab model={model} nameOf={nameOf} />}
        {tab === 'outlets' && session.mayWork.value && <OutletsSection zone={shown.site.zone} />}
      </main>
    </div>
  );
};

interface TabProps {
  readonly model: AlertScreen;
  readonly zone: string;
  readonly nameOf: (drum: string) => string;
}

const Now = ({ model, zone, nameOf }: TabProps) => {
  const { settings, wall } = useScreen();
  const open = inOrder(model.open.value ?? []);
  const [aside, wanted] = [open.filter(({ state }) => state === 'shelved' || state === 'suppressed' || state === 'out-of-service'), open.filter(({ state }) => state === 'unacknowledged' || state === 'acknowledged' || state === 'returned')];
  const card = (alert: (typeof open)[number]) => (
    <OpenAlert key={alert.id} alert={alert} drum={wall.wall.value?.drums.find(({ id }) => id === alert.drum)} zone={zone} units={settings.units.value} model={model} />
  );
  return (
    <>
      <p class="alert-sum">{alertSum(open)}</p>
      <div class="alert-grid">{wanted.map(card)}</div>
      {aside.length > 0 && (
        <section aria-labelledby="put-aside">
          <h2 id="put-aside">Put aside</h2>
          <div class="alert-grid">{aside.map(card)}</div>
        </section>
      )}
      <OutOfServiceList model={model} zone={zone} nameOf={nameOf} />
    </>
  );
};

const Past = ({ model, zone, nameOf }: TabProps) => {
  const { clock, settings } = useScreen();
  useEffect(() => void model.loadPast(), [model]);
  const past = model.past.value;
  if (past === null) return <p class="waiting">One moment …</p>;
  return <PastAlerts alerts={past} now={clock.now.value} zone={zone} units={settings.units.value} nameOf={nameOf} />;
};

const spans = ['7', '30', '365'] as const;
const spanWords = { '7': '7 days', '30': '30 days', '365': 'a year' } as const;

const MeasuresTab = ({ model, nameOf }: Omit<TabProps, 'zone'>) => {
  const [days, setDays] = useState<(typeof spans)[number]>('30');
  useEffect(() => void model.loadMeasures(Number(days)), [model, days]);
  const measures = model.measures.value;
  return (
    <>
      <Options name="measure-days" legend="Over the last" options={spans} words={spanWords} chosen={days} onChoose={setDays} />
      {measures === null ? <p class="waiting">One moment …</p> : <Measures measures={measures} nameOf={nameOf} />}
    </>
  );
};
