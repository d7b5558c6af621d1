import type { Drum, Probe, Site } from '#contract';

/** The three steps from an empty shed to a first reading on the wall. */
export type FirstStep = 'drum' | 'reading' | 'place' | 'done';

export const stepOf = (drum: Pick<Drum, 'id'> | null, probes: readonly Probe[]): FirstStep => {
  if (drum === null) return 'drum';
  if (probes.some((probe) => probe.channels.some(({ placement }) => placement?.drum === drum.id))) return 'done';
  // Of a probe with a wrong clock nothing is known that could be placed.
  return probes.every((probe) => probe.channels.length === 0) ? 'reading' : 'place';
};

/** A slug from a name people give: `Barrel 2` → `barrel-2`. Empty when nothing usable is left. */
export const slugFrom = (name: string): string =>
  name
    .normalize('NFKD')
    .replaceAll(/\p{M}/gu, '')
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, '-')
    .slice(0, 40)
    .replaceAll(/^-+|-+$/g, '');

/** Not used by a probe yet, so that two people who follow the page do not write into one series. */
const freeProbe = (probes: readonly Probe[]): string => {
  for (let number = 1; ; number += 1) {
    const id = `probe-${String(number)}`;
    if (!probes.some((probe) => probe.id === id)) return id;
  }
};

export interface FirstLine {
  readonly topic: string;
  readonly command: string;
  /** The broker listens on this machine only, so probes elsewhere cannot reach it yet. */
  readonly onlyHere: boolean;
}

const loopback = new Set(['127.0.0.1', '::1', 'localhost']);
const anywhere = new Set(['0.0.0.0', '::']);

/** Where the broker listens on every address, the page's own host is one of them. */
export const brokerHost = ({ mqtt }: Pick<Site, 'mqtt'>, pageHost: string): string => (anywhere.has(mqtt.host) ? pageHost : mqtt.host);

/** The exact topic and line for this site. */
export const firstLine = (site: Pick<Site, 'site' | 'mqtt'>, pageHost: string, probes: readonly Probe[]): FirstLine => {
  const host = brokerHost(site, pageHost);
  const topic = `brineward/${site.site}/probe/${freeProbe(probes)}/temperature`;
  return { topic, command: `mosquitto_pub -h ${host} -p ${String(site.mqtt.port)} -t ${topic} -m 18.4`, onlyHere: !site.mqtt.external && loopback.has(site.mqtt.host) };
};
