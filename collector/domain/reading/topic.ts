import { channelNames, isChannel, type Channel } from './channel.ts';
import { slugPattern, type Slug } from './reading.ts';

/** What a topic below `brineward/{site}/probe/` means. */
export type ProbeTopic =
  | { readonly kind: 'pack'; readonly probe: Slug }
  | { readonly kind: 'plain'; readonly probe: Slug; readonly channel: Channel }
  | { readonly kind: 'presence'; readonly probe: Slug };

export type TopicFailure = 'topic-foreign' | 'topic-probe-name' | 'topic-channel';

export const probeFilter = (site: Slug): string => `brineward/${site}/probe/#`;

export const parseProbeTopic = (site: Slug, topic: string): ProbeTopic | TopicFailure => {
  const prefix = `brineward/${site}/probe/`;
  if (!topic.startsWith(prefix)) return 'topic-foreign';
  const [probe = '', channel, ...rest] = topic.slice(prefix.length).split('/');
  if (!slugPattern.test(probe)) return 'topic-probe-name';
  if (channel === undefined) return { kind: 'pack', probe };
  if (rest.length > 0) return 'topic-channel';
  if (channel === 'presence') return { kind: 'presence', probe };
  return isChannel(channel) ? { kind: 'plain', probe, channel } : 'topic-channel';
};

/** The channel a SenML name speaks of: its last segment after `:`, `/` or `_`; a level in `/`, or a battery in `%EL`, is a share of full. */
export const channelOfName = (name: string, unit: string | null): Channel | null => {
  const segment = name.slice(Math.max(name.lastIndexOf(':'), name.lastIndexOf('/'), name.lastIndexOf('_')) + 1);
  if (segment === 'level' && unit === '/') return 'level-ratio';
  if (segment === 'battery' && (unit === '/' || unit === '%EL')) return 'battery-ratio';
  return (channelNames as readonly string[]).includes(segment) ? (segment as Channel) : null;
};
