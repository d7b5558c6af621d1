import type { MqttClient } from 'mqtt';

/**
 * Holds back the PUBACKs of an `mqtt` client until what they acknowledge is durable, without holding back the client itself.
 *
 * The library waits for its own acknowledgement callback before it hands over the next packet, so acknowledging "after commit"
 * the documented way commits one message at a time. Here the client goes on at once, its PUBACK packets wait in order, and
 * `release` sends as many as were committed. This wraps the one private member it needs (`_sendPacket`, mqtt 5.16); a test
 * fails when the library no longer sends PUBACKs through it.
 */
export interface HeldAcknowledgements {
  /** The next message at QoS 1 has been taken; call the answer when it is durable. */
  taken(): () => void;
  readonly waiting: number;
}

interface Sender {
  _sendPacket(packet: { readonly cmd: string }, done?: (error?: Error) => void, ...rest: readonly unknown[]): void;
}

export const holdAcknowledgements = (client: MqttClient): HeldAcknowledgements => {
  const sender = client as unknown as Sender;
  if (typeof sender._sendPacket !== 'function') throw new TypeError('this version of mqtt sends its packets another way');
  const send = sender._sendPacket.bind(client);
  let held: { readonly cmd: string }[] = [];
  /** Messages durable whose PUBACK the library has not handed over yet. */
  let durable = 0;
  /** Acknowledgements belong to one connection: after it is lost the broker sends the messages again. */
  let connection = 0;

  const flush = () => {
    const ready = Math.min(durable, held.length);
    if (ready === 0) return;
    durable -= ready;
    const packets = held.slice(0, ready);
    held = held.slice(ready);
    for (const packet of packets) send(packet);
  };
  let flushing = false;
  const flushSoon = () => {
    if (flushing) return;
    flushing = true;
    // One write for a whole committed group: the callbacks of a group all run before this microtask.
    queueMicrotask(() => {
      flushing = false;
      client.stream.cork();
      flush();
      client.stream.uncork();
    });
  };

  sender._sendPacket = (packet, done, ...rest) => {
    if (packet.cmd !== 'puback') {
      send(packet, done, ...rest);
      return;
    }
    held.push(packet);
    done?.();
    if (durable > 0) flushSoon();
  };
  client.on('close', () => {
    connection += 1;
    held = [];
    durable = 0;
  });

  return {
    taken: () => {
      const takenOn = connection;
      return () => {
        if (takenOn !== connection) return;
        durable += 1;
        flushSoon();
      };
    },
    get waiting() {
      return held.length;
    },
  };
};
