import { useEffect } from 'preact/hooks';
import { Notice } from '../parts/notice.tsx';
import { later } from '../parts/later.tsx';
import { Go } from '../parts/go.tsx';
import { useScreen } from '../parts/screen.ts';
import { useShed } from '../parts/use-shed.ts';
import { WallView } from './wall.tsx';

const DrumView = later(async () => (await import('./drum.tsx')).DrumView);
const TodayView = later(async () => (await import('./today.tsx')).TodayView);
const AlertsView = later(async () => (await import('./alerts.tsx')).AlertsView);
const RoundView = later(async () => (await import('./round.tsx')).RoundView);
const BatchView = later(async () => (await import('./batch.tsx')).BatchView);
const LotsView = later(async () => (await import('./lots.tsx')).LotsView);
const PicksView = later(async () => (await import('./picks.tsx')).PicksView);
const BenchView = later(async () => (await import('./bench.tsx')).BenchView);
const TypeInView = later(async () => (await import('./type-in.tsx')).TypeInView);
const StartView = later(async () => (await import('./start.tsx')).StartView);
const WorkOutView = later(async () => (await import('./work-out.tsx')).loadWorkOut());
const CompareView = later(async () => (await import('./compare.tsx')).CompareView);
const SeasonView = later(async () => (await import('./season.tsx')).SeasonView);
const HeatPlanView = later(async () => (await import('./heat-plan.tsx')).HeatPlanView);
const TraceView = later(async () => (await import('./trace.tsx')).TraceView);
const StoresView = later(async () => (await import('./stores.tsx')).StoresView);
const RecordsView = later(async () => (await import('./records.tsx')).RecordsView);
const InspectView = later(async () => (await import('./inspect.tsx')).InspectView);
const ProbesView = later(async () => (await import('./probes.tsx')).ProbesView);
const LoggerFileView = later(async () => (await import('./logger-file.tsx')).LoggerFileView);
const ReadinessView = later(async () => (await import('./readiness.tsx')).ReadinessView);
const DeviationsView = later(async () => (await import('./deviations.tsx')).DeviationsView);
const InstrumentsView = later(async () => (await import('./instruments.tsx')).InstrumentsView);
const SignInView = later(async () => (await import('./sign-in.tsx')).SignInView);

/** What somebody with a phone in the shed will want, fetched while there is signal. The wall on its hook does not need it. */
const onPhone = (): boolean => matchMedia('(max-width: 900px), (pointer: coarse)').matches;
const fetchViews = (): void => void Promise.allSettled([import('./today.tsx'), import('./round.tsx'), import('./drum.tsx'), import('../parts/kept-dialog.tsx')]);

/** Chooses the screen: sign-in before all else, the first steps while there is no drum, else what the address says. */
export const App = () => {
  const { session, link, today, wall, route, go } = useScreen();
  const user = session.session.value?.user ?? null;
  const watches = user !== null && user.role !== 'inspector';
  const view = route.value;
  const empty = wall.wall.value !== null && wall.wall.value.drums.length === 0;

  useEffect(() => {
    void session.load();
  }, [session]);

  useEffect(() => {
    if (!watches) return undefined;
    link.start();
    void wall.refresh();
    return link.stop;
  }, [watches, link, wall]);

  const ahead = session.mayWork.value && onPhone();
  useShed(ahead || (session.mayWork.value && (view.view === 'today' || view.view === 'round' || view.view === 'type-in' || view.view === 'batch')));
  useEffect(() => {
    if (!ahead) return undefined;
    const timer = setTimeout(() => {
      fetchViews();
      void today.load();
    }, 1_000);
    return () => clearTimeout(timer);
  }, [ahead, today]);

  useEffect(() => {
    if (view.view === 'wall' && empty && session.isOwner.value) go({ view: 'start' }, 'replace');
    if (view.view === 'sign-in' && user !== null) go({ view: 'wall' }, 'replace');
  }, [view, empty, user, go, session]);

  if (session.session.value === null) return <Waiting />;
  if (view.view === 'inspect') return <InspectView lot={view.lot} />;
  if (user === null) return <SignInView />;
  if (!watches) return <InspectView lot={null} />;
  switch (view.view) {
    case 'wall':
    case 'sign-in':
      return <WallView />;
    case 'drum':
      return <DrumView key={view.drum} drum={view.drum} />;
    case 'batch':
      return <BatchView key={view.lot} lot={view.lot} />;
    case 'trace':
      return <TraceView of={view.of} />;
    case 'stores':
      return <StoresView />;
    case 'records':
      return <RecordsView />;
    case 'lots':
      return <LotsView />;
    case 'picks':
      return <PicksView />;
    case 'bench':
      return <BenchView />;
    case 'today':
      return <TodayView />;
    case 'alerts':
      return <AlertsView tab={view.tab} />;
    case 'round':
      return <RoundView />;
    case 'type-in':
      return <TypeInView />;
    case 'start':
      return <StartView />;
    case 'work-out':
      return <WorkOutView tool={view.tool} inputs={view.inputs} />;
    case 'compare':
      return <CompareView pair={view.pair} bitterness={view.bitterness} />;
    case 'season':
      return <SeasonView year={view.year} />;
    case 'probes':
      return <ProbesView />;
    case 'logger-file':
      return <LoggerFileView />;
    case 'readiness':
      return <ReadinessView />;
    case 'deviations':
      return <DeviationsView />;
    case 'instruments':
      return <InstrumentsView />;
    case 'heat-plan':
      return <HeatPlanView />;
    case 'unknown':
      return (
        <Notice title="There is no such page">
          <Go to={{ view: 'wall' }}>To the wall</Go>
        </Notice>
      );
  }
};

const Waiting = () => {
  const { session } = useScreen();
  const failure = session.failure.value;
  useEffect(() => {
    if (failure === null) return undefined;
    const again = setInterval(() => void session.load(), 5_000);
    return () => clearInterval(again);
  }, [failure, session]);
  if (failure === null) return <p class="waiting">Looking at the shed …</p>;
  return (
    <Notice title={failure.title} urgent>
      {failure.detail} This page tries again by itself.
    </Notice>
  );
};
