import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { networkInterfaces, tmpdir } from 'node:os';
import { join } from 'node:path';
import { connect as connectTls } from 'node:tls';
import { connect, type IClientOptions } from 'mqtt';
import { afterEach, describe, expect, it } from 'vitest';
import { startBroker, type Broker, type BrokerOptions } from '../../../collector/sources/broker.ts';
import { decodeMessage } from '../../../collector/sources/payload.ts';
import { createProbeAccess, newProbePassword, type Anonymous } from '../../../collector/sources/probe-access.ts';
import { systemPart } from '../../helpers/system-parts.ts';
import { publish } from '../../helpers/mosquitto-clients.ts';
import { valueOf } from '../../helpers/value-of.ts';

const undo: (() => Promise<unknown> | void)[] = [];
afterEach(async () => {
  for (const step of undo.splice(0).reverse()) await step();
});

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);
const { password, digest } = newProbePassword();
const accessOf = (anonymous: Anonymous, digests: ReadonlyMap<string, string> = new Map([['barrel-1', digest]])) => createProbeAccess({ site: 'home', anonymous, digests: () => digests });

describe('who may speak', () => {
  it('is a probe with its own password, from anywhere', () => {
    const access = accessOf('no');
    expect(access.admit(false, 'barrel-1', bytes(password))).toEqual({ probe: 'barrel-1' });
    for (const [name, given] of [['barrel-1', `${password}x`], ['barrel-1', ''], ['barrel-2', password], ['', password]] as const) expect(access.admit(false, name, bytes(given))).toBe('refused');
    expect(access.admit(false, 'barrel-1', undefined)).toBe('refused');
  });

  it.each([
    ['auto', false, true], ['yes', true, true], ['no', false, true],
  ] as const)('without a name, when it is set to %s: from outside %s, from here %s', (anonymous, outside, here) => {
    const access = accessOf(anonymous);
    expect(access.admit(false, undefined, undefined) !== 'refused').toBe(outside);
    expect(access.admit(true, undefined, undefined) !== 'refused').toBe(here);
    expect(accessOf(anonymous, new Map()).admit(false, undefined, undefined) !== 'refused').toBe(anonymous !== 'no');
  });

  it('for a probe is itself, and for one without a password anybody who was let in', () => {
    const access = accessOf('auto');
    const barrel = { probe: 'barrel-1' };
    const nameless = { probe: null };
    const topics = ['brineward/home/probe/barrel-1', 'brineward/home/probe/barrel-1/temperature', 'brineward/home/probe/barrel-1/presence'];
    for (const topic of topics) {
      expect(access.mayPublish(barrel, topic)).toBe(true);
      expect(access.mayPublish(nameless, topic)).toBe(false);
    }
    for (const topic of ['brineward/home/probe/barrel-2', 'brineward/home/probe/barrel-10', 'brineward/other/probe/barrel-1', 'shed/state']) expect(access.mayPublish(barrel, topic)).toBe(false);
    for (const topic of ['brineward/home/probe/barrel-2', 'shed/state', 'brineward/home/journal']) expect(access.mayPublish(nameless, topic)).toBe(true);
  });

  it('has a password nobody guesses', () => {
    expect(new Set(Array.from({ length: 100 }, () => newProbePassword().password)).size).toBe(100);
    expect(password).toMatch(/^[\w-]{20}$/);
  });
});

const start = async (options: Partial<BrokerOptions> = {}): Promise<{ readonly broker: Broker; readonly heard: string[] }> => {
  const heard: string[] = [];
  const broker = valueOf(
    await startBroker({
      site: 'home', host: '127.0.0.1', port: 0, tls: null, access: accessOf('auto'),
      handlers: { message: (topic, payload, settled) => { heard.push(`${topic} ${Buffer.from(payload).toString()}`); settled(); }, full: () => false, whenRoom: () => {}, hint: () => {}, connected: () => {}, kept: () => {} },
      ...options,
    }),
  );
  undo.push(() => broker.close());
  return { broker, heard };
};
const failureOf = (url: string, options: IClientOptions): Promise<string | null> =>
  new Promise((resolve) => {
    const client = connect(url, { reconnectPeriod: 0, ...options });
    undo.push(() => client.endAsync(true));
    client.once('connect', () => resolve(null));
    client.once('error', (error) => resolve(error.message));
  });

