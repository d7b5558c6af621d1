/**
 * A client of event streams as the HTML Living Standard describes it (section 9.2.6, "Interpreting an event stream"): any line end,
 * fields told apart by the first colon, data joined by line feeds, and an id that stays until another one comes.
 */
export interface StreamEvent {
  readonly name: string;
  readonly data: unknown;
  /** What a browser would send as `Last-Event-ID` if it lost the connection right after this event. */
  readonly lastEventId: string;
}

/** Turns text, in whatever pieces it comes, into events. */
export const createEventParser = (lastEventId = ''): { push(text: string): readonly StreamEvent[]; readonly lastEventId: string; readonly retryMs: number | null } => {
  let rest = '';
  let pendingId = lastEventId;
  let dispatchedId = lastEventId;
  let name = '';
  let data: string[] = [];
  let retryMs: number | null = null;

  const take = (line: string): StreamEvent | null => {
    if (line === '') {
      dispatchedId = pendingId;
      const event = data.length === 0 ? null : { name: name === '' ? 'message' : name, data: JSON.parse(data.join('\n')) as unknown, lastEventId: dispatchedId };
      name = '';
      data = [];
      return event;
    }
    const colon = line.indexOf(':');
    const field = colon < 0 ? line : line.slice(0, colon);
    const value = colon < 0 ? '' : line.slice(colon + 1).replace(/^ /, '');
    if (field === 'event') name = value;
    if (field === 'data') data.push(value);
    if (field === 'id' && !value.includes('\0')) pendingId = value;
    if (field === 'retry' && /^\d+$/.test(value)) retryMs = Number(value);
    return null;
  };

  return {
    push: (text) => {
      rest += text;
      const events: StreamEvent[] = [];
      for (;;) {
        const end = /\r\n|\r(?!$)|\n/.exec(rest);
        if (end === null) return events;
        const event = take(rest.slice(0, end.index));
        rest = rest.slice(end.index + end[0].length);
        if (event !== null) events.push(event);
      }
    },
    get lastEventId() {
      return dispatchedId;
    },
    get retryMs() {
      return retryMs;
    },
  };
};

export interface EventStream {
  /** Every event so far. */
  readonly events: readonly StreamEvent[];
  readonly lastEventId: string;
  /** The first event, of those that came and those to come, that fits. */
  find(fits: (event: StreamEvent) => boolean): Promise<StreamEvent>;
  /** Resolves when the server has ended the stream. */
  readonly ended: Promise<void>;
  close(): void;
}

export const readEventStream = (response: Response, stop: AbortController, lastEventId: string): EventStream => {
  const parser = createEventParser(lastEventId);
  const events: StreamEvent[] = [];
  const waiting = new Set<() => void>();
  const read = async (): Promise<void> => {
    if (response.body === null) throw new Error('the answer has no body');
    const decoder = new TextDecoder();
    try {
      for await (const bytes of response.body) {
        events.push(...parser.push(decoder.decode(bytes, { stream: true })));
        for (const look of waiting) look();
      }
    } catch {
      // Cut by the server or closed by the test: either way it is over.
    }
  };
  const ended = read();
  return {
    events,
    get lastEventId() {
      return parser.lastEventId;
    },
    find: (fits) =>
      new Promise((resolve, reject) => {
        const look = (): void => {
          const found = events.find(fits);
          if (found === undefined) return;
          waiting.delete(look);
          resolve(found);
        };
        waiting.add(look);
        look();
        void ended.then(() => (waiting.has(look) ? reject(new Error(`the stream ended after ${events.map(({ name }) => name).join(', ')}`)) : undefined));
      }),
    ended,
    close: () => stop.abort(),
  };
};
