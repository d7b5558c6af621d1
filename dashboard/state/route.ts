/** The addresses of the screens, read and written in one place. */
export type Route =
  | { readonly view: 'wall' }
  | { readonly view: 'drum'; readonly drum: string }
  | { readonly view: 'start' }
  | { readonly view: 'sign-in' }
  /** `inputs`: the figures of the question, as a query string. */
  | { readonly view: 'work-out'; readonly tool: string | null; readonly inputs: string }
  | { readonly view: 'unknown'; readonly path: string };

export const parseRoute = (address: string): Route => {
  const [path = '', ...query] = address.split('?');
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
  if (first === 'work-out' && parts.length <= 2) return { view: 'work-out', tool: second ?? null, inputs: query.join('?') };
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
    case 'work-out':
      return `/work-out${route.tool === null ? '' : `/${route.tool}`}${route.inputs === '' ? '' : `?${route.inputs}`}`;
    case 'start':
    case 'sign-in':
      return `/${route.view}`;
  }
};
