import { createServer } from 'node:net';
import type { Config } from '#collector';

/**
 * Can this program listen where it should? Asked before anything is made or changed; the answer is one line that says what to do,
 * or null.
 */
export const whyNotHttp = async ({ host, port }: Pick<Config, 'host' | 'port'>): Promise<string | null> => {
  const why = await whyNotListen(host, port);
  if (why === null) return null;
  return why === 'EADDRINUSE' ? `Port ${port} on ${host} is taken. Stop what uses it, or choose another with --port.` : `Cannot listen on ${host}, port ${port} (${why}). Choose another with --host and --port.`;
};

export const whyNotMqtt = async ({ mqttHost, mqttPort, broker }: Pick<Config, 'mqttHost' | 'mqttPort' | 'broker'>): Promise<string | null> => {
  const why = broker === null ? await whyNotListen(mqttHost, mqttPort) : null;
  if (why === null) return null;
  return why === 'EADDRINUSE' ? `MQTT port ${mqttPort} on ${mqttHost} is taken. Stop what uses it, or choose another with --mqtt-port.` : `Cannot listen for MQTT on ${mqttHost}, port ${mqttPort} (${why}). Choose another with --mqtt-host and --mqtt-port.`;
};

const whyNotListen = (host: string, port: number): Promise<string | null> =>
  new Promise((resolve) => {
    const probe = createServer();
    probe.once('error', (error: NodeJS.ErrnoException) => resolve(error.code ?? error.message));
    probe.listen(port, host, () => probe.close(() => resolve(null)));
  });
