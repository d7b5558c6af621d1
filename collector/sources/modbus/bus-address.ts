import { fail, ok, type Result } from '#domain/result.ts';

/** Where a bus is: `tcp://host:502`, or `rtu:/dev/ttyUSB1?baud=19200&parity=even&stop=1`. */
export type BusAddress =
  | { readonly kind: 'tcp'; readonly host: string; readonly port: number }
  | { readonly kind: 'rtu'; readonly path: string; readonly baud: number; readonly parity: (typeof parities)[number]; readonly stop: 1 | 2 };

const parities = ['none', 'even', 'odd'] as const;
const standardPort = 502;

export const parseBusAddress = (text: string): Result<BusAddress, string> => {
  const url = URL.parse(text);
  if (url?.protocol === 'tcp:') {
    // Nothing else belongs in it, and a password in it would be shown.
    const isPlain = url.hostname !== '' && url.username === '' && url.password === '' && url.search === '' && ['', '/'].includes(url.pathname);
    return isPlain ? ok({ kind: 'tcp', host: url.hostname.replace(/^\[(.*)\]$/, '$1'), port: url.port === '' ? standardPort : Number(url.port) }) : fail('the bus must be tcp://host:port');
  }
  if (url?.protocol !== 'rtu:') return fail('the bus must begin with tcp:// or rtu:');
  const options = new Map(url.searchParams);
  const { baud = '19200', parity = 'even', stop = '1' } = Object.fromEntries(options);
  const isParity = parities.find((known) => known === parity);
  if (url.host !== '' || !url.pathname.startsWith('/')) return fail('the bus must name a port, such as rtu:/dev/ttyUSB1');
  if ([...options.keys()].some((key) => !['baud', 'parity', 'stop'].includes(key))) return fail('rtu: knows baud, parity and stop');
  if (!/^\d{2,7}$/.test(baud) || Number(baud) < 50) return fail('baud must be a whole number from 50');
  if (isParity === undefined) return fail(`parity must be one of ${parities.join(', ')}`);
  if (stop !== '1' && stop !== '2') return fail('stop must be 1 or 2');
  return ok({ kind: 'rtu', path: decodeURIComponent(url.pathname), baud: Number(baud), parity: isParity, stop: stop === '1' ? 1 : 2 });
};
