import { z } from 'zod';
import type { Channel } from '#domain/reading/channel.ts';
import type { Mapping } from './sources/mapping.ts';
import { mappingFault } from './sources/mapping-fault.ts';

export type { Mapping } from './sources/mapping.ts';

/** The setting `mappings`: a list in the settings file, or its JSON text in an option or a variable. */
const item = z.strictObject({ topic: z.string(), pointer: z.string(), probe: z.string(), channel: z.string(), unit: z.string().optional(), time: z.string().optional() });
const list = z.preprocess((given) => (typeof given === 'string' ? asJson(given) : given), z.array(item, 'must be a list, such as [{"topic":"shed/+/state","pointer":"/t","probe":"{1}","channel":"temperature"}]'));

export const mappingList = list.default([]).transform((items, context): Mapping[] => {
  for (const [index, given] of items.entries()) {
    const fault = mappingFault(given);
    if (fault === null) continue;
    context.addIssue({ code: 'custom', message: `mapping ${index + 1}, ${fault}` });
    return z.NEVER;
  }
  return items as (Mapping & { readonly channel: Channel })[];
});

const asJson = (text: string): unknown => {
  try {
    return JSON.parse(text) as unknown;
  } catch {
    return text;
  }
};
