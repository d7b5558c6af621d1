import type { ComponentChildren } from 'preact';
import { useEffect } from 'preact/hooks';
import type { Failure } from '../../client/call.ts';
import type { Route } from '../../state/route.ts';
import { Go } from '../go.tsx';
import { Notice } from '../notice.tsx';
import { Places } from '../places.tsx';
import { useScreen } from '../screen.ts';
import { SettingsButton } from '../settings.tsx';
import '../forms/forms.css';
import './inspection.css';

const tabs = [
  { words: 'Readiness', to: { view: 'readiness' } },
  { words: 'Deviations', to: { view: 'deviations' } },
  { words: 'Instruments', to: { view: 'instruments' } },
] as const satisfies readonly { readonly words: string; readonly to: Route }[];

/** The frame of the three screens that belong together, each one touch from the others. */
export const InspectionFrame = ({ title, failure, loaded, children }: { readonly title: string; readonly failure: Failure | null; readonly loaded: boolean; readonly children: ComponentChildren }) => {
  const { route } = useScreen();
  useEffect(() => {
    document.title = `${title} · Brineward`;
  }, [title]);
  if (!loaded) {
    if (failure === null) return <p class="waiting">One moment …</p>;
    return (
      <Notice title={failure.title} urgent>
        {failure.detail} <Go to={{ view: 'wall' }}>To the wall</Go>
      </Notice>
    );
  }
  return (
    <div class="inspection">
      <header class="top">
        <Places />
        <div class="top-end">
          <SettingsButton />
        </div>
      </header>
      <main>
        <nav class="inspection-tabs" aria-label="Before an inspector comes">
          {tabs.map(({ words, to }) => (
            <Go key={words} to={to} aria-current={route.value.view === to.view ? 'page' : undefined}>
              {words}
            </Go>
          ))}
        </nav>
        <h1>{title}</h1>
        {failure !== null && (
          <p class="problem" role="alert">
            {failure.title}. {failure.detail}
          </p>
        )}
        {children}
      </main>
    </div>
  );
};
