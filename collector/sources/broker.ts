import { createServer, type Server, type Socket } from 'node:net';
import { createServer as createTlsServer } from 'node:tls';
import { Aedes, type AuthenticateError, type Client } from 'aedes';
import type { Slug } from '#domain/reading/reading.ts';
import { fail, ok, type Result } from '#domain/result.ts';
import { addressOf } from './address.ts';
import { mostPayloadBytes } from './payload.ts';
import type { ProbeAccess } from './probe-access.ts';
import { journalHintTopic, ownTopics, type Wire, type WireFailure, type WireHandlers } from './wire.ts';

/**
 * The embedded broker (aedes, MQTT 3.1.1). Room `sources`: may import the domain, Node and the client package it needs.
 *
 * Acknowledge after commit: aedes acknowledges a QoS 1 message only after `authorizePublish` calls back, and it authorises all
 * messages of one socket chunk at the same time; holding the callbacks until the group commit is all that is needed, and it
 * holds the sender back by itself, because the next chunk is read when the last one is settled.
 */
export interface BrokerOptions {
  readonly site: string;
  readonly host: string;
  readonly port: number;
  readonly handlers: WireHandlers;
  readonly access: ProbeAccess;
  /** A second, encrypted door. */
  readonly tls: { readonly host: string; readonly port: number; readonly certificate: string; readonly key: string } | null;
}

/** A frame may hold a payload and a topic; what is larger is cut off before it fills the memory. */
const mostTopicLevels = 10;
const mostConnections = 500;

/** CONNACK 4 of MQTT 3.1.1: the name or password is wrong. The library types its codes and does not export them. */
// oxlint-disable-next-line typescript/no-unsafe-enum-assignment
const refusal: AuthenticateError = Object.assign(new Error('name or password refused'), { returnCode: 4 });

/** `tlsPort`: of the encrypted door; null where there is none. */
export type Broker = Wire & { readonly port: number; readonly tlsPort: number | null };

export const startBroker = async ({ site, host, port, handlers, access, tls }: BrokerOptions): Promise<Result<Broker, WireFailure>> => {
  const probePrefix = `brineward/${site}/probe/`;
  const own = ownTopics(site);
  const hintTopic = journalHintTopic(site);
  const speakers = new WeakMap<Client, { readonly probe: Slug | null }>();
  const broker = await Aedes.createBroker({
    authenticate: (client, name, password, done) => {
      const admitted = access.admit(isLocal((client.conn as Socket).remoteAddress), name, password);
      if (admitted === 'refused') {
        done(refusal, false);
        return;
      }
      speakers.set(client, admitted);
      done(null, true);
    },
    maxTopicLevels: mostTopicLevels,
    // A last will is authorised like any other publish, with a client that may be gone already.
    authorizePublish: (client, packet, done) => {
      const { topic } = packet;
      if (client !== null && !access.mayPublish(speakers.get(client) ?? { probe: null }, topic)) {
        done(new Error('a probe with a password is spoken for by itself alone'));
        return;
      }
      if (own.some((prefix) => topic.startsWith(prefix))) {
        // Closing the connection is the only "no" MQTT 3.1.1 knows; state of the shed is ours to say.
        done(new Error('topics of the shed are written by Brineward alone'));
        return;
      }
      if (topic === hintTopic) {
        packet.retain = false;
        done();
        handlers.hint();
        return;
      }
      // Readings live in the store; keeping every retained payload in memory as well would let one client fill it.
      packet.retain = false;
      handlers.message(topic, toBytes(packet.payload), () => done());
    },
    authorizeForward: (_client, packet) => (packet.topic.startsWith(probePrefix) && packet.payload.length > mostPayloadBytes ? null : packet),
  });
  // A client that misbehaves is disconnected by aedes; nothing else has to happen.
  broker.on('clientError', () => {});
  broker.on('connectionError', () => {});

  const sockets = new Set<Socket>();
  const take = (socket: Socket): void => {
    sockets.add(socket);
    socket.on('close', () => sockets.delete(socket));
    // A connection that breaks while it is being encrypted ends alone.
    socket.on('error', () => socket.destroy());
    socket.setNoDelay(true);
    broker.handle(socket);
  };
  const servers: Server[] = [];
  const close = async (): Promise<void> => {
    await Promise.all(servers.map((server) => new Promise<void>((resolve) => {
      server.close(() => resolve());
      if (server === servers[0]) broker.close(() => {
        for (const socket of sockets) socket.destroy();
      });
    })));
  };
  const open = async (server: Server, at: { readonly host: string; readonly port: number }, option: string): Promise<Result<number, WireFailure>> => {
    server.maxConnections = mostConnections;
    const bound = await listenOn(server, at, option);
    if (bound.ok) servers.push(server);
    return bound;
  };

  const plain = await open(createServer(take), { host, port }, '--mqtt-port');
  if (!plain.ok) {
    broker.close();
    return plain;
  }
  let tlsPort: number | null = null;
  if (tls !== null) {
    const secured = await openTls(tls, take, open);
    if (!secured.ok) {
      await close();
      return secured;
    }
    tlsPort = secured.value;
  }
  const boundPort = plain.value;
  handlers.connected();

  return ok({
    port: boundPort,
    tlsPort,
    publish: (topic, payload, retain) => broker.publish({ cmd: 'publish', topic, payload, qos: 0, retain, dup: false }, () => {}),
    status: () => ({ kind: 'embedded', status: 'ok', url: addressOf('mqtt', host, boundPort), clients: broker.connectedClients }),
    close,
  });
};

type Open = (server: Server, at: { readonly host: string; readonly port: number }, option: string) => Promise<Result<number, WireFailure>>;

const openTls = async (tls: NonNullable<BrokerOptions['tls']>, take: (socket: Socket) => void, open: Open): Promise<Result<number, WireFailure>> => {
  let server: Server;
  try {
    server = createTlsServer({ cert: tls.certificate, key: tls.key }, take);
  } catch (cause) {
    return fail({ code: 'certificate', message: `The certificate or key for MQTT cannot be used (${cause instanceof Error ? cause.message : String(cause)}). Give PEM files that belong together with --mqtts-cert and --mqtts-key.` });
  }
  // Whoever does not speak TLS here is turned away, which is nobody's fault but theirs.
  server.on('tlsClientError', () => {});
  return open(server, tls, '--mqtts-port');
};

const listenOn = (server: Server, { host, port }: { readonly host: string; readonly port: number }, option: string): Promise<Result<number, WireFailure>> =>
  new Promise((resolve) => {
    server.once('error', (error: NodeJS.ErrnoException) => {
      const taken = error.code === 'EADDRINUSE';
      resolve(
        fail({
          code: taken ? 'port-taken' : 'address',
          message: taken ? `MQTT port ${port} on ${host} is taken. Stop what uses it, or choose another with ${option}.` : `Cannot listen for MQTT on ${host}:${port} (${error.code ?? error.message}). Choose another with --mqtt-host and ${option}.`,
        }),
      );
    });
    server.listen(port, host, () => {
      const address = server.address();
      resolve(ok(typeof address === 'object' && address !== null ? address.port : port));
    });
  });

/** An IPv4 address may come dressed as IPv6. */
const isLocal = (address: string | undefined): boolean => address === '::1' || /^(?:::ffff:)?127\./.test(address ?? '');

const toBytes = (payload: string | Uint8Array): Uint8Array => (typeof payload === 'string' ? Buffer.from(payload) : payload);
