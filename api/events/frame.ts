/** Frames of an event stream (HTML Living Standard, section "Server-sent events"): pure, and content cannot forge a frame. */
export interface Frame {
  readonly id?: string;
  readonly event?: string;
  readonly data: string;
}

export const frame = ({ id, event, data }: Frame): string => {
  for (const field of [id, event]) if (field !== undefined && /[\r\n\0]/.test(field)) throw new TypeError('id and event hold no line ends');
  const lines = data.split(/\r\n|\r|\n/).map((line) => `data: ${line}\n`);
  return `${id === undefined ? '' : `id: ${id}\n`}${event === undefined ? '' : `event: ${event}\n`}${lines.join('')}\n`;
};

/** A comment: keeps the connection open and tells the client nothing. */
export const beat = ': beat\n\n';

/** How long a client waits before it connects again. */
export const retry = (ms: number): string => `retry: ${ms}\n\n`;
