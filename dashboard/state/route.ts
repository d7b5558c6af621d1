import { sweetBitterness, type Trace } from '#contract';

/** The addresses of the screens, read and written in one place. */
/** What of the alerts is shown. */
export const alertTabs = ['now', 'past', 'measures', 'outlets'] as const;
export type AlertTab = (typeof alertTabs)[number];

export type Route =
  | { readonly view: 'wall' }
  | { readonly view: 'drum'; readonly drum: string }
  /** One lot, in its drum or in jars. */
  | { readonly view: 'batch'; readonly lot: string }
  | { readonly view: 'lots' }
  | { readonly view: 'picks' }
  | { readonly view: 'bench' }
  | { readonly view: 'today' }
  | { readonly view: 'alerts'; readonly tab: AlertTab }
  | { readonly view: 'round' }
  | { readonly view: 'type-in' }
  | { readonly view: 'probes' }
  | { readonly view: 'logger-file' }
  | { readonly view: 'start' }
  | { readonly view: 'heat-plan' }
  | { readonly view: 'sign-in' }
  /** `inputs`: the figures of the question, as a query string. */
  | { readonly view: 'work-out'; readonly tool: string | null; readonly inputs: string }
  /** `bitterness`: the score at which a cure counts as ended. */
  | { readonly view: 'compare'; readonly pair: { readonly lot: string; readonly other: string } | null; readonly bitterness: number }
  /** `year`: of the first pick; null is the last season. */
  | { readonly view: 'season'; readonly year: number | null }
  | { readonly view: 'records' }
  | { readonly view: 'readiness' }
  | { readonly view: 'deviations' }
  | { readonly view: 'instruments' }
  /** What is traced; null: the newest lot. */
  | { readonly view: 'trace'; readonly of: Trace['of'] | null }
  | { readonly view: 'stores' }
  /** For somebody outside who was given a code; `lot`: the record that is open. */
  | { readonly view: 'inspect'; readonly lot: string | null }
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
  if (first === 'batch' && second !== undefined && parts.length === 2) return { view: 'batch', lot: decoded(second) };
  if (first === 'inspect' && parts.length <= 2) return { view: 'inspect', lot: second === undefined ? null : decoded(second) };
  if (first === 'bench-trial' && parts.length === 1) return { view: 'bench' };
  if ((first === 'lots' || first === 'records' || first === 'readiness' || first === 'deviations' || first === 'instruments' || first === 'picks' || first === 'today' || first === 'round' || first === 'type-in' || first === 'heat-plan' || first === 'probes' || first === 'logger-file' || first === 'stores' || first === 'start') && parts.length === 1) return { view: first };
  const tab = alertTabs.find((each) => each === (second ?? 'now'));
  if (first === 'alerts' && parts.length <= 2 && tab !== undefined) return { view: 'alerts', tab };
  if (first === 'work-out' && parts.length <= 2) return { view: 'work-out', tool: second ?? null, inputs: query.join('?') };
  if (first === 'compare' && (parts.length === 1 || parts.length === 3)) return compareRoute(parts, new URLSearchParams(query.join('?')).get('bitterness'));
  if (first === 'season' && (parts.length === 1 || (parts.length === 2 && /^20\d\d$/.test(second ?? '')))) return { view: 'season', year: second === undefined ? null : Number(second) };
  if (first === 'trace' && (parts.length === 1 || (parts.length === 3 && isTraced(second)))) return { view: 'trace', of: second !== undefined && isTraced(second) ? { kind: second, id: decoded(parts[2] ?? '') } : null };
  if (first === 'sign-in' && parts.length === 1) return { view: 'sign-in' };
  return { view: 'unknown', path };
};

const compareRoute = ([, lot, other]: readonly string[], asked: string | null): Route => {
  const bitterness = asked !== null && /^[0-9]$/.test(asked) ? Number(asked) : sweetBitterness;
  return { view: 'compare', pair: lot === undefined || other === undefined ? null : { lot: decoded(lot), other: decoded(other) }, bitterness };
};

const isTraced = (kind: string | undefined): kind is Trace['of']['kind'] => kind === 'lot' || kind === 'ingredient' || kind === 'pick' || kind === 'probe';

/** What cannot be decoded is no lot; the server says so. */
const decoded = (part: string): string => {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
};

export const pathOf = (route: Route): string => {
  switch (route.view) {
    case 'wall':
      return '/';
    case 'drum':
      return `/drums/${encodeURIComponent(route.drum)}`;
    case 'batch':
      return `/batch/${encodeURIComponent(route.lot)}`;
    case 'bench':
      return '/bench-trial';
    case 'unknown':
      return route.path;
    case 'alerts':
      return `/alerts${route.tab === 'now' ? '' : `/${route.tab}`}`;
    case 'trace':
      return `/trace${route.of === null ? '' : `/${route.of.kind}/${encodeURIComponent(route.of.id)}`}`;
    case 'season':
      return `/season${route.year === null ? '' : `/${String(route.year)}`}`;
    case 'work-out':
      return `/work-out${route.tool === null ? '' : `/${route.tool}`}${route.inputs === '' ? '' : `?${route.inputs}`}`;
    case 'compare': {
      const { pair, bitterness } = route;
      return `/compare${pair === null ? '' : `/${encodeURIComponent(pair.lot)}/${encodeURIComponent(pair.other)}`}${bitterness === sweetBitterness ? '' : `?bitterness=${String(bitterness)}`}`;
    }
    case 'inspect':
      return `/inspect${route.lot === null ? '' : `/${encodeURIComponent(route.lot)}`}`;
    case 'lots':
    case 'records':
    case 'readiness':
    case 'deviations':
    case 'instruments':
    case 'picks':
    case 'today':
    case 'round':
    case 'type-in':
    case 'heat-plan':
    case 'probes':
    case 'logger-file':
    case 'stores':
    case 'start':
    case 'sign-in':
      return `/${route.view}`;
  }
};
