import { createServer, type Socket } from 'node:net';
import { Aedes } from 'aedes';
import { fail, ok, type Result } from '#domain/result.ts';
import { addressOf } from './address.ts';
import { mostPayloadBytes } from './payload.ts';
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
}

/** A frame may hold a payload and a topic; what is larger is cut off before it fills the memory. */
const mostTopicLevels = 10;
const mostConnections = 500;

export const startBroker = async ({ site, host, port, handlers }: BrokerOptions): Promise<Result<Wire & { readonly port: number }, WireFailure>> => {
  const probePrefix = `brineward/${site}/probe/`;
  const own = ownTopics(site);
  const hintTopic = journalHintTopic(site);
  const broker = await Aedes.createBroker({
    maxTopicLevels: mostTopicLevels,
    // A last will is authorised like any other publish, with a client that may be gone already.
    authorizePublish: (_client, packet, done) => {
      const { topic } = packet;
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
  const server = createServer((socket) => {
    sockets.add(socket);
    socket.on('close', () => sockets.delete(socket));
    socket.setNoDelay(true);
    broker.handle(socket);
  });
  server.maxConnections = mostConnections;

  const listening = await new Promise<Result<number, WireFailure>>((resolve) => {
    server.once('error', (error: NodeJS.ErrnoException) => {
      const taken = error.code === 'EADDRINUSE';
      resolve(
        fail({
          code: taken ? 'port-taken' : 'address',
          message: taken ? `MQTT port ${port} on ${host} is taken. Stop what uses it, or choose another with --mqtt-port.` : `Cannot listen for MQTT on ${host}:${port} (${error.code ?? error.message}). Choose another with --mqtt-host and --mqtt-port.`,
        }),
      );
    });
    server.listen(port, host, () => {
      const address = server.address();
      resolve(ok(typeof address === 'object' && address !== null ? address.port : port));
    });
  });
  if (!listening.ok) {
    broker.close();
    return listening;
  }
  const boundPort = listening.value;
  handlers.connected();

  return ok({
    port: boundPort,
    publish: (topic, payload, retain) => broker.publish({ cmd: 'publish', topic, payload, qos: 0, retain, dup: false }, () => {}),
    status: () => ({ kind: 'embedded', status: 'ok', url: addressOf('mqtt', host, boundPort), clients: broker.connectedClients }),
    close: async () => {
      await new Promise<void>((resolve) => {
        server.close(() => resolve());
        broker.close(() => {
          for (const socket of sockets) socket.destroy();
        });
      });
    },
  });
};

const toBytes = (payload: string | Uint8Array): Uint8Array => (typeof payload === 'string' ? Buffer.from(payload) : payload);
