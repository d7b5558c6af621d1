/**
 * The dashboard: browser code only. It learns the server from the contract and may import nothing else of it; Chart.js stays in `charts/`.
 * Here the parts of one screen are made and joined; views and models know each other only through what they are given.
 */
import '@fontsource-variable/atkinson-hyperlegible-next/wght.css';
import './parts/ink.css';
import { effect } from '@preact/signals';
import { render } from 'preact';
import { parseWithoutEval } from '#contract';
import { after, createRouter, darkOutside, every, newKey, onAwake, onOtherTab, screenStorage } from './client/browser.ts';
import { createCall } from './client/call.ts';
import { openLive } from './client/live.ts';
import { dropTouches } from './client/touches.ts';
import { ScreenContext, type Screen } from './parts/screen.ts';
import { createClock } from './state/clock.ts';
import { createDoubledTouch } from './state/doubled-touch.ts';
import { createKeptStore, keptPlace } from './state/kept.ts';
import { createLink } from './state/link.ts';
import { createQueue } from './state/queue.ts';
import { createSession } from './state/session.ts';
import { createSettings } from './state/settings.ts';
import { createStories } from './state/stories.ts';
import { createToday } from './state/today.ts';
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

const stories = createStories(call);
const today = createToday(call);
const queue = createQueue({
  call, store: createKeptStore(screenStorage()), now: () => clock.now.peek(), newKey, after,
  user: () => session.session.peek()?.user?.name ?? null,
  connected: () => link.connection.peek().state !== 'lost',
});

link.listen(wall.take);
link.listen(today.take);
link.onRegained(() => void wall.refresh());
link.onRegained(() => void queue.send());
onAwake(() => void queue.send());
onOtherTab(keptPlace, queue.look);
dropTouches(createDoubledTouch());

effect(() => {
  // Whoever signs in again finds what they did before on its way.
  if (session.mayWork.value) void queue.send();
});
effect(() => {
  document.documentElement.dataset['theme'] = settings.shownTheme.value;
});

const root = document.getElementById('app');
if (root !== null) {
  render(
    <ScreenContext.Provider value={{ call, clock, link, queue, session, stories, today, settings, wall, ...createRouter() }}>
      <App />
    </ScreenContext.Provider>,
    root,
  );
}
