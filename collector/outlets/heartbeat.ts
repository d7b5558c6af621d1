import { requestUrl } from './request-url.ts';
import type { SendFault } from './sender.ts';

/** A sign of life for something outside that notices when none comes. Nothing of the shed is told by it. */
export const beatHeart = (url: string): Promise<SendFault> => requestUrl(url, { method: 'GET', headers: { 'user-agent': 'brineward' } });
