/** A line of a text: at most so many characters; of a longer one nothing is kept but that it was there. */
export interface Line {
  /** Null: longer than any row of a table. */
  readonly text: string | null;
  /** Bytes read so far. */
  readonly bytes: number;
}

const longestLine = 65_536;

/** UTF-8, or UTF-16 where the first two bytes say so (as some loggers' programs write it); a byte order mark is no text. */
export const decoderFor = (first: Uint8Array): TextDecoder => new TextDecoder(first[0] === 0xff && first[1] === 0xfe ? 'utf-16le' : first[0] === 0xfe && first[1] === 0xff ? 'utf-16be' : 'utf-8');

/** Line after line, whatever ends them; memory stays that of one line. */
export async function* readLines(chunks: AsyncIterable<Uint8Array>): AsyncGenerator<Line> {
  let decoder: TextDecoder | null = null;
  let rest = '';
  let bytes = 0;
  let isTooLong = false;
  for await (const chunk of chunks) {
    decoder ??= decoderFor(chunk);
    bytes += chunk.length;
    const parts = (rest + decoder.decode(chunk, { stream: true })).split(/\r\n|\n|\r(?!$)/);
    rest = parts.pop() ?? '';
    for (const part of parts) {
      yield { text: isTooLong || part.length > longestLine ? null : part, bytes };
      isTooLong = false;
    }
    if (rest.length > longestLine) {
      isTooLong = true;
      rest = '';
    }
  }
  rest += decoder?.decode() ?? '';
  if (rest !== '' || isTooLong) yield { text: isTooLong ? null : rest.replace(/\r$/, ''), bytes };
}
