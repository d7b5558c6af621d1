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
