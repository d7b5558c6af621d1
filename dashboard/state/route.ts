/** The addresses of the screens, read and written in one place. */
export type Route =
  | { readonly view: 'wall' }
  | { readonly view: 'drum'; readonly drum: string }
  | { readonly view: 'start' }
  | { readonly view: 'sign-in' }
  | { readonly view: 'unknown'; readonly path: string };

export const parseRoute = (path: string): Route => {
  const parts = path.split('/').filter((part) => part !== '');
  const [first, second] = parts;
  if (first === undefined) return { view: 'wall' };
  if (first === 'drums' && second !== undefined && parts.length === 2) {
    try {
      return { view: 'drum', drum: decodeURIComponent(second) };
    } catch {
      return { view: 'unknown', path };
    }
  }
  if (first === 'start' && parts.length === 1) return { view: 'start' };
  if (first === 'sign-in' && parts.length === 1) return { view: 'sign-in' };
  return { view: 'unknown', path };
};

export const pathOf = (route: Route): string => {
  switch (route.view) {
    case 'wall':
      return '/';
    case 'drum':
      return `/drums/${encodeURIComponent(route.drum)}`;
    case 'unknown':
      return route.path;
    case 'start':
    case 'sign-in':
      return `/${route.view}`;
  }
};
