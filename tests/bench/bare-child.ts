import { createServer } from 'node:net';
import { Aedes } from 'aedes';
import { connect } from 'mqtt';

/** What we are measured against: the same libraries bare. A broker that does nothing else, or a subscriber that only counts. */
const { role, url, port, count, qos, site } = JSON.parse(process.argv[2] ?? '{}') as { role: 'broker' | 'subscriber'; url: string; port: number; count: number; qos: 0 | 1; site: string };

if (role === 'broker') {
  const broker = await Aedes.createBroker();
  createServer((socket) => void broker.handle(socket)).listen(port, '127.0.0.1', () => process.send?.({ kind: 'ready' }));
} else {
  const client = connect(url, { clientId: 'bare-subscriber', clean: true, protocolVersion: url.includes('aedes') ? 4 : 5, ...(url.includes('aedes') ? {} : { properties: { receiveMaximum: 2_000 } }) });
  let counted = 0;
  client.on('message', () => {
    counted += 1;
    if (counted === count) process.send?.({ kind: 'counted', at: performance.timeOrigin + performance.now() });
  });
  client.once('connect', () => client.subscribe(`brineward/${site}/probe/#`, { qos }, () => process.send?.({ kind: 'ready' })));
}
