import { channelNames, type Channel } from '#domain/reading/channel.ts';
import { toStoredUnit } from '#domain/units/convert.ts';
import { isPointer } from './json-pointer.ts';
import { isTopicFilter } from './topic-filter.ts';

/** What is wrong with a mapping of the settings, in a few words that begin with its key; null: nothing. */
export const mappingFault = ({ topic, pointer, probe, channel, unit, time }: { readonly topic: string; readonly pointer: string; readonly probe: string; readonly channel: string; readonly unit?: string | undefined; readonly time?: string | undefined }): string | null => {
  if (!isTopicFilter(topic)) return `topic: ${topic} is no topic filter; + stands for a whole level, # for the rest`;
  if (!isPointer(pointer)) return `pointer: ${pointer} is no JSON pointer; it is empty or begins with /`;
  if (time !== undefined && !isPointer(time)) return `time: ${time} is no JSON pointer; it is empty or begins with /`;
  if (!(channelNames as readonly string[]).includes(channel)) return `channel: ${channel} is none; there are ${channelNames.join(', ')}`;
  if (unit !== undefined && toStoredUnit(channel as Channel, 0, unit) === null) return `unit: ${unit} is no unit of ${channel}`;
  const wildcards = topic.split('/').filter((level) => level === '+' || level === '#').length;
  const wanted = Math.max(0, ...[...probe.matchAll(/\{(\d)\}/g)].map(([, place]) => Number(place)));
  if (wanted > wildcards) return `probe: {${wanted}} asks for wildcard ${wanted} of the topic, which has ${wildcards}`;
  return probe === '' ? 'probe: is empty' : null;
};
