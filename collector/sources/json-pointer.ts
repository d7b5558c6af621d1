/** JSON Pointer (RFC 6901): `/temperature/0` is the first element of the member `temperature`; the empty pointer is the whole document. */
export const isPointer = (text: string): boolean => text === '' || /^(?:\/(?:[^~/]|~[01])*)+$/.test(text);

/** What a pointer points at, or undefined where there is nothing. The pointer must be one. */
export const pointAt = (document: unknown, pointer: string): unknown => {
  let value = document;
  for (const token of pointer.split('/').slice(1).map(unescaped)) {
    if (typeof value !== 'object' || value === null) return undefined;
    if (Array.isArray(value)) value = /^(?:0|[1-9]\d*)$/.test(token) ? (value[Number(token)] as unknown) : undefined;
    // Members of the document alone, not what every object inherits.
    else value = Object.hasOwn(value, token) ? (value as Record<string, unknown>)[token] : undefined;
  }
  return value;
};

/** In this order: `~01` is `~1`, not `/` (RFC 6901, section 4). */
const unescaped = (token: string): string => token.replaceAll('~1', '/').replaceAll('~0', '~');
