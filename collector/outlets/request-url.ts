import { sendTimeoutMs, type SendFault } from './sender.ts';

/** The address is secret: what went wrong names the host only. */
export const requestUrl = async (url: string, options: RequestInit): Promise<SendFault> => {
  const host = hostOf(url);
  try {
    // A redirect would carry what is secret somewhere else.
    const response = await fetch(url, { ...options, redirect: 'manual', signal: AbortSignal.timeout(sendTimeoutMs) });
    await response.body?.cancel();
    return response.status >= 200 && response.status < 300 ? null : `${host} answered ${response.status}.`;
  } catch (error) {
    const timedOut = error instanceof Error && error.name === 'TimeoutError';
    const cause = error instanceof Error && error.cause instanceof Error && 'code' in error.cause ? ` (${String(error.cause.code)})` : '';
    return timedOut ? `${host} did not answer in time.` : `${host} cannot be reached${cause}.`;
  }
};

export const hostOf = (url: string): string => (URL.canParse(url) ? new URL(url).host : 'the address');
