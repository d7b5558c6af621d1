import { createContext } from 'preact';
import { useContext } from 'preact/hooks';
import type { ReadonlySignal } from '@preact/signals';
import type { Call } from '../client/call.ts';
import type { Clock } from '../state/clock.ts';
import type { Queue } from '../state/queue.ts';
import type { Stories } from '../state/stories.ts';
import type { Link } from '../state/link.ts';
import type { Route } from '../state/route.ts';
import type { SessionModel } from '../state/session.ts';
import type { Settings } from '../state/settings.ts';
import type { TodayModel } from '../state/today.ts';
import type { WallModel } from '../state/wall.ts';

/** What every view may use; made once in `main.tsx`. */
export interface Screen {
  readonly call: Call;
  readonly clock: Clock;
  readonly link: Link;
  readonly queue: Queue;
  readonly stories: Stories;
  readonly today: TodayModel;
  readonly session: SessionModel;
  readonly settings: Settings;
  readonly wall: WallModel;
  readonly route: ReadonlySignal<Route>;
  readonly go: (route: Route, how?: 'push' | 'replace') => void;
}

export const ScreenContext = createContext<Screen | null>(null);

export const useScreen = (): Screen => {
  const screen = useContext(ScreenContext);
  if (screen === null) throw new Error('a view was drawn outside its screen');
  return screen;
};
