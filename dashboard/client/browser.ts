import { signal, type ReadonlySignal } from '@preact/signals';
import { parseRoute, pathOf, type Route } from '../state/route.ts';

/** The few things only a browser has, behind plain functions: timers, the address, the preferred theme. */
export const after = (ms: number, run: () => void): (() => void) => {
  const timer = setTimeout(run, ms);
  return () => clearTimeout(timer);
};

export const every = (ms: number, run: () => void): (() => void) => {
  const timer = setInterval(run, ms);
  return () => clearInterval(timer);
};

export const createRouter = (): { readonly route: ReadonlySignal<Route>; readonly go: (route: Route, how?: 'push' | 'replace') => void } => {
  const here = (): string => location.pathname + location.search;
  const route = signal(parseRoute(here()));
  addEventListener('popstate', () => {
    route.value = parseRoute(here());
  });
  return {
    route,
    go: (to, how = 'push') => {
      const path = pathOf(to);
      if (how === 'replace') history.replaceState(null, '', path);
      else if (path !== here()) history.pushState(null, '', path);
      route.value = parseRoute(path);
      if (how === 'push') scrollTo(0, 0);
    },
  };
};

export const darkOutside = (): ReadonlySignal<boolean> => {
  const query = matchMedia('(prefers-color-scheme: dark)');
  const dark = signal(query.matches);
  query.addEventListener('change', () => {
    dark.value = query.matches;
  });
  return dark;
};

/** The browser's store, or one that forgets where the browser has closed it. */
export const screenStorage = (): Pick<Storage, 'getItem' | 'setItem'> => {
  try {
    return localStorage;
  } catch {
    return { getItem: () => null, setItem: () => undefined };
  }
};

/** A random UUID (RFC 9562, version 4). Made by hand: a page that is not served securely has no `randomUUID`. */
export const newKey = (): string => {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = ((bytes[6] ?? 0) & 0x0f) | 0x40;
  bytes[8] = ((bytes[8] ?? 0) & 0x3f) | 0x80;
  return [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('').replace(/^(.{8})(.{4})(.{4})(.{4})/, '$1-$2-$3-$4-');
};

/** Called when the phone says it has a network again, and when somebody looks at the page again. */
export const onAwake = (run: () => void): void => {
  addEventListener('online', run);
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') run();
  });
};

/** Called when another tab of this browser has written in a place of the store. */
export const onOtherTab = (place: string, run: () => void): void => {
  addEventListener('storage', ({ key }) => {
    if (key === place || key === null) run();
  });
};
