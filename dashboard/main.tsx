/**
 * The dashboard: browser code only. It learns the server from the contract and may import nothing else of it; Chart.js stays in `charts/`.
 * Here the parts of one screen are made and joined; views and models know each other only through what they are given.
 */
import '@fontsource-variable/atkinson-hyperlegible-next/wght.css';
import './parts/ink.css';
import { effect } from '@preact/signals';
import { render } from 'preact';
import { parseWithoutEval } from '#contract';
import { after, createRouter, darkOutside, every, screenStorage } from './client/browser.ts';
import { createCall } from './client/call.ts';
import { openLive } from './client/live.ts';
import { ScreenContext, type Screen } from './parts/screen.ts';
import { createClock } from './state/clock.ts';
import { createLink } from './state/link.ts';
import { createSession } from './state/session.ts';
import { createSettings } from './state/settings.ts';
import { createWall } from './state/wall.ts';
import { App } from './views/app.tsx';

parseWithoutEval();

const plainCall = createCall((address, request) => fetch(address, request));
const session = createSession(plainCall);
const call: Screen['call'] = async (name, ...input) => {
  const answer = await plainCall(name, ...input);
  if (!answer.ok && answer.error.code === 'not-signed-in') session.lapse();
  return answer;
};
const clock = createClock({ now: () => Date.now(), every });
const settings = createSettings(screenStorage(), darkOutside());
const link = createLink((handlers) => openLive((address) => new EventSource(address), { now: () => Date.now(), after }, handlers), () => clock.now.peek());
const wall = createWall({ load: () => call('wall'), sync: clock.sync, after });

link.listen(wall.take);
link.onRegained(() => void wall.refresh());

effect(() => {
  document.documentElement.dataset['theme'] = settings.shownTheme.value;
});

const root = document.getElementById('app');
if (root !== null) {
  render(
    <ScreenContext.Provider value={{ call, clock, link, session, settings, wall, ...createRouter() }}>
      <App />
    </ScreenContext.Provider>,
    root,
  );
}