describe('the embedded broker', () => {
  it('lets a probe in with its password and says no to a wrong one in MQTT\'s own words', async () => {
    const { broker, heard } = await start();
    const topic = 'brineward/home/probe/barrel-1/temperature';
    await publish({ port: broker.port, topic, payload: '18.4', options: ['-u', 'barrel-1', '-P', password] });
    expect(heard).toEqual([`${topic} 18.4`]);
    // MQTT 3.1.1, table 3.1: return code 4, bad user name or password.
    await expect(publish({ port: broker.port, topic, payload: '18.4', options: ['-u', 'barrel-1', '-P', 'wrong'] })).rejects.toThrow(/bad user name or password|not authori[sz]ed/i);
    // Nobody else speaks for it, nor it for others: the connection is closed without an acknowledgement.
    await expect(publish({ port: broker.port, topic, payload: '30' })).rejects.toThrow(/mosquitto_pub ended with/);
    await expect(publish({ port: broker.port, topic: 'brineward/home/probe/barrel-2/temperature', payload: '30', options: ['-u', 'barrel-1', '-P', password] })).rejects.toThrow(/mosquitto_pub ended with/);
    await publish({ port: broker.port, topic: 'brineward/home/probe/barrel-2/temperature', payload: '19' });
    expect(heard.slice(1)).toEqual(['brineward/home/probe/barrel-2/temperature 19']);
  });

  it('asks everybody from outside this computer for a name, once a probe has a password', async () => {
    const outside = Object.values(networkInterfaces()).flat().find((each) => each?.family === 'IPv4' && !each.internal)?.address;
    if (outside === undefined) throw new Error('this machine has no network address to come from');
    const digests = new Map<string, string>();
    const { broker } = await start({ host: '0.0.0.0', access: accessOf('auto', digests) });
    const url = `mqtt://${outside}:${broker.port}`;
    expect(await failureOf(url, {})).toBeNull();
    digests.set('barrel-1', digest);
    expect(await failureOf(url, {})).toMatch(/Bad username or password/);
    expect(await failureOf(url, { username: 'barrel-1', password })).toBeNull();
    expect(await failureOf(`mqtt://127.0.0.1:${broker.port}`, {})).toBeNull();
  });

  it('has a second, encrypted door, which others can check and which turns away what is not encrypted', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'tls-'));
    undo.push(() => rmSync(folder, { recursive: true, force: true }));
    const [certificateFile, keyFile] = [join(folder, 'certificate.pem'), join(folder, 'key.pem')];
    execFileSync(systemPart('openssl'), ['req', '-x509', '-newkey', 'rsa:2048', '-nodes', '-keyout', keyFile, '-out', certificateFile, '-days', '2', '-subj', '/CN=127.0.0.1', '-addext', 'subjectAltName=IP:127.0.0.1'], { stdio: 'ignore' });
    const [certificate, key] = [readFileSync(certificateFile, 'utf8'), readFileSync(keyFile, 'utf8')];
    const { broker, heard } = await start({ tls: { host: '127.0.0.1', port: 0, certificate, key } });
    const port = broker.tlsPort ?? 0;
    await publish({ port, topic: 'brineward/home/probe/barrel-1/temperature', payload: '18.4', options: ['-u', 'barrel-1', '-P', password, '--cafile', certificateFile] });
    expect(heard).toHaveLength(1);
    await expect(publish({ port, topic: 'brineward/home/probe/barrel-1/temperature', payload: '18.4', options: ['-u', 'barrel-1', '-P', password] })).rejects.toThrow(/mosquitto_pub ended with/);
    const protocol = await new Promise<string | null>((resolve, reject) => {
      const socket = connectTls({ host: '127.0.0.1', port, ca: certificate }, () => {
        resolve(socket.getProtocol());
        socket.destroy();
      });
      socket.once('error', reject);
    });
    expect(protocol).toMatch(/^TLSv1\.[23]$/);

    const wrong = await startBroker({ site: 'home', host: '127.0.0.1', port: 0, tls: { host: '127.0.0.1', port: 0, certificate: 'no certificate', key }, access: accessOf('auto'), handlers: { message: () => {}, full: () => false, whenRoom: () => {}, hint: () => {}, connected: () => {}, kept: () => {} } });
    expect(wrong).toMatchObject({ ok: false, error: { code: 'certificate' } });
  });
});

describe('a message the broker kept from before', () => {
  const now = Date.UTC(2026, 4, 3, 6, 0, 0);
  const kept = (topic: string, payload: string) => decodeMessage('home', `brineward/home/probe/${topic}`, bytes(payload), now, { retained: true });

  it('counts when it carries its own time, and is no reading of now when it does not', () => {
    expect(kept('p/temperature', '18.4')).toMatchObject({ readings: [], refused: ['retained-without-time'] });
    expect(kept('p', '[{"n":"temperature","u":"Cel","v":18.4}]')).toMatchObject({ readings: [], refused: ['retained-without-time'] });
    expect(kept('p', '[{"n":"temperature","u":"Cel","v":18.4,"t":-60}]')).toMatchObject({ readings: [], refused: ['retained-without-time'] });
    expect(kept('p', JSON.stringify([{ n: 'temperature', u: 'Cel', v: 18.4, t: now / 1_000 - 3_600 }])).readings).toEqual([{ series: 'p/temperature', at: now - 3_600_000, value: 18.4, quality: 'good' }]);
    // Presence is kept on purpose: it is state, not a reading.
    expect(kept('p/presence', 'offline').presence).toEqual({ probe: 'p', online: false });
  });
});
