import { connect } from 'mqtt';

/**
 * Publishes `count` SenML packs of one reading at a quality of service, as fast as the broker takes them with `window` unanswered,
 * and says when the last one is answered. Every reading has a time of its own.
 */
const { url, count, window, qos, form, site, startAt } = JSON.parse(process.argv[2] ?? '{}') as { url: string; count: number; window: number; qos: 0 | 1; form: 'plain' | 'senml'; site: string; startAt: number };
const probes = 20;
const client = connect(url, { clientId: `publisher-${process.pid}`, reconnectPeriod: 0 });

client.once('connect', () => {
  let sent = 0;
  let answered = 0;
  const messages = Array.from({ length: count }, (_empty, index) => {
    const probe = `bench-${index % probes}`;
    return form === 'plain'
      ? { topic: `brineward/${site}/probe/${probe}/temperature`, payload: (15 + (index % 64) / 16).toString() }
      : { topic: `brineward/${site}/probe/${probe}`, payload: `[{"bn":"${probe}:","bt":${(startAt + Math.floor(index / probes)) / 1_000},"n":"temperature","u":"Cel","v":${15 + (index % 64) / 16}}]` };
  });
  process.send?.({ kind: 'connected' });
  process.once('message', () => {
    let busy = false;
    const more = (): void => {
      // At QoS 0 the callback comes at once, inside `publish`: a loop, not a recursion.
      if (busy) return;
      busy = true;
      while (sent < count && sent - answered < window) {
        const message = messages[sent];
        sent += 1;
        if (message === undefined) break;
        client.publish(message.topic, message.payload, { qos }, () => {
          answered += 1;
          if (answered === count) {
            process.send?.({ kind: 'answered', at: performance.timeOrigin + performance.now() });
            // What is written still has to leave.
            setTimeout(() => client.end(), 30_000);
          } else if (sent - answered <= window / 2) more();
        });
        // Let the socket breathe: a queue of a whole run in memory measures the publisher, not the other side.
        if (qos === 0 && sent % 500 === 0) break;
      }
      busy = false;
      if (qos === 0 && sent < count) setImmediate(more);
    };
    more();
  });
});
